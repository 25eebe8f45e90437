"""A logbook is carried to the newest format and nothing else in it is touched; twice is once; a newer one is left alone.

There is one format so far. So these tests put steps of their own into the list, from formats that never were, numbered
below the first: the grammar that judges what comes of it is the real one.
"""

from __future__ import annotations

import itertools
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from generator.formats import STEPS, Change, Step, steps_from
from generator.records import FORMAT
from tests.logbook_files import logbook

NEW_NAMES = {"oils": "oil", "kept": "titration"}


def _changes(folder: str, data: Any) -> Iterator[Change]:
    """Made up: a batch's `oils` and `kept` were renamed, and a chip was called a shred."""
    if folder == "batches":
        yield from (Change((old,), new, is_key=True) for old, new in NEW_NAMES.items() if old in data)
    if folder == "materials":
        for name, row in data["materials"].items():
            if row.get("type") == "shreds":
                yield Change(("materials", name, "type"), "absorbent")
    if folder == "pages" and "heading" in data:
        yield Change(("heading",), "title", is_key=True)


FIRST = Step(0, _changes)
OLD_BATCH = """\
# as it was done: oils, kept, format: 0
batch: b2        # 'oils' stay here
kept:            # on the blended oil
  titrant: {strength: "1.00 g/L", of: 'KOH', lot: koh-1}
  sample: 1.0 mL

  blank: 0.1 mL
  readings: [ 2.4 mL,2.5 mL,  2.4 mL ]
"date": 2026-01-17
"oils":
- {lot: oil-1, volume: 100 L at 15 °C}   # the drum by the door
reaction:
  - {catalyst: [{lot: koh-1, mass: 1.0 kg}], methanol: [{lot: meoh-1, volume: 20 L at 15 °C}]}
note: |
  oils: stay
  kept: too
"""
NEW_BATCH = OLD_BATCH.replace("\nkept:", "\ntitration:").replace('"oils":', '"oil":')


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def texts(root: Path) -> dict[str, bytes]:
    return {
        path.relative_to(root).as_posix(): path.read_bytes()
        for path in sorted(root.rglob("*"))
        if path.is_file()
    }


@pytest.fixture
def old(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A logbook of the made-up format, and the step that leads from it to the first."""
    monkeypatch.setattr("generator.formats.STEPS", (FIRST,))
    return logbook(
        tmp_path,
        {
            "logbook.yaml": ("format: 1\n", "format: '0'   # since we began\n"),
            "batches/b2.yaml": OLD_BATCH,
            "batches/b1.yaml": ("\noil:\n", "\noils:\n"),
            "materials/all.yaml": ("type: absorbent", "type: shreds"),
            "pages/about.md": "---\nheading: About\npublic: true\n---\n\nheading: stays\n",
        },
    )


def test_the_steps_reach_the_format_of_the_grammar() -> None:
    """Every format that ever was is still read, by steps without a gap."""
    assert [step.begins for step in STEPS] == list(range(1, int(FORMAT)))
    assert all(len(steps_from(number)) == int(FORMAT) - number for number in range(1, int(FORMAT)))


def test_the_newest_has_nothing_to_migrate(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    before = texts(root)
    for words in ((), ("--write",)):
        done = run("migrate", root, *words)
        assert (done.exit_code, done.stdout) == (0, "")
        assert done.stderr == f"{root} is in format 1, the newest there is; nothing to migrate.\n"
    assert texts(root) == before


def test_errors_in_the_newest_are_for_check(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"lots/oil-1.yaml": ("300 L", "300,5 L")})
    assert run("migrate", root).exit_code == 0


@pytest.mark.parametrize("words", [(), ("--write",)])
def test_a_newer_one_is_refused_and_left_alone(tmp_path: Path, words: tuple[str, ...]) -> None:
    root = logbook(tmp_path, {"logbook.yaml": ("format: 1", "format: 2")})
    before = texts(root)
    done = run("migrate", root, *words)
    assert (done.exit_code, done.stdout) == (1, "")
    assert "the newest known here is 1 (other-format)" in done.stderr
    assert texts(root) == before


def test_of_a_newer_one_nothing_else_is_told_and_no_command_writes(tmp_path: Path) -> None:
    """Its keys may mean something else, so that no mend, no figure and no addition can be right."""
    root = logbook(
        tmp_path,
        {
            "logbook.yaml": ("format: 1", "format: 2\nunheard_of: {of: [things]}"),
            "lots/oil-1.yaml": ("300 L", "300,5 L"),
            "lots/koh-1.yaml": "lot: [",
        },
    )
    before = texts(root)
    out = tmp_path / "site"
    for words in (
        ("check", root),
        ("build", root, "--out", out),
        ("dose", "b1", root),
        ("fix", "--write", root),
        ("add", "--logbook", root, "b1", "energy", "3 kWh"),
        ("offer", "school", root),
        ("migrate", "--write", root),
    ):
        done = run(*words)
        assert done.exit_code == 1, words
        assert "Traceback" not in done.output
        assert "quantity" not in done.stderr and "yaml-syntax" not in done.stderr
    assert texts(root) == before
    assert not out.exists()


@pytest.mark.parametrize("written", ["0", "01", "one", "-1", "1.0", "99999", "[1]"])
def test_what_is_no_format_is_no_choice(tmp_path: Path, written: str) -> None:
    root = logbook(tmp_path, {"logbook.yaml": ("format: 1", f"format: {written}")})
    done = run("migrate", root, "--write")
    assert done.exit_code == 1
    assert "logbook.yaml:1:9: error: " in done.stderr and "Nothing was migrated." in done.stderr


def test_an_older_one_is_told_how_to_migrate(old: Path) -> None:
    done = run("check", old)
    assert done.exit_code == 1
    assert "format 0, and 1 is read here (other-format)" in done.stderr
    assert "see 'esterday migrate'" in done.stderr
    assert "unknown-key" not in done.stderr


def test_without_write_it_only_shows(old: Path) -> None:
    before = texts(old)
    done = run("migrate", old)
    assert done.exit_code == 0
    assert texts(old) == before
    removed = [line for line in done.stdout.splitlines() if line.startswith("-") and line[:3] != "---"]
    assert removed == [
        "-oils:",
        "-kept:            # on the blended oil",
        '-"oils":',
        "-  chips: {kind: medium, type: shreds, void: 0.7, ledgers: [{of: soap, by: holding, capacity: 30 g/kg}]}",
        "-heading: About",
        "-format: '0'   # since we began",
    ]
    assert done.stderr == (
        "From format 0 to 1: 6 places in 5 files to change, nothing written yet (--write does it).\n"
    )


def test_comments_order_quotes_and_all_else_stay(old: Path) -> None:
    before = texts(old)
    assert run("migrate", old, "--write").exit_code == 0
    after = texts(old)
    assert after["batches/b2.yaml"].decode() == NEW_BATCH
    assert after["logbook.yaml"].startswith(b"format: '1'   # since we began\n")
    assert after["pages/about.md"] == b"---\ntitle: About\npublic: true\n---\n\nheading: stays\n"
    changed = {name for name in before if before[name] != after[name]}
    assert changed == {
        "batches/b1.yaml",
        "batches/b2.yaml",
        "logbook.yaml",
        "materials/all.yaml",
        "pages/about.md",
    }
    assert before.keys() == after.keys()
    assert run("check", old).exit_code == 0


@pytest.mark.parametrize("head", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_marks_of_byte_order_and_ends_of_lines_stay(old: Path, head: bytes, end: bytes) -> None:
    path = old / "batches" / "b2.yaml"
    path.write_bytes(head + OLD_BATCH.encode().replace(b"\n", end))
    assert run("migrate", old, "--write").exit_code == 0
    assert path.read_bytes() == head + NEW_BATCH.encode().replace(b"\n", end)


def test_twice_is_once(old: Path) -> None:
    assert run("migrate", old, "--write").exit_code == 0
    once = texts(old)
    again = run("migrate", old, "--write")
    assert (again.exit_code, again.stdout) == (0, "")
    assert "nothing to migrate" in again.stderr
    assert texts(old) == once


def test_one_that_was_cut_short_anywhere_is_finished_by_the_next(old: Path, tmp_path: Path) -> None:
    """`logbook.yaml` is written last, so that any other set of files may have been written before the machine went off."""
    whole = tmp_path / "whole"
    shutil.copytree(old, whole)
    assert run("migrate", whole, "--write").exit_code == 0
    wanted, before = texts(whole), texts(old)
    names = [name for name in before if before[name] != wanted[name] and name != "logbook.yaml"]
    some = [each for size in range(len(names) + 1) for each in itertools.combinations(names, size)]
    assert len(some) == 16
    for written in some:
        for name, content in before.items():
            (old / name).write_bytes(wanted[name] if name in written else content)
        assert run("migrate", old, "--write").exit_code == 0
        assert texts(old) == wanted


def test_many_steps_are_taken_in_their_order(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From format 0 over a made-up 1 and 2 to 3; the grammar does not know 3, and says so behind it."""

    def renamed(old_name: str, new_name: str) -> Any:
        def changes(folder: str, data: Any) -> Iterator[Change]:
            if folder == "lots" and old_name in data:
                yield Change((old_name,), new_name, is_key=True)

        return changes

    path = ("price", "cost", "sum", "paid")
    steps = tuple(Step(number, renamed(*pair)) for number, pair in enumerate(itertools.pairwise(path)))
    monkeypatch.setattr("generator.formats.STEPS", steps)
    monkeypatch.setattr("generator.formats.FORMAT", "3")
    root = logbook(
        tmp_path,
        {"logbook.yaml": ("format: 1", "format: 0"), "lots/oil-1.yaml": ("paid:", "price:")},
    )
    done = run("migrate", root, "--write")
    assert "From format 0 to 3: " in done.stderr
    assert "\npaid: 0.40 EUR/L\n" in (root / "lots/oil-1.yaml").read_text(encoding="utf-8")
    assert (root / "logbook.yaml").read_text(encoding="utf-8").startswith("format: 3\n")


def test_a_gap_between_steps_is_no_way(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.formats.STEPS", (Step(-1, _changes),))
    before = texts(old)
    done = run("migrate", old, "--write")
    assert (done.exit_code, texts(old)) == (1, before)
    assert "not-a-choice" in done.stderr


def test_a_file_that_cannot_be_read_keeps_all_back(old: Path) -> None:
    (old / "lots" / "koh-1.yaml").write_text("lot: [\n", encoding="utf-8")
    before = texts(old)
    done = run("migrate", old, "--write")
    assert (done.exit_code, done.stdout) == (1, "")
    assert "koh-1.yaml" in done.stderr and "Nothing was migrated." in done.stderr
    assert texts(old) == before


@pytest.mark.parametrize(
    ("file", "change"),
    [
        ("batches/b2.yaml", ('"oils":', '"o\\x69ls":')),
        ("materials/all.yaml", ("type: shreds", 'type: "shr\\x65ds"')),
        ("logbook.yaml", ("format: '0'", 'format: "\\x30"')),
    ],
)
def test_what_is_written_with_an_escape_keeps_all_back(old: Path, file: str, change: tuple[str, str]) -> None:
    path = old / file
    path.write_text(path.read_text(encoding="utf-8").replace(*change), encoding="utf-8")
    before = texts(old)
    done = run("migrate", old, "--write")
    assert (done.exit_code, done.stdout) == (1, "")
    assert f"{old}/{file}:" in done.stderr and "without escapes" in done.stderr
    assert texts(old) == before


def test_errors_that_are_left_are_counted(old: Path) -> None:
    path = old / "lots" / "oil-1.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("300 L", "300,5 L"), encoding="utf-8")
    done = run("migrate", old, "--write")
    assert done.exit_code == 1
    assert "After it there is 1 error; see 'esterday check'." in done.stderr


def test_a_file_that_changed_meanwhile_is_not_written_over(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from generator.cli.saving import put_all
    from generator.migrating import migrated

    found = migrated(old)
    path = old / "batches" / "b1.yaml"
    path.write_text("batch: b1 # somebody types here\n", encoding="utf-8")
    with pytest.raises(SystemExit, match="3"):
        put_all(found.before, found.after, old)
    assert path.read_text(encoding="utf-8") == "batch: b1 # somebody types here\n"
    assert (old / "logbook.yaml").read_text(encoding="utf-8").startswith("format: '0'")
