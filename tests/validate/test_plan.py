"""Planned batches and pre-treatments are checked like records: lots, dates, titrations, stock over all plans."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.ledger.test_dose import B3, FULL, changes
from tests.ledger.test_pretreatment import DONE, PLANNED, RULE, SOUR
from tests.logbook_files import BASE, checked, codes, told

DRAINED = "  acid_drained: true\n"
# 20 % free fatty acid before, 2.5 % after; weighed by the rule and half as much again
TREATED = SOUR.replace("21.965", "37") + DONE.replace("[9 mL]", "[4.5 mL]") + DRAINED
REACTED = """reaction:
  - catalyst: [{lot: koh-1, mass: WEIGHED}]
    methanol: [{lot: meoh-1, volume: 20 L at 15 °C}]
"""


def problems(tmp_path: Path, batch: str, rule: str = FULL, **more: str) -> list[tuple[str, str]]:
    """Codes and messages of a logbook with one more batch, and files by name without their ending."""
    files = {**dict(changes(batch, rule)), **{f"batches/{name}.yaml": text for name, text in more.items()}}
    return [(problem.code, problem.message) for problem in told(tmp_path, files)]


def test_a_good_plan_is_told_nothing(tmp_path: Path) -> None:
    assert problems(tmp_path, B3) == []


def test_a_good_pretreatment_is_told_nothing(tmp_path: Path) -> None:
    assert problems(tmp_path, PLANNED + DONE, RULE) == []


@pytest.mark.parametrize(
    ("batch", "code", "words"),
    [
        (PLANNED.replace("acid: acid-1", "acid: koh-1"), "wrong-kind", "kind acid is wanted here"),
        (PLANNED + DONE.replace("lot: acid-1", "lot: meoh-1"), "wrong-kind", "kind acid is wanted here"),
        (PLANNED + DONE.replace("lot: meoh-1", "lot: koh-1"), "wrong-kind", "kind alcohol is wanted here"),
        (PLANNED + DONE.replace("lot: acid-1", "lot: acid-9"), "unknown-id", "there is no lot 'acid-9'"),
        (PLANNED + DONE.replace("blank: 0 mL", "blank: 10 mL"), "blank-above-reading", "lie below the blank"),
        (B3.replace("[2.5 mL]", "[2.5 mL, 3.5 mL]"), "replicate-spread", "spread over"),
        (B3.replace("blank: 0 mL", "blank: 3 mL"), "blank-above-reading", "lie below the blank"),
        (B3.replace("[2.5 mL]", "[40 mL]"), "acidity-high", "more than kitchen oil usually has"),
        (PLANNED + DONE.replace("[9 mL]", "[50 mL]"), "acidity-high", "more than kitchen oil usually has"),
        (PLANNED + DONE.replace("[9 mL]", "[24 mL]") + DRAINED, "acid-not-lowered", "before it"),
        (B3.replace("[meoh-1]", "[{lot: meoh-1, volume: 20 L at 15 °C}]"), "methanol-below-rule", "9 % less"),
        (B3[: B3.index("titration")] + B3[B3.index("plan:") :], "no-titration", "dose cannot be judged"),
    ],
)
def test_what_is_wrong_is_told_once(tmp_path: Path, batch: str, code: str, words: str) -> None:
    found = problems(tmp_path, batch, RULE)
    assert [name for name, _ in found] == [code]
    assert words in found[0][1]


def test_plans_share_what_is_left(tmp_path: Path) -> None:
    """100 L of oil are left: the first plan may have 60 L of them, the second falls short."""
    first = B3.replace("100 L", "60 L")
    second = first.replace("b3", "b4").replace("2026-01-24", "2026-01-31")
    found = problems(tmp_path, first, b4=second)
    assert found == [("plan-short", "batch b4 takes 60.0 L of lot 'oil-1', which holds 40.0")]


def test_the_order_of_dates_counts_and_not_that_of_ids(tmp_path: Path) -> None:
    late = B3.replace("100 L", "60 L").replace("2026-01-24", "2026-02-07")
    early = B3.replace("100 L", "60 L").replace("b3", "b4")
    found = problems(tmp_path, late, b4=early)
    assert [message for _, message in found] == ["batch b3 takes 60.0 L of lot 'oil-1', which holds 40.0"]


def test_methanol_of_the_pretreatment_is_part_of_what_a_plan_takes(tmp_path: Path) -> None:
    """60 L are left. 31 L go into the pre-treatment; what the rule still wants after it goes on top."""
    drained = PLANNED.replace("target:", "acid_drained: true, target:")
    found = problems(tmp_path, drained, RULE.replace("22 %", "35 %"))
    assert [code for code, _ in found] == ["plan-short"]
    assert "of lot 'meoh-1'" in found[0][1]


def test_acid_by_volume_without_a_density_cannot_be_counted(tmp_path: Path) -> None:
    files = dict(changes(B3[: B3.index("plan:")] + DONE.replace("mass: 0.575 kg", "volume: 300 mL"), RULE))
    text = files["materials/all.yaml"]
    assert isinstance(text, str)
    files["materials/all.yaml"] = text.replace(", density: 1.84 kg/L", "")
    assert codes(told(tmp_path, files)) == ["stock-unit"]


def test_a_logbook_of_plans_alone_is_no_empty_logbook(tmp_path: Path) -> None:
    files = {**dict(changes(B3)), "batches/b1.yaml": None, "batches/b2.yaml": None, "tanks/tank-1.yaml": None}
    assert "no-batches" not in codes(told(tmp_path, files))


def test_a_dose_is_held_to_the_acidity_it_rests_on(tmp_path: Path) -> None:
    """7 g/L on 100 L and 4.5 mL of 1 g/L on each of 100,000 mL: 1,150 g pure, 1,278 g at 90 %."""
    right = problems(tmp_path / "right", TREATED + REACTED.replace("WEIGHED", "1.28 kg"), RULE)
    assert [code for code, _ in right if code == "dose-off"] == []
    found = problems(tmp_path / "wrong", TREATED + REACTED.replace("WEIGHED", "2.0 kg"), RULE)
    assert [message for code, message in found if code == "dose-off"] == [
        "the catalyst weighed is 57 % above the workshop's rule"
    ]


def test_two_bases_are_added_by_moles(tmp_path: Path) -> None:
    """1,056 g of KOH at 90 % by the rule; half of it as 337 g of NaOH at 98.5 % are as many moles, and 17 % fewer grams."""
    mixed = "  - catalyst: [{lot: koh-1, mass: 0.528 kg}, {lot: soda-1, mass: 0.344 kg}]\n    methanol: [{lot: meoh-1, volume: 20 L at 15 °C}]\n"
    log = checked(tmp_path, dict(changes(B3 + "reaction:\n" + mixed, FULL))).ledgers
    assert log is not None
    assert log.facts["b3"].dose_difference_pct == pytest.approx(0, abs=0.5)


@pytest.mark.parametrize("kind", ["lots", "offers"])
def test_the_titrations_of_lots_and_offers_are_judged(tmp_path: Path, kind: str) -> None:
    name = {"lots": "lots/oil-1.yaml", "offers": "offers/school.yaml"}[kind]
    text = (BASE / name).read_text(encoding="utf-8")
    titration = "  - {titration: {titrant: {strength: 5.00 g/L, of: KOH, pure: true}, sample: 1.0 mL, blank: 0 mL, readings: [90 mL]}}\n"
    text = (
        text.replace("tests:\n", f"tests:\n{titration}")
        if "tests:\n" in text
        else f"{text}tests:\n{titration}"
    )
    assert "acidity-impossible" in codes(told(tmp_path, {name: text}))


def test_an_acid_value_beyond_the_saponification_value_is_a_problem(tmp_path: Path) -> None:
    """Free acid is part of what is saponified; no oil has more of it than that."""
    materials = (BASE / "materials/all.yaml").read_text(encoding="utf-8")
    profile = materials[materials.index("profile: {") : materials.index("}}\n") + 1]
    for value, wanted in (("105", ["acidity-high"]), ("100", ["acidity-impossible"])):
        files = dict(changes(B3.replace("[2.5 mL]", "[93 mL]"), FULL))
        files["materials/all.yaml"] = materials.replace(profile, f'"saponification value": {value} mg KOH/g')
        assert [code for code in codes(told(tmp_path / value, files)) if code.startswith("acidity")] == wanted


def test_a_plan_is_short_of_catalyst_where_its_lot_holds_less_than_the_dose(tmp_path: Path) -> None:
    """1055.6 g by the rule; two batches of 1.0 kg leave half a kilogram of 2.5."""
    files = {**dict(changes(B3, FULL)), "lots/koh-1.yaml": ("quantity: 10 kg", "quantity: 2.5 kg")}
    (problem,) = told(tmp_path, files)
    assert (problem.code, problem.message) == (
        "plan-short",
        "batch b3 takes 1.1 kg of lot 'koh-1', which holds 0.5",
    )
