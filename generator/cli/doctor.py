"""`esterday doctor`: what of a logbook is about to become public."""

from __future__ import annotations

import json
from pathlib import Path

import click

from generator.cli.telling import LOGBOOK, command, count


@command("esterday doctor", "esterday doctor my-logbook", "esterday doctor --json")
@LOGBOOK
@click.option("--json", "as_json", is_flag=True, help="Print all that is found as JSON, to stdout.")
def doctor(logbook: Path, as_json: bool) -> None:
    """Look in the repository of LOGBOOK for what is about to become public and should not: sites that are tracked or uploaded,
    workflows, branches, remotes. No value of a record is printed; nothing outside this machine is asked.

    Exits with 1 where something would be published, with 0 where there is at most something to look at.
    """
    from generator.doctor import findings_of
    from generator.problems import visible

    if not logbook.is_dir():
        click.echo(f"error: there is no such folder: {visible(str(logbook))}", err=True)
        raise SystemExit(1)
    found = findings_of(logbook)
    stops = sum(finding.stops for finding in found)
    if as_json:
        click.echo(json.dumps([finding.as_json() for finding in found], indent=2))
    else:
        for finding in found:
            click.echo(
                f"{finding.level}: {visible(f'{finding.where}: {finding.what}')} ({finding.code})", err=True
            )
            click.echo(f"    why: {finding.why}", err=True)
            click.echo(f"    do: {finding.remedy}", err=True)
        looks = len(found) - stops
        click.echo(f"{count(stops, 'thing')} to stop for, {looks} to look at.", err=True)
    if stops:
        raise SystemExit(1)
