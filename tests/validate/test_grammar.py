"""Documents become records, or are told why not: nearest keys, what is missing, unions, shapes."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.problems import Place
from generator.read.document import parse
from generator.records import Batch, Materials, Purifier, Tank, Workshop
from generator.validate.grammar import record_of
from tests.logbook_files import BASE, Changes, codes, told

B1, OIL, SHED, ALL = "batches/b1.yaml", "lots/oil-1.yaml", "columns/shed.yaml", "materials/all.yaml"
RECORDS = {B1: Batch, SHED: Purifier, ALL: Materials, "tanks/tank-1.yaml": Tank, "logbook.yaml": Workshop}


@pytest.mark.parametrize(
    ("file", "old", "new", "hint"),
    [
        (B1, "titration:", "titraton:", "did you mean 'titration'?"),
        (B1, "  blank: 0.1 mL", "  blnak: 0.1 mL", "did you mean 'blank'?"),
        (B1, "feed, sample: 10 g", "feed, Sample: 10 g", "did you mean 'sample'?"),
        (B1, "settled:", "setteld:", "did you mean 'settled'?"),
        (OIL, "received:", "recieved:", "did you mean 'received'?"),
        (SHED, "bed: 20 L", "bedd: 20 L", "did you mean 'bed'?"),
        (ALL, "purity: 90 %", "purty: 90 %", "did you mean 'purity'?"),
        (ALL, "capacity: 30 g/kg", "capacty: 30 g/kg", "did you mean 'capacity'?"),
        ("tanks/tank-1.yaml", "vertical cylinder", "vertical_cylinder", "did you mean 'vertical cylinder'?"),
        ("logbook.yaml", "timezone:", "time zone:", "did you mean 'timezone'?"),
        ("pages/about.md", "title:", "titel:", "did you mean 'title'?"),
    ],
)
def test_a_misspelt_key_is_told_once_with_the_nearest(
    tmp_path: Path, file: str, old: str, new: str, hint: str
) -> None:
    """Where the misspelt key is one that must be there, its absence is not told a second time."""
    problems = [problem for problem in told(tmp_path, {file: (old, new)}) if problem.is_error]
    assert [(problem.code, problem.hint) for problem in problems] == [("unknown-key", hint)]


def test_a_key_like_no_other_does_not_hide_what_is_missing(tmp_path: Path) -> None:
    problems = told(tmp_path, {OIL: ("received: 2026-01-02", "colour: amber")})
    assert sorted(codes(problems)) == ["missing-key", "unknown-key"]


def test_an_empty_list_of_runs_is_written_and_no_record_below_a_batch_remembers_its_keys() -> None:
    text = (BASE / B1).read_text(encoding="utf-8")
    begin, end = text.index("polish:"), text.index("fuel:")
    written: dict[str, list[str]] = {}
    for runs in ("unpolished: true\n", "unpolished: true\npolish: []\n"):
        document = parse(B1, f"{text[:begin]}{runs}{text[end:]}").document
        assert document is not None
        record, problems = record_of(Batch, document, {})
        written[runs] = codes(problems)
        if record is not None:
            assert record.oil[0].model_fields_set == set()
    assert list(written.values()) == [[], ["one-of"]]


def test_two_missing_keys_are_told_as_two(tmp_path: Path) -> None:
    problems = told(tmp_path, {SHED: ("mass: 10 kg, basis: as supplied, ", "")})
    assert [(problem.code, problem.message) for problem in problems] == [
        ("missing-key", "'basis' is missing"),
        ("missing-key", "'mass' is missing"),
    ]
    assert {problem.place for problem in problems} == {Place(SHED, 7, 5)}


@pytest.mark.parametrize(
    ("changes", "code", "place", "hint"),
    [
        (
            {SHED: ("event: pack, vessel: B", "event: packed, vessel: B")},
            "not-a-choice",
            Place(SHED, 7, 31),
            "'pack'",
        ),
        ({SHED: ("event: pack, vessel: B", "vessel: B")}, "missing-key", Place(SHED, 7, 5), "event"),
        (
            {SHED: ("event: pack, vessel: B", "event: [pack], vessel: B")},
            "not-a-choice",
            Place(SHED, 7, 31),
            "pack",
        ),
        ({ALL: ("{kind: catalyst", "{kind: catalysts")}, "not-a-choice", Place(ALL, 3, 18), "'catalyst'"),
        ({ALL: ("{kind: catalyst, ", "{")}, "missing-key", Place(ALL, 3, 11), "kind"),
        (
            {ALL: ("{kind: alcohol, of: methanol, purity: 99.8 %}", "methanol")},
            "not-a-group",
            Place(ALL, 4, 13),
            "key",
        ),
    ],
)
def test_the_word_that_chooses_the_kind_of_record(
    tmp_path: Path, changes: Changes, code: str, place: Place, hint: str
) -> None:
    problems = [problem for problem in told(tmp_path, changes) if problem.is_error]
    assert [(problem.code, problem.place) for problem in problems] == [(code, place)]
    assert hint in problems[0].hint


def test_only_the_keys_of_the_chosen_kind_are_known(tmp_path: Path) -> None:
    """A rinse has no bed; the list of known keys is that of a rinse."""
    event = "  - {date: 2026-01-12, event: rinse, vessel: B, bed: 20 L}\n"
    problems = told(tmp_path, {SHED: ("bed: 20 L}\n", f"bed: 20 L}}\n{event}")})
    assert codes(problems) == ["unknown-key"]
    assert problems[0].hint == "known here: date, event, note, rinsings, vessel, with"


@pytest.mark.parametrize(
    ("new", "code"),
    [
        ("fuel: 97 L", "not-a-group"),
        ("fuel: []", "not-a-group"),
        ("fuel:", "not-a-group"),
        ("oil: {lot: oil-1}", "key-twice"),
        ("tests: none", "not-a-list"),
        ("tests: {a: b}", "not-a-list"),
        ("note: [a]", "not-text"),
        ("note: {a: b}", "not-text"),
        ("note: '  '", "empty-value"),
    ],
)
def test_shapes(tmp_path: Path, new: str, code: str) -> None:
    text = (BASE / B1).read_text(encoding="utf-8").split("fuel:")[0]
    assert codes(told(tmp_path, {B1: f"{text}{new}\n"})) == [code]


@pytest.mark.parametrize("file", RECORDS)
def test_every_value_replaced_by_every_shape_raises_nothing(file: str) -> None:
    """No shape of a value makes the check stumble: each gives a problem with a place in its own line, or is fit."""
    lines = (BASE / file).read_text(encoding="utf-8").splitlines()
    tried = 0
    for number, line in enumerate(lines):
        head, colon, _ = line.partition(": ")
        if not colon:
            continue
        for value in ("", "x", "[]", "{}", "[x, [y]]", "{x: {y: z}}", "5", "< 5 L", "-1"):
            text = "\n".join([*lines[:number], f"{head}: {value}", *lines[number + 1 :]]) + "\n"
            document = parse(file, text).document
            if document is None:
                continue
            tried += 1
            record, problems = record_of(RECORDS[file], document, {})  # type: ignore[arg-type]
            assert (record is None) == bool(problems)
            assert all(problem.place.file == file and problem.place.line >= 1 for problem in problems)
    assert tried >= 9


def test_no_record_is_made_from_a_list_or_a_word() -> None:
    for text in ("[a]\n", "word\n"):
        document = parse("x.yaml", text).document
        assert document is not None
        record, problems = record_of(Batch, document, {})
        assert record is None
        assert codes(problems) == ["not-a-group"]
