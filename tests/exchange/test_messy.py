"""Three sheets as makers have them, each with the map that is proposed, and what comes of it when that is filled in."""

from __future__ import annotations

import io
import re
from datetime import date

from openpyxl import Workbook

from generator.exchange.files import best_sheet, read_sheet
from generator.exchange.importing import Plan, planned
from generator.exchange.mapping import read_map
from generator.exchange.suggesting import suggestion

from .sheets import CONTEXT, KNOWN, NOTHING, told

BY_HAND = """BIODIESEL LOG - shed;;;;;;;;;;\r
updated by hand;;;;;;;;;;\r
#;Datum / date;WVO litres;Titr.;KOH;MeOH;out;lost;T;price oil;remarks\r
;;L;ml;gr;l;L;L;C;€/l;\r
1;3.4.26;190 l;2,4/2,5;1,92 kg;41;~180;10;55;0,38;"first wash ok\r
\r
second not"\r
2;10.4.26;190;2,4 + 2,5 + 2,4;1.920;41,5;182;;55-60;0,38;-\r
3; 17.4.26 ;ca 150;3;1500;33;?;;55;-;"=SUM(1)"\r
;;;;;;;;;;\r
4;24.4;210,0;"2,1; 2,2";1.750,0;45;200;;;free;\r
Summe;;740;;6670;160;;;;;\r
Total:;;740;;6670;160,5;;;;;\r
;;;;;;;;;;checked 1.5.\r
"""
IN_GALLONS = """Batch #,Date made,Oil in (gal),Titration (ml NaOH),NaOH (g),Methanol (gal),Biodiesel yield (gal),Glycerin (gal),Soap PPM,3/27 test,Comments
B-1,3/4/2025,50,2.1,"1,450",10,48,9.5,<50,pass,"Oil from ""the corner"", smelled"
B-2,3/18/2025,50,2.3,"1,500",10,47.5,9,85,pass,
B-3,4/1/2025,50,2.3,1500,10,,,n/a,FAIL - redo,see B-3b
B-3b,4/2/2025,,,150,2,47,9,60,pass,second reaction
b-2,4/15/2025,50,2.2,1475,10,48,9,55,pass,
Average,,50,2.2,1490,10,47.6,9.1,62,,
"""
FILLED = {
    "oil.0.lot": "oil-1",
    "titration.titrant.strength": "1 g/L",
    "titration.titrant.of": "KOH",
    "titration.titrant.pure": "true",
    "titration.sample": "1 mL",
    "titration.blank": "0.1 mL",
    "reaction.0.catalyst.0.lot": "koh-1",
    "reaction.0.methanol.0.lot": "meoh-1",
    "material": "frying-oil",
}


def proposed(name: str, raw: bytes) -> str:
    sheet, form = best_sheet(name, raw, "", "EUR")
    return suggestion(name, sheet, form, KNOWN, values=True)


def imported(name: str, raw: bytes, **answers: str) -> Plan:
    """The sheet by its own proposal: every "?" answered, what was not placed kept in the note."""
    text = proposed(name, raw).replace("  # - {", "  - {")
    for key, value in (FILLED | answers).items():
        text = re.sub(rf'(^|\W)({re.escape(key)}): "\?"', rf"\1\2: {value}", text, flags=re.MULTILINE)
    mapping, problems, troubles = read_map("map.yaml", text.encode(), CONTEXT)
    assert mapping is not None, (text, problems, troubles)
    return planned(read_sheet(name, raw, mapping.settings), mapping, NOTHING, CONTEXT)


def test_a_sheet_kept_by_hand() -> None:
    raw = BY_HAND.encode("windows-1252")
    text = proposed("a.csv", raw)
    for line in (
        "encoding: windows-1252  # not UTF-8; so read, it says €/l: if that looks wrong, try mac-roman or iso-8859-15",
        "first: 5  # first row that is a record; a row of units stands between",
        "thousands: point  # 1.750,0 can be nothing else",
        "dates: day-month-year  # 17.4.26 can be nothing else",
        'year: "?"  # the year of dates without one, such as 24.4',
        'skip: [Summe, "Total:"]  # a row with such a cell is no record; seen in A10, A11',
        "  - {column: Titr., key: titration.readings, unit: mL, parts: /+;}",
    ):
        assert line in text.split("\n")
    plan = imported("a.csv", raw, year="2026")
    assert told(plan) == [
        ("row 7, column C 'WVO litres'", "'ca 150' is not a number with a unit"),
        ("row 12", "it has no id, as one of '#' is empty"),
    ]
    assert plan.remarks == [
        "row 10: says 'Summe' and is passed over",
        "row 11: says 'Total:' and is passed over",
    ]
    first, second, fourth = plan.written
    assert first.text.split("note: |\n")[1] == (
        "  first wash ok\n\n  second not\n  out: ~180\n  lost: 10\n  T: 55\n  price oil: 0,38\n"
    )
    assert "mass: 1.92 kg" in first.text and "readings: [2.4 mL, 2.5 mL]" in first.text
    assert "mass: 1920 g" in second.text and "readings: [2.4 mL, 2.5 mL, 2.4 mL]" in second.text
    assert "mass: 1750.0 g" in fourth.text and "date: 2026-04-24" in fourth.text


def test_a_sheet_in_gallons_with_the_month_first() -> None:
    raw = IN_GALLONS.encode()
    text = proposed("b.csv", raw)
    assert text.count("which gallon, US gal or imp gal?") == 4
    assert 'thousands: "?"  # comma if 1,450 is 1450' in text
    plan = imported("b.csv", raw, unit="US gal", thousands="comma")
    assert told(plan) == [("row 5", "'oil' is missing"), ("row 6", "its id 'b-2' is that of row 3 too")]
    assert [each.file for each in plan.written] == [f"batches/2025/B-{number}.yaml" for number in (1, 2, 3)]
    assert (
        "{property: soap, value: < 50 ppm}" in plan.written[0].text and "mass: 1450 g" in plan.written[0].text
    )
    assert "fuel" not in plan.written[2].text and "tests" not in plan.written[2].text
    assert "3/27 test: FAIL - redo" in plan.written[2].text


def test_a_workbook_of_oil_that_was_bought() -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        ["Oil bought"],
        ["Lot", "Received", "Supplier", "Quantity", "Price", "Freight €", "Water ppm", "Titration"],
        ["oil 1", date(2026, 1, 3), "corner café", 410, "0,38 €", "12,-", 800, "2.5 / 2.4"],
        ["oil 2", 46040, "school", 300, 0.4, None, "<500", 2.6],
        ["oil 3", "12/03/2026", "harbour", "200 kg", "free", 0, "n.a.", None],
        [None, None, None, "=SUM(D3:D5)"],
    ):
        sheet.append(row)
    for number in (3, 4):
        sheet.cell(number, 4).number_format, sheet.cell(number, 5).number_format = '0" L"', '#,##0.00 "€"'
    out = io.BytesIO()
    book.save(out)
    text = proposed("c.xlsx", out.getvalue())
    assert 'dates: "?"  # day-month-year or month-day-year: 12/03/2026 can be both' in text
    assert "  - {column: Quantity, key: quantity}\n" in text
    plan = imported("c.xlsx", out.getvalue(), dates="day-month-year", unit="EUR/L", key="note.line")
    assert told(plan) == [
        ("row 3, column F 'Freight €'", "'12,-' is not a price"),
        ("row 5, column E 'Price'", "'free' is not a price"),
    ]
    assert "row 6: holds nothing but formulas and is passed over" in plan.remarks
    (second,) = plan.written
    assert second.text == (
        "lot: oil-2\nmaterial: frying-oil\nreceived: 2026-01-18\nsource: school\nquantity: 300 L\npaid: 0.4 EUR/L\n"
        'tests:\n  - {property: water, value: < 500 ppm}\nnote: "Titration: 2.6"\n'
    )
