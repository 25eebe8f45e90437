"""What the C parser takes and YAML does not: refused where it stands, and nothing beside it."""

from __future__ import annotations

import pytest

from generator.read.document import parse

REFUSED = [
    ("a: [b,\nc]\n", (2, 1)),
    ("a:\n  b: [c,\n  d]\n", (3, 1)),
    ("a: {b: [c,\n\td]}\n", (2, 1)),
    ('a: "b\nc"\n', (2, 1)),
    ("a: 'b\n\tc'\n", (2, 1)),
    ("- a: [b,\n  c]\n", (2, 1)),
    ("a: [b]#c\n", (1, 7)),
    ("a: [b,#c\n  d]\n", (1, 7)),
    ('a: "b"#c\n', (1, 7)),
    ("a: {b: 'c'}#d\n", (1, 12)),
    ("a: |#c\n  d\n", (1, 5)),
    ("a: >-#c\n  d\n", (1, 6)),
    ("a: [-]\n", (1, 5)),
    ("a: [b, -, c]\n", (1, 8)),
    ("a: {b: -}\n", (1, 8)),
    ("a: {?b: c}\n", (1, 5)),
    ("a: [?b]\n", (1, 5)),
    ('a: [?"b"]\n', (1, 5)),
    ("a: >\n \n   \n # b\n", (4, 2)),
]
READ = [
    ("a: [b,\n c]\n", {"a": ["b", "c"]}),
    ("a: {\n  b: c\n}\n", {"a": {"b": "c"}}),
    ("a: [\n  b,\n# c\n  d\n]\n", {"a": ["b", "d"]}),
    ("a:\n- [b,\n c]\n", {"a": [["b", "c"]]}),
    ("[a,\nb]\n", ["a", "b"]),
    ('a: "b\n\n  c"\n', {"a": "b\nc"}),
    ("a: b#c\n", {"a": "b#c"}),
    ("a: [b#c, '#', \"#\"] # d\n", {"a": ["b#c", "#", "#"]}),
    ("a: [b] # c#d\n", {"a": ["b"]}),
    ("a: | # b\n  c\n", {"a": "c\n"}),
    ("a: |\n  #b\n", {"a": "#b\n"}),
    ("a: >\n\nb: c\n", {"a": "", "b": "c"}),
    ("a: >\n  \n# b\nc: d\n", {"a": "", "c": "d"}),
    ("a: [-b, b-, '-']\n", {"a": ["-b", "b-", "-"]}),
    ("a: [b,\r\n c]\r\n", {"a": ["b", "c"]}),
]


@pytest.mark.parametrize(("text", "place"), REFUSED)
def test_refused_in_its_place(text: str, place: tuple[int, int]) -> None:
    found = parse("a.yaml", text)
    assert found.document is None
    assert [(problem.code, problem.place.line, problem.place.column) for problem in found.problems] == [
        ("yaml-syntax", *place)
    ]
    assert found.problems[0].hint


@pytest.mark.parametrize(("text", "data"), READ)
def test_read_as_it_stands(text: str, data: object) -> None:
    found = parse("a.yaml", text)
    assert found.problems == []
    assert found.document is not None and found.document.data == data


def test_lines_before_the_document_are_counted() -> None:
    assert parse("a.md", "a: [b]#c\n", 3).problems[0].place.line == 4
