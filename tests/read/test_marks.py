"""Every key and value keeps its line and column, and everything is text."""

from __future__ import annotations

import pytest

from generator.problems import Place
from generator.read.document import Document, parse
from generator.read.marks import Mark

TEXT = """\
# a comment first
batch: b1
oil:
  - {lot: oil-1, volume: 100 L}
  -   lot: "oil-2"
      volume: 20 L
note: |
  two
  lines
größe: 12 °C
"""


@pytest.fixture
def document() -> Document:
    found = parse("batches/b1.yaml", TEXT)
    assert found.problems == []
    assert found.document is not None
    return found.document


@pytest.mark.parametrize(
    ("path", "mark"),
    [
        ((), Mark(2, 1, 2, 1)),
        (("batch",), Mark(2, 1, 2, 8)),
        (("oil",), Mark(3, 1, 4, 3)),
        (("oil", 0), Mark(4, 5, 4, 5)),
        (("oil", 0, "lot"), Mark(4, 6, 4, 11)),
        (("oil", 0, "volume"), Mark(4, 18, 4, 26)),
        (("oil", 1), Mark(5, 7, 5, 7)),
        (("oil", 1, "lot"), Mark(5, 7, 5, 12)),
        (("oil", 1, "volume"), Mark(6, 7, 6, 15)),
        (("note",), Mark(7, 1, 7, 7)),
        (("größe",), Mark(10, 1, 10, 8)),
    ],
)
def test_line_and_column_of_key_and_value(
    document: Document, path: tuple[str | int, ...], mark: Mark
) -> None:
    assert document.marks[path] == mark


def test_columns_count_characters_not_bytes(document: Document) -> None:
    assert document.place("größe") == Place("batches/b1.yaml", 10, 8)


def test_every_path_has_a_mark_and_no_other(document: Document) -> None:
    assert len(document.marks) == 1 + 4 + 2 + 4


def test_no_place_is_looked_up_before_it_is_asked_for(document: Document) -> None:
    found = document.place("oil", 1, "volume")
    assert "_at" not in vars(document.marks)
    assert (found.line, found.column) == (6, 15)
    assert "_at" in vars(document.marks)


def test_what_is_absent_is_placed_at_its_nearest_parent(document: Document) -> None:
    assert document.place("oil", 1, "mass") == Place("batches/b1.yaml", 5, 7)
    assert document.place("absent", "deeper") == Place("batches/b1.yaml", 2, 1)


def test_a_key_is_placed_apart_from_its_value(document: Document) -> None:
    assert document.place("oil", 0, "volume", key=True) == Place("batches/b1.yaml", 4, 18)


def test_lines_above_the_document_count() -> None:
    found = parse("pages/a.md", "title: A\n", offset=1)
    assert found.document is not None
    assert found.document.place("title") == Place("pages/a.md", 2, 8)
    broken = parse("pages/a.md", "title: A\ntitle: B\n", offset=1)
    assert [problem.place for problem in broken.problems] == [Place("pages/a.md", 3, 1)]
    assert broken.problems[0].related == (Place("pages/a.md", 2, 1),)


@pytest.mark.parametrize(
    "text", ["no", "010", "12:30", "1e3", ".nan", "~", "null", "2026-01-02", "0x1F", "1_000", "true"]
)
def test_a_scalar_is_the_text_that_was_written(text: str) -> None:
    found = parse("a.yaml", f"key: {text}\nlist: [{text.replace(':', '.')}]\n").document
    assert found is not None
    assert found.data == {"key": text, "list": [text.replace(":", ".")]}


@pytest.mark.parametrize("text", ["", "# a comment alone\n", "\n"])
def test_in_a_file_without_a_value_a_place_is_its_beginning(text: str) -> None:
    found = parse("empty.yaml", text).document
    assert found is not None
    assert found.place("columns", 0) == found.place(key=True) == Place("empty.yaml", 1, 1)
