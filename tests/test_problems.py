"""How a problem is told: place, level, message, line, caret, remedy; and that nothing of the user's steers a terminal."""

from __future__ import annotations

import ast
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.data import rows
from generator.problems import Place, Problem, did_you_mean, nearest, ordered, rules, told, visible
from generator.properties import properties

GENERATOR = Path(__file__).parents[1] / "generator"


def problem(
    line: int = 0, column: int = 0, code: str = "bad-date", message: str = "m", **more: str
) -> Problem:
    """Make a problem in one file."""
    return Problem(code, Place("a.yaml", line, column), message, **more)  # type: ignore[arg-type]


def of(*lines: str) -> Callable[[str], list[str]]:
    """The lines of every file."""
    return lambda file: list(lines)


def test_a_place_is_written_as_editors_open_it() -> None:
    assert str(Place("lots/a.yaml", 3, 14)) == "lots/a.yaml:3:14"
    assert str(Place("lots/a.yaml")) == "lots/a.yaml"


def test_a_place_is_looked_up_once_and_is_the_one_that_was_known() -> None:
    times: list[int] = []

    def look_up() -> tuple[int, int]:
        times.append(1)
        return 3, 14

    found = Place.looked_up("lots/a.yaml", look_up)
    assert (found.file, times) == ("lots/a.yaml", [])
    known = Place("lots/a.yaml", 3, 14)
    assert found == known
    assert hash(found) == hash(known)
    assert repr(found) == repr(known)
    assert found != Place("lots/b.yaml", 3, 14)
    assert Place("lots/a.yaml", 3, 9) < found < Place("lots/a.yaml", 10, 1) < Place("lots/b.yaml")
    assert times == [1]


def test_the_whole_text() -> None:
    found = Problem(
        "bad-date", Place("a.yaml", 2, 7), "what was found", "what to write", (Place("b.yaml", 1, 1),)
    )
    assert told(
        found, {"a.yaml": ["batch: b1", "date: 1.2.26"], "b.yaml": ["batch: b2"]}.get, "logbook/"
    ) == "\n".join(
        [
            "logbook/a.yaml:2:7: error: what was found (bad-date)",
            "    date: 1.2.26",
            "          ^",
            "    also: logbook/b.yaml:1:1",
            "          batch: b2",
            "          ^",
            "    hint: what to write",
        ]
    )


def test_without_lines_or_with_a_place_beyond_them_the_head_stands_alone() -> None:
    assert told(problem(2, 7)) == "a.yaml:2:7: error: m (bad-date)"
    assert told(problem(9, 1), of("one")) == "a.yaml:9:1: error: m (bad-date)"
    assert told(problem(), of("one")) == "a.yaml: error: m (bad-date)"


@pytest.mark.parametrize("column", [1, 2, 49, 50, 51, 100, 150, 199, 200, 201])
def test_the_caret_stands_below_its_column_in_a_long_line(column: int) -> None:
    line = "".join(chr(33 + number % 90) for number in range(200))
    _, shown, caret = told(problem(1, column), of(line)).splitlines()
    at = caret.index("^")
    assert len(shown) <= 4 + 100
    assert shown[at : at + 1] == line[column - 1 : column]


def test_the_caret_stays_below_its_column_behind_tabs_and_odd_characters() -> None:
    _, shown, caret = told(problem(1, 5), of("a\t\x1bbX")).splitlines()
    assert shown == "    a <U+001B>bX"
    assert shown[caret.index("^")] == "X"


@pytest.mark.parametrize("char", ["\x1b", "\0", "\r", "\n", "\u202e", "\u200b", "\x9b", "\u2028", "\ufeff"])
def test_what_could_steer_a_terminal_is_made_visible(char: str) -> None:
    found = Problem(
        "bad-date", Place(f"a{char}.yaml", 1, 1), f"m{char}", f"h{char}", (Place(f"b{char}", 1, 1),)
    )
    text = told(found, lambda file: [f"line{char}"])
    assert char == "\n" or char not in text
    assert len(text.split("\n")) == 7
    assert text.count(f"<U+{ord(char):04X}>") == 6


def test_ordinary_text_stays_as_it_is() -> None:
    assert visible("20 °C, 油 ‘quoted’ – –") == "20 °C, 油 ‘quoted’ – –"


def test_problems_are_sorted_by_place_and_told_once() -> None:
    a, b, c = problem(10, 2), problem(9, 30), problem(9, 4, "bad-id")
    d = problem(9, 4, "bad-date")
    assert ordered([a, b, c, d, a, Problem("bad-date", Place("Z.yaml", 99), "m")]) == [
        Problem("bad-date", Place("Z.yaml", 99), "m"), d, c, b, a,
    ]  # fmt: skip


def test_the_same_message_with_another_code_is_no_repetition() -> None:
    assert len(ordered([problem(1, 1), problem(1, 1, "bad-id")])) == 2


@pytest.mark.parametrize(
    ("word", "known", "found"),
    [
        ("volum", ["volume", "mass"], "volume"),
        ("VOLUME", ["volume", "mass"], "volume"),
        ("koh", ["KOH", "NaOH"], "KOH"),
        ("oil-031", ["oil-013", "koh-001"], "oil-013"),
        ("colour", ["volume", "mass"], None),
        ("", ["volume"], None),
        ("x", [], None),
    ],
)
def test_the_nearest_word(word: str, known: list[str], found: str | None) -> None:
    assert nearest(word, known) == found


def test_a_guess_a_list_or_nothing() -> None:
    assert did_you_mean("volum", ["mass", "volume"]) == "did you mean 'volume'?"
    assert did_you_mean("colour", ["volume", "mass"]) == "known here: mass, volume"
    assert did_you_mean("colour", []) == ""
    assert did_you_mean("colour", [f"number-{n}" for n in range(13)]) == ""


@pytest.mark.parametrize(
    ("said_for", "name"),
    [
        ("acid number", "acid value"),  # and not the cetane number, which is spelt more like it
        ("CFPP", "cold filter plugging point"),
        ("Glycerin", "free glycerol"),
        ("moisture", "water"),
        ("flash pont", "flash point"),
    ],
)
def test_what_is_commonly_said_for_a_property(said_for: str, name: str) -> None:
    assert did_you_mean(said_for, properties()) == f"did you mean '{name}'?"


def test_every_synonym_is_of_something_known() -> None:
    known = {
        *rows("keys")["keys"],
        *properties(),
        "pack",
        "reading",
    }  # the last two are words of an event and of `add`
    meant = {name for names in rows("synonyms")["synonyms"].values() for name in names}
    assert meant <= known, meant - known


def test_every_rule_is_complete() -> None:
    for code, rule in rules().items():
        assert rule.level in ("error", "warning")
        assert rule.meaning.endswith(".")
        assert rule.remedy.endswith(".")
        assert code == code.lower()


def strings_in_code() -> set[str]:
    """Every text that stands in the program."""
    found = set()
    for path in GENERATOR.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(node.value)
    return found


def test_every_code_of_the_list_is_told_somewhere() -> None:
    assert set(rules()) - strings_in_code() == set()


def test_every_code_told_is_in_the_list() -> None:
    """What is given to `Problem(...)`, `refuse(...)` and the like as a code is one of the list."""
    makers = {"Problem": 0, "refuse": 0, "NotAQuantity": 0, "_RefusedError": 0, "problem": 0}
    told_codes = set()
    for path in GENERATOR.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
            code = node.args[0]
            if name in makers and isinstance(code, ast.Constant):
                told_codes.add(code.value)
    assert len(told_codes) > 50
    assert told_codes <= set(rules())
