"""Maps: what is refused in one, with its line, and all of it at once."""

from __future__ import annotations

import pytest

from generator.exchange.mapping import read_map

from .sheets import CONTEXT, MAP, map_of, refused


def test_a_map_that_is_right_has_no_problem() -> None:
    assert map_of().records == "batches"


@pytest.mark.parametrize(
    ("old", "new", "message", "hint"),
    [
        ("oil.0.volume,", "oil.volume,", "'oil' is a list", "count its entries from 0: oil.0.volume"),
        ("fuel.volume", "fuel.volum", "'fuel.volum' is not a key known here", "did you mean 'volume'?"),
        ("fuel.volume", "fuel", "'fuel' is a group of keys, not one value", "write one of its keys, such as fuel.volume, fuel.mass, fuel.tank"),
        (", parts: /", "", "'titration.readings' takes several values", "write titration.readings.0, or the sign between them as 'parts'"),
        ("key: note.line", "key: date.at", "nothing can stand behind 'date' as '.at'", ""),
        ("key: note.line", "key: oil.99.mass", "'oil.99.mass' counts too far", ""),
        ("key: note.line", "key: fuel.0.mass", "nothing stands below 'fuel'", ""),
        ("key: note.line", "key: date.x", "nothing stands below 'date'", ""),
        ("key: note.line", "key: fuel.volume", "'fuel.volume' is fed by the column 'Fuel (L)' already", "keep one of the two"),
        ("key: note.line", "key: oil.0.lot", "'oil.0.lot' is fed by 'always' already", "keep one of the two"),
        ("titration.sample: 1 mL", "titration.sample: 1", "'1' has no unit", "write 1 mL"),
        ("of: KOH", "of: CaO", "'CaO' is not one of the words known here", ""),
    ],
    ids=str,
)  # fmt: skip
def test_each_fault_is_told_at_its_line(old: str, new: str, message: str, hint: str) -> None:
    assert old in MAP
    text = MAP.replace(old, new, 1)
    (trouble,) = refused(text)
    line = next(
        number
        for number, line in enumerate(text.split("\n"), 1)
        if new in line and line not in MAP.split("\n")
    )
    assert trouble.where.startswith(f"map.yaml:{line}:")
    assert message in trouble.message and hint in trouble.hint


def test_what_is_open_is_asked_for_before_anything_else() -> None:
    troubles = refused(
        MAP.replace("oil-1", '"?"').replace("Titration (mL)", '"?"').replace("unit: g}", 'unit: "?"}')
    )
    assert [trouble.message for trouble in troubles] == [
        "'column' is still to be filled in",
        "'unit' is still to be filled in",
        "'oil.0.lot' is still to be filled in",
    ]


@pytest.mark.parametrize("text", ['"?"', "- batch", "batches"])
def test_what_is_no_map_at_all_is_told(text: str) -> None:
    found, problems, troubles = read_map("map.yaml", text.encode(), CONTEXT)
    assert (found, troubles) == (None, [])
    (problem,) = problems
    assert (problem.place.line, problem.place.column) == (1, 1), problem


def test_the_grammar_of_maps_names_what_is_wrong() -> None:
    text = MAP.replace("import: batches", "import: batch\nheader: 0\ndelimiter: ','\nskp: [x]")
    found, problems, troubles = read_map("map.yaml", text.encode(), CONTEXT)
    assert (found, troubles) == (None, [])
    assert {(problem.code, problem.place.line) for problem in problems} == {
        ("not-a-choice", 2),
        ("out-of-range", 3),
        ("not-a-choice", 4),
        ("unknown-key", 5),
    }
