"""Logbooks in which every free text is one of many hostile ones; each record of a kind holds one of them in all its keys."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from generator.read.text import odd_character

# `X` is the text, `N` the number of the record
_HEAD = """format: 1
title: X
overheads: [{for: X, from: 2026-01-01, paid: 100 EUR, over: 1000 L}]
notice: X
currency: EUR
timezone: UTC
"""
_MATERIALS = """  oil-N: {kind: oil, name: X, source: X}
  koh-N: {kind: catalyst, of: KOH, purity: 90 %, name: X, source: X}
  acid-N: {kind: acid, of: H2SO4, purity: 96 %, name: X, source: X}
  meoh-N: {kind: alcohol, of: methanol, purity: 99.8 %, name: X, source: X}
  chips-N:
    kind: medium
    type: absorbent
    void: 0.7
    name: X
    source: X
    ledgers: [{of: soap, by: holding, capacity: 30 g/kg, confidence: X, source: X}]
  beads-N: {kind: medium, type: resin, void: 0.38, ledgers: [{of: soap, by: exchange, reset_by: regenerate}]}
  thing-N: {kind: other, name: X, source: X}
"""
_FILES = {
    "lots/oil-N.yaml": """lot: oil-N
material: oil-N
received: 2026-01-02
source: X
code: X
quantity: 100 L at 15 °C
paid: 20.00 EUR
losses: [{date: 2026-01-03, volume: 1 L, reason: X}]
counts: [{date: 2026-01-03, volume: 99 L, note: X}]
tests: [{date: 2026-01-03, property: water, value: 300 mg/kg, method: X, note: X}]
note: X
public_note: X
""",
    "lots/koh-N.yaml": "lot: koh-N\nmaterial: koh-N\nreceived: 2026-01-02\nquantity: 5 kg\npaid: 9.00 EUR\n",
    "lots/meoh-N.yaml": "lot: meoh-N\nmaterial: meoh-N\nreceived: 2026-01-02\nquantity: 50 L at 15 °C\npaid: 9.00 EUR\n",
    "batches/b-N.yaml": """batch: b-N
date: 2026-01-05
oil: [{lot: oil-N, volume: 90 L at 15 °C}]
water: {value: 400 mg/kg, method: X}
reaction: [{catalyst: [{lot: koh-N, mass: 0.9 kg}], methanol: [{lot: meoh-N, volume: 18 L at 15 °C}]}]
polish:
  purifier: p-N
  start: 2026-01-06T09:00
  end: 2026-01-06T11:00
  volume: 88 L at 15 °C
  acid_value: {value: 0.3 mg KOH/g, method: X}
  soap:
    - {point: feed, sample: 10 g, acid: 1.2 mL, normality: 0.01 N, blank: 0.0 mL}
    - {point: product, sample: 100 g, acid: 0.3 mL, normality: 0.01 N, blank: 0.0 mL}
fuel: {volume: 87 L at 15 °C, tank: tank-N}
tests: [{property: water, value: 310 mg/kg, method: X, note: X}]
other_costs: [{for: X, paid: 2.00 EUR}]
credits: [{for: X, amount: 1.00 EUR}]
note: X
public_note: X
""",
    "columns/p-N.yaml": """purifier: p-N
name: X
vessels: [{vessel: A, volume: 60 L}, {vessel: B, volume: 40 L}, {vessel: C, volume: 40 L}]
history:
  - {date: 2026-01-03, event: pack, vessel: A, medium: chips-N, mass: 14 kg, basis: dry, bed: 55 L, note: X}
  - {date: 2026-01-03, event: pack, vessel: B, medium: beads-N, mass: 10 kg, basis: dry, bed: 20 L}
  - {date: 2026-01-03, event: pack, vessel: C, medium: beads-N, mass: 10 kg, basis: dry, bed: 20 L}
  - {date: 2026-01-07, event: rinse, vessel: B, rinsings: X, note: X}
  - {date: 2026-01-08, event: regenerate, vessel: B, note: X}
  - {date: 2026-01-09, event: rotate, vessel: B, with: C, note: X}
  - {date: 2026-01-10, event: unload, vessel: A, reason: X, note: X}
  - {date: 2026-01-11, event: rest, until: 2026-02-01, note: X}
""",
    "tanks/tank-N.yaml": """tank: tank-N
name: X
shape: {vertical cylinder: {diameter: 80 cm, height: 120 cm}}
history:
  - {date: 2026-01-05, fill: 10 L at 15 °C, from: X, note: X}
  - {date: 2026-01-07, draw: 20 L at 15 °C, to: X, use: X, note: X}
""",
    "offers/o-N.yaml": """offer: o-N
material: oil-N
offered: 2026-01-04
source: X
quantity: 200 L at 15 °C
asked: 0.30 EUR/L
note: X
""",
}
_SERIES = "price: diesel\nsource: X\nseries: [{date: 2026-01-01, value: 1.60 EUR/L}]\n"
_PAGE = "---\ntitle: X\n---\nText.\n"
PLAIN = "plain text"


def fits(text: str) -> bool:
    """Whether the reader takes a text as a value at all: it refuses what is empty, and characters that cannot be seen."""
    return bool(text.strip()) and odd_character(text) is None


def quoted(text: str) -> str:
    """A text as YAML has it between double quotes."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\x7f")


def write(root: Path, texts: Sequence[str], without: Sequence[str] = ()) -> Path:
    """Write a logbook with one record of each kind for every text; settings, series and page hold the first.

    Of the folders in `without` only the first record is written: batches and offers are dear to compute.
    """

    def put(name: str, pattern: str, number: int) -> None:
        path = root / name.replace("-N", f"-{number:04}")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(filled(pattern, texts[number], number), encoding="utf-8")

    put("logbook.yaml", _HEAD, 0)
    put("prices/diesel.yaml", _SERIES, 0)
    put("pages/about.md", _PAGE, 0)
    rows = "".join(filled(_MATERIALS, text, number) for number, text in enumerate(texts))
    (root / "materials").mkdir()
    (root / "materials/all.yaml").write_text("materials:\n" + rows, encoding="utf-8")
    for name, pattern in _FILES.items():
        for number in range(1 if name.split("/")[0] in without else len(texts)):
            put(name, pattern, number)
    return root


def filled(pattern: str, text: str, number: int) -> str:
    """A pattern with its text and its number in it; the text comes last, as it may hold anything."""
    parts = pattern.replace("-N", f"-{number:04}").split("X")
    return quoted(text).join(parts)
