"""Where each id of the logbook is told of, so that an id in a sentence or a cell can be a link."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.compute.results import Results
from generator.pages.parts import batch_link, charge_link, lot_link, offer_link, tank_link

SHORTEST = 4


def addresses(results: Results) -> Mapping[str, str]:
    """The address of every id that no one takes for a number or a word, from the root of the site.

    An id needs a hyphen, or a digit and a letter beside it. One that names two things, as a lot and an offer, has none.
    """
    found: dict[str, str] = {}
    twice = set()
    for name, href in _all(results):
        if found.setdefault(name, href) != href:
            twice.add(name)
    return {name: href for name, href in found.items() if name not in twice and _telling(name)}


def _telling(name: str) -> bool:
    told = "-" in name or (any(sign.isdigit() for sign in name) and not name.isdecimal())
    return len(name) >= SHORTEST and told


def _all(results: Results) -> Iterator[tuple[str, str]]:
    """Every id with the place where it is told of; a table that the audience may not see has no rows."""
    kinds = {
        "batches": ("batch", batch_link),
        "charges": ("charge", charge_link),
        "lots": ("lot", lot_link),
        "tanks": ("tank", tank_link),
    }
    for table, (column, link) in kinds.items():
        for row in results.rows(table):
            if row[column] is not None:
                yield row[column], link(row[column])
    for offer in results.judged:
        yield offer, offer_link(offer)
    if results.audience == "workshop":
        for item in results.planned:
            yield item.batch.batch, batch_link(item.batch.batch)
