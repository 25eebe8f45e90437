"""What every command prints alike: problems with their lines, and counts; all to stderr."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from generator.problems import Problem
    from generator.read.folder import Folder

LOGBOOK = click.argument("logbook", type=click.Path(path_type=Path), default="logbook")
AS_OF = click.option(
    "--as-of",
    metavar="DATE",
    type=click.DateTime(["%Y-%m-%d"]),
    help="Count from this day instead of the latest date in the logbook.",
)


def count(number: int, one: str, many: str = "") -> str:
    """Write `1 batch`, `2 batches`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def tell(
    folder: Folder,
    logbook: Path,
    problems: list[Problem],
    unwritten: Mapping[str, list[str]] | None = None,
) -> None:
    """Print the problems with their lines, to stderr; paths as they were given. `unwritten` are lines not on the disk."""
    from generator.problems import told

    lines: dict[str, list[str] | None] = dict(unwritten or {})
    for problem in problems:
        file = problem.place.file
        if file not in lines:
            lines[file] = folder.lines(file)
        click.echo(
            told(
                problem,
                lines[file],
                "" if Path(file).is_absolute() or file == str(logbook) else f"{logbook}/",
            ),
            err=True,
        )


def summary(problems: list[Problem], batches: int, planned: int = 0) -> None:
    """Print how many batches were read and how many problems found."""
    errors = sum(problem.is_error for problem in problems)
    warnings = len(problems) - errors
    more = f" and {planned} planned" if planned else ""
    click.echo(
        f"{count(batches, 'batch', 'batches')}{more} read: {count(errors, 'error')}, {count(warnings, 'warning')}.",
        err=True,
    )
