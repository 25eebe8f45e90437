"""`esterday check`: tell every problem of a logbook."""

from __future__ import annotations

import dataclasses
import datetime
import glob
import json
import os
import shlex
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.cli.saving import stop
from generator.cli.telling import (
    AS_OF,
    LOGBOOK,
    NO_CACHE,
    cache_folder,
    command,
    count,
    discreet,
    is_read_by_others,
    summary,
    tell,
)
from generator.cli.waiting import waiting

if TYPE_CHECKING:
    from generator.problems import Problem


@command(
    "esterday check",
    "esterday check --quiet my-logbook",
    "esterday check --of logbook/batches/2026/014.yaml",
    "esterday check --json > problems.json",
)
@LOGBOOK
@click.option("--json", "as_json", is_flag=True, help="Print all problems as JSON, to stdout.")
@click.option("--quiet", "-q", is_flag=True, help="Tell errors alone; nothing where there is none.")
@click.option(
    "--of",
    "files",
    metavar="FILE",
    multiple=True,
    type=click.Path(path_type=Path),
    help="Tell only what touches this file; all are checked all the same.",
)
@AS_OF
@NO_CACHE
def check(
    logbook: Path,
    as_json: bool,
    quiet: bool,
    files: tuple[Path, ...],
    as_of: datetime.datetime | None,
    no_cache: bool,
) -> None:
    """Check the files of LOGBOOK (default: `logbook`, or the one you stand in) and tell every problem."""
    from generator.kept import Kept
    from generator.validate.logbook import checked_folder

    kept = Kept(cache_folder(no_cache))
    with waiting("Checking", quiet=quiet):
        folder, checked = checked_folder(logbook, as_of.date() if as_of else None, kept=kept)
    problems = _touching(checked.problems, files, logbook) if files else checked.problems
    if as_json:
        click.echo(json.dumps(_as_json(discreet(problems)), indent=2))
    elif quiet:
        tell(folder, logbook, [problem for problem in problems if problem.is_error])
    else:
        tell(folder, logbook, problems)
        if len(problems) < len(checked.problems):
            click.echo(
                f"{count(len(problems), 'problem')} told, and {len(checked.problems) - len(problems)} of other files are not.",
                err=True,
            )
        log = checked.log
        summary(checked.problems, len(log.batches) if log else 0, len(log.planned) if log else 0)
        if checked.log is not None and not checked.balanced:
            click.echo("Stock, columns and tanks are checked once these errors are mended.", err=True)
    if is_read_by_others() and problems:
        click.echo(
            "CI is set, so no value of a file was printed; run 'esterday check' yourself to see them.",
            err=True,
        )
    raise SystemExit(0 if checked.fit else 1)


def _touching(problems: list[Problem], files: tuple[Path, ...], logbook: Path) -> list[Problem]:
    """The problems that stand in one of these files, or name a place in one; exits with 2 for a file that lies elsewhere or nowhere."""
    names = {Path(os.path.relpath(file, logbook)).as_posix() for file in files}
    outside = next((name for name in sorted(names) if name.startswith("../")), None)
    if outside is not None:
        raise stop(
            f"{logbook / outside} lies in no folder of {logbook}",
            "give a file of the logbook: --of logbook/lots/koh-001.yaml",
        )
    missing = next((name for name in sorted(names) if not (logbook / name).is_file()), None)
    if missing is not None:
        stem = Path(missing).stem
        meant = sorted(path for path in logbook.rglob(f"{glob.escape(stem)}*.yaml") if path.is_file())
        hint = (
            f"did you mean --of {shlex.quote(str(meant[0]))}?"
            if meant
            else "give a file as it lies on the disk"
        )
        raise stop(f"there is no file {logbook / missing}", hint)
    return [
        problem
        for problem in problems
        if any(place.file in names for place in (problem.place, *problem.related))
    ]


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
            "mend": dataclasses.asdict(problem.mend) if problem.mend is not None else None,
            "related": [{"file": at.file, "line": at.line, "column": at.column} for at in problem.related],
        }
        for problem in problems
    ]
