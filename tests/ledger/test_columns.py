"""Lives of charges, worked out by hand.

100 L of fuel at 15 °C are 88 kg (880 kg/m³). With 0.01 N acid and potassium soap (320.56 g/mol),
mL of acid / g of sample x 0.01 x 320.56 x 1000 = mL / g x 3205.6 is the soap in mg/kg:

    feed     2.0 mL on  10 g: 641.12
    after A  1.0 mL on  50 g:  64.112
    product  0.4 mL on 100 g:  12.8224

so a full run leaves (641.12 - 64.112) x 88 / 1000 = 50.776704 g in A and (64.112 - 12.8224) x 88 / 1000 = 4.5134848 g
in B; and where the sample between is missing each may hold up to (641.12 - 12.8224) x 88 / 1000 = 55.2901888 g.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ledger.charges import Charge
from generator.ledger.columns import fold
from generator.ledger.passes import Columns
from generator.log import Log
from tests.logbook_files import BASE, Changes, codes, log_of, told

FEED = "{point: feed, sample: 10 g, acid: 2.0 mL, normality: 0.01 N, blank: 0.0 mL}"
BETWEEN = "{point: after A, sample: 50 g, acid: 1.0 mL, normality: 0.01 N, blank: 0.0 mL}"
PRODUCT = "{point: product, sample: 100 g, acid: 0.4 mL, normality: 0.01 N, blank: 0.0 mL}"
TRACE = "{point: product, sample: 100 g, acid: 0.1 mL, normality: 0.01 N, blank: 0.0 mL}"
LEAD_G, LAG_G, MOST_G = 50.776704, 4.5134848, 55.2901888

PACK_A = "  - {{date: {day}, event: pack, vessel: A, medium: {medium}, mass: 10 kg, basis: as supplied, bed: 50 L}}\n"
PACK_B = "  - {{date: {day}, event: pack, vessel: B, medium: {medium}, mass: 10 kg, basis: as supplied, bed: 20 L}}\n"
VESSELS = "purifier: shed\nvessels:\n  - {vessel: A, volume: 60 L}\n  - {vessel: B, volume: 40 L, glycerol_inlet: 200 mg/kg}\nhistory:\n"
BEADS = (
    "beads: {kind: medium, type: resin, void: 0.38, ledgers: [{of: soap, by: exchange, capacity: 500 g/L}]}",
    "beads: {kind: medium, type: resin, void: 0.38, ledgers: [{of: soap, by: exchange, capacity: 500 g/L},"
    " {of: glycerol, by: holding, capacity: 106 g/L, reset_by: rinse}]}",
)


def batch(name: str, day: int, *soap: str, volume: str = "100 L at 15 °C") -> str:
    """A batch of which 100 L went through the columns, with these samples."""
    text = (BASE / "batches" / "b1.yaml").read_text(encoding="utf-8").split("polish:")[0]
    text = text.replace("batch: b1\ndate: 2026-01-10", f"batch: {name}\ndate: 2026-01-{day:02}")
    text = text.replace("100 L at 15", "10 L at 15").replace("20 L at 15", "2 L at 15")
    fed = f"  volume: {volume}\n" if volume else ""
    run = f"polish:\n  purifier: shed\n  start: 2026-01-{day:02}T09:00\n  end: 2026-01-{day:02}T13:00\n{fed}"
    return text + run + ("  soap:\n" + "".join(f"    - {sample}\n" for sample in soap) if soap else "")


def changes(history: str, batches: dict[str, str], **more: tuple[str, str] | str | None) -> Changes:
    """The good logbook with another purifier of two vessels, with this history, and these batches."""
    files = {f"batches/{name}.yaml": text for name, text in batches.items()}
    return {"batches/b1.yaml": None, "batches/b2.yaml": None, "tanks/tank-1.yaml": None,
            "materials/all.yaml": BEADS, "columns/shed.yaml": VESSELS + history, **files, **more}  # fmt: skip


def folded(parent: Path, history: str, batches: dict[str, str], **more: tuple[str, str] | str) -> Columns:
    """Fold a purifier of two vessels with this history and these batches; nothing of it may be an error."""
    return fold(log_of(parent, changes(history, batches, **more)))


SEQUENCE = (
    PACK_A.format(day="2026-01-03", medium="chips")
    + PACK_B.format(day="2026-01-03", medium="beads")
    + "  - {date: 2026-01-13, event: rinse, vessel: B}\n"
    + "  - {date: 2026-01-20, event: unload, vessel: A, reason: spent}\n"
    + PACK_A.format(day="2026-01-20", medium="chips")
)
BATCHES = {
    "b1": batch("b1", 11, FEED, BETWEEN, PRODUCT),
    "b2": batch("b2", 14, FEED, PRODUCT),  # no sample between
    "b3": batch("b3", 17, BETWEEN, PRODUCT),  # no sample of the feed
    "b4": batch("b4", 22, FEED, BETWEEN, TRACE),  # nothing detected in the product
}


@pytest.fixture(scope="module")
def charges(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Charge]:
    found = folded(tmp_path_factory.mktemp("sequence"), SEQUENCE, BATCHES)
    assert found.problems == []
    return {charge.id: charge for charge in found.charges}


def grams(charge: Charge) -> list[tuple[str, float | None, float | None]]:
    """Batch, least and most that each run left."""
    return [
        (run.batch, run.soap_g.low if run.soap_g else None, run.soap_g.high if run.soap_g else None)
        for run in charge.runs
    ]


def near(value: float) -> object:
    """Equal but for the rounding of floats."""
    return pytest.approx(value, rel=1e-12)


def test_charges_begin_with_a_pack_and_end_with_an_unload(charges: dict[str, Charge]) -> None:
    assert list(charges) == ["shed-A-1", "shed-B-1", "shed-A-2"]
    assert [charge.unloaded is not None for charge in charges.values()] == [True, False, False]
    assert charges["shed-A-1"].reason == "spent"
    assert [charge.position for charge in charges.values()] == ["lead", "lag", "lead"]


def test_each_batch_runs_through_what_stood_there_that_day(charges: dict[str, Charge]) -> None:
    assert {name: [run.batch for run in charge.runs] for name, charge in charges.items()} == {
        "shed-A-1": ["b1", "b2", "b3"],
        "shed-B-1": ["b1", "b2", "b3", "b4"],
        "shed-A-2": ["b4"],
    }


def test_the_lead(charges: dict[str, Charge]) -> None:
    """b1 is known; b2 is bounded by feed and product; the feed of b3 is taken to be like the three around it."""
    lead = charges["shed-A-1"]
    assert grams(lead) == [
        ("b1", near(LEAD_G), near(LEAD_G)),
        ("b2", 0.0, near(MOST_G)),
        ("b3", near(LEAD_G), near(LEAD_G)),
    ]
    assert [run.basis for run in lead.runs] == ["measured", "bounded", "predicted"]
    assert lead.runs[2].soap_in is None  # nothing was titrated there


def test_the_lag(charges: dict[str, Charge]) -> None:
    """Nothing detected in 100 g: less than 3 x sqrt(2) x 0.05 mL, 3205.6 / 100 each, 6.80010... mg/kg."""
    limit = 3 * 2**0.5 * 0.05 * 3205.6 / 100
    assert limit == pytest.approx(6.8001, abs=1e-4)
    assert grams(charges["shed-B-1"]) == [
        ("b1", near(LAG_G), near(LAG_G)),
        ("b2", 0.0, near(MOST_G)),
        ("b3", near(LAG_G), near(LAG_G)),
        ("b4", near((64.112 - limit) * 0.088), near(64.112 * 0.088)),
    ]


def test_sums_of_a_charge_stay_intervals_where_a_run_is(charges: dict[str, Charge]) -> None:
    lead, lag = charges["shed-A-1"], charges["shed-B-1"]
    assert (lead.soap.low, lead.soap.high) == (near(2 * LEAD_G), near(2 * LEAD_G + MOST_G))
    assert lag.soap.low == near(2 * LAG_G + (64.112 - 3 * 2**0.5 * 0.05 * 32.056) * 0.088)
    assert lag.soap.high == near(2 * LAG_G + MOST_G + 64.112 * 0.088)


def test_what_two_beds_took_together_is_split_as_usual_and_adds_up(charges: dict[str, Charge]) -> None:
    """A: one measured run, so b2 counts like it. B: the median of b1, b3 and b4 is that of b1."""
    lead, lag = charges["shed-A-1"], charges["shed-B-1"]
    assert [run.load_g for run in lead.runs] == [near(LEAD_G), near(2 * LEAD_G), near(3 * LEAD_G)]
    assert lag.runs[1].estimate_g == near(LAG_G)
    assert [run.is_measured for run in lead.runs] == [True, False, False]
    assert lead.soap.estimate == near(3 * LEAD_G)
    both = [charges[name].runs[1].estimate_g for name in ("shed-A-1", "shed-B-1")]
    assert sum(grams for grams in both if grams is not None) == near(MOST_G)


def test_a_fresh_charge_begins_at_nothing(charges: dict[str, Charge]) -> None:
    assert grams(charges["shed-A-2"]) == [("b4", near(LEAD_G), near(LEAD_G))]
    assert charges["shed-A-2"].fuel_l == near(100)


def test_glycerol_is_reset_by_a_rinse_and_soap_is_not(charges: dict[str, Charge]) -> None:
    """200 mg/kg on 88 kg leave 17.6 g at each run; the rinse stands between b1 and b2."""
    lag = charges["shed-B-1"]
    assert [run.glycerol_load_g for run in lag.runs] == [near(17.6), near(17.6), near(35.2), near(52.8)]
    assert [(reset.by, reset.runs) for reset in lag.resets] == [("rinse", 1)]
    assert lag.runs[1].load_g == near(2 * LAG_G)


def test_capacity_goes_by_the_mass_or_by_the_bed(charges: dict[str, Charge]) -> None:
    """Chips: 30 g/kg on 10 kg. Beads: 500 g/L and 106 g/L on a bed of 20 L."""
    assert charges["shed-A-1"].capacity_g("soap") == near(300)
    assert charges["shed-A-1"].capacity_g("glycerol") is None
    assert charges["shed-B-1"].capacity_g("soap") == near(10_000)
    assert charges["shed-B-1"].capacity_g("glycerol") == near(2120)


def test_fuel_and_hours_of_a_run(charges: dict[str, Charge]) -> None:
    run = charges["shed-A-1"].runs[0]
    assert (run.fed_l, run.fed_kg, run.hours) == (near(100), near(88), 4.0)
    assert charges["shed-A-1"].fuel_l == near(300)


LIKE = PACK_A.format(day="2026-01-03", medium="beads") + PACK_B.format(day="2026-01-03", medium="beads")
AFTER_B = BETWEEN.replace("after A", "after B")


def test_rotation_of_like_media_moves_the_charge(tmp_path: Path) -> None:
    """Behind the rotation the fuel meets B first: the sample between stands behind B."""
    history = LIKE + "  - {date: 2026-01-13, event: rotate, vessel: A, with: B}\n"
    batches = {"b1": batch("b1", 11, FEED, BETWEEN, PRODUCT), "b2": batch("b2", 14, FEED, AFTER_B, PRODUCT)}
    found = folded(tmp_path, history, batches)
    assert found.problems == []
    first, second = found.charges
    assert [(run.position, run.soap_g.low) for run in first.runs if run.soap_g] == [
        ("lead", near(LEAD_G)),
        ("lag", near(LAG_G)),
    ]
    assert [(run.position, run.soap_g.low) for run in second.runs if run.soap_g] == [
        ("lag", near(LAG_G)),
        ("lead", near(LEAD_G)),
    ]
    assert (first.position, second.position) == ("lag", "lead")


def test_rotating_twice_is_as_if_nothing_had_been_rotated(tmp_path: Path) -> None:
    twice = "  - {date: 2026-01-13, event: rotate, vessel: A, with: B}\n" * 2
    batches = {"b1": batch("b1", 14, FEED, BETWEEN, PRODUCT)}
    plain = folded(tmp_path / "a", LIKE, batches)
    again = folded(tmp_path / "b", LIKE + twice, batches)
    assert plain.charges == again.charges


def test_a_vessel_packed_behind_a_rotation_stands_where_the_other_stood(tmp_path: Path) -> None:
    history = (
        LIKE
        + "  - {date: 2026-01-13, event: rotate, vessel: A, with: B}\n"
        + "  - {date: 2026-01-14, event: unload, vessel: A, reason: spent}\n"
        + PACK_A.format(day="2026-01-14", medium="beads")
    )
    found = folded(tmp_path, history, {"b1": batch("b1", 16, FEED, AFTER_B, PRODUCT)})
    assert [(charge.id, charge.position) for charge in found.in_service()] == [
        ("shed-B-1", "lead"),
        ("shed-A-2", "lag"),
    ]


def test_unlike_media_stay_where_they_are(tmp_path: Path) -> None:
    change = ("bed: 20 L}\n", "bed: 20 L}\n  - {date: 2026-01-12, event: rotate, vessel: A, with: B}\n")
    assert codes(told(tmp_path, {"columns/shed.yaml": change})) == ["rotate-unlike"]


def test_a_run_without_a_volume_leaves_the_charge_unknown(tmp_path: Path) -> None:
    found = folded(tmp_path, LIKE, {"b1": batch("b1", 11, FEED, BETWEEN, PRODUCT, volume="")})
    for charge in found.charges:
        assert charge.fuel_l is None
        assert charge.soap.high is None
        assert charge.soap.estimate is None
        assert charge.runs[0].fed_kg is None


def test_a_run_without_any_sample_has_nothing_to_be_filled_with(tmp_path: Path) -> None:
    found = folded(tmp_path, LIKE, {"b1": batch("b1", 11)})
    assert [charge.soap.estimate for charge in found.charges] == [None, None]
    assert [charge.soap.low for charge in found.charges] == [0, 0]


def test_a_retest_counts_in_place_of_what_it_repeats(tmp_path: Path) -> None:
    """Twice the acid in the product: (64.112 - 25.6448) x 88 / 1000 = 3.3851136 g in B."""
    again = PRODUCT.replace("0.4 mL", "0.8 mL").replace("}", ", retest: true}")
    found = folded(tmp_path, LIKE, {"b1": batch("b1", 11, FEED, BETWEEN, PRODUCT, again)})
    assert found.charges[1].soap.low == near(3.3851136)


def test_a_sample_behind_the_last_vessel_is_the_product(tmp_path: Path) -> None:
    last = PRODUCT.replace("point: product", "point: after B")
    found = folded(tmp_path, LIKE, {"b1": batch("b1", 11, FEED, BETWEEN, last)})
    assert found.charges[1].soap.low == near(LAG_G)


def test_the_same_instant_takes_the_event_first(tmp_path: Path) -> None:
    """Packed at nine, run from nine: the run meets the fresh charge."""
    history = LIKE.replace(
        "date: 2026-01-03, event: pack, vessel: A", 'date: "2026-01-11T09:00", event: pack, vessel: A'
    )
    history = PACK_B.format(day="2026-01-03", medium="beads") + history.splitlines(keepends=True)[0]
    found = folded(tmp_path, history, {"b1": batch("b1", 11, FEED, BETWEEN, PRODUCT)})
    assert found.problems == []
    assert [len(charge.runs) for charge in found.charges] == [1, 1]


def test_a_sodium_catalyst_has_another_factor(tmp_path: Path) -> None:
    """304.4 in place of 320.56 g/mol: every figure by that share."""
    sodium = BEADS[1].replace("beads:", "beads:")
    files = {
        "materials/all.yaml": (BASE / "materials" / "all.yaml")
        .read_text(encoding="utf-8")
        .replace(BEADS[0], sodium)
        .replace("of: KOH", "of: NaOH")
    }
    found = folded(
        tmp_path,
        LIKE,
        {"b1": batch("b1", 11, FEED, BETWEEN, PRODUCT).replace("of: KOH", "of: NaOH")},
        **files,
    )
    assert found.charges[0].soap.low == near(LEAD_G * 304.4 / 320.56)


def test_a_vessel_that_stays_empty_is_told_once(tmp_path: Path) -> None:
    changes: Changes = {
        "columns/shed.yaml": (BASE / "columns" / "shed.yaml")
        .read_text(encoding="utf-8")
        .split("  - {date: 2026-01-03, event: pack, vessel: B")[0]
    }
    assert codes(told(tmp_path, changes)) == ["vessel-empty"]


def test_a_log_without_columns_has_no_charges(tmp_path: Path) -> None:
    log: Log = log_of(
        tmp_path,
        {
            "columns/shed.yaml": None,
            "batches/b1.yaml": None,
            "batches/b2.yaml": None,
            "tanks/tank-1.yaml": None,
        },
    )
    assert fold(log).charges == []


@pytest.mark.parametrize(("lead", "exchanged"), [("chips", 64.112 - 12.8224), ("beads", 641.12 - 12.8224)])
def test_soap_that_resins_exchanged_sets_acid_free_and_what_an_absorbent_held_does_not(
    tmp_path: Path, lead: str, exchanged: float
) -> None:
    history = PACK_A.format(day="2026-01-03", medium=lead) + PACK_B.format(day="2026-01-03", medium="beads")
    columns = folded(
        tmp_path,
        history,
        {"b7": batch("b7", 10, FEED, BETWEEN, PRODUCT), "b8": batch("b8", 12, FEED, PRODUCT)},
    )
    found = columns.exchanged_mg_per_kg()["b7"]
    assert found is not None
    assert found.low == found.high == pytest.approx(exchanged, rel=1e-12)
    ends = columns.exchanged_mg_per_kg()["b8"]
    assert (
        ends is not None
    )  # of two resins the sum is known; an absorbent before one leaves from nothing to all
    assert (ends.low, ends.high) == (near(0.0 if lead == "chips" else exchanged), near(641.12 - 12.8224))
