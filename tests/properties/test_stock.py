"""Laws of the ledgers: nothing gets lost, the order of files does not matter, units do not matter."""

from __future__ import annotations

from dataclasses import fields
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.ledger.batch_facts import Facts
from generator.ledger.charges import Charge
from generator.ledger.columns import fold
from generator.ledger.facts import facts_of
from generator.ledger.stock import accounts
from generator.log import Log
from tests.logbook_files import base_files, in_memory
from tests.properties.law import LAW

FIRST = date(2026, 1, 2)
TENTHS = st.integers(1, 9999).map(lambda number: Decimal(number) / 10)
FEWER = settings(LAW, max_examples=40)  # each example checks whole logbooks
DAYS = st.integers(0, 40).map(lambda number: FIRST + timedelta(days=number))


def log_of(files: dict[str, str]) -> Log:
    """The log of these files, whatever its balances say."""
    found = in_memory(files)
    assert found.log is not None
    unread = [problem for problem in found.problems if problem.is_error and problem.code not in BALANCES]
    assert unread == []
    return found.log


BALANCES = {
    "stock-overdrawn",
    "stock-unit",
    "methanol-short",
    "impossible-yield",
    "date-order",
    "runs-overlap",
    "tank-overfilled",
}


def oil_batch(name: str, day: date, litres: Decimal, lot: str = "oil-1") -> str:
    """A batch that draws so much oil."""
    return f"batch: {name}\ndate: {day}\noil: [{{lot: {lot}, volume: {litres} L at 15 °C}}]\n"


@FEWER
@given(
    received=TENTHS,
    losses=st.lists(st.tuples(DAYS, TENTHS), max_size=4),
    counts=st.lists(st.tuples(DAYS, TENTHS), max_size=4),
    draws=st.lists(st.tuples(DAYS, TENTHS), max_size=6),
)
def test_drawing_from_a_lot_loses_nothing(
    received: Decimal,
    losses: list[tuple[date, Decimal]],
    counts: list[tuple[date, Decimal]],
    draws: list[tuple[date, Decimal]],
) -> None:
    """Received - lost - drawn + counted difference = left, to the last digit."""
    listed = {"losses": losses, "counts": counts}
    lot = (
        f"lot: oil-1\nmaterial: frying-oil\nreceived: {FIRST}\nquantity: {received} L at 15 °C\npaid: 0 EUR\n"
        + "".join(
            f"{key}: [{', '.join(f'{{date: {day}, volume: {litres} L at 15 °C}}' for day, litres in items)}]\n"
            for key, items in listed.items()
        )
    )
    files = {**base_files("batches/", "tanks/"), "lots/oil-1.yaml": lot}
    files |= {f"batches/x{number}.yaml": oil_batch(f"x{number}", *draw) for number, draw in enumerate(draws)}
    account = accounts(log_of(files))["oil-1"]
    drawn = sum((litres for _, litres in draws), Decimal(0))
    assert account.total("drawn") == drawn
    assert account.received - account.total("lost") - drawn + account.counted_difference == account.left
    last = max(counts, default=None)
    if last is not None and all(day <= last[0] for day, _ in (*losses, *draws)):
        assert account.left in [litres for day, litres in counts if day == last[0]]


def seen(log: Log) -> tuple[object, list[Charge]]:
    """Accounts without places, and the columns' charges."""
    stock = {
        name: [(line.day, line.what, line.amount, line.balance, line.by) for line in account.lines]
        for name, account in accounts(log).items()
    }
    return stock, fold(log).charges


MANY = {
    **base_files("batches/"),
    **{
        f"batches/{number}.yaml": base_files()["batches/b1.yaml"]
        .replace("batch: b1", f"batch: b{number}")
        .replace("2026-01-10", f"2026-01-{10 + number // 2}")
        .replace("2026-01-11T", f"2026-01-{11 + number}T")
        for number in range(5)
    },
}


@FEWER
@given(order=st.permutations(sorted(MANY)), names=st.permutations(range(len(MANY))))
def test_the_order_of_files_does_not_matter(order: list[str], names: list[int]) -> None:
    """Neither the order in which they are read nor their names; ids and dates alone count."""
    renamed = {
        name if name == "logbook.yaml" else f"{name.split('/')[0]}/{number:03}.yaml": MANY[name]
        for name, number in zip(order, names, strict=True)
    }
    assert seen(log_of(renamed)) == seen(log_of(MANY))


@FEWER
@given(
    acids=st.lists(st.integers(22, 2000), min_size=3, max_size=3),
    litres=st.integers(1, 2000),
    sample_g=st.sampled_from([1, 10, 50, 100]),
)
def test_soap_in_is_soap_held_and_soap_out(acids: list[int], litres: int, sample_g: int) -> None:
    """For a run with all its samples taken and detected, with soap falling along the line."""
    feed, between, product = sorted(acids, reverse=True)
    soap = "".join(
        f"    - {{point: {point}, sample: {sample_g} g, acid: {Decimal(acid) / 100} mL, normality: 0.01 N, blank: 0 mL}}\n"
        for point, acid in (("feed", feed), ("after A", between), ("product", product))
    )
    head, _, _ = base_files()["batches/b1.yaml"].partition("  volume: 98 L")
    text = f"{head}  volume: {litres} L at 15 °C\n  soap:\n{soap}"
    lead, lag = fold(log_of({**base_files("batches/", "tanks/"), "batches/b1.yaml": text})).charges
    (first,), (second,) = lead.runs, lag.runs
    assert first.is_measured and second.is_measured
    assert first.soap_g and second.soap_g and first.soap_in and second.soap_out and first.fed_kg
    brought, left = (end.low * first.fed_kg / 1000 for end in (first.soap_in, second.soap_out))
    assert first.soap_in.is_point and second.soap_out.is_point
    assert brought == pytest.approx(first.soap_g.low + second.soap_g.low + left, rel=1e-9)
    assert lead.soap.low == lead.soap.high == first.soap_g.low


PER_US_GAL = Decimal("3.785411784")  # exact, NIST Handbook 44
PER_LB = Decimal("0.45359237")  # exact, NIST Handbook 44


def celsius(fahrenheit: int) -> str:
    """Twelve decimals: the conversion is not finite."""
    return f"{(Decimal(fahrenheit) - 32) * 5 / 9:.10f} °C"


def written(
    oil: Decimal, lye: Decimal, methanol: Decimal, fuel: Decimal, layer: Decimal, warm: int, us: bool
) -> str:
    """One batch, in gallons, pounds and °F or in litres, kilograms and °C."""

    def volume(gallons: Decimal) -> str:
        at = f"{warm} °F" if us else celsius(warm)
        return f"{gallons} US gal at {at}" if us else f"{gallons * PER_US_GAL} L at {at}"

    def mass(pounds: Decimal) -> str:
        return f"{pounds} lb" if us else f"{pounds * PER_LB} kg"

    text = (
        base_files()["batches/b1.yaml"]
        .replace("98 L at 15 °C", volume(fuel))
        .replace("97 L at 15 °C", volume(fuel))
    )
    text = text.replace("100 L at 15 °C", volume(oil)).replace("20 L at 15 °C", volume(methanol))
    return text.replace("1.0 kg", mass(lye)).replace("mass: 20 kg", f"mass: {mass(layer)}")


AMOUNT = st.integers(1, 999).map(lambda number: Decimal(number) / 10)


@FEWER
@given(oil=AMOUNT, lye=AMOUNT, methanol=AMOUNT, fuel=AMOUNT, layer=AMOUNT, warm=st.integers(40, 130))
def test_a_batch_in_us_units_has_the_figures_of_the_same_in_metric_ones(
    oil: Decimal, lye: Decimal, methanol: Decimal, fuel: Decimal, layer: Decimal, warm: int
) -> None:
    found: list[Facts] = []
    for us in (True, False):
        text = written(oil, lye, methanol, fuel, layer, warm, us)
        log = log_of(
            {**base_files("batches/", "tanks/"), "batches/b1.yaml": text.replace(", tank: tank-1", "")}
        )
        found.append(facts_of(log, log.batches["b1"]))
    us_facts, metric = found
    figures = [field.name for field in fields(Facts) if isinstance(getattr(metric, field.name), float)]
    assert {"oil_l", "oil_kg", "methanol_kg", "fed_kg", "fuel_l", "glycerol_layer_kg", "dose_base_g"} <= set(
        figures
    )
    figures += [
        "dose_g",
        "dose_difference_pct",
        "yield_mass_pct",
        "yield_volume_pct",
        "closure_pct",
        "methanol_pct_v_v",
    ]
    for name in figures:
        assert getattr(us_facts, name) == pytest.approx(getattr(metric, name), rel=1e-9, abs=1e-9), name


@FEWER
@given(
    litres=st.integers(1, 10_000).map(lambda number: Decimal(number) / 10),
    warm=st.integers(0, 60),
    back=st.integers(0, 60),
)
def test_warmer_litres_are_fewer_litres_at_the_reference(litres: Decimal, warm: int, back: int) -> None:
    files = base_files("batches/", "tanks/")
    drawn = []
    for temperature in sorted((warm, back)):
        text = oil_batch("x", FIRST, litres).replace("at 15 °C", f"at {temperature} °C")
        drawn.append(accounts(log_of({**files, "batches/x.yaml": text}))["oil-1"].drawn_by("x"))
    assert drawn[0] > drawn[1] if warm != back else drawn[0] == drawn[1]
