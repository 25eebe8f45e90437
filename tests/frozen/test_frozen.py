"""Logbooks of every format keep giving what they gave; what is new may be added and nothing may go."""

from __future__ import annotations

import math
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.cli import main
from generator.read.folder import read_folder
from generator.records import FORMAT

from .freezing import FORMATS, all_keys, rows, tables, used_keys, words

TOLERANCE = 1e-9  # relative; another machine adds in another order


def same(old: str, new: str) -> bool:
    """Whether two cells say the same: texts to the letter, numbers within the tolerance."""
    try:
        return math.isclose(float(old), float(new), rel_tol=TOLERANCE, abs_tol=1e-12)
    except ValueError:
        return old == new


def changes(old: list[dict[str, str]], new: list[dict[str, str]]) -> list[str]:
    """What a table says otherwise than it did; columns that are new are passed over."""
    if len(old) != len(new):
        return [f"{len(old)} rows were {len(new)} now"]
    return [
        f"row {number}, {column}: {value!r} is {after.get(column)!r} now"
        for number, (before, after) in enumerate(zip(old, new, strict=True), 1)
        for column, value in before.items()
        if column not in after or not same(value, after[column])
    ]


def test_every_format_is_there() -> None:
    assert [path.name for path in FORMATS] == [f"format-{number + 1}" for number in range(int(FORMAT))]


@pytest.mark.parametrize("folder", FORMATS, ids=lambda path: path.name)
def test_its_figures_are_what_they_were(folder: Path, tmp_path: Path) -> None:
    root = tmp_path / "logbook"
    shutil.copytree(folder / "logbook", root)
    assert CliRunner().invoke(main, ["migrate", "--write", str(root)]).exit_code == 0
    now = tables(root)
    frozen = sorted((folder / "tables").glob("*.csv"))
    assert len(frozen) > 20
    found = {}
    for path in frozen:
        old = rows(path.read_bytes().decode("utf-8"))
        found[path.stem] = changes(old, now[path.stem])
    assert {name: told for name, told in found.items() if told} == {}


def test_the_newest_uses_every_key_of_the_grammar() -> None:
    lacking = all_keys() - used_keys(read_folder(FORMATS[-1] / "logbook"))
    assert lacking == set(), "write them into the frozen logbook, and freeze it anew"


def test_a_key_that_is_lacking_is_seen(tmp_path: Path) -> None:
    root = tmp_path / "logbook"
    shutil.copytree(FORMATS[-1] / "logbook", root)
    (root / "columns" / "shed.yaml").unlink()
    assert {"Purifier.purifier", "Rest.until", "Vessel.diameter"} <= all_keys() - used_keys(read_folder(root))


def test_every_word_and_unit_is_still_taken() -> None:
    frozen = (FORMATS[-1] / "words.txt").read_text(encoding="utf-8").splitlines()
    assert len(frozen) > 150
    assert set(frozen) - set(words()) == set()


def test_a_change_is_seen() -> None:
    old = [{"a": "1.0", "b": "x"}]
    assert changes(old, [{"a": "1.0000000000001", "b": "x", "c": "new"}]) == []
    assert len(changes(old, [{"a": "1.00001", "b": "x"}])) == 1
    assert len(changes(old, [{"a": "1.0", "b": "y"}])) == 1
    assert len(changes(old, [{"b": "x"}])) == 1
    assert len(changes(old, [{"a": "", "b": "x"}])) == 1
    assert changes(old, []) == ["1 rows were 0 now"]
