"""`esterday fix`: mend what can be mended without guessing."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.saving import put_all
from generator.cli.telling import LOGBOOK, command, count
from generator.read.root import front_of


@command("esterday fix", "esterday fix my-logbook", "esterday fix --write")
@LOGBOOK
@click.option(
    "--write", "write_files", is_flag=True, help="Write the files; without it they stay as they are."
)
def fix(logbook: Path, write_files: bool) -> None:
    """Show as a unified diff what can be mended in LOGBOOK (default: `logbook`, or the one you stand in) without guessing.

    A decimal comma that can be nothing else, a date with its year first, a key or word in other capitals, tabs before
    a line, characters that cannot be seen. Comments and order stay. What needs a decision is left to you.
    """
    from generator.fixing import fixed, preview

    found = fixed(logbook)
    if not found.mends:
        click.echo("Nothing here can be mended without guessing.", err=True)
    elif not write_files:
        for line in preview(found.before, found.after, front_of(logbook)):
            click.echo(line)
    else:
        put_all(found.before, found.after, logbook)
    if found.mends:
        done = "mended" if write_files else "to mend, nothing written yet (--write does it)"
        files = count(len(found.before), "file")
        click.echo(f"{count(found.mends, 'place')} in {files} {done}.", err=True)
    if found.left:
        left = sum(problem.is_error for problem in found.left)
        click.echo(
            f"Left to you: {count(left, 'error')}, {count(len(found.left) - left, 'warning')}; see 'esterday check'.",
            err=True,
        )
    raise SystemExit(1 if any(problem.is_error for problem in found.left) else 0)
