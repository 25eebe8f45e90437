"""Files that LibreOffice wrote: both are understood, and say the same."""

from __future__ import annotations

from pathlib import Path

from generator.exchange.files import best_sheet, read_sheet
from generator.exchange.importing import Plan, planned
from generator.exchange.mapping import read_map
from generator.exchange.suggesting import suggestion

from .sheets import CONTEXT, KNOWN, NOTHING

FILES = Path(__file__).parent / "libreoffice"
FILLED = {
    "oil.0.lot": "oil-1",
    "titration.titrant.strength": "1.00 g/L",
    "titration.titrant.of": "KOH",
    "titration.titrant.pure": "true",
    "titration.sample": "1.0 mL",
    "reaction.0.catalyst.0.lot": "koh-1",
    "reaction.0.methanol.0.lot": "meoh-1",
}
FIRST = """batch: 1
date: 2025-03-04
oil:
  - {lot: oil-1, volume: 100 L at 21.5 °C}
titration:
  titrant: {strength: 1.00 g/L, of: KOH, pure: true}
  sample: 1.0 mL
  blank: 0.1 mL
  readings: [2.4 mL, 2.5 mL]
reaction:
  - catalyst:
      - {lot: koh-1, mass: 935 g}
    methanol:
      - {lot: meoh-1, volume: 20 L}
fuel: {volume: 96.5 L}
note: |
  first one,
  clear at once
  Yield %: 96.5 %
  Start: 2025-03-05T09:10
"""


def proposal(name: str) -> str:
    sheet, form = best_sheet(name, (FILES / name).read_bytes(), "", "EUR")
    return suggestion(name, sheet, form, KNOWN, values=True)


def imported(name: str) -> Plan:
    """The file by the map that is proposed for it, filled in as a person would, the run through the columns left open."""
    text = proposal(name).replace("  # - {column: Yield", "  - {column: Yield")
    for key, value in FILLED.items():
        assert f'  {key}: "?"' in text
        text = text.replace(f'  {key}: "?"', f"  {key}: {value}")
    text = "\n".join(line for line in text.split("\n") if not line.startswith("  polish.0."))
    mapping, problems, troubles = read_map("map.yaml", text.encode(), CONTEXT)
    assert mapping is not None, (problems, troubles)
    return planned(read_sheet(name, (FILES / name).read_bytes(), mapping.settings), mapping, NOTHING, CONTEXT)


def test_a_workbook_of_its_own_hand() -> None:
    plan = imported("batches.xlsx")
    assert plan.troubles == []
    assert [each.file for each in plan.written] == [f"batches/2025/{number}.yaml" for number in (1, 2, 3)]
    assert plan.written[0].text == FIRST
    assert plan.remarks[:2] == [
        "10 cells hold formulas: the values that were saved are taken, nothing is computed",
        "some cells are merged; a merged cell holds for its first row, unless the map says 'merged: same' of its column",
    ]
    assert "row 8: says 'Total' and is passed over" in plan.remarks


def test_text_of_its_own_hand_says_the_same() -> None:
    workbook, text = imported("batches.xlsx"), imported("batches.csv")
    assert text.troubles == []
    shown = [
        each.text.replace("05.03.2025 09:10:00", "2025-03-05T09:10").replace(
            "02.04.2025 14:05:00", "2025-04-02T14:05"
        )
        for each in text.written
    ]
    assert [
        each.replace("96,5%", "96.5 %").replace("95,9183673469388%", "95.9183673469388 %") for each in shown
    ] == [each.text for each in workbook.written]


def test_a_hidden_sheet_is_named_and_not_taken() -> None:
    assert "sheet: Batches\n" in proposal("batches.xlsx")
    assert "# other sheets, shown or hidden, are not looked at: 'Old'" in proposal("batches.xlsx")
