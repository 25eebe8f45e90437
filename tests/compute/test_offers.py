"""What an offer would make, worked out by hand, and the highest price put to the proof."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from generator.compute.offer_parts import parts_of
from generator.compute.tally import tally
from generator.formulas.constants import default_density
from generator.ledger.basis import density_line
from generator.ledger.ledgers import Ledgers
from generator.validate.logbook import checked_folder
from tests.logbook_files import BASE, Changes, log_of

ROOT = Path(__file__).resolve().parents[2]

OFFER = "offers/school.yaml"
POWER = "price: electricity\nseries:\n  - {date: 2026-01-01, value: 0.25 EUR/kWh}\n"


def batch(number: int, fuel_l: int) -> str:
    """One of several batches of 30 L, each with so many litres of fuel from it."""
    text = (BASE / "batches" / "b1.yaml").read_text(encoding="utf-8").replace(", tank: tank-1", "")
    text = text.replace("batch: b1", f"batch: b{number}").replace("2026-01-1", f"2026-0{number + 1}-1")
    text = (
        text.replace("100 L at", "30 L at").replace("20 L at", "6 L at").replace("mass: 20 kg", "mass: 6 kg")
    )
    text = text.replace("98 L at", "30 L at").replace("97 L at 15 °C", f"{fuel_l / 10} L at 15 °C")
    return text.replace("tests:", "energy: 4 kWh\ntests:")


# 30 L of oil each; 27 to 30 L of fuel: yields of 90, 92, 95, 97, 100 %
FUEL = (270, 276, 285, 291, 300)
TARGET = "target_cost: 1.20 EUR/L\ncollection_rate: 0.30 EUR/km\ntitle:"
LOG: Changes = {
    **{f"batches/b{number}.yaml": batch(number, fuel) for number, fuel in enumerate(FUEL)},
    "tanks/tank-1.yaml": None,
    "prices/electricity.yaml": POWER,
    "columns/shed.yaml": (", bed:", ", expected: 1000 L, bed:"),
    "logbook.yaml": ("title:", TARGET),
}


def offer_text(*changes: tuple[str, str]) -> str:
    """The file of the offer, changed."""
    text = (BASE / OFFER).read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


def offer(parent: Path, *changes: tuple[str, str], **more: tuple[str, str] | str) -> dict[str, Any]:
    """The row of the only offer, its file changed."""
    text = offer_text(*changes)
    files = {key.replace("__", "/").replace("_", "-") + ".yaml": value for key, value in more.items()}
    (row,) = tally(Ledgers(log_of(parent, {**LOG, OFFER: text, **files}))).rows("offers")
    return row


FAR = ("quantity:", "distance: 20 km\nquantity:")


def test_yields_of_the_own_record(tmp_path: Path) -> None:
    """Quartiles of 90, 92, 95, 97, 100 % by the exclusive method: 91, 95 and 98.5 % of 200 L."""
    found = offer(tmp_path)
    assert [found[name] for name in ("fuel_low_l", "fuel_l", "fuel_high_l")] == pytest.approx(
        [182.0, 190.0, 197.0], rel=1e-12
    )
    assert found["yield_basis"] == "own record, 5 batches"
    assert (found["usable_l"], found["quantity_l"]) == (200.0, 200.0)


def test_the_cost_of_a_litre_from_it(tmp_path: Path) -> None:
    """Oil 100 EUR and 2 x 20 km at 0.30, over 182, 190 or 197 L; beside it what the own batches cost without oil.

    Each: 6 L of methanol at 0.90, 1 kg of flakes at 3.00, 4 kWh at 0.25, media 30 x (7 + 80) / 1000: 12.01 EUR over
    its fuel. Of five such costs the quartiles lie midway between the two lowest, at the third, between the two highest.
    """
    found = offer(tmp_path, FAR)
    spent = 5.4 + 3 + 1 + 30 * 87 / 1000
    low, middle, high = (spent / 30.0 + spent / 29.1) / 2, spent / 28.5, (spent / 27.6 + spent / 27.0) / 2
    assert found["haulage"] == pytest.approx(12.0)
    assert found["other_cost_per_l"] == pytest.approx(middle, rel=1e-12)
    assert found["cost_per_l"] == pytest.approx(112 / 190 + middle, rel=1e-12)
    assert found["cost_low_per_l"] == pytest.approx(112 / 197 + low, rel=1e-12)
    assert found["cost_high_per_l"] == pytest.approx(112 / 182 + high, rel=1e-12)


@pytest.mark.parametrize("changes", [(), (FAR,)])
def test_the_highest_price_asked_gives_the_target(
    tmp_path: Path, changes: tuple[tuple[str, str], ...]
) -> None:
    highest = offer(tmp_path / "a", *changes)["highest_price_per_l"]
    again = offer(tmp_path / "b", *changes, ("0.50 EUR/L", f"{highest:.12f} EUR/L"))
    assert again["cost_per_l"] == pytest.approx(1.20, abs=1e-9)
    assert again["target_per_l"] == 1.2
    assert again["highest_price_per_l"] == pytest.approx(highest, abs=1e-9)


def test_the_highest_price_does_not_depend_on_what_is_asked(tmp_path: Path) -> None:
    assert (
        offer(tmp_path / "a")["highest_price_per_l"]
        == offer(tmp_path / "b", ("0.50 EUR/L", "9.00 EUR/L"))["highest_price_per_l"]
    )


def test_losses_in_preparation_make_less_of_it_usable(tmp_path: Path) -> None:
    """The only lot of oil lost 30 of its 300 L: a tenth."""
    found = offer(
        tmp_path, lots__oil_1=("paid:", "losses: [{date: 2026-01-03, volume: 30 L at 15 °C}]\npaid:")
    )
    assert found["usable_l"] == pytest.approx(180.0, rel=1e-12)
    assert found["fuel_l"] == pytest.approx(0.95 * 180, rel=1e-12)


def test_a_lot_that_lost_nothing_counts_as_well_as_one_that_lost_much(tmp_path: Path) -> None:
    """Of 400 L in two lots that were used 30 L were lost: 7.5 % of an offer, and not the tenth that the one lost."""
    other = (
        "lot: oil-9\nmaterial: frying-oil\nreceived: 2026-01-02\nquantity: 100 L at 15 °C\npaid: 0.40 EUR/L\n"
    )
    log = log_of(
        tmp_path,
        {
            **LOG,
            "lots/oil-1.yaml": ("paid:", "losses: [{date: 2026-01-03, volume: 30 L at 15 °C}]\npaid:"),
            "lots/oil-9.yaml": other,
            "batches/b4.yaml": batch(4, 300).replace("lot: oil-1", "lot: oil-9"),
        },
    )
    (found,) = tally(Ledgers(log)).rows("offers")
    assert found["usable_l"] == pytest.approx(200 * 0.925, rel=1e-12)


def test_without_a_target_there_is_no_highest_price(tmp_path: Path) -> None:
    found = offer(tmp_path, logbook=("title:", "notice: none\ntitle:"))
    assert (found["target_per_l"], found["highest_price_per_l"]) == (None, None)
    assert found["cost_per_l"] is not None


def test_with_too_few_batches_chemistry_gives_one_end_and_says_why(tmp_path: Path) -> None:
    """Four of five. Without acid 200 L can give no more than all its glycerides as ester; the methanol in that and the price come to a least cost.

    Mean of the profile 17, 8, 50, 21, 4 % of palmitic to linolenic acid: acids 277.1, triglyceride 869.4 g/mol; ester 291.1 g/mol (derived
    from atomic weights). Densities of the logbook's day: oil 0.920, fuel 0.880, methanol 0.7957 kg/L, 32.042 g/mol.
    """
    changes = {**LOG, "batches/b4.yaml": batch(4, 300).replace("fuel: {volume: 30.0 L at 15 °C}\n", "")}
    log = log_of(tmp_path, changes)
    (found,) = tally(Ledgers(log)).rows("offers")
    assert [
        found[name]
        for name in ("fuel_low_l", "fuel_l", "cost_per_l", "cost_high_per_l", "highest_price_per_l")
    ] == [None] * 5
    assert found["yield_basis"] == "chemistry: the ceiling only; 4 of the five batches that are needed"
    oil_kg_per_l, fuel_kg_per_l = (density_line(log, of).at(15) / 1000 for of in ("oil", "fuel"))
    fuel_l = 200 * oil_kg_per_l * 3 * 291.1 / 869.4 / fuel_kg_per_l
    assert found["fuel_high_l"] == pytest.approx(fuel_l, rel=2e-3)
    methanol_l = 200 * oil_kg_per_l / 869.4 * 3 * 32.042 / 0.7957
    least = (200 * 0.50 + methanol_l * 0.90) / fuel_l
    assert found["cost_low_per_l"] == pytest.approx(least, rel=3e-3)
    assert found["highest_low_per_l"] is None
    assert found["highest_high_per_l"] == pytest.approx((1.20 * fuel_l - methanol_l * 0.90) / 200, rel=3e-3)


def test_the_highest_price_has_the_range_of_the_cost(tmp_path: Path) -> None:
    """Put back, each end costs the target at the other end of the cost (law)."""
    found = offer(tmp_path / "a")
    assert found["highest_low_per_l"] < found["highest_price_per_l"] < found["highest_high_per_l"]
    for name, end in (("highest_low_per_l", "cost_high_per_l"), ("highest_high_per_l", "cost_low_per_l")):
        again = offer(tmp_path / name, ("0.50 EUR/L", f"{found[name]:.12f} EUR/L"))
        assert again[end] == pytest.approx(1.20, abs=1e-9)


def test_the_demo_s_highest_prices_have_the_range_of_their_cost() -> None:
    """The same where a range goes by what forecasts missed."""
    _, checked = checked_folder(ROOT / "logbook")
    assert checked.ledgers is not None
    judged = tally(checked.ledgers).judged["2026-10-hospital"]
    held, terms = judged.on_offer, judged.on_offer.terms()
    worth = held.worth(terms)
    for price, end in zip(worth.highest_range_per_l, (2, 0), strict=True):
        again = held.worth(replace(terms, asked=held.as_asked(price)))
        assert again.cost_per_l[end] == pytest.approx(held.target_per_l, abs=1e-9)


def test_the_parts_of_an_offer_add_up_to_its_cost(tmp_path: Path) -> None:
    """Oil 100 EUR and 2 x 20 km at 0.30 over 190 L. Five batches: 27 EUR of methanol in 142.2 L of fuel; media on 30 L fed."""
    log = log_of(tmp_path, {**LOG, OFFER: offer_text(FAR)})
    one = tally(Ledgers(log)).judged["school"]
    worth = one.on_offer.worth(one.on_offer.terms())
    found = parts_of(one.on_offer, worth)
    assert found is not None
    assert found["oil"] == pytest.approx(100 / 190, rel=1e-9)
    assert found["haulage"] == pytest.approx(12 / 190, rel=1e-9)
    assert found["methanol"] == pytest.approx(5 * 6 * 0.90 / 142.2, rel=1e-9)
    assert found["energy"] == pytest.approx(5 * 4 * 0.25 / 142.2, rel=1e-9)
    assert found["media"] == pytest.approx(30 * 87 / 1000 * 5 / 142.2, rel=1e-9)
    assert "labour" not in found
    assert sum(found.values()) == pytest.approx(worth.cost_per_l[1], abs=1e-12)


@pytest.mark.parametrize(
    ("line", "state"),
    [("", "open"), ("valid_until: 2026-12-31", "open"), ("valid_until: 2026-01-25", "expired"),
     ("declined: 2026-01-22", "declined"), ("bought_as: oil-1", "bought")],
)  # fmt: skip
def test_the_state_of_an_offer(tmp_path: Path, line: str, state: str) -> None:
    """Counted from the latest date in the logbook, in May."""
    early = ("offered: 2026-01-20", "offered: 2026-01-01")  # before the lot that it became
    assert offer(tmp_path, ("quantity:", f"{line}\nquantity:"), early)["state"] == state


def test_advice_by_the_workshop_s_own_lines(tmp_path: Path) -> None:
    lines = "thresholds: {water: 1000 mg/kg, acid value: 4 mg KOH/g}\ntitle:"
    wet = ("asked:", "tests: [{property: water, value: 1200 mg/kg}]\nasked:")
    found = offer(tmp_path / "a", wet, logbook=("title:", lines))
    assert found["advice"] == "dry it first: above the workshop's line of 1000 mg/kg water"
    assert offer(tmp_path / "b", wet)["advice"] is None


BOUGHT = (BASE / "lots" / "oil-1.yaml").read_text(encoding="utf-8").replace("lot: oil-1", "lot: oil-9")
LATE = BOUGHT.replace("received: 2026-01-02", "received: 2026-06-01")
AFTER = batch(5, 270).replace("lot: oil-1", "lot: oil-9").replace("2026-06-1", "2026-06-2")


def test_a_bought_offer_keeps_its_forecast_and_is_held_against_what_came(tmp_path: Path) -> None:
    """Five batches were known; the sixth, made of it, yields 90 % and is outside of all that was told then."""
    then = offer(tmp_path / "then")
    settled = ("quantity:", "bought_as: oil-9\nquantity:")
    log = log_of(
        tmp_path / "now",
        {**LOG, OFFER: offer_text(settled), "lots/oil-9.yaml": LATE, "batches/b5.yaml": AFTER},
    )
    results = tally(Ledgers(log))
    (found,) = results.rows("offers")
    told = ("fuel_low_l", "fuel_l", "fuel_high_l", "cost_low_per_l", "cost_per_l", "cost_high_per_l")
    assert {name: found[name] for name in told} == pytest.approx({name: then[name] for name in told})
    made = next(row for row in results.rows("costs") if row["batch"] == "b5")
    assert found["came_cost_per_l"] == pytest.approx(made["with_media_per_l"])
    assert found["missed_by_per_l"] == pytest.approx(made["with_media_per_l"] - then["cost_per_l"])
    inside = then["cost_low_per_l"] <= made["with_media_per_l"] <= then["cost_high_per_l"]
    assert found["within"] == ("yes" if inside else "no")
    assert found["came_yield_pct"] == pytest.approx(90.0, rel=1e-3)


PARTS = (
    "missed_price_per_l",
    "missed_yield_per_l",
    "missed_others_per_l",
    "missed_beside_per_l",
    "missed_single_per_l",
)


def bought(parent: Path, *offer: tuple[str, str], **files: tuple[str, str] | str) -> dict[str, Any]:
    """The offer, bought as oil-9, of which one batch was made; changes of files by name."""
    settled = offer_text(("quantity:", "bought_as: oil-9\nquantity:"), *offer)
    log: dict[str, Any] = {**LOG, OFFER: settled, "lots/oil-9.yaml": LATE, "batches/b5.yaml": AFTER}
    log |= {key.replace("__", "/").replace("_", "-") + ".yaml": value for key, value in files.items()}
    return tally(Ledgers(log_of(parent, log))).rows("offers")[0]


def test_the_miss_is_told_by_part(tmp_path: Path) -> None:
    """Told: 0.50 at a yield of 0.95. It was bought at 0.40 and yielded 0.90, alone in its batch: all else is no part of the oil."""
    found = bought(tmp_path)
    price, by_yield, others, beside, single = (found[name] for name in PARTS)
    assert price == pytest.approx((0.40 - 0.50) / 0.95, rel=1e-9)
    assert by_yield == pytest.approx(0.40 / 0.9 - 0.40 / 0.95, rel=1e-9)
    assert others == pytest.approx(0.0, abs=1e-12)
    assert price + by_yield + others + beside + single == pytest.approx(found["missed_by_per_l"], abs=1e-12)
    assert found["unlike"] is None


def test_other_oil_in_its_batch_is_a_part_of_its_own(tmp_path: Path) -> None:
    """Half of the oil was free: what came is cheaper by that, and no yield and no price is praised for it."""
    free = LATE.replace("lot: oil-9", "lot: oil-8").replace("paid: 0.40", "paid: 0.00")
    mixed = AFTER.replace("volume: 30 L at", "volume: 15 L at").replace(
        "  - {lot: oil-9", "  - {lot: oil-8, volume: 15 L at 15 °C}\n  - {lot: oil-9"
    )
    found = bought(tmp_path, lots__oil_8=free, batches__b5=mixed)
    price, by_yield, others, beside, single = (found[name] for name in PARTS)
    assert price == pytest.approx((0.40 - 0.50) / 0.95, rel=1e-9)
    assert others == pytest.approx(-0.5 * 0.40 / 0.9, rel=1e-9)
    assert price + by_yield + others + beside + single == pytest.approx(found["missed_by_per_l"], abs=1e-12)
    assert found["unlike"] == "other oil in its batches"


def test_a_bill_of_the_batch_is_a_part_of_its_own_and_the_plain_guess_is_that_of_the_day(
    tmp_path: Path,
) -> None:
    """A bill of 13.50 on 27 L is 0.50 a litre, told as nothing: five batches had none. Their mean cost was the plain guess."""
    billed = AFTER.replace(
        "energy: 4 kWh", "energy: 4 kWh\nother_costs: [{for: laboratory, paid: 13.50 EUR}]"
    )
    without, found = bought(tmp_path / "a"), bought(tmp_path / "b", batches__b5=billed)
    assert without["missed_single_per_l"] == pytest.approx(0.0, abs=1e-12)
    assert found["missed_single_per_l"] == pytest.approx(0.50, rel=1e-3)
    assert found["missed_beside_per_l"] == pytest.approx(without["missed_beside_per_l"], rel=1e-9)
    before = tally(Ledgers(log_of(tmp_path / "c", LOG))).rows("costs")
    costs = sorted(row["with_media_per_l"] for row in before)
    assert found["guess_per_l"] == pytest.approx(sum(costs) / 5, rel=1e-9)
    assert found["guess_median_per_l"] == pytest.approx(costs[2], rel=1e-9)
    assert found["guess_without_per_l"] == pytest.approx(found["guess_per_l"], rel=1e-9)


def test_a_way_that_was_told_and_that_the_lot_has_not_is_named(tmp_path: Path) -> None:
    """10 km there and back at 0.30 are 6.00 on 200 L; who wrote no way for the lot is told so."""
    far = ("asked:", "distance: 10 km\nasked:")
    found = bought(tmp_path / "a", far)
    assert found["unlike"] == "a way was told, its lot has none"
    fetched = LATE.replace("paid:", "collected: {distance: 20 km}\npaid:")
    assert bought(tmp_path / "b", far, lots__oil_9=fetched)["unlike"] is None


LATER: dict[str, Changes] = {
    "a batch": {"batches/b5.yaml": AFTER},
    "a batch of another lot": {"batches/b6.yaml": AFTER.replace("batch: b5", "batch: b6").replace("oil-9", "oil-1")},
    "a loss of oil": {"lots/oil-1.yaml": ("paid:", "losses: [{date: 2026-06-02, volume: 60 L at 15 °C}]\npaid:")},
    "a loss of methanol": {"lots/meoh-1.yaml": ("paid:", "losses: [{date: 2026-06-02, volume: 9 L at 15 °C}]\npaid:")},
    "a loss of base": {"lots/koh-1.yaml": ("paid:", "losses: [{date: 2026-06-02, mass: 2 kg}]\npaid:")},
    "a return": {"lots/meoh-1.yaml": ("paid:", "returns: [{date: 2026-06-02, volume: 9 L at 15 °C, refund: 1.00 EUR}]\npaid:")},
    "a count": {"lots/meoh-1.yaml": ("paid:", "counts: [{date: 2026-06-02, volume: 5 L at 15 °C}]\npaid:")},
    "a lot of base": {"lots/koh-9.yaml": "lot: koh-9\nmaterial: flakes\nreceived: 2026-06-02\nquantity: 25 kg\npaid: 9.00 EUR/kg\n"},
    "a price of power": {"prices/electricity.yaml": POWER + "  - {date: 2026-06-02, value: 0.90 EUR/kWh}\n"},
    "a price of diesel": {"prices/diesel.yaml": ("1.60 EUR/L}", "1.60 EUR/L}\n  - {date: 2026-06-02, value: 2.90 EUR/L}")},
    "a test of the offer": {OFFER: offer_text(("quantity:", "bought_as: oil-9\nquantity:"), ("asked:", "tests: [{date: 2026-06-02, property: water, value: 9000 mg/kg}]\nasked:"))},
}  # fmt: skip


@pytest.mark.parametrize("later", LATER.values(), ids=list(LATER))
def test_what_came_after_the_day_moves_no_forecast(tmp_path: Path, later: Changes) -> None:
    """The lot came on the first of June; each of these is dated after it, and none of them was known."""
    settled = {OFFER: offer_text(("quantity:", "bought_as: oil-9\nquantity:")), "lots/oil-9.yaml": LATE}
    before, after = (
        tally(Ledgers(log_of(tmp_path / name, {**LOG, **settled, **more}))).rows("offers")[0]
        for name, more in (("before", {}), ("after", later))
    )
    came = (
        "came_cost_per_l",
        "came_single_per_l",
        "came_yield_pct",
        "missed_by_per_l",
        *PARTS,
        "unlike",
        "within",
    )
    assert {name: after[name] for name in after if name not in came} == {
        name: before[name] for name in before if name not in came
    }


@pytest.mark.parametrize("name", ["a loss of oil", "a loss of methanol", "a loss of base"])
def test_what_came_before_the_day_moves_the_forecast(tmp_path: Path, name: str) -> None:
    """The same loss a month earlier was known, and makes the fuel dearer."""
    ((file, change),) = LATER[name].items()
    assert isinstance(change, tuple)
    earlier = {file: (change[0], change[1].replace("2026-06-02", "2026-05-02"))}
    settled = {OFFER: offer_text(("quantity:", "bought_as: oil-9\nquantity:")), "lots/oil-9.yaml": LATE}
    plain, found = (
        tally(Ledgers(log_of(tmp_path / where, {**LOG, **settled, **more}))).rows("offers")[0]
        for where, more in (("plain", {}), ("found", earlier))
    )
    assert found["cost_per_l"] > plain["cost_per_l"]


def test_a_batch_that_was_still_in_the_columns_was_no_record_yet(tmp_path: Path) -> None:
    """The fifth batch is dated before the day and its run ended after it: four are left, too few for a yield."""
    settled = {OFFER: offer_text(("quantity:", "bought_as: oil-9\nquantity:")), "lots/oil-9.yaml": LATE}
    slow = {"batches/b4.yaml": batch(4, 300).replace("2026-05-11T", "2026-06-11T")}
    assert slow["batches/b4.yaml"] != batch(4, 300)
    (found,) = tally(Ledgers(log_of(tmp_path, {**LOG, **settled, **slow}))).rows("offers")
    assert found["fuel_l"] is None


def test_a_cost_of_few_batches_counts_by_its_mean(tmp_path: Path) -> None:
    """A laboratory is paid 14.22 EUR once for five batches of 142.2 L together: 0.10 a litre, which a median would not see."""
    paid = {
        "batches__b2": batch(2, 285).replace(
            "energy:", "other_costs: [{for: laboratory, paid: 14.22 EUR}]\nenergy:"
        )
    }
    plain, found = offer(tmp_path / "plain"), offer(tmp_path / "found", **paid)
    for name in ("cost_low_per_l", "cost_per_l", "cost_high_per_l"):
        assert found[name] - plain[name] == pytest.approx(14.22 / 142.2, rel=1e-9)


def test_an_open_offer_has_no_score(tmp_path: Path) -> None:
    found = offer(tmp_path)
    assert (found["came_cost_per_l"], found["missed_by_per_l"], found["within"]) == (None, None, None)


def test_a_usable_kilogram_and_the_heat_of_a_litre(tmp_path: Path) -> None:
    """100 EUR and 12 of haulage for 200 L; net heats of 32.638 and 35.536 MJ/L (California Energy Commission)."""
    found = offer(tmp_path, FAR)
    usable_kg = 200 * default_density("oil").at(15.0) / 1000
    assert found["per_usable_kg"] == pytest.approx(112 / usable_kg, rel=1e-12)
    assert found["cost_per_mj"] == pytest.approx(found["cost_per_l"] / 32.638, rel=1e-4)
    assert found["cost_per_diesel_l"] == pytest.approx(found["cost_per_l"] * 35.536 / 32.638, rel=1e-4)
    assert found["soap_kg"] is None


def test_soap_to_come_is_a_mole_for_a_mole_of_acid(tmp_path: Path) -> None:
    """2 mL of 1 g/L on 1 mL are 2 / 56.1056 mol/L of acid: on 200 L 7.13 mol, of 320.56 g each: 2.285 kg."""
    tested = (
        "asked:",
        "tests: [{titration: {titrant: {strength: 1.00 g/L, of: KOH, pure: true}, sample: 1.0 mL, blank: 0.1 mL, readings: [2.1 mL]}}]\nasked:",
    )
    assert offer(tmp_path, tested)["soap_kg"] == pytest.approx(2 / 56.1056 * 200 * 0.32056, rel=2e-3)


def test_what_an_open_offer_would_take_of_the_beds(tmp_path: Path) -> None:
    """190 L of 1000 L that each bed is spread over: 19 %, and as much of 7 and of 80 EUR; what is left gives the other part."""
    results = tally(Ledgers(log_of(tmp_path, LOG)))
    lead, lag = results.rows("offer_beds")
    for row, whole in ((lead, 7.0), (lag, 80.0)):
        assert (row["offer"], row["fuel_l"]) == ("school", pytest.approx(190))
        assert row["charge_share_pct"] == pytest.approx(19.0)
        assert row["cost"] == pytest.approx(whole * 0.19)
        assert row["share_pct_middle"] == pytest.approx(100 * 190 / row["litres_left_middle"])


def test_a_settled_offer_takes_nothing_of_the_beds(tmp_path: Path) -> None:
    changes = {**LOG, OFFER: ("quantity:", "declined: 2026-01-22\nquantity:")}
    assert tally(Ledgers(log_of(tmp_path, changes))).rows("offer_beds") == []


def test_the_cost_in_three_tiers(tmp_path: Path) -> None:
    """Media are 30 x (7 + 80) / 1000 a batch; an hour of labour at 12 EUR each. The middle batch made 28.5 L."""
    batches = {
        f"batches__b{number}": batch(number, fuel).replace("energy:", "labour: 1 h\nenergy:")
        for number, fuel in enumerate(FUEL)
    }
    found = offer(tmp_path, FAR, logbook=("title:", "labour_rate: 12 EUR/h\n" + TARGET), **batches)
    media, oil = 30 * 87 / 1000, 112 / 190
    cash = 5.4 + 3 + 1
    assert found["cash_per_l"] == pytest.approx(oil + cash / 28.5, rel=1e-12)
    assert found["cost_per_l"] == pytest.approx(oil + (cash + media) / 28.5, rel=1e-12)
    assert found["labour_per_l"] == pytest.approx(oil + (cash + media + 12) / 28.5, rel=1e-12)
    for tier in ("cash", "labour"):
        assert found[f"{tier}_low_per_l"] < found[f"{tier}_per_l"] < found[f"{tier}_high_per_l"]


def test_without_a_wage_there_is_no_tier_of_labour(tmp_path: Path) -> None:
    found = offer(tmp_path)
    assert found["cash_per_l"] is not None
    assert found["labour_per_l"] is None


def test_how_long_the_oil_lasts_and_whether_there_is_room(tmp_path: Path) -> None:
    """300 L came and 5 x 30 L went; 2 of the batches in the 90 days before the last. 150 L are left, 200 L on offer."""
    storage = ("title:", "oil_storage: 400 L\n" + TARGET)
    found = offer(tmp_path, logbook=storage)
    results = tally(Ledgers(log_of(tmp_path / "stock", {**LOG, "logbook.yaml": storage})))
    (oil,) = [row for row in results.rows("stock") if row["kind"] == "oil"]
    assert (oil["left"], oil["room_l"]) == pytest.approx((150.0, 250.0), abs=0.01)
    assert found["room_l"] == pytest.approx(250 - 200, abs=0.01)
    assert found["lasts_days"] == pytest.approx((150 + found["usable_l"]) / oil["used_per_day"], rel=1e-6)


def test_of_a_settled_offer_there_is_no_room_to_tell(tmp_path: Path) -> None:
    found = offer(
        tmp_path,
        ("quantity:", "declined: 2026-01-22\nquantity:"),
        logbook=("title:", "oil_storage: 400 L\ntitle:"),
    )
    assert (found["lasts_days"], found["room_l"]) == (None, None)


@pytest.mark.parametrize(
    ("value", "found"), [("3.20 mg KOH/g", 3.2), ("< 0.5 mg KOH/g", None)], ids=["a result", "censored"]
)
def test_an_acid_value_that_a_laboratory_wrote(tmp_path: Path, value: str, found: float | None) -> None:
    """A result of the property stands where no titration does; one below a limit is no value."""
    result = f"{{property: acid value, value: '{value}', method: EN 14104}}"
    row = offer(tmp_path, ("asked:", f"tests: [{result}]\nasked:"))
    assert row["acid_value_mg_koh_per_g"] == (None if found is None else pytest.approx(found, abs=1e-12))


def test_the_last_of_a_titration_and_a_result_counts(tmp_path: Path) -> None:
    """2 mL of 1 g/L on 1 mL say about 2.2 mg KOH/g; a result after it is the newer one, one before it the older."""
    titration = "{titration: {titrant: {strength: 1.00 g/L, of: KOH, pure: true}, sample: 1.0 mL, blank: 0.1 mL, readings: [2.1 mL]}}"
    result = "{property: acid value, value: 3.20 mg KOH/g, method: EN 14104}"
    after = offer(tmp_path / "after", ("asked:", f"tests: [{titration}, {result}]\nasked:"))
    before = offer(tmp_path / "before", ("asked:", f"tests: [{result}, {titration}]\nasked:"))
    assert after["acid_value_mg_koh_per_g"] == pytest.approx(3.2, abs=1e-12)
    assert before["acid_value_mg_koh_per_g"] == pytest.approx(2.2, abs=0.05)
