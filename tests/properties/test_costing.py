"""Laws of costing over made-up histories: nothing is lost or made, whatever the method and the order of the files."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.ledger.ledgers import Ledgers
from generator.ledger.pool import AVERAGE, FIFO, NAMED, Pool
from tests.ledger.test_costing import batch, chosen, lot
from tests.logbook_files import base_files, in_memory

Listed = list[tuple[date, Decimal]]
Lots = list[tuple[date, Decimal, Decimal, Listed, Listed]]
MANY = settings(max_examples=150, deadline=None)
FIRST = date(2026, 1, 1)
DAYS = st.integers(0, 60).map(lambda days: FIRST + timedelta(days))
TENTHS = st.integers(1, 8).map(lambda tens: Decimal(tens * 10)) | st.integers(1, 2000).map(
    lambda tenths: Decimal(tenths) / 10
)
PRICES = st.integers(0, 300).map(lambda cents: Decimal(cents) / 100)
METHODS = st.sampled_from((NAMED, FIFO, AVERAGE))
CHANGES = st.lists(st.tuples(DAYS, METHODS), max_size=3, unique_by=lambda change: change[0])
LISTED = st.lists(st.tuples(DAYS, TENTHS), max_size=2)
LOTS = st.lists(st.tuples(DAYS, TENTHS, PRICES, LISTED, LISTED), min_size=1, max_size=5)
DRAWS = st.lists(st.tuples(DAYS, st.integers(0, 4), TENTHS), max_size=8)


def files_of(
    lots: Lots,
    draws: list[tuple[date, int, Decimal]],
) -> dict[str, str]:
    """Lots with counts and returns, and batches that draw from them; more may be drawn or go back than is there."""
    found = {}
    for number, (day, litres, price, counts, returns) in enumerate(lots):
        more = "".join(
            f"{key}: [{', '.join(f'{{date: {when}, volume: {left} L at 15 °C}}' for when, left in listed)}]\n"
            for key, listed in (("counts", counts), ("returns", returns))
        )
        found[f"lots/oil-{number}.yaml"] = lot(f"oil-{number}", str(day), litres, price, more)
    for number, (day, which, litres) in enumerate(draws):
        name = f"x{number}"
        found[f"batches/{name}.yaml"] = batch(name, str(day), (f"oil-{which % len(lots)}", litres))
    return found


def pool(files: dict[str, str], changes: list[tuple[date, str]]) -> Pool:
    kept = base_files("batches/", "tanks/", "lots/oil", "offers/", "columns/")
    methods = [(str(day), method) for day, method in changes]
    text = chosen(*methods) if methods else kept["logbook.yaml"]
    log = in_memory({**kept, "logbook.yaml": text, **files}).log
    assert log is not None
    return Ledgers(log).inventory.pools["frying-oil", "L"]


@MANY
@given(lots=LOTS, draws=DRAWS, changes=CHANGES)
def test_what_came_in_is_what_was_used_went_back_was_lost_and_is_left(lots, draws, changes) -> None:  # type: ignore[no-untyped-def]
    """In amount and in money, to the last digit, whatever was drawn, given back, counted and changed."""
    found = pool(files_of(lots, draws), changes)
    left = found.left
    went_back = found.returned
    assert went_back.amount == sum((litres for *_, returns in lots for _, litres in returns), Decimal(0))
    assert found.came.amount == found.used.amount + went_back.amount + found.lost.amount + left.amount
    came, *went = (each.cost for each in (found.came, found.used, went_back, found.lost, left))
    assert came is not None and None not in went
    assert came == sum((cost for cost in went if cost is not None), Decimal(0))
    assert sum((moved.amount for moved in found.draws.values()), Decimal(0)) == found.used.amount
    assert sum((moved.cost or Decimal(0) for moved in found.draws.values()), Decimal(0)) == found.used.cost


@MANY
@given(lots=LOTS, draws=DRAWS, changes=CHANGES, data=st.data())
def test_the_order_of_files_and_their_names_do_not_matter(lots, draws, changes, data) -> None:  # type: ignore[no-untyped-def]
    files = files_of(lots, draws)
    order = data.draw(st.permutations(sorted(files)))
    names = data.draw(st.permutations(range(len(files))))
    shuffled = {
        f"{name.split('/')[0]}/{number:02}.yaml": files[name]
        for name, number in zip(order, names, strict=True)
    }
    turned = changes[::-1]
    first, second = pool(files, changes), pool(shuffled, turned)
    seen, again = ((each.draws, each.left, each.returned, each.lost) for each in (first, second))
    assert seen == again


@MANY
@given(lots=LOTS, draws=DRAWS, changes=CHANGES, day=DAYS, method=METHODS)
def test_a_method_restates_nothing_before_its_day(lots, draws, changes, day, method) -> None:  # type: ignore[no-untyped-def]
    files = files_of(lots, draws)
    kept = [change for change in changes if change[0] < day]
    before, after = pool(files, kept), pool(files, [*kept, (day, method)])
    for key, moved in before.draws.items():
        if key[1] < day:
            assert after.draws[key] == moved


@MANY
@given(
    litres=st.lists(TENTHS, min_size=1, max_size=5),
    prices=st.lists(PRICES, min_size=5, max_size=5),
    share=st.integers(0, 100),
)
def test_while_prices_rise_fifo_leaves_no_less_than_the_average(
    litres: list[Decimal], prices: list[Decimal], share: int
) -> None:
    """And while they fall no more; draws follow all receipts and take no more than there is."""
    for rising in (True, False):
        ordered = sorted(prices, reverse=not rising)
        lots: Lots = [
            (FIRST + timedelta(place), amount, ordered[place], [], []) for place, amount in enumerate(litres)
        ]
        drawn = (sum(litres, Decimal(0)) * share / 100).quantize(Decimal("0.1"), rounding="ROUND_DOWN")
        draws = [(FIRST + timedelta(30), 0, drawn)] if drawn else []
        fifo, average = (
            pool(files_of(lots, draws), [(FIRST, method)]).left.cost for method in (FIFO, AVERAGE)
        )
        assert fifo is not None and average is not None
        slack = Decimal("1e-11")
        assert fifo >= average - slack if rising else fifo <= average + slack


@MANY
@given(
    lots=st.lists(st.tuples(DAYS, TENTHS, PRICES), min_size=1, max_size=5),
    draws=DRAWS,
    method=METHODS,
)
def test_a_mean_lies_between_what_was_mixed(
    lots: list[tuple[date, Decimal, Decimal]], draws: list[tuple[date, int, Decimal]], method: str
) -> None:
    """Of acid, water or price: no method makes more or less of it than the lots brought, while no more is drawn than is there."""
    left = [litres for _, litres, _ in lots]
    fitting = []
    for _, which, litres in draws:
        if litres < left[which % len(lots)]:
            left[which % len(lots)] -= litres
            fitting.append((FIRST + timedelta(90), which, litres))
    found = pool(files_of([(*each, [], []) for each in lots], fitting), [(FIRST, method)]).left
    assert found.cost is not None and found.amount == sum(left, Decimal(0))
    prices = [price for _, _, price in lots]
    slack = Decimal("1e-9")
    assert min(prices) - slack <= found.cost / found.amount <= max(prices) + slack
