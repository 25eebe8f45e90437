"""`esterday begin`: the files of a new logbook."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.saving import put, stop
from generator.cli.telling import command

_EXAMPLES = (
    "esterday begin my-logbook",
    "esterday begin logbook --currency GBP --timezone Europe/London",
)
_HELP = """Write a new logbook into FOLDER (default: `logbook`), which must be empty or not there: settings with comments, a few materials, one
purifier, one tank. Change what is not yours; then `esterday new lot --ask` and `esterday new batch`.
"""


@command(*_EXAMPLES, short="Write the files of a new logbook.", text=_HELP)
@click.argument("folder", type=click.Path(path_type=Path), default="logbook")
@click.option("--currency", default="EUR", show_default=True, help="Three letters.")
@click.option("--timezone", default="UTC", show_default=True, help="Such as Europe/Lisbon.")
def begin(folder: Path, currency: str, timezone: str) -> None:
    """Write a new logbook; the help text stands in the decorator."""
    from generator.records import Workshop
    from generator.validate.answer import fault_of
    from generator.writing.beginning import files_of

    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise stop(
            f"{folder} is not empty, and nothing is written into it", "give a folder that is not there yet"
        )
    for key, value in (("currency", currency), ("timezone", timezone)):
        fault = fault_of(Workshop, (key,), value, {})
        if fault is not None:
            raise stop(fault.message, fault.hint)
    for name, text in files_of(currency, timezone).items():
        put(folder / name, text.encode(), new=True)
        click.echo(f"Wrote {folder / name}.", err=True)
    click.echo(
        f"To keep its history: git init {folder} && git -C {folder} add . && git -C {folder} commit", err=True
    )
