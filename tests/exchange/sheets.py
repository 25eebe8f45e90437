"""Sheets and maps for the tests: made by the csv module, read by the tool."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from typing import Any

from generator.exchange.delimited import form_of, read_csv
from generator.exchange.importing import Existing, Plan, planned
from generator.exchange.laying import csv_bytes as laid_csv
from generator.exchange.laying import laid
from generator.exchange.mapping import Map, Trouble, read_map
from generator.exchange.sheet import Sheet
from generator.exchange.suggesting import Known, suggestion
from generator.read.document import parse

CONTEXT = {"gallon": "none", "currency": "EUR"}
NOTHING = Existing({}, frozenset())
KNOWN = Known("EUR", {})

MAP = """
import: batches
id: "{Batch}"
columns:
  - {column: Batch, key: batch}
  - {column: Date, key: date}
  - {column: Oil (L), key: oil.0.volume, unit: L}
  - {column: Oil °C, key: oil.0.volume.at, unit: °C}
  - {column: Titration (mL), key: titration.readings, unit: mL, parts: /}
  - {column: KOH (g), key: reaction.0.catalyst.0.mass, unit: g}
  - {column: Methanol (L), key: reaction.0.methanol.0.volume, unit: L}
  - {column: Soap (ppm), key: tests.0.value, unit: mg/kg}
  - {column: Fuel (L), key: fuel.volume, unit: L}
  - {column: Colour, key: note.line}
  - {column: Notes, key: note}
always:
  oil.0.lot: oil-1
  titration.titrant.strength: 1 g/L
  titration.titrant.of: KOH
  titration.titrant.pure: true
  titration.sample: 1 mL
  titration.blank: 0.1 mL
  reaction.0.catalyst.0.lot: koh-1
  reaction.0.methanol.0.lot: meoh-1
  tests.0.property: soap
"""
HEADINGS = [
    *(
        "Batch",
        "Date",
        "Oil (L)",
        "Oil °C",
        "Titration (mL)",
        "KOH (g)",
        "Methanol (L)",
        "Soap (ppm)",
        "Fuel (L)",
    ),
    *("Colour", "Notes"),
]


def row(**cells: str) -> list[str]:
    """A row of the map above; what is not said is empty. `_` stands for a blank or bracket in a heading."""
    known = {
        heading.split(" ")[0].casefold() + ("_c" if "°C" in heading else ""): heading for heading in HEADINGS
    }
    said = {known[key]: text for key, text in cells.items()}
    return [said.get(heading, "") for heading in HEADINGS]


def csv_bytes(rows: Sequence[Sequence[str]], encoding: str = "utf-8", **dialect: Any) -> bytes:
    """The rows as the csv module writes them."""
    out = io.StringIO(newline="")
    csv.writer(out, **dialect).writerows(rows)
    return out.getvalue().encode(encoding)


def sheet_of(rows: Sequence[Sequence[str]]) -> Sheet:
    """The rows, written and read again."""
    raw = csv_bytes(rows)
    return read_csv("t.csv", raw, form_of(raw))


def map_of(text: str = MAP) -> Map:
    """A map that is right."""
    found, problems, troubles = read_map("map.yaml", text.encode(), CONTEXT)
    assert found is not None, (problems, troubles)
    return found


def refused(text: str) -> list[Trouble]:
    """What is wrong with a map."""
    found, problems, troubles = read_map("map.yaml", text.encode(), CONTEXT)
    assert found is None and not problems, problems
    return troubles


def plan_of(*rows: Sequence[str], text: str = MAP, there: Existing = NOTHING) -> Plan:
    """What an import of some rows below the headings would do."""
    return planned(sheet_of([HEADINGS, *rows]), map_of(text), there, CONTEXT)


def told(plan: Plan) -> list[tuple[str, str]]:
    """Where the troubles of a plan are, and what they say."""
    return [(trouble.where, trouble.message) for trouble in plan.troubles]


def written(plan: Plan) -> dict[str, Any]:
    """The data of the one file that a plan would write."""
    (only,) = plan.written
    reading = parse(only.file, only.text)
    assert reading.document is not None and not reading.problems
    found: dict[str, Any] = reading.document.data
    return found


def there_of(plan: Plan) -> Existing:
    """The logbook when a plan was carried out."""
    data: dict[str, tuple[str, Mapping[str, Any]]] = {}
    for each in plan.written:
        document = parse(each.file, each.text).document
        assert document is not None
        data[document.data["batch"].casefold()] = (each.file, document.data)
    return Existing(data, frozenset(each.file.casefold() for each in plan.written))


def exported(plan: Plan, mapping: Map) -> bytes:
    """What a plan would write, exported again by its map."""
    return laid_csv(mapping, laid(mapping, [data for _, data in there_of(plan).records.values()], "none"))


def suggested(rows: Sequence[Sequence[str]], known: Known = KNOWN) -> str:
    """The map proposed for some rows."""
    raw = csv_bytes(rows)
    form = form_of(raw)
    return suggestion("t.csv", read_csv("t.csv", raw, form), form, known, values=True)
