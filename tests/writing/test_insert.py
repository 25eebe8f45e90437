"""An addition to a file adds: every byte that was there stays, and the values are the old ones and the new one."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from generator.read.document import parse
from generator.records import Batch
from generator.validate.shape import keys_of
from generator.writing.insert import AlreadyWrittenError, NoPlaceError, inserted

DEMO = Path(__file__).resolve().parents[2] / "logbook"
FILES = sorted(DEMO.glob("batches/*/*.yaml"))
ORDER = keys_of(Batch, ())
SOAP = {"point": "product", "acid": "0.2 mL", "after": "150 L"}


def data(text: str) -> object:
    reading = parse("x.yaml", text)
    assert reading.document is not None, reading.problems
    return reading.document.data


def test_there_are_files_to_add_to() -> None:
    assert len(FILES) > 50


@pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize("final", [True, False], ids=["final newline", "none"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(DEMO).as_posix())
def test_a_test_is_added_to_every_batch_of_the_demo(path: Path, final: bool, newline: str) -> None:
    text = path.read_text(encoding="utf-8").replace("\n", newline)
    text = text if final else text.removesuffix(newline)
    new = {"property": "acid value", "value": "0.21 mg KOH/g"}
    addition = inserted(text, ("tests",), new, ORDER, to_list=True)
    after = addition.into(text)
    assert after[: addition.at] + after[addition.at + len(addition.text) :] == text
    before, found = data(text), data(after)
    assert isinstance(before, dict) and isinstance(found, dict)
    assert found.pop("tests") == [*before.pop("tests", []), new]
    assert found == before


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a: 1\nhistory:\n  - {b: 2}\n# end\n", "a: 1\nhistory:\n  - {b: 2}\n  - {c: d}\n# end\n"),
        ("history:\n- b: 2\n  x: y  # why\n\nz: 1\n", "history:\n- b: 2\n  x: y  # why\n- c: d\n\nz: 1\n"),
        ("history: [{b: 2}]  # one\n", "history: [{b: 2}, {c: d}]  # one\n"),
        ("history: []\n", "history: [{c: d}]\n"),
        ("{a: 1}\n", "{a: 1, history: [{c: d}]}\n"),
        ("note: |\n  long\n  text\n\n# end\n", "note: |\n  long\n  text\nhistory:\n  - {c: d}\n\n# end\n"),
        ("note: |+\n  long\n\n# end\n", "note: |+\n  long\n\nhistory:\n  - {c: d}\n# end\n"),
        ("a: 1", "a: 1\nhistory:\n  - {c: d}"),
    ],
)
def test_where_an_entry_goes(text: str, wanted: str) -> None:
    assert inserted(text, ("history",), {"c": "d"}, (), to_list=True).into(text) == wanted


DAY = {"date": "2026-03-02", "draw": "1 L"}


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("{date: 2026-03-01}, {date: 2026-03-03}", "{date: 2026-03-01}, NEW, {date: 2026-03-03}"),
        ("{date: 2026-03-03}", "NEW, {date: 2026-03-03}"),
        ("{date: '2026-03-02T09:00'}, {x: y}", "{date: '2026-03-02T09:00'}, {x: y}, NEW"),
        ("{date: '2026-03-02T09:00'}", "{date: '2026-03-02T09:00'}, NEW"),
        ("{date: soon}", "{date: soon}, NEW"),
        ("{date: 2026-03-05}, {date: 2026-03-01}", "{date: 2026-03-05}, {date: 2026-03-01}, NEW"),
    ],
)
@pytest.mark.parametrize("flow", [True, False])
def test_an_entry_goes_where_its_day_is(text: str, wanted: str, flow: bool) -> None:
    """Before the later ones at the end; on one day without hours, and where a day cannot be read, behind what is there."""

    def laid(items: str) -> str:
        listed = items.replace("NEW", "{date: 2026-03-02, draw: 1 L}").replace("}, {", "}|{").split("|")
        lines = "".join(f"  # of {number}\n  - {item}\n" for number, item in enumerate(listed))
        return f"history: [{', '.join(listed)}]\n" if flow else f"history:\n{lines}"

    after = inserted(laid(text), ("history",), DAY, (), to_list=True).into(laid(text))
    assert data(after) == data(laid(wanted))


def test_an_hour_counts_where_both_have_one() -> None:
    text = 'history:\n  # morning\n  - {date: "2026-03-02T09:00"}\n  # noon\n  - {date: "2026-03-02T12:00"}\n'
    new = {"date": "2026-03-02T10:00"}
    after = inserted(text, ("history",), new, (), to_list=True).into(text)
    assert after == text.replace("  # noon", '  - {date: "2026-03-02T10:00"}\n  # noon')
    first = inserted(text, ("history",), {"date": "2026-03-02T08:00"}, (), to_list=True).into(text)
    assert first == text.replace(
        '  - {date: "2026-03-02T09', '  - {date: "2026-03-02T08:00"}\n  - {date: "2026-03-02T09'
    )


def test_a_new_key_goes_where_the_work_has_it() -> None:
    text = "batch: b\noil: []\nsettled: {time: 1 h}\nnote: x\n"
    after = inserted(text, ("fuel",), {"volume": "1 L"}, ORDER, to_list=False).into(text)
    assert after == "batch: b\noil: []\nsettled: {time: 1 h}\nfuel: {volume: 1 L}\nnote: x\n"


def test_what_is_written_is_not_written_over() -> None:
    with pytest.raises(AlreadyWrittenError) as found:
        inserted("a: 1\nnote: x\n", ("note",), "y", (), to_list=False)
    assert found.value.line == 2


def test_a_word_is_no_list() -> None:
    with pytest.raises(NoPlaceError):
        inserted("tests: none\n", ("tests",), SOAP, (), to_list=True)


BARE = [path for path in FILES if "public_note" not in path.read_text(encoding="utf-8")][:12]
TEXTS = st.text(st.characters(exclude_categories=("C", "Zl", "Zp"), exclude_characters="\ufeff"), min_size=1)


@settings(deadline=None)  # a machine may be busy
@example("0?", BARE[0], "\n", True)
@given(TEXTS, st.sampled_from(BARE), st.sampled_from(["\n", "\r\n"]), st.booleans())
def test_added_and_taken_away_is_as_before(words: str, path: Path, newline: str, as_group: bool) -> None:
    text = path.read_text(encoding="utf-8").replace("\n", newline)
    value = {"property": "appearance", "note": words} if as_group else words
    where = ("tests",) if as_group else ("public_note",)
    addition = inserted(text, where, value, ORDER, to_list=as_group)
    after = addition.into(text)
    assert after[: addition.at] + after[addition.at + len(addition.text) :] == text
    found = data(after)
    assert isinstance(found, dict)
    assert (found["tests"][-1] if as_group else found["public_note"]) == value
