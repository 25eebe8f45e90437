"""Runs that are not the usual one, and what resets a ledger; figures as in `test_columns`."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ledger.soap import last_sample
from tests.ledger.test_columns import (
    BEADS,
    BETWEEN,
    FEED,
    LAG_G,
    LEAD_G,
    LIKE,
    MOST_G,
    PACK_A,
    PACK_B,
    PRODUCT,
    TRACE,
    VESSELS,
    batch,
    changes,
    folded,
    near,
)
from tests.logbook_files import codes, log_of, told


def lines(history: str, *more: str) -> str:
    return history + "".join(f"  - {{{one}}}\n" for one in more)


TWO = PACK_A.format(day="2026-01-03", medium="chips") + PACK_B.format(day="2026-01-03", medium="beads")


def runs(name: str, day: int, *written: str) -> str:
    """A batch with several runs; each is the end of a run's group, its start an hour after the one before."""
    head = batch(name, day).split("polish:")[0]
    out = [
        f"  - purifier: shed\n    start: 2026-01-{day:02}T{9 + 3 * place:02}:00\n    end: 2026-01-{day:02}T{11 + 3 * place:02}:00\n{text}"
        for place, text in enumerate(written)
    ]
    return f"{head}polish:\n{''.join(out)}"


def part(litres: int, *soap: str, more: str = "") -> str:
    samples = "    soap:\n" + "".join(f"      - {sample}\n" for sample in soap) if soap else ""
    return f"    volume: {litres} L at 15 °C\n{more}{samples}"


def test_splitting_a_batch_over_two_runs_changes_nothing(tmp_path: Path) -> None:
    whole = folded(tmp_path / "a", TWO, {"b1": batch("b1", 11, FEED, BETWEEN, PRODUCT)})
    halves = runs("b1", 11, part(60, FEED, BETWEEN, PRODUCT), part(40, FEED, BETWEEN, PRODUCT))
    split = folded(tmp_path / "b", TWO, {"b1": halves})
    assert split.problems == []
    for one, other in zip(whole.charges, split.charges, strict=True):
        assert other.soap.low == other.soap.high == near(one.soap.low or 0.0)
        assert (other.fuel_l, other.glycerol.estimate) == (near(100), near(one.glycerol.estimate or 0.0))
    assert split.exchanged_mg_per_kg()["b1"] == pytest.approx(whole.exchanged_mg_per_kg()["b1"])


def test_the_second_run_of_a_batch_is_fed_with_what_the_first_was(tmp_path: Path) -> None:
    """Its feed was titrated once; it is the same fuel."""
    text = runs("b1", 11, part(60, FEED, BETWEEN, PRODUCT), part(40, BETWEEN, PRODUCT))
    lead = folded(tmp_path, TWO, {"b1": text}).charges[0]
    assert [run.basis for run in lead.runs] == ["measured", "measured"]
    assert lead.soap.low == lead.soap.high == near(LEAD_G)


def test_fuel_sent_round_again_brings_only_what_was_left_in_it(tmp_path: Path) -> None:
    """12.8224 mg/kg come in again; behind both beds nothing is found, so B takes up to all of it and A nothing known."""
    text = runs("b1", 11, part(100, FEED, BETWEEN, PRODUCT), part(100, TRACE, more="    again: true\n"))
    found = folded(tmp_path, TWO, {"b1": text})
    lead, lag = found.charges
    limit = 3 * 2**0.5 * 0.05 * 32.056
    again = (lead.runs[1], lag.runs[1])
    assert [run.soap_g.low if run.soap_g else None for run in again] == [0.0, 0.0]
    assert [run.soap_g.high if run.soap_g else None for run in again] == [near(12.8224 * 0.088)] * 2
    estimated = sum(run.estimate_g or 0.0 for run in again)
    assert estimated == near((12.8224 - limit / 2) * 0.088)
    exchanged = found.exchanged_mg_per_kg()["b1"]
    assert exchanged is not None  # over the 88 kg of the batch, once
    assert exchanged.high == near(LAG_G / 0.088 + 12.8224)


def test_a_run_through_part_of_the_line_leaves_the_rest_alone(tmp_path: Path) -> None:
    text = runs("b1", 11, part(100, FEED, PRODUCT, more="    through: [B]\n"))
    lead, lag = folded(tmp_path, TWO, {"b1": text}).charges
    assert lead.runs == []
    assert (lag.runs[0].place, lag.runs[0].basis) == (0, "measured")
    assert lag.soap.low == near(MOST_G)


def test_an_empty_vessel_is_no_problem_where_the_run_goes_round_it(tmp_path: Path) -> None:
    only = PACK_B.format(day="2026-01-03", medium="beads")
    whole = told(tmp_path / "a", changes(only, {"b1": batch("b1", 11, FEED, PRODUCT)}))
    text = runs("b1", 11, part(100, FEED, more="    through: [B]\n"))
    round_it = told(tmp_path / "b", changes(only, {"b1": text}))
    assert [code for code in codes(whole) if code not in codes(round_it)] == ["vessel-empty"]


def test_fuel_that_went_round_the_columns_left_no_soap_in_them(tmp_path: Path) -> None:
    text = runs("b1", 11, part(100, FEED, BETWEEN, PRODUCT, more="    bypassed: 25 L at 15 °C\n"))
    lead, _ = folded(tmp_path, TWO, {"b1": text}).charges
    assert (lead.fuel_l, lead.soap.low) == (near(75), near(LEAD_G * 0.75))


REGENERATED = (
    BEADS[0],
    "beads: {kind: medium, type: resin, void: 0.38, ledgers: [{of: soap, by: exchange, capacity: 500 g/L, reset_by: regenerate},"
    " {of: glycerol, by: holding, capacity: 106 g/L, reset_by: rinse, leaves: 25 %}]}",
)


def test_a_rinse_leaves_soap_and_a_regeneration_leaves_glycerol(tmp_path: Path) -> None:
    """17.6 g of glycerol a run, a quarter of which a rinse leaves; LAG_G of soap a run, of which it leaves all."""
    history = lines(
        TWO,
        "date: 2026-01-12, event: rinse, vessel: B",
        "date: 2026-01-15, event: regenerate, vessel: B, spent: true",
    )
    batches = {f"b{n}": batch(f"b{n}", day, FEED, BETWEEN, PRODUCT) for n, day in ((1, 11), (2, 14), (3, 16))}
    lag = folded(tmp_path, history, batches, **{"materials/all.yaml": REGENERATED}).charges[1]
    assert [run.load_g for run in lag.runs] == [near(LAG_G), near(2 * LAG_G), near(LAG_G)]
    assert [run.glycerol_load_g for run in lag.runs] == [near(17.6), near(22.0), near(39.6)]
    mol = LAG_G / 320.56
    assert lag.exchanged_mol == pytest.approx(mol, rel=1e-4)
    assert [reset.spent for reset in lag.resets] == [False, True]


def test_glycerol_passes_a_full_bed_on_to_the_one_behind(tmp_path: Path) -> None:
    """2 % on 88 kg are 1,760 g a run; a bed of 20 L holds 106 g/L, 2,120 g, and the other one of 50 L 5,300 g."""
    vessels = VESSELS.replace(", glycerol_inlet: 200 mg/kg", "").replace(
        "purifier: shed\n", "purifier: shed\nglycerol_inlet: 2 %\n"
    )
    history = LIKE + "  - {date: 2026-01-04, event: rotate, vessel: A, with: B}\n"
    batches = {f"b{n}": batch(f"b{n}", 10 + n) for n in (1, 2)}
    big, small = folded(tmp_path, history, batches, **{"columns/shed.yaml": vessels + history}).charges
    assert [run.glycerol_g for run in small.runs] == [near(1760), near(360)]
    assert [run.glycerol_g for run in big.runs] == [0.0, near(1400)]


def test_fuel_drained_in_a_rest_is_filled_up_again(tmp_path: Path) -> None:
    """A run on the day the rest ends is none in it; one before is told."""
    history = lines(TWO, "date: 2026-01-05, event: rest, until: 2026-01-20, drained: 12 L at 15 °C")
    early = told(tmp_path / "a", changes(history, {"b1": batch("b1", 4), "b2": batch("b2", 11)}))
    assert codes(early).count("run-while-resting") == 1
    found = folded(
        tmp_path / "b", history, {"b1": batch("b1", 4), "b2": batch("b2", 20), "b3": batch("b3", 22)}
    )
    assert found.fresh_heel_l() == {"b1": near(0.7 * 50 + 0.38 * 20), "b2": near(12)}


def test_beds_through_which_nothing_ran_give_no_fuel_to_a_rest(tmp_path: Path) -> None:
    """Nothing was in them, whatever ran out: the first batch fills their voids and no more. Derived."""
    history = lines(TWO, "date: 2026-01-05, event: rest, until: 2026-01-06, drained: 12 L at 15 °C")
    found = folded(tmp_path, history, {"b1": batch("b1", 11), "b2": batch("b2", 13)})
    assert found.fresh_heel_l() == {"b1": near(42.6)}
    assert found.stood_before() == {"b2": {"b1": near(42.6)}}


@pytest.mark.parametrize("by", ["rinse", "regenerate"])
def test_what_is_drained_runs_out_of_the_beds_that_hold_fuel_alone(tmp_path: Path, by: str) -> None:
    """The beads were washed before the rest: all 12 L are of the 35 L in the chips. Derived."""
    history = lines(
        TWO,
        f"date: '2026-01-12T08:00', event: {by}, vessel: B",
        "date: '2026-01-12T18:00', event: rest, until: 2026-01-13, drained: 12 L at 15 °C",
    )
    found = folded(tmp_path, history, {"b1": batch("b1", 11), "b2": batch("b2", 14)})
    assert found.stood_before() == {"b2": {"b1": near(35 - 12)}}
    assert found.fresh_heel_l()["b2"] == near(12 + 7.6)


def test_a_bed_packed_anew_before_a_rest_gives_none_of_what_is_drained(tmp_path: Path) -> None:
    """The chips are fresh: of the beads' 7.6 L 5 ran out. Derived."""
    history = lines(
        TWO,
        "date: '2026-01-12T07:00', event: unload, vessel: A, reason: dark",
        "date: '2026-01-12T08:00', event: pack, vessel: A, medium: chips, lot: chips-1, mass: 14 kg, basis: as supplied, bed: 50 L",
        "date: '2026-01-12T18:00', event: rest, until: 2026-01-13, drained: 5 L at 15 °C",
    )
    found = folded(tmp_path, history, {"b1": batch("b1", 11), "b2": batch("b2", 14)})
    assert found.stood_before() == {"b2": {"b1": near(7.6 - 5)}}
    assert found.fresh_heel_l()["b2"] == near(35 + 5)


def test_two_rests_take_of_each_bed_by_what_it_still_holds(tmp_path: Path) -> None:
    """6 L out of both by their voids, then the beads are rinsed: the next 10 L are of the chips alone. Derived."""
    history = lines(
        TWO,
        "date: '2026-01-12T01:00', event: rest, until: '2026-01-12T02:00', drained: 6 L at 15 °C",
        "date: '2026-01-12T08:00', event: rinse, vessel: B",
        "date: '2026-01-12T18:00', event: rest, until: 2026-01-13, drained: 10 L at 15 °C",
    )
    found = folded(tmp_path, history, {"b1": batch("b1", 11), "b2": batch("b2", 14)})
    assert found.stood_before() == {"b2": {"b1": near(35 - 6 * 35 / 42.6 - 10)}}
    assert found.fresh_heel_l()["b2"] == near(6 * 35 / 42.6 + 10 + 7.6)


def test_a_bed_that_does_not_fit_its_vessel_leaves_no_room_below_nothing(tmp_path: Path) -> None:
    """That the bed is too large is told; what stood above it is nothing, and its voids alone are more than was drained."""
    big = TWO.replace("bed: 50 L", "bed: 500 L")
    history = lines(big, "date: 2026-01-12, event: rest, until: 2026-01-13, drained: 10 L")
    found = codes(told(tmp_path, changes(history, {"b1": batch("b1", 11)})))
    assert "bed-too-large" in found and "drained-more" not in found


def test_a_bed_unloaded_behind_a_rest_is_filled_up_once(tmp_path: Path) -> None:
    """What a rest drained of the chips is no loss of the next batch, which fills the fresh chips whole. Derived."""
    history = lines(
        TWO,
        "date: '2026-01-12T01:00', event: rest, until: '2026-01-12T02:00', drained: 12 L at 15 °C",
        "date: '2026-01-12T07:00', event: unload, vessel: A, reason: dark",
        "date: '2026-01-12T08:00', event: pack, vessel: A, medium: chips, lot: chips-1, mass: 14 kg, basis: as supplied, bed: 50 L",
    )
    found = folded(tmp_path, history, {"b1": batch("b1", 11), "b2": batch("b2", 14)})
    assert found.fresh_heel_l()["b2"] == near(35 + 12 * 7.6 / 42.6)


def test_a_short_rest_does_not_end_a_longer_one(tmp_path: Path) -> None:
    history = lines(
        TWO,
        "date: 2026-01-05, event: rest, until: 2026-01-20",
        "date: 2026-01-07, event: rest, until: 2026-01-09",
    )
    found = told(tmp_path, changes(history, {"b1": batch("b1", 11), "b2": batch("b2", 22)}))
    assert codes(found).count("run-while-resting") == 1


def test_only_the_product_leaves_both_beds_bounded_by_a_predicted_feed(tmp_path: Path) -> None:
    batches = {
        "b1": batch("b1", 11, FEED, BETWEEN, PRODUCT),
        "b2": batch("b2", 13, PRODUCT),
        "b3": batch("b3", 15),
    }
    found = folded(tmp_path, TWO, batches)
    lead, lag = found.charges
    assert [run.basis for run in lead.runs] == ["measured", "predicted", "predicted"]
    ends = [(run.soap_g.low, run.soap_g.high) for run in (lead.runs[1], lag.runs[1]) if run.soap_g]
    assert ends == [(0.0, near(MOST_G))] * 2
    assert [run.estimate_g for run in (*lead.runs, *lag.runs)] == [near(LEAD_G)] * 3 + [near(LAG_G)] * 3
    assert found.exchanged_mg_per_kg()["b2"] is None


def test_a_feed_alone_bounds_both_beds_by_all_it_brought(tmp_path: Path) -> None:
    lead, lag = folded(tmp_path, TWO, {"b1": batch("b1", 11, FEED)}).charges
    for charge in (lead, lag):
        assert [run.basis for run in charge.runs] == ["bounded"]
        assert (charge.soap.low, charge.soap.high) == (0.0, near(641.12 * 0.088))
    assert (lead.soap.estimate, lag.soap.estimate) == (near(641.12 * 0.088), 0.0)


def test_a_bed_that_gives_soap_back_holds_less(tmp_path: Path) -> None:
    """Fed with less than it lets go: its ledger falls, and never below nothing."""
    low = FEED.replace("2.0 mL", "0.4 mL")  # 128.224 in, and 641.12 behind A
    high = BETWEEN.replace("1.0 mL", "10.0 mL")
    batches = {
        "b1": batch("b1", 11, FEED, BETWEEN, PRODUCT),
        "b2": batch("b2", 12, low, high, PRODUCT, volume="50 L at 15 °C"),
        "b3": batch("b3", 13, low, high, PRODUCT),
    }
    lead, _ = folded(tmp_path, TWO, batches).charges
    assert [run.load_g for run in lead.runs] == [near(LEAD_G), near(LEAD_G - 512.896 * 0.044), 0.0]


def test_the_first_litres_are_the_fuel_that_stood_in_the_beds(tmp_path: Path) -> None:
    """0.7 of 50 L of chips and 0.38 of 20 L of beads; fresh beds hold nobody's fuel."""
    batches = {f"b{n}": batch(f"b{n}", 10 + n, FEED, BETWEEN, PRODUCT) for n in (1, 2)}
    found = folded(tmp_path, TWO, batches).stood_before()
    assert found == {"b2": {"b1": near(0.7 * 50 + 0.38 * 20)}}


def test_a_bed_that_was_rinsed_holds_no_fuel_of_the_batch_before_and_is_filled_up_again(
    tmp_path: Path,
) -> None:
    """Methanol took its place in 0.38 of 20 L of beads; the chips before them keep theirs. Derived."""
    history = lines(TWO, "date: 2026-01-12, event: rinse, vessel: B")
    found = folded(tmp_path, history, {"b1": batch("b1", 11), "b2": batch("b2", 13), "b3": batch("b3", 14)})
    chips, beads = near(0.7 * 50), near(0.38 * 20)
    assert found.stood_before() == {"b2": {"b1": chips}, "b3": {"b2": near(0.7 * 50 + 0.38 * 20)}}
    assert found.fresh_heel_l() == {"b1": near(0.7 * 50 + 0.38 * 20), "b2": beads}


def test_fuel_drained_in_a_rest_stands_in_the_beds_no_more(tmp_path: Path) -> None:
    """12 L of 42.6 are gone, of each bed its part: what is left is of the batch before. Derived."""
    history = lines(TWO, "date: 2026-01-12, event: rest, until: 2026-01-13, drained: 12 L at 15 °C")
    found = folded(tmp_path, history, {"b1": batch("b1", 11), "b2": batch("b2", 13), "b3": batch("b3", 14)})
    assert found.stood_before() == {"b2": {"b1": near(42.6 - 12)}, "b3": {"b2": near(42.6)}}
    assert found.fresh_heel_l() == {"b1": near(42.6), "b2": near(12)}


def test_a_rest_and_a_rinse_before_one_run_empty_a_bed_once(tmp_path: Path) -> None:
    """Of 12 L drained 12 x 7.6 / 42.6 came out of the beads, and methanol took the place of the rest of their 7.6 L. Derived."""
    history = lines(
        TWO,
        "date: 2026-01-12, event: rest, until: 2026-01-13, drained: 12 L at 15 °C",
        "date: 2026-01-12, event: rinse, vessel: B",
    )
    found = folded(tmp_path, history, {"b1": batch("b1", 11), "b2": batch("b2", 13)})
    assert found.stood_before() == {"b2": {"b1": near(35 - 12 * 35 / 42.6)}}
    assert found.fresh_heel_l()["b2"] == near(12 + 7.6 - 12 * 7.6 / 42.6)


def test_a_regeneration_that_leaves_a_share_of_the_soap_leaves_it_of_what_was_exchanged(
    tmp_path: Path,
) -> None:
    """A fifth of two runs of LAG_G, by 320.56 g/mol, and a run after it; derived."""
    fifth = REGENERATED[1].replace("reset_by: regenerate}", "reset_by: regenerate, leaves: 20 %}")
    days = ((1, 11), (2, 13), (3, 16))
    batches = {f"b{n}": batch(f"b{n}", day, FEED, BETWEEN, PRODUCT) for n, day in days}
    history = lines(TWO, "date: 2026-01-15, event: regenerate, vessel: B")
    bed = folded(tmp_path, history, batches, **{"materials/all.yaml": (REGENERATED[0], fifth)}).charges[1]
    assert bed.soap.estimate == near(1.4 * LAG_G)
    assert bed.exchanged_mol == near(1.4 * LAG_G / 320.56)


def test_a_rinse_between_two_runs_empties_the_bed_for_the_second_and_not_for_the_first(
    tmp_path: Path,
) -> None:
    """106 g/L on 20 L of bed are 2120 g of glycerol; 20 g/kg on 88 kg are 1760 g a run, what A cannot hold comes to B."""
    twins = LIKE.replace("bed: 50 L", "bed: 20 L")
    history = lines(twins, "date: 2026-01-15, event: rinse, vessel: A")
    batches = {f"b{n}": batch(f"b{n}", day) for n, day in ((1, 11), (2, 13), (3, 16), (4, 17))}
    text = VESSELS.replace(", glycerol_inlet: 200 mg/kg", "").replace(
        "vessels:", "glycerol_inlet: 20000 mg/kg\nvessels:"
    )
    found = folded(tmp_path, history, batches, **{"columns/shed.yaml": text + history})
    assert [[run.glycerol_g for run in charge.runs] for charge in found.charges] == [
        [near(1760), near(360), near(1760), near(360)],
        [near(0), near(1400), near(0), near(1400)],
    ]


def test_a_batch_in_parts_speaks_once_for_the_share_a_bed_takes(tmp_path: Path) -> None:
    """Nine and eight tenths stayed in A, so 85 % of 641.12 mg/kg on 88 kg where only the feed was sampled; derived."""
    more = BETWEEN.replace("1.0 mL", "2.0 mL")
    halves = runs("b1", 11, part(50, FEED, BETWEEN, PRODUCT), part(50, FEED, more, PRODUCT))
    found = folded(tmp_path, TWO, {"b1": halves, "b2": batch("b2", 14, FEED)})
    assert found.charges[0].runs[-1].estimate_g == near(0.85 * 641.12 * 0.088)


def test_the_bed_between_two_others_is_named_by_its_place(tmp_path: Path) -> None:
    three = VESSELS.replace("history:", "  - {vessel: C, volume: 40 L}\nhistory:")
    history = TWO + PACK_B.format(day="2026-01-03", medium="beads").replace("vessel: B", "vessel: C")
    found = folded(tmp_path, history, {"b1": batch("b1", 11)}, **{"columns/shed.yaml": three + history})
    assert [charge.position for charge in found.charges] == ["lead", "place 2", "lag"]


def test_the_feed_of_a_batch_is_not_what_was_fed_once_more(tmp_path: Path) -> None:
    once, again = FEED.replace("2.0 mL", "1.9 mL"), "    again: true\n"
    written = runs("b1", 11, part(100, once, PRODUCT), part(50, FEED, TRACE, more=again))
    record = log_of(tmp_path, changes(TWO, {"b1": written})).batches["b1"].record
    feed, product = last_sample(record, "feed"), last_sample(record, "product")
    assert feed is not None and product is not None
    assert (feed.acid.text, product.acid.text) == ("1.9 mL", "0.1 mL")


def test_a_run_of_unknown_volume_takes_no_room_for_glycerol(tmp_path: Path) -> None:
    """As above; the first run has no volume, and what it brought cannot be told."""
    twins = LIKE.replace("bed: 50 L", "bed: 20 L")
    text = VESSELS.replace(", glycerol_inlet: 200 mg/kg", "").replace(
        "vessels:", "glycerol_inlet: 20000 mg/kg\nvessels:"
    )
    batches = {"b1": batch("b1", 11, volume=""), "b2": batch("b2", 12), "b3": batch("b3", 13)}
    found = folded(tmp_path, twins, batches, **{"columns/shed.yaml": text + twins})
    assert [run.glycerol_g for run in found.charges[0].runs] == [None, near(1760), near(360)]


def test_what_stood_in_the_beds_goes_by_time_and_not_by_name(tmp_path: Path) -> None:
    """The batch that is called b2 ran before the one that is called b1."""
    found = folded(tmp_path, TWO, {"b2": batch("b2", 11), "b1": batch("b1", 13)}).stood_before()
    assert found == {"b1": {"b2": near(0.7 * 50 + 0.38 * 20)}}


def test_where_nothing_was_found_before_and_behind_a_bed_it_gave_nothing_back(tmp_path: Path) -> None:
    """The limit of a blank and a reading on 10 g came in at most, and none of it may have stayed."""
    none = FEED.replace("2.0 mL", "0.0 mL"), BETWEEN.replace("1.0 mL", "0.0 mL")
    (run,) = folded(tmp_path, TWO, {"b1": batch("b1", 11, *none)}).charges[0].runs
    assert run.soap_g is not None
    assert (run.soap_g.low, run.soap_g.high) == (0.0, near(3 * 2**0.5 * 0.05 * 320.56 * 0.088))
