"""`esterday migrate`: carry a logbook to the newest format."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.saving import put_all
from generator.cli.telling import LOGBOOK, command, count, tell
from generator.read.root import front_of


@command("esterday migrate", "esterday migrate my-logbook", "esterday migrate --write")
@LOGBOOK
@click.option(
    "--write", "write_files", is_flag=True, help="Write the files; without it they stay as they are."
)
def migrate(logbook: Path, write_files: bool) -> None:
    """Show as a unified diff what the newest format writes otherwise in LOGBOOK (default: `logbook`, or the one you stand in).

    Comments, order and quotes stay. Commit before it, so that git can show what it did and take it back.
    """
    from generator.fixing import preview
    from generator.migrating import migrated
    from generator.records import FORMAT

    found = migrated(logbook)
    if not found.places:
        if found.begins == int(FORMAT):
            click.echo(f"{logbook} is in format {FORMAT}, the newest there is; nothing to migrate.", err=True)
            return
        tell(found.folder, logbook, found.problems)
        click.echo("Nothing was migrated.", err=True)
        raise SystemExit(1)
    if write_files:
        put_all(found.before, found.after, logbook)
    else:
        for line in preview(found.before, found.after, front_of(logbook)):
            click.echo(line)
    done = "changed" if write_files else "to change, nothing written yet (--write does it)"
    click.echo(
        f"From format {found.begins} to {found.ends}: {count(found.places, 'place')} in {count(len(found.before), 'file')} {done}.",
        err=True,
    )
    errors = sum(problem.is_error for problem in found.problems)
    if errors:
        click.echo(
            f"After it there {'is' if errors == 1 else 'are'} {count(errors, 'error')}; see 'esterday check'.",
            err=True,
        )
    raise SystemExit(1 if errors else 0)
