"""The glossary: every label of a table has an entry of two plain sentences, and what an entry names is there."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.data import rows
from generator.methods import methods
from generator.pages import glossary
from generator.pages.glossary import Word, briefly, by_label, marks, words

PAGES = sorted((Path(__file__).resolve().parents[2] / "generator" / "pages").glob("*.py"))
LABEL_AT = {"Show": 1, "Head": 0}  # which argument of these is a label
EACH = pytest.mark.parametrize("word", words(), ids=lambda word: word.id)


def labels(path: Path) -> Iterator[str]:
    """Every label of a table's column that a module writes out."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in LABEL_AT:
            place = LABEL_AT[node.func.id]
            label = _unspoken(node.args[place]) if place < len(node.args) else None
            if isinstance(label, ast.Constant):
                yield str(label.value)


def _unspoken(node: ast.expr) -> ast.expr:
    """A text, taken out of the call that says it in the language in use."""
    said = isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("say", "term")
    return node.args[0] if said and isinstance(node, ast.Call) else node


def test_every_label_of_a_table_has_an_entry() -> None:
    found = {label: path.stem for path in PAGES for label in labels(path)}
    assert len(found) > 100, "the labels were not read"
    assert {label: page for label, page in found.items() if label not in by_label()} == {}


def test_no_label_stands_in_two_entries() -> None:
    every = [label for word in words() for label in {word.term, *word.heads}]
    assert sorted(every) == sorted(set(every))
    assert len({word.id for word in words()}) == len(words()) > 50


@EACH
def test_an_entry_is_two_plain_sentences(word: Word) -> None:
    assert len(re.findall(r"[.](?= [A-Z]|$)", word.text)) == 2
    assert word.text[0].isupper() and word.text[-1] == "."
    assert len(word.text) < 320


@EACH
def test_an_entry_gives_no_verdict(word: Word) -> None:
    assert not re.search(r"\b(safe|certified|legal|guaranteed)\b", f"{word.text} {word.caution}".casefold())


def test_methods_and_cautions_that_are_named_are_there() -> None:
    assert {word.method for word in words() if word.method} <= {method.id for method in methods()}
    named = {word.caution for word in words() if word.caution}
    assert len(named) >= 6 and named <= set(rows("cautions"))
    for dangerous in ("methanol", "catalyst", "pre-treatment", "resin", "packed", "feedstock"):
        assert next(word for word in words() if word.id == dangerous).caution


def test_a_caution_that_is_not_there_is_a_mistake() -> None:
    entry = {"term": "X", "text": "A. B.", "caution": "No such words"}
    with pytest.raises(ValueError, match="unpack"):
        glossary._whole(entry, rows("cautions"))


def test_marks_are_of_labels_that_need_one_and_each_can_be_told_briefly() -> None:
    assert marks()["Soap, feed"] == "soap" and "Date" not in marks()
    told = briefly()
    assert set(marks().values()) <= set(told)
    term, given, text = told["feedstock"]
    assert (term, given) == ("Oil", "L or kg, at the reference temperature") and text.startswith(
        "Used cooking"
    )
