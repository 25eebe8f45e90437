"""What the logbook's own habit says of the next record: its id, its file, the lots that would be taken."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal

from generator.ledger.ledgers import Ledgers
from generator.ledger.planned import needs
from generator.log import Entry, Log
from generator.records import Batch, Lot

_LAST_NUMBER = re.compile(r"^(.*?)(\d+)$", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Naming:
    """The id of a record to come and the file it goes to."""

    id: str
    file: str


def next_naming(
    last: str, file: str, last_year: int, year: int, taken: Callable[[str], bool]
) -> Naming | None:
    """The id behind `last`, numbered anew where it bears the year and the year is over; None where it bears no number."""
    found = _LAST_NUMBER.match(last)
    if found is None:
        return None
    head, digits = found[1], found[2]
    new_year = str(last_year) in head and year > last_year
    number = 0 if new_year else int(digits)
    if new_year:
        head = head.replace(str(last_year), str(year))
    while True:
        number += 1
        name = f"{head}{number:0{len(digits)}}"
        if not taken(name):
            return Naming(name, _file(file, last, digits, name, last_year if new_year else year, year))


def named(name: str, file: str, last: str, last_year: int, year: int) -> Naming:
    """The file of an id that was given, in the folder and manner of the last one."""
    digits, own = _LAST_NUMBER.match(last), _LAST_NUMBER.match(name)
    if digits and own and own[1] in (digits[1], digits[1].replace(str(last_year), str(year))):
        return Naming(name, _file(file, last, digits[2], name, last_year, year))
    return Naming(name, f"{file.rsplit('/', 1)[0].replace(str(last_year), str(year))}/{name}.yaml")


def _file(file: str, last: str, digits: str, name: str, last_year: int, year: int) -> str:
    folder, _, stem = file.removesuffix(".yaml").rpartition("/")
    number = _LAST_NUMBER.match(name)
    assert number is not None
    if stem == last:
        stem = name
    elif stem.endswith(digits):
        stem = stem.removesuffix(digits).replace(str(last_year), str(year)) + number[2]
    else:
        stem = name
    return f"{folder.replace(str(last_year), str(year))}/{stem}.yaml"


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of a lot when planned batches have taken theirs, in `L` at the reference temperature or in `kg`."""

    lot: Entry[Lot]
    amount: Decimal
    unit: str

    @property
    def floor(self) -> Decimal:
        """The amount, not more than there is, in steps of one."""
        return self.amount.quantize(Decimal(1), ROUND_DOWN)


def left_of(ledgers: Ledgers, kind: str, purifier: str, without: str = "") -> list[Left]:
    """The lots of a kind of material with stock left, oldest first; not those that only other purifiers' batches use.

    What is less than the tolerance of the stock is taken to be dregs.
    """
    log = ledgers.log
    planned: dict[str, Decimal] = {}
    for name, dose in ledgers.doses.items():
        if name == without:
            continue
        for need in needs(log, log.planned[name], dose):
            amount = need.amount_in(ledgers.accounts[need.lot].unit) if need.lot in ledgers.accounts else None
            planned[need.lot] = planned.get(need.lot, Decimal(0)) + (amount or Decimal(0))
    users = _users(log.written_batches())
    out = []
    for lot in sorted(log.lots.values(), key=lambda entry: (entry.record.received, entry.id)):
        material = log.material_of(lot.id)
        elsewhere = purifier and users.get(lot.id) and purifier not in users[lot.id]
        if material is None or material.record.kind != kind or elsewhere:
            continue
        account = ledgers.accounts[lot.id]
        left = Left(lot, account.left - planned.get(lot.id, Decimal(0)), account.unit)
        dregs = account.received * log.settings.stock_tolerance.exact / 100
        if left.floor > 0 and left.amount > dregs:
            out.append(left)
    return out


def usual_titrant(log: Log) -> str:
    """The base a first titration is done with: that of the maker's rule, or of the catalyst there is."""
    bases = [entry.record.of for entry in log.materials.values() if entry.record.kind == "catalyst"]
    rule = log.settings.dose
    base = rule.of if rule is not None else next(iter(bases), "KOH")
    return "NaOH" if base.startswith("Na") else "KOH"


def purifiers_of(batch: Batch) -> Iterator[str]:
    """The purifiers a batch ran through, or is meant for."""
    yield from (run.purifier for run in batch.polish)
    if batch.plan is not None and batch.plan.purifier is not None:
        yield batch.plan.purifier


def likely_purifier(log: Log, batch: Entry[Batch]) -> str:
    """The purifier of a batch's last run, of its plan, of most of the batches its lots went to, or the only one there is."""
    own = batch.record.polish[-1:] or ([batch.record.plan] if batch.record.plan is not None else [])
    found = next((item.purifier for item in own if item.purifier is not None), "")
    if found or len(log.purifiers) == 1:
        return found or next(iter(log.purifiers))
    users = _users(log.written_batches())
    ranked = Counter(name for lot in _lots(batch.record) for name in users[lot]).most_common(2)
    unsure = not ranked or (len(ranked) > 1 and ranked[0][1] == ranked[1][1])
    return "" if unsure else ranked[0][0]


def _lots(batch: Batch) -> Iterator[str]:
    """The lots a batch takes from, or is to take from."""
    yield from (use.lot for use in batch.oil)
    yield from (use.lot for stage in batch.reaction for use in (*stage.catalyst, *stage.methanol))
    if batch.plan is not None:
        yield batch.plan.catalyst
        yield from (item.lot for item in batch.plan.methanol)


def _users(batches: Iterator[Entry[Batch]]) -> dict[str, set[str]]:
    users: dict[str, set[str]] = {}
    for entry in batches:
        for lot in _lots(entry.record):
            users.setdefault(lot, set()).update(purifiers_of(entry.record))
    return users


def shared_out(lots: Sequence[Left], wanted: Decimal) -> list[tuple[Left, Decimal]]:
    """Take an amount from the oldest lots first; less than was wanted where there is less."""
    out = []
    for left in lots:
        if wanted <= 0:
            break
        taken = min(left.floor, wanted)
        out.append((left, taken))
        wanted -= taken
    return out
