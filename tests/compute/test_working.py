"""The working on a batch's page is what was computed: every step comes out at its result, every result is the figure."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.build import checked_folder
from generator.compute.batches import batches
from generator.compute.results import plain_rows
from generator.compute.steps import Step, Worked
from generator.compute.working import working
from generator.ledger.ledgers import Ledgers

ROOT = Path(__file__).parents[2]
LOGBOOKS = (ROOT / "logbook", ROOT / "tests" / "logbooks" / "gallons")
IN_WORDS = ("the sum", "from {} of hydrogen phthalate over {}")


@pytest.fixture(scope="module", params=LOGBOOKS, ids=lambda path: path.name)
def ledgers(request: pytest.FixtureRequest) -> Ledgers:
    found = checked_folder(request.param)[1].ledgers
    assert found is not None
    return found


def worked(ledgers: Ledgers) -> dict[str, list[Worked]]:
    return {
        name: working(ledgers.log, entry.record, ledgers.facts[name])
        for name, entry in ledgers.log.batches.items()
    }


def outcome(step: Step) -> float:
    """What a reader with a pocket calculator gets."""
    numbers = [repr(term.value / 100 if term.unit == "%" else term.value) for term in step.terms]
    text = re.sub(r"(oil|methanol taken back|methanol|catalyst|fuel|layer) (?=\{)", "", step.working)
    text = text.replace("·", "*").replace("−", "-").replace("100 %", "1")
    if text.startswith("mean of "):
        text = f"({text.removeprefix('mean of ').replace(',', ' +')}) / {len(numbers)}"
    filled = text.format(*numbers)
    assert re.fullmatch(r"[0-9.e+*/() -]+", filled), filled
    return float(eval(filled))  # only digits and signs, see the line above


def test_every_step_comes_out(ledgers: Ledgers) -> None:
    checked = 0
    for groups in worked(ledgers).values():
        for step in (step for group in groups for step in group.steps):
            if step.working not in IN_WORDS and "standard temperature" not in step.what:
                assert outcome(step) == pytest.approx(step.result.value, rel=1e-9, abs=1e-12), step
                checked += 1
    assert checked > 50


def test_every_result_is_the_figure_of_the_table(ledgers: Ledgers) -> None:
    frame = batches(ledgers.log, ledgers.facts, ledgers.columns).frame
    rows = {row["batch"]: row for row in plain_rows(frame)}
    seen = set()
    for name, groups in worked(ledgers).items():
        for step in (step for group in groups for step in group.steps if step.column):
            assert rows[name][step.column] == pytest.approx(step.result.value, rel=1e-12)
            seen.add(step.column)
    assert {"acid_value_mg_koh_per_g", "dose_g", "ester_theory_kg", "closure_pct", "yield_volume_pct"} <= seen
