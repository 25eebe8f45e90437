"""`esterday offer`: what oil on offer is worth, as it is offered or on other terms."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import click

from generator.cli.completing import ids
from generator.cli.telling import AS_OF, LOGBOOK, cache_folder, command, tell


@command(
    "esterday offer 2026-10-hospital",
    'esterday offer 2026-10-hospital --titration "3.4 mL" --price "0.50 EUR/L"',
    'esterday offer 2026-10-hospital --water "1800 mg/kg" --diesel "1.60 EUR/L" --json',
    short="Tell what oil on offer is worth, on any terms.",
)
@click.argument("offer", shell_complete=ids("offers"))
@LOGBOOK
@click.option("--acid-value", metavar="VALUE", help='Instead of what was titrated, such as "3.4 mg KOH/g".')
@click.option(
    "--titration",
    metavar="READING",
    help='Titrant read for the oil, such as "3.4 mL"; titrant, sample and blank as in the offer or the last batch.',
)
@click.option("--water", metavar="CONTENT", help='Instead of what was tested, such as "1800 mg/kg".')
@click.option("--price", metavar="PRICE", help='Instead of what is asked, such as "0.50 EUR/L".')
@click.option("--diesel", metavar="PRICE", help='Diesel at the pump, such as "1.60 EUR/L".')
@click.option("--json", "as_json", is_flag=True, help="Print the figures as JSON, to stdout.")
@AS_OF
def offer(
    offer: str, logbook: Path, as_json: bool, as_of: datetime.datetime | None, **terms: str | None
) -> None:
    """Tell what OFFER in LOGBOOK (default: `logbook`, or the one you stand in) is worth: fuel, dose, cost, highest price.

    Judged by the workshop's own record; a settled offer by what was known on its day. No file is changed.
    """
    from generator.kept import Kept
    from generator.offering import offering

    said = {name: text for name, text in terms.items() if text is not None}
    if "acid_value" in said and "titration" in said:
        raise click.UsageError("give --acid-value or --titration, not both")
    found = offering(
        logbook, offer, said, as_of.date() if as_of else None, Kept(cache_folder(no_cache=False))
    )
    tell(found.folder, logbook, found.problems)
    for told, hint in found.refused:
        click.echo(f"error: {told}", err=True)
        if hint:
            click.echo(f"    hint: {hint}", err=True)
    if found.refused:
        raise SystemExit(2)
    if found.text is None:
        click.echo("Nothing was reckoned: mend these first.", err=True)
        raise SystemExit(1)
    click.echo(json.dumps(dict(found.values), indent=2) if as_json else found.text.rstrip())
