"""What YAML can do and a logbook does not use is refused by name and place, before anything is built from it."""

from __future__ import annotations

import time

import pytest
from ruamel.yaml.cyaml import CParser  # type: ignore[attr-defined]

from generator.fixing import mended
from generator.problems import Place
from generator.read.document import MAX_DEPTH, parse
from generator.read.text import decoded


def first(text: str) -> tuple[str, int, int]:
    """Code, line and column of the only problem of a text."""
    found = parse("a.yaml", text)
    assert found.document is None
    assert len(found.problems) == 1
    problem = found.problems[0]
    return problem.code, problem.place.line, problem.place.column


def test_the_parser_is_the_one_in_c() -> None:
    assert CParser is not None
    assert CParser.__module__.startswith(("_ruamel_yaml", "ruamel.yaml"))
    assert hasattr(CParser("a: b"), "get_event")


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("a: &x 1\n", (1, 4)),
        ("a: *x\n", (1, 4)),
        ("a: 1\nb: [2, &x 3]\n", (2, 8)),
        ("a: &x {b: 1}\n", (1, 4)),
        ("&x a: 1\n", (1, 1)),
        ("a: !!int 1\n", (1, 4)),
        ("a: !!python/object/apply:os.system [x]\n", (1, 4)),
        ("a: !own 1\n", (1, 4)),
        ("a: ! 1\n", (1, 4)),
        ("!!str a: 1\n", (1, 1)),
        ("a: 1\n<<: {b: 2}\n", (2, 1)),
        ("a:\n  <<: b\n", (2, 3)),
        ("? [a, b]\n: 1\n", (1, 3)),
        ("{a: 1}: 2\n", (1, 1)),
        ("a: 1\n---\nb: 2\n", (2, 1)),
        ("--- a\n--- b\n", (2, 1)),
        ("%YAML 1.1\n---\na: 1\n", (1, 1)),
    ],
)
def test_a_feature_that_is_not_used(text: str, place: tuple[int, int]) -> None:
    assert first(text) == ("yaml-feature", *place)


def test_a_tag_directive_brings_no_tag_in() -> None:
    assert first("%TAG ! tag:example.org,2000:\n---\na: !x 1\n") == ("yaml-feature", 3, 4)


@pytest.mark.parametrize("text", ["---\na: 1\n", "a: 1\n...\n", "# only\n---\na: 1\n", "\n\na: 1"])
def test_one_document_with_its_marks_is_read(text: str) -> None:
    found = parse("a.yaml", text)
    assert found.document is not None
    assert found.document.data == {"a": "1"}


@pytest.mark.parametrize("text", ["", "\n", "# nothing\n", "---\n...\n", "---\n"])
def test_nothing_is_no_mistake_of_the_syntax(text: str) -> None:
    assert parse("a.yaml", text).problems == []


def test_a_key_that_stands_twice_names_both_places() -> None:
    found = parse("a.yaml", "a: 1\nb:\n  c: 2\n  d: 3\n  c: 4\n")
    assert [(problem.code, problem.place, problem.related) for problem in found.problems] == [
        ("key-twice", Place("a.yaml", 5, 3), (Place("a.yaml", 3, 3),))
    ]


def test_keys_are_compared_as_they_are_read() -> None:
    assert first("a: 1\n'a': 2\n") == ("key-twice", 2, 1)
    assert first('a: 1\n"\\x61": 2\n') == ("key-twice", 2, 1)


def nested(levels: int) -> str:
    """Lists within lists."""
    return "[" * levels + "]" * levels + "\n"


def test_twenty_levels_are_read_and_one_more_is_refused() -> None:
    assert MAX_DEPTH == 20
    assert parse("a.yaml", nested(20)).problems == []
    assert first(nested(21)) == ("too-deep", 1, 21)
    assert first("a: " + nested(20)) == ("too-deep", 1, 23)


@pytest.mark.parametrize("text", [nested(100_000), "[" * 100_000, "- " * 50_000 + "a", "{a: " * 50_000])
def test_depth_without_end_costs_nothing(text: str) -> None:
    started = time.process_time()
    assert first(text)[0] in ("too-deep", "yaml-syntax")
    assert time.process_time() - started < 1


def test_a_thousandfold_alias_costs_nothing() -> None:
    rows = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    rows += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 10)]
    assert first("\n".join(rows)) == ("yaml-feature", 1, 5)


def test_the_number_of_entries_is_limited(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.read.document.MAX_ITEMS", 6)
    assert parse("a.yaml", "[a, b, c, d, e]\n").problems == []
    assert first("[a, b, c, d, e, f]\n") == ("file-too-large", 1, 17)


def test_a_byte_order_mark_is_passed_over() -> None:
    text, problems = decoded("a.yaml", b"\xef\xbb\xbfa: 1\n")
    assert (text, problems) == ("a: 1\n", [])


@pytest.mark.parametrize(
    ("raw", "line", "column"),
    [
        (b"a: \xe9\n", 1, 4),
        (b"a: 1\nb: 2\xff\n", 2, 5),
        (b"\xff\xfea\x00", 1, 1),
        (b"a: \xed\xa0\x80\n", 1, 4),
        (b"a: \xc0\xaf\n", 1, 4),
        (b"a: 1\nb: \xf0\x9f", 2, 4),
    ],
)
def test_bytes_that_are_no_utf8(raw: bytes, line: int, column: int) -> None:
    text, problems = decoded("a.yaml", raw)
    assert text == ""
    assert [(problem.code, problem.place) for problem in problems] == [
        ("not-utf8", Place("a.yaml", line, column))
    ]


@pytest.mark.parametrize(
    ("char", "name"),
    [
        ("\0", "a control character U+0000"),
        ("\x1b", "a control character U+001B"),
        ("\x7f", "a control character U+007F"),
        ("\x85", "a control character U+0085"),
        ("\x9b", "a control character U+009B"),
        ("\u202e", "a bidirectional mark U+202E"),
        ("\u2066", "a bidirectional mark U+2066"),
        ("\u200f", "a bidirectional mark U+200F"),
        ("\u200b", "an invisible character U+200B"),
        ("\u200d", "an invisible character U+200D"),
        ("\u2028", "an invisible character U+2028"),
        ("\ufeff", "an invisible character U+FEFF"),
        ("\uffff", "an invisible character U+FFFF"),
    ],
)
def test_characters_that_are_not_what_they_seem(char: str, name: str) -> None:
    _, problems = decoded("a.yaml", f"a: 1\nbé: x{char}y\n".encode())
    assert [(problem.code, problem.place) for problem in problems] == [
        ("odd-character", Place("a.yaml", 2, 6))
    ]
    assert problems[0].message == f"{name} stands here"


def test_a_byte_order_mark_inside_is_refused() -> None:
    _, problems = decoded("a.yaml", "\ufeffa: \ufeff1\n".encode())
    assert [problem.place for problem in problems] == [Place("a.yaml", 1, 4)]


@pytest.mark.parametrize(
    ("raw", "place", "anew"),
    [
        (b"a: 1\rb: 2\r", (1, 5), b"a: 1\nb: 2\n"),
        (b"a: 1\r\nb: 2\rc: [1,2 mL]\r\n", (2, 5), b"a: 1\r\nb: 2\nc: [1,2 mL]\r\n"),
    ],
)
def test_returns_without_a_feed_are_told_once_and_mended_at_once(
    raw: bytes, place: tuple[int, int], anew: bytes
) -> None:
    (problem,) = decoded("a.yaml", raw)[1]
    assert (problem.code, problem.place.line, problem.place.column) == ("odd-character", *place)
    assert problem.mend is not None
    assert mended(raw, [problem.mend]) == (anew, 1)


def test_ordinary_text_of_the_world_passes() -> None:
    text = "Ærøskøbing\t20 °C, 14 m³, κ, 油, Ж, “quote”, 🛢\r\n"
    assert decoded("a.yaml", text.encode()) == (text, [])


def test_no_more_than_twenty_odd_characters_are_told() -> None:
    _, problems = decoded("a.yaml", ("\0" * 50).encode())
    assert len(problems) == 20


@pytest.mark.parametrize(
    ("text", "place", "hint"),
    [
        ("a: b: c\n", (1, 5), "quotes"),
        ("a: [1, 2\nb: 3\n", (1, 4), "close it"),
        ("a: {b: 1\n", (1, 4), "close it"),
        ('a: "b\nc: d\n', (1, 4), "quote"),
        ("a: @b\n", (1, 4), "quote"),
        ("a: 1\n\tb: 2\n", (2, 1), "blanks"),
        ("a: 1\nb\nc: 2\n", (2, 1), "key: value"),
        ("a: {d: 2026-01-02T09:10}\n", (1, 21), "quotes"),
        ("a:\n   - b\n  - c\n", (3, 3), "indentation"),
    ],
)
def test_broken_syntax_is_placed_where_the_mistake_is(text: str, place: tuple[int, int], hint: str) -> None:
    assert first(text) == ("yaml-syntax", *place)
    assert hint in parse("a.yaml", text).problems[0].hint


@pytest.mark.parametrize(
    "junk", ["@", "`", "%", "\t", "- a\nb: c", "a: 'b", "]", "}", ":", "? ", "|", "a: |3\n b", "&", "*", "!"]
)
def test_junk_raises_nothing(junk: str) -> None:
    found = parse("a.yaml", junk)
    assert found.problems or found.document is not None


@pytest.mark.parametrize("earlier", ["", "batch: b1\n", "batch: b1\noil:\n  - {lot: oil-1}\n"])
def test_what_git_left_of_two_changes_is_named_where_it_begins(earlier: str) -> None:
    text = f"{earlier}<<<<<<< HEAD\nnote: ours\n=======\nnote: theirs\n>>>>>>> other\n"
    (problem,) = parse("a.yaml", text).problems
    assert (problem.code, problem.place.line, problem.place.column) == (
        "yaml-syntax",
        text[: text.index("<")].count("\n") + 1,
        1,
    )
    assert "git could not bring together" in problem.message
    assert "<<<<<<<, ======= and >>>>>>>" in problem.hint
