"""Checks at the ends of their ranges: what lies just within is told nothing, what lies just beyond is; derived."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.ledger.batch_facts import Facts
from generator.ledger.facts import facts_of
from generator.ledger.flows import is_open
from generator.ledger.pretreatment import treated
from generator.validate.logbook import checked_folder
from tests.ledger.test_columns import LIKE, batch
from tests.ledger.test_columns import changes as columns_changes
from tests.ledger.test_dose import LOTS, changes
from tests.ledger.test_pretreatment import PLANNED, RULE
from tests.logbook_files import BASE, codes, lay, told
from tests.test_gallery import lay_case

B1, B2, SHED = "batches/b1.yaml", "batches/b2.yaml", "columns/shed.yaml"


def case(parent: Path, name: str, file: str, old: str, new: str) -> list[str]:
    """The codes of a case of the gallery with another value in it."""
    parent.mkdir(exist_ok=True)
    lay_case(name, parent)
    lay(parent / "logbook", file, (old, new))
    return codes(checked_folder(parent / "logbook")[1].problems)


@pytest.mark.parametrize(
    ("ml", "found"),
    [
        ("27.47", []),
        ("24.10", []),  # 14 % above
        ("23.68", ["strength-differs"]),  # 16 % above
        ("31.95", []),  # 14 % below
        ("32.71", ["strength-differs"]),  # 16 % below
    ],
)
def test_a_titrant_within_fifteen_percent_of_its_label(ml: str, found: list[str], tmp_path: Path) -> None:
    """0.10 g of phthalate, 204.22 g/mol, take 27.47 mL of 1.00 g/L KOH, 56.106 g/mol."""
    assert case(tmp_path, "strength-differs", B1, "titrant: 20.0 mL", f"titrant: {ml} mL") == found


@pytest.mark.parametrize(("bar", "found"), [("0.2", []), ("0.34", []), ("0.36", ["pressure-rises"])])
def test_a_gauge_further_on_may_stand_half_a_division_higher(
    bar: str, found: list[str], tmp_path: Path
) -> None:
    """0.3 bar before A; half a division is 0.05 bar."""
    assert case(tmp_path, "pressure-rises", B1, "inlet: 0.6 bar", f"inlet: {bar} bar") == found


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [("sample-odd", "sample: 10 mL", "sample: 0.1 mL"), ("strength-odd", "10.0 g/L", "0.1 g/L")],
)
def test_a_tenth_of_the_usual_is_as_odd_as_ten_times(name: str, old: str, new: str, tmp_path: Path) -> None:
    assert name in case(tmp_path, name, "batches/b7.yaml", old, new)


@pytest.mark.parametrize(("fuel", "found"), [("50", ["high-yield"]), ("49.9", ["heel-impossible"])])
def test_columns_keep_no_more_than_their_vessels_hold(fuel: str, found: list[str], tmp_path: Path) -> None:
    """Vessels of 60 and 40 L, and 150 L fed: that 150 L came of 100 L of oil is told where the heel is possible."""
    case(tmp_path, "heel-impossible", B1, "98 US gal", "150 L")
    lay(tmp_path / "logbook", B1, ("fuel: {volume: 97 L", f"fuel: {{volume: {fuel} L"))
    assert codes(checked_folder(tmp_path / "logbook")[1].problems) == found


@pytest.mark.parametrize(("ml", "is_told"), [("6.2", False), ("5.5", True)])
def test_a_titration_a_little_below_its_mineral_acid_is_told_nothing(
    ml: str, is_told: bool, tmp_path: Path
) -> None:
    """6.9 mg KOH/g of mineral acid take 6.27 mL: both lie below, the first within what a burette leaves open."""
    found = case(tmp_path, "pretreatment-titration", "batches/b3.yaml", "[3 mL]", f"[{ml} mL]")
    assert ("pretreatment-titration" in found) is is_told
    log = checked_folder(tmp_path / "logbook")[1].log
    assert log is not None
    entry = {**log.batches, **log.planned}["b3"]
    before = treated(log, entry.record, facts_of(log, entry))
    assert before is not None and before.free_after_mol_per_kg is not None
    assert before.free_after_mol_per_kg < 0


def test_a_plan_takes_no_acid_that_came_later(tmp_path: Path) -> None:
    late = LOTS["lots/acid-1.yaml"].replace("2026-01-02", "2026-02-01")
    found = told(tmp_path, {**changes(PLANNED, RULE), "lots/acid-1.yaml": late})
    assert codes(found) == ["date-order"]
    assert "acid-1" in found[0].message


@pytest.mark.parametrize(
    ("fuel_kg", "found"),
    [(76.9, True), (77.1, False), (80.0, False), (82.9, False), (83.1, True), (None, False)],
)
def test_a_balance_is_open_below_97_and_above_103_percent(fuel_kg: float | None, found: bool) -> None:
    """80 kg of oil and 20 kg of methanol in; 20 kg of layer and the fuel out, by exact readings."""
    facts = Facts(
        "b1",
        oil_kg=80.0,
        methanol_kg=20.0,
        catalyst_g=0.0,
        all_stages_g=0.0,
        glycerol_layer_kg=20.0,
        methanol_recovered_kg=0.0,
        fed_kg=fuel_kg,
        fuel_kg=fuel_kg,
    )
    assert (facts.closure_pct is None) == (fuel_kg is None)
    assert is_open(facts) is found


RINSED = '  - {date: "2026-01-14T09:00", event: rinse, vessel: B}\n'


@pytest.mark.parametrize(
    ("again", "found"),
    [("2026-01-14T09:00", ["event-twice"]), ("2026-01-14T15:00", []), ("2026-01-14", ["event-twice"])],
)
def test_two_times_of_a_day_are_two_rinses_and_one_time_is_one(
    again: str, found: list[str], tmp_path: Path
) -> None:
    both = "".join(sorted([RINSED, RINSED.replace("2026-01-14T09:00", again)]))
    history = (BASE / SHED).read_text(encoding="utf-8")
    assert codes(told(tmp_path, {SHED: history + both})) == found


@pytest.mark.parametrize(("days", "found"), [(("05",), ["date-alone"]), (("05", "06"), [])])
def test_a_workshop_that_begins_again_after_years_has_more_than_one_day_behind_them(
    days: tuple[str, ...], found: list[str], tmp_path: Path
) -> None:
    later = "material: frying-oil\nreceived: 2062-01-{day}\nquantity: 10 L at 15 °C\npaid: 4.00 EUR\n"
    lots = {f"lots/late-{day}.yaml": f"lot: late-{day}\n{later.format(day=day)}" for day in days}
    assert codes(told(tmp_path, lots)) == found


@pytest.mark.parametrize(("second", "found"), [(10, []), (12, ["runs-overlap"])])
def test_a_run_is_held_to_the_one_before_it_and_not_to_the_first(
    second: int, found: list[str], tmp_path: Path
) -> None:
    """Each lasts from nine to one; the last is of the 12th."""
    history = LIKE + "  - {date: 2026-01-14, event: rinse, vessel: B}\n"
    batches = {"b1": batch("b1", 8), "b2": batch("b2", second), "b3": batch("b3", 12)}
    batches["b3"] = batches["b3"].replace("2026-01-12T09:00", "2026-01-12T11:00")
    problems = told(tmp_path, columns_changes(history, batches))
    assert [problem.code for problem in problems if problem.code == "runs-overlap"] == found
    assert all(problem.place.file == "batches/b3.yaml" for problem in problems if problem.code in found)


def test_a_lot_that_stands_twice_among_the_catalysts_is_named(tmp_path: Path) -> None:
    """A kilogram written twice is twice the rule, which asks for 1.0 kg."""
    once = "{lot: koh-1, mass: 1.0 kg}"
    (problem,) = told(tmp_path / "a", {B1: (once, f"{once}, {once}")})
    assert problem.code == "dose-off"
    assert problem.message.endswith("; lot 'koh-1' stands twice in the list")
    (problem,) = told(tmp_path / "b", {B1: (once, once.replace("1.0", "2.0"))})
    assert problem.message.endswith("above the workshop's rule")


@pytest.mark.parametrize(("purity", "found"), [("90 %", []), ("89.9 %", ["material-odd"])])
def test_a_material_as_pure_as_is_usual_at_least_is_told_nothing(
    purity: str, found: list[str], tmp_path: Path
) -> None:
    assert codes(told(tmp_path, {"materials/all.yaml": ("99.8 %", purity)})) == found


@pytest.mark.parametrize(
    ("asked", "found"),
    [("0.079", ["price-odd"]), ("0.08", []), ("2.00", []), ("2.01", ["price-odd"])],
)
def test_an_offer_may_ask_from_a_fifth_to_five_times_of_what_lots_cost(
    asked: str, found: list[str], tmp_path: Path
) -> None:
    """Three lots at 0.40 EUR/L."""
    offer = "offers/school.yaml"
    assert case(tmp_path, "price-odd-offer", offer, "asked: 0.50 EUR", f"asked: {asked} EUR/L") == found


@pytest.mark.parametrize(("ml", "found"), [("1.2", []), ("1.45", []), ("1.55", ["outlet-above-inlet"])])
def test_soap_behind_a_bed_may_be_a_quarter_above_what_came_in(
    ml: str, found: list[str], tmp_path: Path
) -> None:
    """1.2 mL on 10 g before the bed; two titrations leave as much open."""
    changes = {B1: ("after A, sample: 50 g, acid: 1.0 mL", f"after A, sample: 10 g, acid: {ml} mL")}
    assert codes(told(tmp_path, changes)) == found


def test_the_last_sample_may_be_called_by_its_vessel_and_stand_anywhere(tmp_path: Path) -> None:
    """64 mg/kg behind A and 321 behind B, which is the product: each place is told where it is written."""
    last = "    - {point: product, sample: 100 g, acid: 0.3 mL, normality: 0.01 N, blank: 0.0 mL}\n"
    head, rest = (BASE / B1).read_text(encoding="utf-8").replace(last, "").split("    - {point: feed")
    last = last.replace("product, sample: 100 g, acid: 0.3", "after B, sample: 10 g, acid: 1.0")
    (problem,) = told(tmp_path, {B1: f"{head}{last}    - {{point: feed{rest}"})
    first = head.count("\n") + 1
    assert problem.code == "outlet-above-inlet"
    assert (problem.place.line, problem.related[0].line) == (first, first + 2)


@pytest.mark.parametrize(
    ("grams", "found"), [(("1", "10"), ["soap-jump"]), (("1.4", "10"), []), (("10", "1"), ["soap-jump"])]
)
def test_a_tenth_of_the_soap_is_as_odd_as_ten_times(
    grams: tuple[str, str], found: list[str], tmp_path: Path
) -> None:
    """The same acid on another sample: ten times either way is told, seven times is not."""
    feed = "feed, sample: {} g"
    changes = {
        f"batches/b{number}.yaml": (feed.format(10), feed.format(size))
        for number, size in enumerate(grams, 1)
    }
    problems = told(tmp_path, changes)
    assert codes(problems) == found
    assert all(problem.place.file == B2 for problem in problems)


@pytest.mark.parametrize(("ml", "is_told"), [("1.4", False), ("1.42", True)])
def test_a_blank_may_lie_above_its_reading_by_what_two_readings_leave_open(
    ml: str, is_told: bool, tmp_path: Path
) -> None:
    """1.2 mL of acid, read within 0.05 mL as its blank is: three times the square root of two of that are 0.212 mL."""
    found = case(tmp_path, "blank-above-reading-soap", B1, "blank: 2.0 mL", f"blank: {ml} mL")
    assert ("blank-above-reading" in found) is is_told


@pytest.mark.parametrize(("litres", "found"), [("100", []), ("98.5", []), ("97.5", ["storage-full"])])
def test_oil_fills_its_vessels_to_the_rim(litres: str, found: list[str], tmp_path: Path) -> None:
    """100 L are in stock; two hundredths above what is written are told nothing."""
    assert case(tmp_path, "storage-full", "logbook.yaml", "20 L", f"{litres} L") == found


@pytest.mark.parametrize(("km", "found"), [("500", []), ("501", ["distance-odd"])])
def test_a_distance_that_is_driven_now_and_then_is_told_nothing(
    km: str, found: list[str], tmp_path: Path
) -> None:
    assert case(tmp_path, "distance-odd", "offers/school.yaml", "5000 km", f"{km} km") == found


@pytest.mark.parametrize(
    ("litres", "found"), [("80", []), ("78.5", []), ("78.44", []), ("78.4", ["storage-full"])]
)
def test_a_vat_is_filled_to_its_rim(litres: str, found: list[str], tmp_path: Path) -> None:
    """80 L are in it; two hundredths above what it holds, 1.02 x 78.4314 L, are told nothing."""
    assert case(tmp_path, "storage-full-vat", "lots/vat-1.yaml", "60 L", f"{litres} L") == found


def test_a_long_run_is_still_on_when_a_later_one_has_ended(tmp_path: Path) -> None:
    """One of two days, one of four hours in it, one that begins when that has ended and the long one has not."""
    batches = {"b1": batch("b1", 8), "b2": batch("b2", 8), "b3": batch("b3", 9)}
    batches["b1"] = batches["b1"].replace("2026-01-08T13:00", "2026-01-10T13:00")
    problems = told(tmp_path, columns_changes(LIKE, batches))
    over = [
        (problem.place.file, problem.related[0].file)
        for problem in problems
        if problem.code == "runs-overlap"
    ]
    assert sorted(over) == [("batches/b2.yaml", "batches/b1.yaml"), ("batches/b3.yaml", "batches/b1.yaml")]


def test_moves_of_a_tank_stand_in_order_and_are_told_with_their_hours(tmp_path: Path) -> None:
    moves = '  - {date: "2026-01-20T15:30", draw: 4 L at 15 °C}\n  - {date: "2026-01-20T09:00", draw: 4 L at 15 °C}\n'
    tank = (BASE / "tanks" / "tank-1.yaml").read_text(encoding="utf-8")
    (problem,) = told(tmp_path, {"tanks/tank-1.yaml": tank[: tank.index("  - {date")] + moves})
    assert problem.code == "date-order"
    assert problem.message == "2026-01-20 09:00 stands below the later 2026-01-20 15:30"


@pytest.mark.parametrize(
    ("paid", "found"),
    [("0.079", ["price-odd"]), ("0.08", []), ("2.00", []), ("2.01", ["price-odd"])],
)
def test_a_lot_may_cost_from_a_fifth_to_five_times_of_the_others(
    paid: str, found: list[str], tmp_path: Path
) -> None:
    """Two other lots at 0.40 EUR/L."""
    assert case(tmp_path, "price-odd", "lots/oil-3.yaml", "4.00 EUR/L", f"{paid} EUR/L") == found


@pytest.mark.parametrize(("litres", "found"), [("62", []), ("62.1", ["plan-short"])])
def test_a_plan_may_take_more_than_the_book_holds_by_what_stock_is_known_to(
    litres: str, found: list[str], tmp_path: Path
) -> None:
    """60 L are left of 100 L that came, known within 2 % of what came."""
    assert case(tmp_path, "plan-short", "batches/b3.yaml", "75 L", f"{litres} L") == found


@pytest.mark.parametrize(
    ("cm", "found"), [("30.6", []), ("24.7", []), ("24.6", ["dip-differs"]), ("36.7", ["dip-differs"])]
)
def test_a_dip_may_differ_from_the_book_by_a_twentieth_of_the_tank(
    cm: str, found: list[str], tmp_path: Path
) -> None:
    """5.0265 L per cm and 120 cm, so 30.16 L; the book says 154 L, which stand 30.64 cm high."""
    assert case(tmp_path, "dip-differs", "tanks/tank-1.yaml", "61 cm", f"{cm} cm") == found


@pytest.mark.parametrize(("day", "found"), [("2026-07-18", []), ("2026-07-19", ["date-alone"])])
def test_half_a_year_after_all_else_a_day_stands_alone(day: str, found: list[str], tmp_path: Path) -> None:
    """180 days from 20 January: 11 of January, 28, 31, 30, 31, 30 and 19 of July."""
    assert case(tmp_path, "date-alone", "lots/oil-2.yaml", "2062-01-05", day) == found


def test_all_that_is_written_for_a_day_that_stands_alone_is_told(tmp_path: Path) -> None:
    case(tmp_path, "date-alone", "lots/oil-2.yaml", "2062-01-05", "2062-01-05")
    lay_case("date-alone-offer", tmp_path / "offer")
    offers = sorted((tmp_path / "offer" / "logbook" / "offers").glob("*.yaml"))
    for offer in offers:
        days = re.sub(r"offered: \d{4}-\d\d-\d\d", "offered: 2062-01-05", offer.read_text(encoding="utf-8"))
        lay(tmp_path / "logbook", f"offers/{offer.name}", days)
    problems = checked_folder(tmp_path / "logbook")[1].problems
    alone = [problem.place.file.split("/")[0] for problem in problems if problem.code == "date-alone"]
    assert sorted(alone) == ["lots", "offers"]


def test_a_titrant_is_told_by_how_many_times_it_is_weaker(tmp_path: Path) -> None:
    """1.00 g/L over 0.1 g/L."""
    case(tmp_path, "strength-odd", "batches/b7.yaml", "10.0 g/L", "0.1 g/L")
    said = [problem.message for problem in checked_folder(tmp_path / "logbook")[1].problems]
    assert "a titrant of 0.1 g/L KOH, 10 times weaker than this workshop's" in said


@pytest.mark.parametrize(("sample", "told_in"), [("10 mL", ["b7", "b9"]), ("4 mL", ["b7"])])
def test_a_point_that_moved_is_told_each_time_and_another_habit_once(
    sample: str, told_in: list[str], tmp_path: Path
) -> None:
    """1 mL in seven of nine titrations; ten times as much is a slip however often, four times as much may be meant."""
    case(tmp_path, "sample-odd", "batches/b7.yaml", "sample: 10 mL", f"sample: {sample}")
    folder = tmp_path / "logbook" / "batches"
    for like, name, day in (("b6", "b8", "2026-02-08"), ("b7", "b9", "2026-02-09")):
        text = (
            (folder / f"{like}.yaml").read_text(encoding="utf-8").replace(f"batch: {like}", f"batch: {name}")
        )
        (folder / f"{name}.yaml").write_text(re.sub(r"\ndate: \S+", f"\ndate: {day}", text), encoding="utf-8")
    problems = checked_folder(tmp_path / "logbook")[1].problems
    odd = [problem.place.file for problem in problems if problem.code == "sample-odd"]
    assert odd == [f"batches/{name}.yaml" for name in told_in]
