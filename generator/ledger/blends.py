"""A tank is a new lot each time fuel is pumped in: of which batches it then is, by litres at the reference temperature.

What is in a tank counts as mixed through: a draw takes of every part its share, so a lot keeps its shares until the next
fill. All fuel has one density here, so that shares by litres are shares by mass. The first litres of a batch out of the
columns were fuel of the one before, and count as such. Parts too small to name are kept together, never dropped.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.language import tell
from generator.ledger.mixing import scaled, together
from generator.ledger.tanks import Movement, TankBook

ELSEWHERE, EARLIER, UNWRITTEN = tell("from elsewhere"), tell("earlier batches"), tell("not written")

Heels = Mapping[str, Mapping[str, float | None]]


@dataclass(slots=True)
class TankLot:
    """What a tank holds from one fill to the next: its parts in litres at the fill, and what was drawn of it.

    `heel_l` is what was in the tank before; `unnamed` holds parts that are no batch.
    """

    id: str
    tank: str
    filled: date
    by: str
    heel_l: float
    parts: Mapping[str, float]
    draws: list[Movement] = field(default_factory=list)
    content_l: float = field(init=False)  # what was in the tank behind the fill

    def __post_init__(self) -> None:
        """Its parts do not change any more, and each is asked for its share of all of them."""
        self.content_l = sum(self.parts.values())

    @property
    def drawn_l(self) -> float:
        """What was drawn of it until the next fill."""
        return sum(float(move.litres) for move in self.draws)

    def share(self, part: str) -> float:
        """The share of a part."""
        return self.parts.get(part, 0.0) / self.content_l if self.content_l else 0.0


def tank_lots(books: Mapping[str, TankBook], heels: Heels) -> list[TankLot]:
    """All lots of all tanks, tank by tank, the oldest first."""
    return [lot for book in books.values() for lot in _of(book, heels)]


def _of(book: TankBook, heels: Heels) -> list[TankLot]:
    lots: list[TankLot] = []
    parts: dict[str, float] = {}
    days: dict[date, int] = {}
    for move in book.movements:
        if move.event == "draw":
            if lots:
                lots[-1].draws.append(move)
            parts = scaled(parts, float(move.content))
            continue
        found = _fill(move, heels) if move.event == "fill" else _settled(move, parts)
        if not found:
            parts = scaled(parts, float(move.content)) if move.settles else parts
            continue
        day = move.moment.date()
        days[day] = days.get(day, 0) + 1
        name = f"{book.tank}-{day.isoformat()}" + (f"-{days[day]}" if days[day] > 1 else "")
        heel_l = sum(parts.values())
        parts = dict(sorted(together(parts, found, EARLIER).items(), key=lambda item: (-item[1], item[0])))
        lots.append(TankLot(name, book.tank, day, move.batch or next(iter(found)), heel_l, dict(parts)))
    return lots


def _fill(move: Movement, heels: Heels) -> dict[str, float]:
    """The parts of a fill: its batch, and before it what stood in the columns; a void that nobody knows counts none."""
    litres = float(move.litres)
    if not move.batch:
        return {ELSEWHERE: litres} if litres else {}
    out: dict[str, float] = {}
    left = litres
    for before, held_l in heels.get(move.batch, {}).items():
        taken = min(held_l or 0.0, left)
        left -= taken
        if taken:
            out[before] = out.get(before, 0.0) + taken
    return {**out, move.batch: out.get(move.batch, 0.0) + left} if litres else {}


def _settled(move: Movement, parts: Mapping[str, float]) -> dict[str, float]:
    """What a dip that sets the book found more than was written."""
    more = float(move.content) - sum(parts.values())
    return {UNWRITTEN: more} if move.settles and more > 0 else {}
