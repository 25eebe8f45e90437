"""`esterday dose`: print the weigh sheet of a batch."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.completing import ids
from generator.cli.telling import LOGBOOK, cache_folder, command, tell


@command("esterday dose 2026-025", "esterday dose 2026-025 my-logbook > sheet.txt")
@click.argument("batch", shell_complete=ids("batches"))
@LOGBOOK
def dose(batch: str, logbook: Path) -> None:
    """Print the weigh sheet of BATCH, planned or recorded, from LOGBOOK (default: `logbook`, or the one you stand in).

    Plain text, 80 signs wide. It is arithmetic on the rule in logbook.yaml, to be checked by whoever weighs.
    """
    from generator.kept import Kept
    from generator.weighing import weigh_sheet

    found = weigh_sheet(logbook, batch, Kept(cache_folder(no_cache=False)))
    tell(found.folder, logbook, found.problems)
    if found.unknown:
        click.echo(f"error: {found.unknown}", err=True)
        if found.hint:
            click.echo(f"    hint: {found.hint}", err=True)
        raise SystemExit(2)
    if found.text is None:
        click.echo("No sheet was written: mend these first.", err=True)
        raise SystemExit(1)
    click.echo(found.text, nl=False)
