"""The next lot and the next offer as the logbook would have them; what was delivered and paid is for the maker to say."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from generator.log import Entry, Log
from generator.records import Lot, Offer
from generator.writing.batch import Proposal
from generator.writing.habits import Naming, named, next_naming
from generator.writing.scalars import Value


def proposed_lot(log: Log, today: date, name: str, said: Mapping[str, Value]) -> Proposal:
    """A delivery, or a vat, like the last delivery of its material; that of which most deliveries were, where none is said."""
    bought = sorted(
        (entry for entry in log.lots.values() if not entry.record.recovered and not entry.record.vat),
        key=lambda entry: (entry.record.received, entry.id),
    )
    often = Counter(entry.record.material for entry in reversed(bought)).most_common(1)
    material = str(said.get("material", often[0][0] if often else ""))
    alike = [entry for entry in bought if entry.record.material == material] or [
        entry for entry in bought if _shares_numbers(log, entry, material)
    ]
    said_of = {"material": material} if material else {}
    data: dict[str, Value] = {"lot": name, **said_of, "received": today.isoformat()}
    last = alike[-1] if alike else None
    before, file, year = f"{material or 'lot'}-000", "", today.year
    if last is not None:
        before, file, year = last.id, last.document.file, last.record.received.year
    file = file or f"lots/{before}.yaml"
    taken = {lot.casefold() for lot in log.lots}
    naming = (
        (named(name, file, before, year, today.year) if name else None)
        or next_naming(before, file, year, today.year, lambda other: other.casefold() in taken)
        or Naming(f"{before}-2", f"lots/{before}-2.yaml")
    )
    data |= {"lot": naming.id}
    if said.get("vat") == "true":
        return Proposal(naming, {**data, "vat": "true"})
    if last is None or last.record.source is None or last.record.material != material:
        return Proposal(naming, data)
    if _kind(log, material) != "oil":  # whose oil it is has to be said each time
        data["source"] = last.record.source
    return Proposal(naming, data)


def bought(proposal: Proposal, offer: Entry[Offer]) -> Proposal:
    """A delivery that was on offer: what stands in the offer and goes for the lot too, as long as nothing else is said.

    Its tests are those of the oil and go along, so that its acid and water are known. How far away it was is one way, what was driven is both.
    """
    there, record = offer.document.data, offer.record
    data: dict[str, Value] = {
        **proposal.data,
        **{key: there[key] for key in ("source", "quantity") if key in there},
    }
    data |= {"material": record.material, "paid": there["asked"]}
    if record.distance is not None:
        data["collected"] = {"distance": f"{2 * record.distance.number} {record.distance.unit.symbol}"}
    if "tests" in there:
        data["tests"] = [_dated(test, record.offered) for test in there["tests"]]
    return replace(proposal, data=data)


def _dated(test: Mapping[str, Value], day: date) -> Mapping[str, Value]:
    """A test with its day; one without was done when the oil was offered."""
    return {"date": day.isoformat(), **test}


def _shares_numbers(log: Log, entry: Entry[Lot], material: str) -> bool:
    """Whether a lot of another material is one of a row that this one would go on: of its kind, and not named by its own."""
    own = entry.record.material
    return _kind(log, own) == _kind(log, material) and not entry.id.startswith(own)


def _kind(log: Log, material: str) -> str:
    entry = log.materials.get(material)
    return entry.record.kind if entry is not None else ""


def proposed_offer(log: Log, today: date, name: str, said: Mapping[str, Value]) -> Proposal:
    """An offer named by its month and who makes it; its material is that of the last offer."""
    source = re.sub(r"[^A-Za-z0-9]+", "-", str(said.get("source", "offer"))).strip("-").lower() or "offer"
    name = name or f"{today:%Y-%m}-{source}"
    last = max(log.offers.values(), key=lambda entry: (entry.record.offered, entry.id), default=None)
    oils = [key for key, entry in log.materials.items() if entry.record.kind == "oil"]
    material = last.record.material if last is not None else next(iter(oils), "")
    data: dict[str, Value] = {"offer": name, "material": material, "offered": today.isoformat()}
    return Proposal(Naming(name, f"offers/{name}.yaml"), data)
