"""Laws of the columns' ledger that hold for any history: what comes in is held or goes out, and nothing is counted twice.

Histories are drawn: runs with all, some or none of their samples, part of the fuel going round, runs fed once
more, rinses, regenerations, rotations, repacking, rests; always one purifier of two vessels of resin, both in line. What came in and went out is reckoned here from the
millilitres; 880 kg/m³ and potassium oleate's 320.56 g/mol as in `test_columns`.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.ledger.charges import Charge, Held
from generator.ledger.columns import fold
from generator.ledger.passes import Columns
from tests.ledger.test_columns import VESSELS, batch
from tests.ledger.test_runs import REGENERATED
from tests.logbook_files import base_files, in_memory

BASE = base_files("pages/", "batches/", "tanks/", "columns/")
FIRST = date(2026, 1, 4)
MG_PER_KG = 0.01 * 320.56 * 1000  # for each mL of acid on a gram of sample
MOST = 12


@dataclass(frozen=True)
class Step:
    """One thing done, on a day of its own: an event as YAML, or a run with its samples in mL (None: not taken)."""

    event: str = ""
    feed: float | None = None
    between: float | None = None
    product: float | None = None
    litres: int = 100
    round_l: int = 0
    parts: int = 1
    again: bool = False

    @property
    def is_run(self) -> bool:
        return not self.event

    @property
    def fed_kg(self) -> float:
        return (self.litres - self.round_l) * 0.88


@st.composite
def runs(draw: st.DrawFn, sampled: bool) -> Step:
    """A run whose contents fall along the line: 10 g of feed, 50 g between, 100 g of product."""
    feed = draw(st.integers(10, 30)) / 10
    between = draw(st.integers(2, 4)) / 10 * 5
    product = draw(st.integers(4, 15)) / 10  # below, nothing is detected and the estimate is half the limit
    taken = (True, True, True) if sampled else tuple(draw(st.booleans()) for _ in range(3))
    return Step(
        feed=feed if taken[0] else None,
        between=between if taken[1] else None,
        product=product if taken[2] else None,
        litres=draw(st.integers(80, 200)),
        round_l=draw(st.sampled_from([0, 0, 10])),
        again=draw(st.sampled_from([False, False, False, True])),
    )


PACK = "event: pack, vessel: {0}, medium: beads, mass: {1} kg, basis: as supplied, bed: {1} L}}\n"
EVENTS = st.sampled_from(
    [
        "event: rinse, vessel: A}",
        "event: rinse, vessel: B}",
        "event: regenerate, vessel: A}",
        "event: regenerate, vessel: B}",
        "event: rotate, vessel: A, with: B}",
        "event: rotate, vessel: B, with: A}",
        "repack A",
        "repack B",
        "rest",
    ]
)


def histories(sampled: bool = False) -> st.SearchStrategy[list[Step]]:
    """Steps of a purifier of two vessels of resin, in time."""
    return st.lists(st.one_of(runs(sampled), runs(sampled), EVENTS.map(Step)), min_size=1, max_size=MOST)


def files(steps: Sequence[Step]) -> dict[str, str]:
    """The logbook of these steps, a step every other day."""
    history = "".join(f"  - {{date: 2026-01-03, {PACK.format(*each)}" for each in (("A", 30), ("B", 20)))
    texts: dict[str, str] = {}
    fed: list[str] = []
    for number, step in enumerate(steps):
        day = FIRST + timedelta(days=2 * number)
        if step.event.startswith("repack"):
            vessel = step.event[-1]
            history += f"  - {{date: {day}, event: unload, vessel: {vessel}, reason: full}}\n"
            history += f"  - {{date: {day}, {PACK.format(vessel, 30 if vessel == 'A' else 20)}"
        elif step.event == "rest":
            history += f"  - {{date: {day}, event: rest, until: {day + timedelta(days=1)}}}\n"
        elif step.event:
            history += f"  - {{date: {day}, {step.event}\n"
        elif step.again and fed:
            texts[fed[-1]] += polish(step, day)
        else:
            name = f"n{number}"
            fed.append(name)
            text = batch(name, 10).replace("2026-01-10", f"{day}").split("polish:")[0]
            texts[name] = f"{text}polish:\n{polish(replace(step, again=False), day)}"
    materials = BASE["materials/all.yaml"]
    base = {
        **BASE,
        "materials/all.yaml": materials.replace(materials.splitlines()[-1].strip(), REGENERATED[1]),
    }
    return {**base, "columns/shed.yaml": VESSELS + history} | {
        f"batches/{n}.yaml": t for n, t in texts.items()
    }


def polish(step: Step, day: date) -> str:
    """The entries of a run, in as many parts as it has."""
    samples = [
        f"      - {{point: {point}, sample: {grams} g, acid: {ml} mL, normality: 0.01 N, blank: 0.0 mL}}\n"
        for point, grams, ml in (
            ("feed", 10, step.feed),
            ("after A", 50, step.between),
            ("product", 100, step.product),
        )
        if ml is not None
    ]
    out = ""
    for part in range(step.parts):
        out += f"  - purifier: shed\n    start: {day}T{9 + 3 * part:02}:00\n    end: {day}T{11 + 3 * part:02}:00\n"
        out += f"    volume: {step.litres / step.parts} L at 15 °C\n"
        out += f"    bypassed: {step.round_l / step.parts} L at 15 °C\n" if step.round_l else ""
        out += "    again: true\n" if step.again else ""
        out += f"    soap:\n{''.join(samples)}" if samples else ""
    return out


def folded(steps: Sequence[Step]) -> Columns:
    return of_files(files(steps))


def of_files(texts: dict[str, str]) -> Columns:
    checked = in_memory(texts)
    errors = [f"{one.place}: {one.message}" for one in checked.problems if one.code in ("unknown-point",)]
    assert checked.log is not None, [f"{one.place}: {one.message}" for one in checked.problems]
    columns = fold(checked.log)
    assert not errors and not columns.problems
    return columns


def ledgers(columns: Columns) -> dict[str, tuple[Held, Held, float | None, float | None]]:
    return {one.id: (one.soap, one.glycerol, one.exchanged_mol, one.passed_l) for one in columns.charges}


def same(one: Columns, other: Columns) -> bool:
    """Whether two folds have the same ledgers, to the last digits of a float."""
    flat, beside = ({name: _flat(each) for name, each in ledgers(c).items()} for c in (one, other))
    return flat.keys() == beside.keys() and all(
        a == pytest.approx(b, rel=1e-9, abs=1e-9, nan_ok=True)
        for name in flat
        for a, b in [(flat[name], beside[name])]
    )


def _flat(ledger: tuple[Held, Held, float | None, float | None]) -> list[float]:
    soap, glycerol, mol, litres = ledger
    values = [soap.low, soap.estimate, soap.high, glycerol.estimate, mol, litres]
    return [float("nan") if value is None else value for value in values]


def ever_held(charge: Charge) -> float:
    """Soap of all lives of a charge by their estimates, g."""
    ended = charge.lives if charge.unloaded is None else charge.lives[:-1]
    held = [*(life.estimate_g for life in ended), charge.soap.estimate]
    return sum(one for one in held if one is not None)


@settings(max_examples=60, deadline=None)
@given(histories(sampled=True))
def test_soap_in_is_held_or_out(steps: list[Step]) -> None:
    """For any row of sampled runs and events, all lives of all charges together hold what came in and did not go out."""
    stayed = sum(
        (step.feed / 10 - step.product / 100) * MG_PER_KG * step.fed_kg / 1000
        for step in steps
        if step.is_run and step.feed is not None and step.product is not None
    )
    columns = folded(steps)
    assert sum(ever_held(charge) for charge in columns.charges) == pytest.approx(stayed, rel=1e-3, abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(histories())
def test_an_estimate_lies_within_its_bounds(steps: list[Step]) -> None:
    for charge in folded(steps).charges:
        held = charge.soap
        if held.low is not None and held.estimate is not None:
            assert held.low <= held.estimate + 1e-9
        if held.high is not None and held.estimate is not None:
            assert held.estimate <= held.high + 1e-9


@settings(max_examples=60, deadline=None)
@given(histories(), st.data())
def test_a_run_in_two_parts_is_one(steps: list[Step], data: st.DataObject) -> None:
    """The same samples over two halves, one behind the other."""
    split = [replace(step, parts=data.draw(st.integers(1, 2))) if step.is_run else step for step in steps]
    whole = [step for step in steps if not (step.is_run and step.again)]
    split = [step for step in split if not (step.is_run and step.again)]
    assert same(folded(whole), folded(split))


@settings(max_examples=40, deadline=None)
@given(histories(), st.randoms(use_true_random=False))
def test_the_order_of_files_changes_nothing(steps: list[Step], chance: random.Random) -> None:
    texts = list(files(steps).items())
    shuffled = list(texts)
    chance.shuffle(shuffled)
    assert same(of_files(dict(texts)), of_files(dict(shuffled)))


@settings(max_examples=40, deadline=None)
@given(histories())
def test_a_rotation_moves_charges_with_their_ledgers(steps: list[Step]) -> None:
    """Behind all else it changes places alone."""
    before, after = folded(steps), folded([*steps, Step("event: rotate, vessel: A, with: B}")])
    assert same(before, after)
    places = [{one.id: one.place for one in columns.in_service()} for columns in (before, after)]
    assert places[1] == {name: 1 - place for name, place in places[0].items()}


@settings(max_examples=40, deadline=None)
@given(histories(), st.integers(0, MOST), st.sampled_from("AB"))
def test_a_rinse_gives_no_exchange_back(steps: list[Step], place: int, vessel: str) -> None:
    """Wherever it falls, the soap of every charge stays as it is."""
    quiet = [step for step in steps if step.is_run]
    rinsed = [*quiet[:place], Step(f"event: rinse, vessel: {vessel}}}"), *quiet[place:]]
    found = [
        {one.id: (one.soap, one.exchanged_mol) for one in folded(row).charges}
        for row in (quiet or rinsed, rinsed)
    ]
    assert found[0] == found[1]
