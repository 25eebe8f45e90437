"""What was made and drawn in the twelve months before each month's end, by the place that purifiers and tanks share."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from generator.language import tell
from generator.ledger.batch_facts import Facts
from generator.ledger.tanks import TankBook
from generator.log import Entry, Log
from generator.records import Batch

ALONE = tell("this workshop")  # where no place is written


@dataclass(frozen=True, slots=True)
class Total:
    """Twelve months of one place up to a month's end: litres at the reference temperature, batches without a volume."""

    premises: str
    month: str
    made_l: float
    not_known: int
    drawn_l: float


def totals(log: Log, facts: Mapping[str, Facts], books: Mapping[str, TankBook]) -> list[Total]:
    """Every place and every month that has ended, from that of its first entry on."""
    made: dict[str, list[tuple[int, float | None]]] = {}
    drawn: dict[str, list[tuple[int, float]]] = {}
    for entry in log.batches_in_time():
        made.setdefault(_of_batch(log, entry), []).append(
            (_number(entry.record.date), facts[entry.id].fuel_l)
        )
    for name, book in books.items():
        place = log.tanks[name].record.premises or ALONE
        drawn.setdefault(place, []).extend(
            (_number(move.moment.date()), float(move.litres))
            for move in book.movements
            if move.event == "draw"
        )
    return list(_rolled(made, drawn, _number(log.now())))


def _rolled(
    made: Mapping[str, list[tuple[int, float | None]]], drawn: Mapping[str, list[tuple[int, float]]], now: int
) -> Iterator[Total]:
    for place in sorted({*made, *drawn}):
        entries = [month for month, _ in (*made.get(place, ()), *drawn.get(place, ()))]
        for end in range(min(entries, default=now), now):
            within = [litres for month, litres in made.get(place, ()) if end - 12 < month <= end]
            yield Total(
                place,
                f"{end // 12:04}-{end % 12 + 1:02}",
                sum(litres for litres in within if litres is not None),
                within.count(None),
                sum(litres for month, litres in drawn.get(place, ()) if end - 12 < month <= end),
            )


def _of_batch(log: Log, entry: Entry[Batch]) -> str:
    """The place of the purifier it went through, or of the tank it went into."""
    batch = entry.record
    purifiers = [log.purifiers.get(run.purifier) for run in batch.polish]
    named = [found.record.premises for found in purifiers if found is not None]
    tank = log.tanks.get(batch.fuel.tank) if batch.fuel is not None and batch.fuel.tank else None
    named.append(tank.record.premises if tank is not None else None)
    return next((place for place in named if place), ALONE)


def _number(day: date) -> int:
    return day.year * 12 + day.month - 1
