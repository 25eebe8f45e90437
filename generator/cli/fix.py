"""`esterday fix`: mend what can be mended without guessing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.cli.saving import put, stop
from generator.cli.telling import LOGBOOK, command, count

if TYPE_CHECKING:
    from generator.fixing import Fixed


@command("esterday fix", "esterday fix my-logbook", "esterday fix --write")
@LOGBOOK
@click.option(
    "--write", "write_files", is_flag=True, help="Write the files; without it they stay as they are."
)
def fix(logbook: Path, write_files: bool) -> None:
    """Show as a unified diff what can be mended in LOGBOOK (default: the folder `logbook`) without guessing.

    A decimal comma that can be nothing else, a date with its year first, a key or word in other capitals, tabs before
    a line, characters that cannot be seen. Comments and order stay. What needs a decision is left to you.
    """
    from generator.fixing import fixed, preview

    found = fixed(logbook)
    if not found.mends:
        click.echo("Nothing here can be mended without guessing.", err=True)
    elif not write_files:
        for line in preview(found, f"{logbook}/"):
            click.echo(line)
    else:
        write(found, logbook)
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


def write(found: Fixed, logbook: Path) -> None:
    """Put each file in its place in one step; exits with 3 at the first that is not what was read, or cannot be written."""
    for file, raw in found.before.items():
        path = logbook / file
        if path.read_bytes() != raw:
            raise stop(f"{path} has changed meanwhile", "run the command again", 3)
        put(path, found.after[file], new=False)
