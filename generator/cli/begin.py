"""`esterday begin`: the files of a new logbook."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from generator.cli.saving import put, stop
from generator.cli.telling import command
from generator.read.root import repository_above

_EXAMPLES = (
    "esterday begin my-logbook",
    "esterday begin logbook --title 'Fuel circle' --currency GBP --timezone Europe/London",
)
_HELP = """Write a new logbook into FOLDER (default: `logbook`), which must be empty or not there: settings with comments, a few materials, one
purifier, one tank. Change what is not yours; then `esterday new lot --ask` and `esterday new batch`.
"""


@command(*_EXAMPLES, short="Write the files of a new logbook.", text=_HELP)
@click.argument("folder", type=click.Path(path_type=Path), default="logbook")
@click.option("--title", default="My workshop", show_default=True, help="Name of the workshop.")
@click.option("--currency", default="EUR", show_default=True, help="Three letters.")
@click.option("--timezone", default="UTC", show_default=True, help="Such as Europe/Lisbon.")
def begin(folder: Path, title: str, currency: str, timezone: str) -> None:
    """Write a new logbook; the help text stands in the decorator."""
    from generator.read.root import logbook_above
    from generator.records import Workshop
    from generator.validate.answer import fault_of
    from generator.writing.beginning import files_of

    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise stop(
            f"{folder} is not empty, and nothing is written into it", "give a folder that is not there yet"
        )
    above = logbook_above(folder)
    if above is not None:
        raise stop(f"{folder} would lie in the logbook {above}", "give a folder beside it")
    for key, value in (("title", title), ("currency", currency), ("timezone", timezone)):
        fault = fault_of(Workshop, (key,), value, {})
        if fault is not None:
            raise stop(fault.message, fault.hint)
    for name, text in files_of(title, currency, timezone).items():
        put(folder / name, text.encode(), new=True)
        click.echo(f"Wrote {folder / name}.", err=True)
    click.echo(_next_steps(folder), err=True)


def _next_steps(folder: Path) -> str:
    """What a maker does now, as it is typed; a folder in a repository becomes part of that."""
    kept = repository_above(folder) is not None
    inside = shlex.quote(str(folder))
    first = "" if kept else f"git init {inside} && "
    book = f" --logbook {inside}" if folder != Path("logbook") else ""
    where = f" {inside}" if book else ""
    return (
        f"Next: open {folder / 'logbook.yaml'}, and take the '#' from before 'dose' when its figures are yours.\n"
        f"    what was delivered: esterday new lot{where} --ask\n"
        f"    a filled vessel:    esterday add columns event=pack vessel=A medium=absorbent lot=LOT mass='14 kg' basis='as supplied' bed='55 L'{book}\n"
        f"    the first batch:    esterday new batch{where}\n"
        f"    its history:        {first}git -C {inside} add . && git -C {inside} commit -m 'Begin the logbook'"
    )
