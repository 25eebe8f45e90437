"""The command: parses, prints, exits. No logic, and no import that a `--help` would have to wait for.

Exit codes: 0 fine, 1 problems in the logbook, 2 usage, 3 the machine (disk, permissions).
"""

from __future__ import annotations

import datetime
import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator import __version__

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


@click.group(
    epilog="Examples:\n\n  esterday check\n\n  esterday build logbook --out site",
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.version_option(__version__, prog_name="esterday")
def main() -> None:
    """Keep a biodiesel workshop's batches in plain files; check them and render a site."""


@main.command()
@LOGBOOK
@click.option("--json", "as_json", is_flag=True, help="Print the problems as JSON.")
@AS_OF
def check(logbook: Path, as_json: bool, as_of: datetime.datetime | None) -> None:
    """Check the files of LOGBOOK (default: the folder `logbook`) and tell every problem."""
    from generator.build import checked_folder

    folder, checked = checked_folder(logbook, as_of.date() if as_of else None)
    if as_json:
        click.echo(json.dumps(_as_json(checked.problems), indent=2))
    else:
        _tell(folder, logbook, checked.problems)
        log = checked.log
        _summary(checked.problems, len(log.batches) if log else 0, len(log.planned) if log else 0)
        if checked.log is not None and not checked.balanced:
            click.echo("Stock, columns and tanks are checked once these errors are mended.", err=True)
    raise SystemExit(0 if checked.fit else 1)


@main.command()
@LOGBOOK
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default="site",
    show_default=True,
    help="Folder the site goes to.",
)
@click.option(
    "--audience",
    type=click.Choice(["workshop", "shared"]),
    default="workshop",
    show_default=True,
    help="Everything, or only what is public.",
)
@AS_OF
def build(logbook: Path, out: Path, audience: str, as_of: datetime.datetime | None) -> None:
    """Check LOGBOOK and render its site; on any error nothing is written and the last site stays."""
    from generator.build import build_site
    from generator.publish import CannotPublish

    try:
        built = build_site(logbook, out, audience, as_of.date() if as_of else None)
    except CannotPublish as error:
        click.echo(f"error: {error.message}", err=True)
        if error.hint:
            click.echo(f"    hint: {error.hint}", err=True)
        raise SystemExit(3) from None
    if built.published is None:
        _tell(built.folder, logbook, [problem for problem in built.problems if problem.is_error])
        _summary(built.problems, built.batches)
        click.echo(f"Nothing was written; what is in {out} stays as it was.", err=True)
        raise SystemExit(1)
    if built.widened:
        click.echo(f"Made public by the setting in logbook.yaml: {', '.join(built.widened)}", err=True)
    warnings = len(built.problems)
    place = "on its problems page" if audience == "workshop" else "on the workshop site's problems page"
    told = f"; {_count(warnings, 'warning')} {place}" if warnings else ""
    click.echo(
        f"{built.pages} pages of {_count(built.batches, 'batch', 'batches')} for the {audience} site{told}.",
        err=True,
    )
    click.echo(f"Open {out / 'index.html'} in a browser.", err=True)


@main.command(epilog="Examples:\n\n  esterday dose 2026-025\n\n  esterday dose 2026-025 logbook > sheet.txt")
@click.argument("batch")
@LOGBOOK
def dose(batch: str, logbook: Path) -> None:
    """Print the weigh sheet of BATCH, planned or recorded, from LOGBOOK (default: the folder `logbook`).

    Plain text, 80 signs wide. It is arithmetic on the rule in logbook.yaml, to be checked by whoever weighs.
    """
    from generator.weighing import weigh_sheet

    found = weigh_sheet(logbook, batch)
    _tell(found.folder, logbook, found.problems)
    if found.unknown:
        click.echo(f"error: {found.unknown}", err=True)
        if found.hint:
            click.echo(f"    hint: {found.hint}", err=True)
        raise SystemExit(2)
    if found.text is None:
        click.echo("No sheet was written: mend these first.", err=True)
        raise SystemExit(1)
    click.echo(found.text, nl=False)


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def _tell(folder: Folder, logbook: Path, problems: list[Problem]) -> None:
    """Print the problems with their lines, to stderr; paths as they were given."""
    from generator.problems import told

    lines: dict[str, list[str] | None] = {}
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


def _summary(problems: list[Problem], batches: int, planned: int = 0) -> None:
    errors = sum(problem.is_error for problem in problems)
    warnings = len(problems) - errors
    more = f" and {planned} planned" if planned else ""
    click.echo(
        f"{_count(batches, 'batch', 'batches')}{more} read: {_count(errors, 'error')}, {_count(warnings, 'warning')}.",
        err=True,
    )


def _as_json(problems: list[Problem]) -> list[dict[str, object]]:
    return [
        {
            "code": problem.code,
            "level": problem.level,
            "file": problem.place.file,
            "line": problem.place.line,
            "column": problem.place.column,
            "message": problem.message,
            "hint": problem.hint,
            "related": [{"file": at.file, "line": at.line, "column": at.column} for at in problem.related],
        }
        for problem in problems
    ]
