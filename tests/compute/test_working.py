"""The working on a batch's page is what was computed: every step comes out at its result, every result is the figure."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.compute.batches import batches
from generator.compute.frames import plain_rows
from generator.compute.steps import Step, Worked
from generator.compute.working import working
from generator.ledger.ledgers import Ledgers
from generator.validate.logbook import checked_folder
from tests.ledger.test_dose import changes
from tests.ledger.test_pretreatment import DONE, RULE, SOUR
from tests.logbook_files import checked

ROOT = Path(__file__).parents[2]
LOGBOOKS = {"demo": ROOT / "logbook", "gallons": ROOT / "tests" / "logbooks" / "gallons"}
IN_WORDS = ("the sum", "from {} of hydrogen phthalate over {}")
# an oil with a saponification value, an alcoholic titrant, a solution of methoxide, two stages, a pre-treatment
SPECIAL = (
    SOUR.replace("pure: true}", "pure: true, solvent: alcohol, at: 20 °C}").replace(
        "  sample:", "  temperature: 28 °C\n  sample:"
    )
    + DONE.replace("  temperature:", "  acid_drained: false\n  drained: 14 kg\n  temperature:")
    + """reaction:
  - catalyst: [{lot: methylate-1, mass: 3 kg}]
    methanol: [{lot: meoh-1, volume: 18 L at 15 °C}]
  - catalyst: [{lot: methylate-1, mass: 0.5 kg}]
    methanol: [{lot: meoh-1, volume: 3 L at 15 °C}]
settled: {glycerol: {volume: 15 L at 30 °C}}
fuel: {volume: 97 L at 15 °C}
"""
)


@pytest.fixture(scope="module", params=[*LOGBOOKS, "special"])
def ledgers(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Ledgers:
    if request.param in LOGBOOKS:
        found = checked_folder(LOGBOOKS[request.param])[1].ledgers
    else:
        found = checked(tmp_path_factory.mktemp("special"), changes(SPECIAL, RULE)).ledgers
        assert found is not None and "b3" in found.log.batches
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
    text = (
        step.working
        if step.working.startswith("mean of")
        else re.sub(r"[a-z ]*[a-z] (?=\{)", "", step.working)
    )
    text = text.replace(" of the acid that was treated", "")
    if text.startswith("mean of "):
        text = f"({text.removeprefix('mean of ').replace(',', ' +')}) / {len(numbers)}"
    text = text.replace("·", "*").replace("−", "-").replace("100 %", "1")
    filled = text.format(*numbers)
    assert re.fullmatch(r"[0-9.e+*/() -]+", filled), filled
    return float(eval(filled))  # only digits and signs, see the line above


def test_every_step_comes_out(ledgers: Ledgers) -> None:
    told = 0
    for groups in worked(ledgers).values():
        for step in (step for group in groups for step in group.steps):
            if step.working not in IN_WORDS:
                assert outcome(step) == pytest.approx(step.result.value, rel=1e-9, abs=1e-12), step
                told += 1
    assert told > 30


def test_every_result_is_the_figure_of_the_table(ledgers: Ledgers) -> None:
    frame = batches(ledgers.log, ledgers.facts, ledgers.columns, ledgers.media).frame
    rows = {row["batch"]: row for row in plain_rows(frame)}
    seen = set()
    for name, groups in worked(ledgers).items():
        for step in (step for group in groups for step in group.steps if step.column):
            assert rows[name][step.column] == pytest.approx(step.result.value, rel=1e-12)
            seen.add(step.column)
    assert {"acid_value_mg_koh_per_g", "dose_g", "ester_theory_kg", "closure_pct", "yield_volume_pct"} <= seen
