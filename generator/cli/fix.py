"""`esterday fix`: mend what can be mended without guessing."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.telling import LOGBOOK, command, count


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
    from generator.fixing import FileChangedError, fixed, preview, write

    found = fixed(logbook)
    if not found.mends:
        click.echo("Nothing here can be mended without guessing.", err=True)
    elif not write_files:
        for line in preview(found, f"{logbook}/"):
            click.echo(line)
    else:
        try:
            write(found, logbook)
        except FileChangedError as error:
            click.echo(f"error: {logbook}/{error} was changed meanwhile and stays as it is", err=True)
            click.echo("    hint: run the command again", err=True)
            raise SystemExit(3) from None
        except OSError as error:
            click.echo(f"error: {error.filename}: {error.strerror}", err=True)
            click.echo(
                "    hint: the files not named stay whole, old or new; run the command again", err=True
            )
            raise SystemExit(3) from None
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
