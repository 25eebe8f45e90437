"""Maps that are proposed: what is told of a sheet, what is left open, and that a filled-in one can be used."""

from __future__ import annotations

import pytest

from generator.exchange.guessing import guesses
from generator.exchange.mapping import read_map
from generator.exchange.suggesting import Known
from generator.read.document import parse

from .sheets import CONTEXT, suggested

FULL = [
    ["Records of the shed"],
    [],
    ["No", "Date", "Oil [L]", "oil temp °C", "Titration 1 mL", "Titration 2 mL", "Blank", "NaOH g", "MeOH, L", "Smell", "FFA %", "Tank", "Oil kg", "remarks"],
    ["1", "03/04/2025", "190", "20", "2.4", "2.5", "0.1 mL", "900", "40", "fine", "1.2", "tank-1", "", ""],
    ["2", "05/04/2025", "180.5", "-", "2.45", "", "0.1 mL", "900", "38", "", "", "", "", "two\nlines # 1"],
    ["Total", "", "370.5"],
]  # fmt: skip


def value_of(text: str, key: str) -> str:
    """The value of a line at the left edge of a map."""
    (line,) = [line for line in text.split("\n") if line.startswith(f"{key}:")]
    return line.split(": ", 1)[1].split("  #")[0]


def test_a_table_is_understood_and_every_guess_has_its_reason() -> None:
    text = suggested(FULL)
    data = parse("map.yaml", text).document.data  # type: ignore[union-attr]
    assert {column["column"]: (column["key"], column.get("unit")) for column in data["columns"]} == {
        "No": ("batch", None),
        "Date": ("date", None),
        "Oil [L]": ("oil.0.volume", "L"),
        "oil temp °C": ("oil.0.volume.at", "°C"),
        "Titration 1 mL": ("titration.readings.0", "mL"),
        "Titration 2 mL": ("titration.readings.1", "mL"),
        "Blank": ("titration.blank", None),
        "NaOH g": ("reaction.0.catalyst.0.mass", "g"),
        "MeOH, L": ("reaction.0.methanol.0.volume", "L"),
        "FFA %": ("?", None),
        "Tank": ("fuel.tank", None),
        "Oil kg": ("?", "kg"),
        "remarks": ("note", None),
    }
    assert (data["header"], data["first"], data["skip"], data["unknown"]) == ("3", "4", ["Total"], ["-"])
    assert data["decimal"] == "point" and data["dates"] == "?"
    assert "# - {column: Smell, key: note.line}  # first values: fine" in text
    assert "first values: 190 · 180.5" in text and "two lines # 1" in text
    assert "03/04/2025 can be both" in text


@pytest.mark.parametrize(
    ("dates", "order"),
    [
        (["12/03/2026", "01/02/2026"], '"?"'),
        (["12/03/2026", "25/03/2026"], "day-month-year"),
        (["12/03/2026", "03/25/2026"], "month-day-year"),
        (["25/03/2026", "03/25/2026"], '"?"'),
        (["3.4.26", "4.4.26"], '"?"'),
        (["2026/3/4", "2026/3/5"], "year-month-day"),
    ],
    ids=str,
)
def test_the_order_of_dates_is_never_guessed(dates: list[str], order: str) -> None:
    assert (
        value_of(
            suggested([["Batch", "Date"], *([str(number), day] for number, day in enumerate(dates))]), "dates"
        )
        == order
    )


@pytest.mark.parametrize(
    ("cells", "decimal", "thousands"),
    [
        (["1,5", "2,25"], "comma", None),
        (["1.5", "1,234"], "point", '"?"'),
        (["1,234", "2,345"], '"?"', None),
        (["1,5", "1.234"], "comma", '"?"'),
        (["1.5", "2"], "point", None),
    ],
    ids=str,
)
def test_a_comma_that_can_part_thousands_is_asked_about(
    cells: list[str], decimal: str, thousands: str | None
) -> None:
    text = suggested([["Batch", "Oil (L)"], *([str(number), cell] for number, cell in enumerate(cells))])
    assert value_of(text, "decimal") == decimal
    assert (value_of(text, "thousands") if "\nthousands:" in text else None) == thousands


def test_units_in_a_row_of_their_own() -> None:
    text = suggested(
        [["Batch", "Date", "Oil", "KOH"], ["", "", "(L)", "g"], ["a", "2026-03-04", "100", "900"]]
    )
    assert value_of(text, "first") == "3"
    assert (
        "{column: Oil, key: oil.0.volume, unit: L}" in text
        and "{column: KOH, key: reaction.0.catalyst.0.mass, unit: g}" in text
    )


def test_two_titrations_in_one_cell() -> None:
    for cell, sign in (("2.4 / 2.5", "/"), ("2.4; 2.5", ";"), ("2.4\n2.5", "line"), ("2.4 2.5", "blank")):
        text = suggested([["Batch", "Titration mL"], ["1", cell], ["2", "2.3"]])
        column = parse("map.yaml", text).document.data["columns"][1]  # type: ignore[union-attr]
        assert (column["key"], column["parts"]) == ("titration.readings", sign)


def test_numbers_that_come_again_each_year_get_the_year() -> None:
    rows = [["Batch", "Date"], ["1", "2025-03-04"], ["2", "2025-04-04"], ["1", "2026-03-04"]]
    assert value_of(suggested(rows), "id") == '"{year}-{Batch:3}"'
    assert value_of(suggested(rows[:3]), "id") == '"{Batch}"'


def test_headings_that_are_alike_are_told_apart_and_empty_ones_named() -> None:
    text = suggested([["Batch", "mL", "mL", ""], ["1", "2", "3", "4"]])
    for name in ("mL", "mL (2)", "column D"):
        assert f"# - {{column: {name}, key: note.line}}" in text


def test_lots_are_known_by_their_headings() -> None:
    text = suggested(
        [
            ["Lot", "Received", "Supplier", "Quantity (L)", "Price (€/L)", "Freight (€)"],
            ["o1", "2026-03-04", "x", "400", "0.38", "12"],
        ]
    )
    assert value_of(text, "import") == "lots"
    assert "key: paid, unit: EUR/L}" in text and "key: freight, unit: EUR}" in text
    assert '\n  material: "?"' in text


@pytest.mark.parametrize(
    ("heading", "currency", "unit"),
    [
        ("Price (€/L)", "GBP", "?"),
        ("Price $/L", "CAD", "CAD/L"),
        ("Price", "EUR", "?"),
        ("price eur/kg", "EUR", "EUR/kg"),
    ],
)
def test_a_sign_of_another_currency_is_asked_about(heading: str, currency: str, unit: str) -> None:
    (guess,) = guesses("lots", [heading], [""], currency)
    assert (guess.key, guess.unit) == ("paid", unit)


@pytest.mark.parametrize(
    "heading",
    ["Methanol price", "Oil drained off (L)", "Yield %", "Oil (kg/L)", "Pump", "Batch of oil dried"],
)
def test_what_is_far_fetched_is_left(heading: str) -> None:
    assert guesses("batches", [heading], [""], "EUR")[0].key == ""


def test_a_cell_cannot_end_a_comment_or_begin_a_key() -> None:
    text = suggested([["Batch", "evil\nimport: lots", "No: 1 #x"], ["1", "a\r\nid: x\u2028b", "\x1b[31mred"]])
    data = parse("map.yaml", text).document.data  # type: ignore[union-attr]
    assert data["import"] == "batches" and "\x1b" not in text and "\u2028" not in text


def test_the_ids_of_the_logbook_are_named_where_one_is_asked_for() -> None:
    text = suggested([["Batch", "Oil (L)"], ["1", "2"]], Known("EUR", {"oil.lot": ["oil-1", "oil-2"]}))
    assert 'oil.0.lot: "?"  # the lot that the oil came from; here are oil-1, oil-2' in text


def test_a_proposal_filled_in_is_a_map() -> None:
    text = (
        suggested(FULL).replace('dates: "?"', "dates: day-month-year").replace('key: "?"', "key: note.line")
    )
    text = text.replace(', unit: "?"', "").replace("unit: kg", "")
    fill = {
        "oil.0.lot": "oil-1",
        "strength": "1 g/L",
        "of": "NaOH",
        "pure": "true",
        "sample": "1 mL",
        "catalyst.0.lot": "lye",
        "methanol.0.lot": "meoh",
    }
    for key, value in fill.items():
        text = text.replace(f'{key}: "?"', f"{key}: {value}")
    found, problems, troubles = read_map("map.yaml", text.encode(), CONTEXT)
    assert found is not None, (problems, troubles)


def test_german_headings_are_known() -> None:
    head = ["Charge", "Datum", "Öl (L)", "Öl-Temp", "Methanol (L)", "Treibstoff (L)", "Bemerkung"]
    text = suggested([head, ["1", "17.05.2025", "100", "20", "20", "95", "gut"]])
    data = parse("map.yaml", text).document.data  # type: ignore[union-attr]
    assert {column["column"]: (column["key"], column.get("unit")) for column in data["columns"]} == {
        "Charge": ("batch", None),
        "Datum": ("date", None),
        "Öl (L)": ("oil.0.volume", "L"),
        "Öl-Temp": ("oil.0.volume.at", "?"),
        "Methanol (L)": ("reaction.0.methanol.0.volume", "L"),
        "Treibstoff (L)": ("fuel.volume", "L"),
        "Bemerkung": ("note", None),
    }
    lots = guesses("lots", ["Lieferant", "Lieferdatum", "Menge (L)", "Preis €/L"], [""] * 4, "EUR")
    assert [guess.key for guess in lots] == ["source", "received", "quantity", "paid"]


def test_columns_without_which_no_row_can_be_used_are_asked_for() -> None:
    text = suggested([["Batch", "Methanol (L)", "Fuel (L)"], ["1", "20", "95"]])
    assert '  - {column: "?", key: date}\n' in text
    assert '  - {column: "?", key: oil.0.volume, unit: "?"}\n' in text
    assert '\n  oil.0.lot: "?"' in text
    assert 'column: "?"' not in suggested([["Batch", "Date", "Oil (kg)"], ["1", "2026-01-02", "95"]])
