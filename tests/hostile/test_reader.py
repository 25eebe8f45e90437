"""Hostile texts as whole files, as values as they are typed, in cells of a spreadsheet: our own errors, or the text."""

from __future__ import annotations

import csv
import io

from generator.problems import rules
from generator.read.document import Reading, parse
from generator.read.text import decoded, odd_character
from generator.render.exports import SKIPPED, STARTS, csv_bytes
from generator.tables import LOTS

from .books import fits, quoted
from .corpora import json_texts, needs_corpora, payloads

pytestmark = needs_corpora


def read(text: str) -> Reading:
    """As the folder's reader does."""
    whole, problems = decoded("a.yaml", text.encode("utf-8", "surrogatepass"))
    return Reading(None, problems) if problems else parse("a.yaml", whole)


def told(reading: Reading) -> None:
    """Either there is a document, or every problem has a code, a place and a remedy."""
    assert reading.document is not None or reading.problems
    for problem in reading.problems:
        assert problem.code in rules() and problem.place.line >= 1 and problem.hint


def test_each_as_a_file_and_as_a_value() -> None:
    for text in payloads():
        for file in (text, f"note: {text}\n", f"note: |\n  {text}\n", f"tests: [{{note: {text}}}]\n"):
            told(read(file))


def test_each_between_quotes_comes_back_as_it_was() -> None:
    number = 0
    for text in filter(fits, payloads()):
        found = read(f"note: {quoted(text)}\n").document
        assert found is not None and found.data == {"note": text}
        number += 1
    assert number > 5000


def test_what_cannot_be_seen_is_refused() -> None:
    refused = [text for text in payloads() if odd_character(text) is not None]
    assert len(refused) > 20
    for text in refused:
        assert read(f"note: {text}\n").document is None


def test_the_json_suite_raises_nothing() -> None:
    assert len(json_texts()) == 340
    for _, text in json_texts():
        told(read(text))


def test_no_cell_is_taken_for_a_formula() -> None:
    texts = list(filter(fits, payloads()))
    columns = {name: texts if name == "source" else [None] * len(texts) for name in LOTS.names}
    found = csv.DictReader(io.StringIO(csv_bytes(LOTS, columns).decode("utf-8"), newline=""))
    for text, row in zip(texts, found, strict=True):
        cell = row["source"]
        assert cell.lstrip(SKIPPED)[:1] not in STARTS or not cell.lstrip(SKIPPED) or cell[0] == "'"
        assert cell in (text, f"'{text}")
