"""What a vat held through time: of which lots, how acid and how wet, by the mass of what was poured in.

All that is in a vat counts as mixed through, so that what goes out leaves shares and contents as they were. A test of the vat
itself is better than the sum of its parts, and counts from its day on.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.formulas.blend import mixed_content
from generator.ledger.basis import density_line, material_density_line, substance_of
from generator.ledger.mixing import scaled, together
from generator.ledger.stock import ORDER, Account, Line
from generator.ledger.tested import acid_value_of, result_of
from generator.log import Entry, Log
from generator.records import Lot, Test

UNKNOWN, EARLIER = (
    "not known",
    "earlier lots",
)  # parts of a vat that no lot is written for, or too small to name


@dataclass(frozen=True, slots=True)
class Mix:
    """What is in a vat behind one line of its account: litres by lot, acid value, water; None is unknown."""

    line: Line
    litres: Mapping[str, float]
    acid_value_mg_koh_per_g: float | None
    water_mg_per_kg: float | None


@dataclass(slots=True)
class Vat:
    """A vat: its mixes line by line, and of which lots each draw was, by its day and by whom."""

    id: str
    mixes: list[Mix] = field(default_factory=list)
    drawn: dict[tuple[date, str], Mapping[str, float]] = field(default_factory=dict)

    @property
    def last(self) -> Mix | None:
        """What is in it now."""
        return self.mixes[-1] if self.mixes else None

    def shares_on(self, day: date, by: str) -> Mapping[str, float]:
        """The lots in what somebody drew that day."""
        return self.drawn.get((day, by), {UNKNOWN: 1.0})


@dataclass(slots=True)
class _State:
    """What is in a vat while it is folded."""

    kg: float = 0.0
    litres: dict[str, float] = field(default_factory=dict)
    contents: dict[str, float | None] = field(default_factory=dict)

    @property
    def shares(self) -> dict[str, float]:
        """The share of every lot by volume; the lots of a vat have nearly one density."""
        total = sum(self.litres.values())
        return {lot: litres / total for lot, litres in self.litres.items()} if total > 0 else {UNKNOWN: 1.0}

    def fill(self, lot: str, litres: float, kg: float, brought: Mapping[str, float | None]) -> None:
        """Pour in a lot with what its tests say."""
        for name, content in brought.items():
            there = self.contents.get(name)
            if not self.kg:
                self.contents[name] = content
            elif content is None or there is None:
                self.contents[name] = None
            else:
                self.contents[name] = mixed_content((self.kg, kg), (there, content))
        self.kg += kg
        self.litres = together(self.litres, {lot: litres}, EARLIER)

    def leave(self, left: float, kg_per_l: float) -> None:
        """Leave so much in it, mixed as it is; what a count found without anything written is of no known lot."""
        total = sum(self.litres.values())
        if left <= 0:
            self.kg, self.litres = 0.0, {}
        elif total:
            self.kg *= left / total
            self.litres = scaled(self.litres, left)
        else:
            self.kg, self.litres, self.contents = left * kg_per_l, {UNKNOWN: left}, {}


def vat_of(log: Log, entry: Entry[Lot], account: Account) -> Vat:
    """Fold the account of a vat, and its tests behind what was poured in on their day."""
    state, vat, first = _State(), Vat(entry.id), entry.record.received
    tests = deque(sorted(entry.record.tests, key=lambda test: test.date or first))
    for line in account.lines:
        while tests and _is_before(tests[0].date or first, line):
            state.contents |= _known(log, tests.popleft(), entry.record.material)
        if line.what == "filled":
            kg = float(line.amount) * _kg_per_l(log, line.by)
            state.fill(line.by, float(line.amount), kg, brought(log, line.by))
        else:
            vat.drawn[line.day, line.by] = state.shares
            state.leave(float(line.balance), _kg_per_l(log, entry.id))
        vat.mixes.append(_mix(line, state))
    for test in tests:
        state.contents |= _known(log, test, entry.record.material)
    if tests and vat.mixes:
        vat.mixes[-1] = _mix(vat.mixes[-1].line, state)
    return vat


def _kg_per_l(log: Log, lot: str) -> float:
    material = log.material_of(lot)
    substance = substance_of(material.record.kind) if material is not None else None
    return density_line(log, substance, lot).at(log.reference_c) / 1000 if substance is not None else 1.0


def _is_before(day: date, line: Line) -> bool:
    return day < line.day or (day == line.day and ORDER[line.what] > ORDER["filled"])


def _mix(line: Line, state: _State) -> Mix:
    empty = not state.litres
    acid, water = (None if empty else state.contents.get(name) for name in ("acid value", "water"))
    return Mix(line, dict(state.litres), acid, water)


def brought(log: Log, lot: str) -> dict[str, float | None]:
    """The acid value and the water of a lot by its own tests."""
    entry = log.lots.get(lot)
    if entry is None:
        return {"acid value": None, "water": None}
    return _of_tests(log, entry.record.tests, entry.record.material)


def _of_tests(log: Log, tests: tuple[Test, ...], material: str) -> dict[str, float | None]:
    line = material_density_line(log, "oil", material)
    return {"acid value": acid_value_of(log, tests, line), "water": result_of(tests, "water")}


def _known(log: Log, test: Test, material: str) -> dict[str, float | None]:
    return {name: found for name, found in _of_tests(log, (test,), material).items() if found is not None}
