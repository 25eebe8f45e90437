"""The next batch as the logbook would have it: a plan, with comments that say what to fill in and in which unit."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from generator.ledger.basis import exact_amount
from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.records import KINDS, Batch, Record
from generator.writing.arranging import arranged, keys_in_order
from generator.writing.habits import (
    Left,
    Naming,
    left_of,
    named,
    next_naming,
    purifiers_of,
    shared_out,
    usual_titrant,
)
from generator.writing.own_units import amount, example
from generator.writing.scalars import Value, flow, pair

RECORDS: Mapping[str, type[Record]] = {
    KINDS[name].key: KINDS[name].model for name in ("batches", "lots", "offers")
}
_COMMENTS: Mapping[str, str] = {
    "oil": "what you pour, by volume and the temperature it has then, such as 66 L at 22 °C; or by mass in kg",
    "plan": "what it is to be made with; the methanol lot without an amount takes the rest. Methanol is toxic and its vapour\n"
    "# ignites, alkali burns skin and eyes: goggles, gloves, fresh air, no flame",
}


# what is measured before the dose; once it is written there is nothing to remark
_TO_MEASURE: Mapping[str, tuple[str, ...]] = {"water": ("water: {value: ... mg/kg, method: water test kit}",)}
_FILLED_IN = ("titration", "water")
_FILL_IN = "fill in and take away the '#' of what was measured; leave the rest"
# the same lines in a file, as long as no reading was put in
_BLANKS: Mapping[str, re.Pattern[str]] = {
    "titration": re.compile(
        r"^# titration:  # .*\n#   titrant: .*\n#   sample: .*\n#   blank: \.\.\. mL .*\n#   readings: \[\.\.\. mL, .*\n",
        re.MULTILINE,
    ),
    "water": re.compile(r"^# water: \{value: \.\.\. .*\n", re.MULTILINE),
}


@dataclass(frozen=True, slots=True)
class Proposal:
    """A record to come: its file and what would stand in it; `remarks` are comments that stand where the key they are about would, or above it.

    `comments` say of a key how it is written, where it is.
    """

    naming: Naming
    data: Mapping[str, Value]
    remarks: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    comments: Mapping[str, str] = field(default_factory=dict)


def proposed_batch(
    ledgers: Ledgers, today: date, name: str = "", purifier: str = "", said: Collection[str] = ()
) -> Proposal:
    """The batch behind the last one of the same purifier, with the oldest lots that have stock.

    Where a reading of the titration is among the keys that were `said`, its titrant is that of the last batch.
    """
    log = ledgers.log
    last = _last(log, purifier)
    purifier = purifier or next(purifiers_of(last.record) if last is not None else iter(()), "")
    purifier = purifier or next(iter(log.purifiers), "")
    naming = _naming(log, last, name, today)
    volume = _usual_oil_l(log, last)
    data: dict[str, Value] = {"batch": naming.id, "date": today.isoformat()}
    data["oil"] = [
        _use(log, left, part) for left, part in shared_out(left_of(ledgers, "oil", purifier), volume)
    ]
    plan: dict[str, Value] = {"purifier": purifier} if purifier else {}
    catalysts = [left for left in left_of(ledgers, "catalyst", purifier) if _fits(log, left)]
    if catalysts:
        plan["catalyst"] = catalysts[0].lot.id
    methanol = left_of(ledgers, "alcohol", purifier)
    if methanol:
        plan["methanol"] = list(_methanol(log, methanol, _usual_methanol_l(log, last)))
    data["plan"] = plan
    if any(key.startswith("titration.") for key in said):
        data["titration"] = {"titrant": _titrant(log, last)}
    if "water.value" in said:
        data["water"] = {"method": "water test kit"}
    remarks = {
        **_TO_MEASURE,
        "titration": tuple(_to_titrate(log, last)),
        "oil": tuple(_room(ledgers, today)),
        "plan": tuple(_empty(ledgers, purifier)),
    }
    comments = {key: example(text, log.settings) for key, text in _COMMENTS.items()}
    return Proposal(naming, data, remarks, comments)


def _last(log: Log, purifier: str) -> Entry[Batch] | None:
    """The latest batch that ran, of a purifier where one is named; a planned one where none ran; by date."""
    recorded, planned = log.batches_in_time(), log.planned_in_time()
    for entry in (*reversed(recorded), *reversed(planned)):
        if not purifier or purifier in purifiers_of(entry.record):
            return entry
    return None


def _naming(log: Log, last: Entry[Batch] | None, name: str, today: date) -> Naming:
    year = today.year
    taken = {entry.id.casefold() for entry in log.written_batches()}
    first = Naming(name or f"{year}-001", f"batches/{year}/{name or f'{year}-001'}.yaml")
    if last is None:
        return first
    file, last_year = last.document.file, last.record.date.year
    if name:
        return named(name, file, last.id, last_year, year)
    return next_naming(last.id, file, last_year, year, lambda other: other.casefold() in taken) or Naming(
        f"{year}-001", f"batches/{year}/{year}-001.yaml"
    )


def _usual_oil_l(log: Log, last: Entry[Batch] | None) -> Decimal:
    """As much oil as the last time, L; 100 L where there was none."""
    uses = last.record.oil if last is not None else ()
    amounts = [exact_amount(log, use.amount, use.lot, "L") for use in uses]
    total = sum((each for each in amounts if each is not None), Decimal(0))
    return total.quantize(Decimal(1)) or Decimal(100)


def _usual_methanol_l(log: Log, last: Entry[Batch] | None) -> Decimal:
    stages = last.record.reaction if last is not None else ()
    amounts = [exact_amount(log, use.amount, use.lot, "L") for stage in stages for use in stage.methanol]
    return sum((each for each in amounts if each is not None), Decimal(0)) or Decimal(50)


def _use(log: Log, left: Left, part: Decimal) -> Value:
    key = "volume" if left.unit == "L" else "mass"
    return {"lot": left.lot.id, key: amount(part, left.unit, log.settings)}


def _fits(log: Log, left: Left) -> bool:
    """Whether a lot is of the base that the workshop's rule is for."""
    material = log.material_of(left.lot.id)
    rule = log.settings.dose
    of: Any = material.record if material is not None else None
    return rule is None or of.of == rule.of


def _methanol(log: Log, lots: list[Left], wanted: Decimal) -> Iterator[Value]:
    """All but the last by amount, the last without: it takes what the rule asks beyond them."""
    parts = shared_out(lots, wanted)
    for left, part in parts[:-1]:
        yield _use(log, left, part)
    yield from (left.lot.id for left, _ in parts[-1:])


def without_blanks(text: str, key: str) -> str:
    """The text of a batch without what stood there to be filled in for a key, where nothing of it was; for it is said now."""
    left = _BLANKS[key].sub("", text) if key in _BLANKS else text
    if left != text and not any(blanks.search(left) for blanks in _BLANKS.values()):
        left = re.sub(rf"^# {re.escape(_FILL_IN)}\r?\n", "", left, flags=re.MULTILINE)
    return left


def _to_titrate(log: Log, last: Entry[Batch] | None) -> Iterator[str]:
    """The titration before the dose, to be filled in."""
    yield _FILL_IN
    yield "titration:  # of the oil as it goes in, dried and mixed"
    yield f"  titrant: {flow(_titrant(log, last))}"
    yield "  sample: 1.0 mL  # mL or g"
    yield "  blank: ... mL  # what the solvent alone takes, mL"
    yield "  readings: [... mL, ... mL, ... mL]  # mL each"


def _empty(ledgers: Ledgers, purifier: str) -> Iterator[str]:
    """The vessels that hold no bed, which a run would find empty."""
    entry = ledgers.log.purifiers.get(purifier)
    filled = {
        charge.vessel.vessel
        for charge in ledgers.columns.charges
        if charge.purifier == purifier and charge.unloaded is None
    }
    for vessel in entry.record.vessels if entry is not None else ():
        if vessel.vessel not in filled:
            yield f"vessel {vessel.vessel} of {purifier} holds no bed"


def _room(ledgers: Ledgers, today: date) -> Iterator[str]:
    """How much each tank still takes, by the book, in one line that says of which day it is."""
    settings = ledgers.log.settings
    room = [
        f"{name} {amount((book.capacity - book.content).quantize(Decimal(1)), 'L', settings)}"
        for name, book in ledgers.tanks.items()
    ]
    if room:
        yield f"room for its fuel on {today.isoformat()}, by the book: {', '.join(room)}"


def _titrant(log: Log, last: Entry[Batch] | None) -> Value:
    """What stood in the burette the last time."""
    if last is None or last.record.titration is None:
        return {"strength": "1.00 g/L", "of": usual_titrant(log), "pure": "true"}
    found: Value = last.document.data["titration"]["titrant"]
    return found


def text_of(kind: str, proposal: Proposal) -> str:
    """The file of a proposal, its keys in the order of the grammar; what is to be filled in goes where it is filled in."""
    model, lines = RECORDS[kind], []
    data = arranged(model, proposal.data)
    assert isinstance(data, Mapping)
    for key in keys_in_order(model, list(dict.fromkeys([*data, *proposal.remarks]))):
        if key in proposal.comments and key in data:
            lines.append(f"# {proposal.comments[key]}")
        if key not in data or key not in _FILLED_IN:
            lines += [f"# {remark}" for remark in proposal.remarks.get(key, ())]
        if key in data:
            lines += pair(key, data[key])
    return "\n".join(lines) + "\n"
