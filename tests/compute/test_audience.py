"""The shared site's results: nothing private is in them, whatever is written in the private places."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from generator.compute.audience import shared
from generator.compute.results import Results
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.tables import ALL, public_columns, widenable
from tests.logbook_files import Changes, log_of

CANARY = "canary-7291"
B1, B2, OIL, OFFER = "batches/b1.yaml", "batches/b2.yaml", "lots/oil-1.yaml", "offers/school.yaml"
# a word or an odd number in every private place
PRIVATE: Changes = {
    OIL: ("paid: 0.40 EUR/L", f"paid: 0.7291 EUR/L\nfreight: 72.91 EUR\nsource: {CANARY}\nnote: {CANARY}"),
    B1: ("tests:", f"note: {CANARY}\nenergy: 72.91 kWh\nlabour: 7.291 h\nother_costs: [{{for: {CANARY}, paid: 72.91 EUR}}]\ntests:"),
    "tanks/tank-1.yaml": ("to: member-1", f"to: {CANARY}, use: {CANARY}, note: {CANARY}"),
    OFFER: ("asked: 0.50 EUR/L", f"asked: 0.7291 EUR/L\nsource: {CANARY}\nnote: {CANARY}"),
    "prices/diesel.yaml": ("1.60 EUR/L", "7.291 EUR/L"),
    "columns/shed.yaml": ("bed: 55 L}", f"bed: 55 L, note: {CANARY}}}"),
    "pages/about.md": f"---\ntitle: {CANARY}\n---\n{CANARY}\n",
    "logbook.yaml": ("title:", "labour_rate: 72.91 EUR/h\ntarget_cost: 7.291 EUR/L\nthresholds: {water: 7291 mg/kg}\ntitle:"),
}  # fmt: skip


def results(parent: Path, changes: Changes | None = None) -> Results:
    """Everything computed, for the workshop."""
    return tally(Ledgers(log_of(parent, changes)))


def bytes_of(found: Results) -> str:
    """Everything in the results, as text."""
    tables = {name: found.rows(name) for name in found.frames}
    rest = {name: getattr(found, name) for name in Results.__slots__ if name != "frames"}
    whole = {name: dict(value) if isinstance(value, Mapping) else value for name, value in rest.items()}
    return repr((tables, whole))


def test_the_canary_is_in_the_workshop_s_results(tmp_path: Path) -> None:
    """Else its absence below would say nothing."""
    text = bytes_of(results(tmp_path, PRIVATE))
    assert text.count(CANARY) >= 8
    assert "7291" in text.replace(CANARY, "")


def test_nothing_written_in_a_private_place_is_in_the_shared_results(tmp_path: Path) -> None:
    text = bytes_of(shared(log_of(tmp_path, PRIVATE)))
    assert CANARY not in text
    assert "7291" not in text


def test_changing_what_is_private_changes_nothing_shared(tmp_path: Path) -> None:
    plain = shared(log_of(tmp_path / "a"))
    changed = shared(log_of(tmp_path / "b", PRIVATE))
    assert bytes_of(plain) == bytes_of(changed)


def test_every_private_column_is_empty_and_every_public_one_is_as_it_was(tmp_path: Path) -> None:
    log = log_of(tmp_path, PRIVATE)
    whole, bare = tally(Ledgers(log)), shared(log)
    assert set(bare.frames) == {table.name for table in ALL}
    for table in ALL:
        public = public_columns(table)
        assert list(bare.frames[table.name].columns) == list(table.names)
        rows = bare.rows(table.name)
        assert len(rows) == (len(whole.rows(table.name)) if public else 0)
        for row, full in zip(rows, whole.rows(table.name), strict=False):
            assert {name: row[name] for name in public} == {name: full[name] for name in public}
            assert {row[name] for name in table.names if name not in public} <= {None}


def test_entries_are_public_ones_without_the_lots_they_name(tmp_path: Path) -> None:
    log = log_of(tmp_path, PRIVATE)
    whole, bare = tally(Ledgers(log)), shared(log)
    assert any(item.names for item in whole.written["b1"])
    assert any(not item.public for item in whole.written["b1"])
    assert bare.written["b1"]
    assert all(item.public and not item.names for item in bare.written["b1"])


def test_pages_are_the_public_ones(tmp_path: Path) -> None:
    text = "---\ntitle: Open day\npublic: true\n---\nCome.\n"
    log = log_of(tmp_path, {"pages/open-day.md": text})
    assert sorted(tally(Ledgers(log)).pages) == ["about", "open-day"]
    assert sorted(shared(log).pages) == ["open-day"]


def test_a_private_batch_is_as_if_it_had_never_been(tmp_path: Path) -> None:
    log = log_of(tmp_path / "a", {B2: ("batch: b2\n", "batch: b2\nprivate: true\n")})
    bare = shared(log)
    assert set(log.batches) == {"b1", "b2"}
    assert {row["batch"] for row in bare.rows("batches")} == {"b1"}
    never = log_of(tmp_path / "b")
    del never.batches["b2"]
    assert bytes_of(bare) == bytes_of(shared(never))


@pytest.mark.parametrize(
    "name", ["batches.note", "lots.source", "costs.cash_per_l", "tanks.to", "offers.asked_per_l"]
)
def test_a_setting_widens_by_its_column_and_by_nothing_else(tmp_path: Path, name: str) -> None:
    assert name in widenable()
    log = log_of(tmp_path / "a", PRIVATE)
    head = PRIVATE["logbook.yaml"][1]  # type: ignore[index]
    widened = {**PRIVATE, "logbook.yaml": ("title:", f"public: [{name}]\n{head}")}
    whole, bare, wide = tally(Ledgers(log)), shared(log), shared(log_of(tmp_path / "b", widened))
    table, column = name.split(".")
    for each in ALL:
        rows, before = wide.rows(each.name), bare.rows(each.name)
        if each.name != table:
            assert rows == before
            continue
        assert [row[column] for row in rows] == [row[column] for row in whole.rows(each.name)]
        public = public_columns(each)
        for row in rows:
            assert {key for key, value in row.items() if value is not None} <= {*public, column}
    assert (wide.written, wide.pages, wide.target_per_l) == (bare.written, bare.pages, bare.target_per_l)


def test_the_log_is_left_as_it_was(tmp_path: Path) -> None:
    log = log_of(tmp_path, PRIVATE)
    before = repr(log)
    shared(log)
    assert repr(log) == before


@pytest.mark.parametrize(
    "change",
    [
        {"tanks/tank-1.yaml": ("date: 2026-01-20", "date: 2026-02-20")},
        {OFFER: ("offered: 2026-01-20", "offered: 2026-02-20")},
        {"prices/diesel.yaml": ("date: 2026-01-01", "date: 2026-02-20")},
        {OIL: ("paid:", "losses: [{date: 2026-02-20, volume: 1 L}]\npaid:")},
    ],
)
def test_a_private_date_does_not_show_as_the_day_of_the_shared_site(tmp_path: Path, change: Changes) -> None:
    assert shared(log_of(tmp_path / "a", change)).as_of == shared(log_of(tmp_path / "b")).as_of
