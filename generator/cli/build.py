"""`esterday build`: check a logbook and render its site."""

from __future__ import annotations

import datetime
import os
from pathlib import Path

import click

from generator.cli.telling import (
    AS_OF,
    AUDIENCE,
    LOGBOOK,
    NO_CACHE,
    cache_folder,
    command,
    count,
    summary,
    tell,
)
from generator.cli.waiting import waiting

NAMED = 5  # of what is not committed
PROCESSES = 4  # most that share the work, as each holds a copy of what it touches


@command(
    "esterday build", "esterday build my-logbook --out site", "esterday build --audience shared --out public"
)
@LOGBOOK
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default="site",
    show_default=True,
    help="Folder the site goes to.",
)
@AUDIENCE
@AS_OF
@NO_CACHE
@click.option(
    "--quiet", "-q", is_flag=True, help="Tell what stops the build alone, and what it makes public."
)
def build(
    logbook: Path, out: Path, audience: str, as_of: datetime.datetime | None, no_cache: bool, quiet: bool
) -> None:
    """Check LOGBOOK and render its site; on any error nothing is written and the last site stays."""
    from generator.build import build_site
    from generator.compute.opened import told as opened
    from generator.language import has_texts
    from generator.publish import CannotPublish

    try:
        with waiting(f"Building the {audience} site", quiet=quiet):
            built = build_site(
                logbook,
                out,
                audience,
                as_of.date() if as_of else None,
                cache_folder(no_cache),
                _processes(),
            )
    except CannotPublish as error:
        click.echo(f"error: {error.message}", err=True)
        if error.hint:
            click.echo(f"    hint: {error.hint}", err=True)
        raise SystemExit(3) from None
    if built.published is None:
        tell(built.folder, logbook, [problem for problem in built.problems if problem.is_error])
        summary(built.problems, built.batches)
        click.echo(f"Nothing was written; what is in {out} stays as it was.", err=True)
        raise SystemExit(1)
    if built.widened:
        click.echo("Made public by the setting in logbook.yaml, and what follows from it:", err=True)
        for line in opened(built.widened):
            click.echo(f"    {line}", err=True)
    if built.uncommitted and audience == "shared":
        click.echo(_uncommitted(built.uncommitted, out), err=True)
    if quiet:
        return
    if built.without_history:
        click.echo(f"Built without the history of the batches: {built.without_history}.", err=True)
    if not has_texts(built.locale):
        told = f"Texts are in English, for there is no translation for {built.locale}; numbers and money are as there."
        click.echo(told, err=True)
    warnings = built.warnings
    place = "on its problems page" if audience == "workshop" else "on the workshop site's problems page"
    told = f"; {count(warnings, 'warning')} {place}" if warnings else ""
    click.echo(
        f"{built.pages} pages of {count(built.batches, 'batch', 'batches')} for the {audience} site{told}.",
        err=True,
    )
    click.echo(f"Open {out / 'index.html'} in a browser.", err=True)


def _uncommitted(names: tuple[str, ...], out: Path) -> str:
    """What the pages show and no commit has, so that no reader can follow it later."""
    named = ", ".join(names[:NAMED])
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    return f"warning: {out} shows what is not committed: {named}{more}. The pages say so; commit it and build again."


def _processes() -> int:
    """How many processors this command may use; one where the system does not say."""
    here = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 1
    return min(here, PROCESSES)
