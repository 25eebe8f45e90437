"""Methods of costing against a printed inventory example, and what happens on the day a method changes.

The example: 150 units at 21; 120 sold; 225 bought at 27; 180 sold; 210 bought at 33. OpenStax, Principles of Accounting,
volume 1, sections on the periodic and the perpetual system (secondary copy of the printed answers). The book rounds unit
costs to a cent, so its moving average is given as 7,253 and 8,902; exact it is 7,252.94 and 8,902.06 (derived). Units are
litres here. Which lots its specific identification names is not in the copy: 20 and 160 of the second sale give its answer.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from generator.compute.tally import tally
from generator.ledger.costing import Held
from generator.ledger.ledgers import Ledgers
from generator.ledger.pool import AVERAGE, FIFO, NAMED, Moved, Pool
from tests.logbook_files import base_files, in_memory, log_of, told

D = Decimal
BOUGHT = (
    ("oil-1", "2026-01-01", 150, 21),
    ("oil-2", "2026-02-01", 225, 27),
    ("oil-3", "2026-03-01", 210, 33),
)
SOLD = (("x1", "2026-01-15", (("oil-1", 120),)), ("x2", "2026-02-15", (("oil-1", 20), ("oil-2", 160))))


def lot(name: str, day: str, litres: int | D, price: int | D, more: str = "") -> str:
    return f"lot: {name}\nmaterial: frying-oil\nreceived: {day}\nquantity: {litres} L at 15 °C\npaid: {price} EUR/L\n{more}"


def batch(name: str, day: str, *oils: tuple[str, int | D]) -> str:
    listed = ", ".join(f"{{lot: {each}, volume: {litres} L at 15 °C}}" for each, litres in oils)
    return f"batch: {name}\ndate: {day}\noil: [{listed}]\n"


def chosen(*methods: tuple[str, str]) -> str:
    listed = ", ".join(f"{{material: frying-oil, from: {day}, method: {method}}}" for day, method in methods)
    return f"{base_files()['logbook.yaml']}costing: [{listed}]\n"


def ledgers(files: dict[str, str], *methods: tuple[str, str]) -> Ledgers:
    kept = base_files("batches/", "tanks/", "lots/oil", "offers/", "columns/")
    found = in_memory({**kept, "logbook.yaml": chosen(*methods), **files})
    assert found.log is not None
    return Ledgers(found.log)


def pool(files: dict[str, str], *methods: tuple[str, str]) -> Pool:
    return ledgers(files, *methods).inventory.pools[Held("frying-oil", "L")]


EXAMPLE = {
    **{f"lots/{name}.yaml": lot(name, day, litres, price) for name, day, litres, price in BOUGHT},
    **{f"batches/{name}.yaml": batch(name, day, *oils) for name, day, oils in SOLD},
}


@pytest.mark.parametrize(
    ("method", "used", "left", "within"),
    [(FIFO, "7200", "8955", "0"), (AVERAGE, "7253", "8902", "0.1"), (NAMED, "7260", "8895", "0"),
     (AVERAGE, "7252.941176", "8902.058824", "0.000001")],
)  # fmt: skip
def test_the_printed_example(method: str, used: str, left: str, within: str) -> None:
    found = pool(EXAMPLE, ("2026-01-01", method))
    assert found.came == Moved(D(585), D(16155))
    assert found.used.amount == D(300) and found.left.amount == D(285)
    assert found.used.cost is not None and found.left.cost is not None
    assert abs(found.used.cost - D(used)) <= D(within)
    assert abs(found.left.cost - D(left)) <= D(within)
    assert found.used.cost + found.left.cost == D(16155)


def test_without_a_choice_the_lot_that_was_named_counts() -> None:
    found = pool(EXAMPLE)
    assert (found.method, found.since, found.used.cost) == (NAMED, None, D(7260))


def test_what_a_batch_pays_follows_the_method(tmp_path: Path) -> None:
    """Of the second sale: 30 at 21 and 150 at 27 by FIFO; by the moving average 180 at (630 + 6075) / 255."""
    for method, cost in ((FIFO, 4680), (AVERAGE, 180 * 6705 / 255), (NAMED, 20 * 21 + 160 * 27)):
        log = log_of(
            tmp_path / method.replace(" ", "-"),
            {"logbook.yaml": chosen(("2026-01-01", method)), **LIFTED, **EXAMPLE},
        )
        paid = {row["batch"]: row["oil"] for row in tally(Ledgers(log)).rows("costs")}
        assert paid["x1"] == pytest.approx(2520)
        assert paid["x2"] == pytest.approx(cost)


LIFTED = dict.fromkeys(("batches/b1.yaml", "batches/b2.yaml", "tanks/tank-1.yaml"))


def test_a_method_holds_from_its_day_and_leaves_what_was_before() -> None:
    """FIFO until the end of February, then the moving average of 75 at 27 and 210 at 33."""
    later = {"batches/x3.yaml": batch("x3", "2026-03-02", ("oil-3", 57))}
    change = ("2026-03-01", AVERAGE)
    before, after = (pool({**EXAMPLE, **later}, ("2026-01-01", FIFO), *more) for more in ((), (change,)))
    for key in [key for key in before.draws if key[2] in ("x1", "x2")]:
        assert before.draws[key] == after.draws[key]
    third = next(moved for key, moved in after.draws.items() if key[2] == "x3")
    assert third.cost == ((75 * D(27) + 210 * D(33)) * 57 / 285).quantize(D("1e-12"))
    assert next(moved for key, moved in before.draws.items() if key[2] == "x3").cost == 57 * D(27)


def test_what_was_drawn_before_the_first_day_costs_what_it_did_to_the_last_digit() -> None:
    """70 L for 99.995 EUR and one of freight: no finite number a litre."""
    files = {
        "lots/oil-1.yaml": lot("oil-1", "2026-01-01", 70, D("1.4285"), "freight: 1.00 EUR\n"),
        "batches/x1.yaml": batch("x1", "2026-01-10", ("oil-1", 13)),
    }
    none, later = ledgers(files), ledgers(files, ("2026-02-01", AVERAGE))
    entry = none.log.batches["x1"]
    asked = (entry.record.oil[0], entry.record.date, "x1")
    assert none.inventory.cost_of(*asked) == later.inventory.cost_of(*asked) == D("100.995") / 70 * 13


def test_back_to_the_named_lot_all_lots_go_on_at_the_mean_of_the_pool() -> None:
    """285 L are left for 8,955 by FIFO; by the book 10 L are of the first lot, 65 of the second, 210 of the third."""
    later = {"batches/x3.yaml": batch("x3", "2026-03-02", ("oil-1", 10))}
    found = pool({**EXAMPLE, **later}, ("2026-01-01", FIFO), ("2026-03-02", NAMED))
    third = next(moved for key, moved in found.draws.items() if key[2] == "x3")
    assert third.cost == (D(8955) * 10 / 285).quantize(D("1e-12"))
    assert found.left.cost is not None and found.left.cost + third.cost == D(8955)


def test_a_receipt_written_later_with_an_earlier_day_moves_the_average_from_its_day() -> None:
    """75 L at 45 on 10 February: 30 x 21 + 225 x 27 + 75 x 45 over 330 L for the second sale."""
    late = {"lots/oil-4.yaml": lot("oil-4", "2026-02-10", 75, 45)}
    found = pool({**EXAMPLE, **late}, ("2026-01-01", AVERAGE))
    first, second = (
        sum((moved.cost or D(0) for key, moved in found.draws.items() if key[2] == who), D(0))
        for who in ("x1", "x2")
    )
    assert first == D(2520)
    assert second == pytest.approx((30 * D(21) + 225 * D(27) + 75 * D(45)) * 180 / 330, abs=D("1e-9"))


def test_an_unknown_price_leaves_unknown_what_it_is_part_of_and_no_more() -> None:
    """The second lot has no price: by FIFO the first sale is known, the second not, and the third from the third lot is."""
    unpriced = EXAMPLE["lots/oil-2.yaml"].replace("paid: 27 EUR/L\n", "")
    files = {
        **EXAMPLE,
        "lots/oil-2.yaml": unpriced,
        "batches/x3.yaml": batch("x3", "2026-03-02", ("oil-2", 65)),
    }
    files["batches/x4.yaml"] = batch("x4", "2026-03-03", ("oil-3", 100))
    found = pool(files, ("2026-01-01", FIFO))
    paid = {
        who: [moved.cost for key, moved in found.draws.items() if key[2] == who]
        for who in ("x1", "x2", "x3", "x4")
    }
    assert paid["x1"] == [D(2520)] and None in paid["x2"] and paid["x3"] == [None]
    assert paid["x4"][0] is None  # ten of the hundred litres are the last of the second lot
    assert found.used.cost is None and found.left.cost == 120 * D(33)


def test_a_loss_in_preparation_makes_the_rest_dearer_and_a_count_is_a_loss() -> None:
    """100 L for 90 EUR, 10 L lost: 90 L at 1 EUR; 40 used; 45 counted where the book holds 50: 5 EUR missing."""
    more = "losses: [{date: 2026-01-03, volume: 10 L at 15 °C}]\ncounts: [{date: 2026-02-01, volume: 45 L at 15 °C}]\n"
    files = {
        "lots/oil-1.yaml": lot("oil-1", "2026-01-01", 100, D("0.9"), more),
        "batches/x1.yaml": batch("x1", "2026-01-10", ("oil-1", 40)),
    }
    for method in (NAMED, FIFO, AVERAGE):
        found = pool(files, ("2026-01-01", method))
        assert (found.came, found.used) == (Moved(D(90), D(90)), Moved(D(40), D(40)))
        assert (found.lost, found.left) == (Moved(D(5), D(5)), Moved(D(45), D(45)))


def test_drawn_beyond_the_book_is_made_up_for_by_what_is_found() -> None:
    """A litre too much within the tolerance, then a count of nothing: all has gone into the batch, nothing is there."""
    more = "counts: [{date: 2026-02-01, volume: 0 L at 15 °C}]\n"
    files = {
        "lots/oil-1.yaml": lot("oil-1", "2026-01-01", 100, 1, more),
        "batches/x1.yaml": batch("x1", "2026-01-10", ("oil-1", 101)),
    }
    for method in (NAMED, FIFO, AVERAGE):
        found = pool(files, ("2026-01-01", method))
        assert (found.used, found.lost, found.left) == (Moved(D(101), D(101)), Moved(D(-1), D(-1)), Moved())


def test_the_table_tells_what_is_left_by_the_method(tmp_path: Path) -> None:
    log = log_of(tmp_path, {"logbook.yaml": chosen(("2026-01-01", AVERAGE)), **LIFTED, **EXAMPLE})
    row = next(row for row in tally(Ledgers(log)).rows("inventory") if row["material"] == "frying-oil")
    assert (row["method"], row["since"], row["came_cost"]) == (AVERAGE, "2026-01-01", 16155.0)
    assert row["left_cost"] == pytest.approx(8902.058824, abs=1e-6)
    assert row["unit_cost"] == pytest.approx(8902.058824 / 285, abs=1e-8)


def test_a_method_of_no_material_is_told(tmp_path: Path) -> None:
    text = chosen(("2026-01-01", FIFO)).replace("frying-oil", "fryin-oil")
    assert [problem.code for problem in told(tmp_path, {"logbook.yaml": text})] == ["unknown-id"]


def analysed(name: str, day: str, litres: int, reading: str, water: int) -> str:
    titration = f"{{titration: {{titrant: {{strength: 1.00 g/L, of: KOH, pure: true}}, sample: 1.0 mL, blank: 0 mL, readings: [{reading} mL]}}}}"
    tests = f"tests: [{titration}, {{property: water, value: {water} mg/kg}}]\n"
    return lot(name, day, litres, 1, tests)


VAT = {
    "lots/oil-1.yaml": analysed("oil-1", "2026-01-01", 100, "2.0", 400),
    "lots/oil-2.yaml": analysed("oil-2", "2026-02-01", 50, "4.0", 1000),
    "batches/x1.yaml": batch("x1", "2026-01-10", ("oil-1", 50)),
    "batches/x2.yaml": batch("x2", "2026-02-10", ("oil-1", 40)),
}


@pytest.mark.parametrize(
    ("method", "reading", "water"),
    [(AVERAGE, "3.0", 700), (FIFO, "3.666666667", 900), (NAMED, "3.666666667", 900)],
)
def test_a_vat_carries_the_acidity_and_the_water_of_what_went_in(
    tmp_path: Path, method: str, reading: str, water: int
) -> None:
    """50 L of 2.0 mL and 50 L of 4.0 mL make 3.0 mL, whatever is drawn after; apart, 10 L of the first and 50 L are left."""
    log = log_of(tmp_path, {"logbook.yaml": chosen(("2026-01-01", method)), **LIFTED, **VAT})
    rows = tally(Ledgers(log)).rows("inventory")
    row = next(row for row in rows if row["material"] == "frying-oil")
    one = next(row for row in tally(Ledgers(log)).rows("lots") if row["lot"] == "oil-1")
    per_ml = one["acid_value_mg_koh_per_g"] / 2
    assert row["acid_value_mg_koh_per_g"] == pytest.approx(per_ml * float(reading), rel=1e-8)
    assert row["water_mg_per_kg"] == pytest.approx(water, rel=1e-9)


def test_a_lot_that_was_not_tested_leaves_the_vat_unknown(tmp_path: Path) -> None:
    files = {**VAT, "lots/oil-2.yaml": lot("oil-2", "2026-02-01", 50, 1)}
    log = log_of(tmp_path, {"logbook.yaml": chosen(("2026-01-01", AVERAGE)), **LIFTED, **files})
    row = next(row for row in tally(Ledgers(log)).rows("inventory") if row["material"] == "frying-oil")
    assert (row["acid_value_mg_koh_per_g"], row["water_mg_per_kg"]) == (None, None)
    assert row["left_cost"] == pytest.approx(60)


CLOSED = "closed: [{until: 2026-01-31, drawn: 209.00 EUR}]\ncurrency:"


@pytest.mark.parametrize(
    ("file", "change", "message"),
    [
        ("logbook.yaml", ("currency:", CLOSED), ""),
        ("lots/oil-1.yaml", ("paid:", "freight: 30 EUR\npaid:"), "costs 229.00 EUR now"),
        ("lots/oil-1.yaml", ("paid:", "note: from the school\npaid:"), ""),
    ],
    ids=["as it was", "a freight that came late", "what is no money"],
)
def test_what_was_closed_is_held_to_its_figure(
    tmp_path: Path, file: str, change: tuple[str, str], message: str
) -> None:
    """The oil: 200 of its 300 L were drawn in January, so 30 EUR of freight weigh 20 on them."""
    found = told(tmp_path, {"logbook.yaml": ("currency:", CLOSED), file: change})
    moved = [one for one in found if one.code == "closed-moved"]
    assert [message in one.message for one in moved] == [True] * bool(message)


def test_what_goes_back_leaves_at_what_its_own_lot_cost() -> None:
    """100 L at 0.40 and 100 L at 1.00: 50 of the dear ones go back for 50.00. By first in first out they left at 0.40."""
    back = "returns: [{date: 2026-01-05, volume: 50 L at 15 °C, refund: 50.00 EUR}]\n"
    files = {
        "lots/oil-1.yaml": lot("oil-1", "2026-01-02", 100, Decimal("0.40")),
        "lots/oil-2.yaml": lot("oil-2", "2026-01-03", 100, Decimal("1.00"), back),
    }
    for method, left in ((NAMED, 90), (FIFO, 90), (AVERAGE, 90)):
        found = pool(files, ("2026-01-01", method))
        assert (found.returned.amount, found.returned.cost) == (50, 50), method
        assert (found.left.amount, found.left.cost) == (150, left), method
        assert found.went_back["oil-2"].cost == 50


def test_of_a_lot_that_the_method_has_used_up_what_goes_back_leaves_as_the_next_draw_would() -> None:
    """By first in first out 100 L of the older lot went into a batch that named the other; 40 L of it go back: 0.40 is gone."""
    back = "returns: [{date: 2026-01-09, volume: 40 L at 15 °C, refund: 16.00 EUR}]\n"
    files = {
        "lots/oil-1.yaml": lot("oil-1", "2026-01-02", 100, Decimal("0.40"), back),
        "lots/oil-2.yaml": lot("oil-2", "2026-01-03", 100, Decimal("1.00")),
        "batches/x1.yaml": batch("x1", "2026-01-05", ("oil-2", 100)),
    }
    found = pool(files, ("2026-01-01", FIFO))
    assert (found.used.cost, found.returned.cost, found.left.cost) == (40, 40, 60)


@pytest.mark.parametrize(("day", "cost"), [("2026-02-15", 27), ("2026-02-16", 33)])
def test_a_method_holds_on_its_first_day(day: str, cost: int) -> None:
    """100 L at 27 and 100 L at 33; the dear lot is named on 15 February, and first in first out takes of the other."""
    files = {
        "lots/oil-1.yaml": lot("oil-1", "2026-02-01", 100, 27),
        "lots/oil-2.yaml": lot("oil-2", "2026-02-01", 100, 33),
        "batches/x1.yaml": batch("x1", "2026-02-15", ("oil-2", 50)),
    }
    found = ledgers(files, (day, FIFO)).inventory
    assert found.unit_cost("oil-2", date(2026, 2, 15), "x1") == cost


def test_what_a_count_found_of_a_lot_goes_back_with_it() -> None:
    """100 L at 0.40 and ten more that a count found, also at 0.40: of 105 L that go back five are of these."""
    more = "counts: [{date: 2026-01-04, volume: 110 L at 15 °C}]\nreturns: [{date: 2026-01-05, volume: 105 L at 15 °C, refund: 42.00 EUR}]\n"
    files = {
        "lots/oil-1.yaml": lot("oil-1", "2026-01-02", 100, Decimal("0.40"), more),
        "lots/oil-2.yaml": lot("oil-2", "2026-01-03", 100, Decimal("1.00")),
    }
    found = pool(files, ("2026-01-01", FIFO))
    assert (found.returned.amount, found.returned.cost) == (105, 42)
    assert (found.left.amount, found.left.cost) == (105, 102)
