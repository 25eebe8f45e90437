"""Scalars that YAML would turn into something else: each gets its code at its line and column, or stays text."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.problems import Place
from tests.logbook_files import log_of, told

OIL = "lots/oil-1.yaml"
BACK = "lots/meoh-back.yaml"
VALUES = {
    "received": (OIL, 3, "2026-01-02"),
    "quantity": (OIL, 4, "300 L at 15 °C"),
    "paid": (OIL, 5, "0.40 EUR/L"),
    "lot": (OIL, 1, "oil-1"),
    "recovered": (BACK, 4, "true"),
}
TABLE = [
    ("received", "2025-02-30", "bad-date"),
    ("received", "2026-1-2", "bad-date"),
    ("received", "2026-13-01", "bad-date"),
    ("received", "20260102", "bad-date"),
    ("received", "02/01/2026", "bad-date"),
    ("received", "2026-01-02T09:00", "bad-date"),
    ("received", "2026-01-02Z", "bad-date"),
    ("received", "0001-01-01", "bad-date"),
    ("received", "1979-12-31", "bad-date"),
    ("received", "2200-01-01", "bad-date"),
    ("received", "２０２６-01-02", "bad-date"),
    ("received", "today", "bad-date"),
    ("received", "~", "bad-date"),
    ("received", "null", "bad-date"),
    ("received", "''", "empty-value"),
    ("quantity", "no", "quantity-number"),
    ("quantity", "010 L", "quantity-number"),
    ("quantity", "00 L", "quantity-number"),
    ("quantity", "1:30", "quantity-unit"),
    ("quantity", "1e400 L", "quantity-number"),
    ("quantity", "1e3 L", "quantity-number"),
    ("quantity", ".nan", "quantity-number"),
    ("quantity", "nan L", "quantity-number"),
    ("quantity", ".inf L", "quantity-number"),
    ("quantity", "-.inf L", "quantity-number"),
    ("quantity", "Infinity L", "quantity-number"),
    ("quantity", "1,5 L", "decimal-comma"),
    ("quantity", "1_000 L", "quantity-number"),
    ("quantity", "1'000 L", "quantity-number"),
    ("quantity", "1 000 L", "quantity-unit"),
    ("quantity", "0x1F L", "quantity-unit"),
    ("quantity", ".5 L", "quantity-number"),
    ("quantity", "5. L", "quantity-unit"),
    ("quantity", "٣ L", "quantity-number"),
    ("quantity", "−5 L", "quantity-number"),
    ("quantity", "-5 L", "out-of-range"),
    ("quantity", "1234567890123456 L", "quantity-number"),
    ("quantity", "300", "quantity-unit"),
    ("quantity", "300 l/h", "quantity-unit"),
    ("quantity", "80 gal", "quantity-gallon"),
    ("quantity", "< 300 L", "sign-unfit"),
    ("quantity", "300 kWh", "quantity-kind"),
    ("quantity", "300 L at noon", "quantity-number"),
    ("quantity", "300 L at 15", "quantity-unit"),
    ("quantity", "300 L at 15 L", "quantity-kind"),
    ("quantity", "[300 L]", "not-text"),
    ("quantity", "{}", "not-text"),
    ("paid", "0,40 EUR/L", "decimal-comma"),
    ("paid", "0.40", "price-currency"),
    ("paid", "0.40 eur/L", "price-currency"),
    ("paid", "$0.40", "price-currency"),
    ("paid", ".nan EUR", "quantity-number"),
    ("paid", "1e400 EUR", "quantity-number"),
    ("paid", "-1.00 EUR", "out-of-range"),
    ("paid", "0.40 EUR/", "quantity-number"),
    ("lot", "../../oil", "bad-id"),
    ("lot", "oil 1", "bad-id"),
    ("lot", "оil-1", "bad-id"),
    ("lot", "-oil", "bad-id"),
    ("lot", "NUL", "bad-id"),
    ("lot", "index", "bad-id"),
    ("lot", "a" * 65, "bad-id"),
    ("recovered", "yes", "not-a-choice"),
    ("recovered", "on", "not-a-choice"),
    ("recovered", "True", "not-a-choice"),
    ("recovered", "1", "not-a-choice"),
]


def test_the_table_is_long_enough() -> None:
    assert len(TABLE) >= 40


@pytest.mark.parametrize(("key", "written", "code"), TABLE)
def test_each_has_its_code_at_its_place(tmp_path: Path, key: str, written: str, code: str) -> None:
    file, line, good = VALUES[key]
    problems = told(tmp_path, {file: (f"{key}: {good}", f"{key}: {written}")})
    own = [problem for problem in problems if problem.code != "unknown-id"]
    assert [(problem.code, problem.place) for problem in own] == [(code, Place(file, line, len(key) + 3))]


@pytest.mark.parametrize(
    "written", ["no", "010", "1:30", "1e400", ".nan", "1,5", "1_000", "2025-02-30", "~", "null", "0x1F"]
)
def test_as_free_text_each_stays_what_was_written(tmp_path: Path, written: str) -> None:
    log = log_of(tmp_path, {OIL: ("paid:", f"source: {written}\npaid:")})
    assert log.lots["oil-1"].record.source == written


def test_ids_of_sixty_four_characters_are_taken(tmp_path: Path) -> None:
    name = "a" * 64
    log = log_of(
        tmp_path,
        {
            "lots/new.yaml": f"lot: {name}\nmaterial: chips\nreceived: 2026-01-02\nquantity: 1 kg\npaid: 0 EUR\n"
        },
    )
    assert name in log.lots
