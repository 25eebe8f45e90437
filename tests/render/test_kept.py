"""What is kept from one build to the next: taken where it is whole, made anew where it is not, never needed."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.kept import Gathered, Kept, digest
from generator.render.pictures import Pictures
from tests.site.building import ROOT, build

from .pages import chart

TEXT = "<svg>\n<text>190 L</text>\n</svg>"
KEY = digest("picture", "1")


class Maker:
    """Makes a text, and counts how often."""

    def __init__(self) -> None:
        self.times = 0

    def __call__(self) -> str:
        self.times += 1
        return TEXT


def kept_file(folder: Path) -> Path:
    (found,) = (path for path in folder.rglob("*") if path.is_file())
    return found


def a_pipe(path: Path) -> None:
    path.unlink()
    os.mkfifo(path)


def a_link_without_end(path: Path) -> None:
    path.unlink()
    path.symlink_to("/dev/zero")


@pytest.mark.parametrize("put", [a_pipe, a_link_without_end])
def test_what_is_no_plain_file_is_not_waited_for(tmp_path: Path, put: Callable[[Path], None]) -> None:
    make = Maker()
    kept = Kept(tmp_path)
    kept.text(KEY, make)
    put(kept_file(tmp_path))
    assert [kept.text(KEY, make) for _ in range(2)] == [TEXT, TEXT]
    assert make.times == 2


def test_it_is_made_once(tmp_path: Path) -> None:
    make = Maker()
    assert [Kept(tmp_path).text(KEY, make) for _ in range(3)] == [TEXT] * 3
    assert make.times == 1
    assert Kept(tmp_path).text(digest("picture", "2"), make) == TEXT
    assert make.times == 2


def test_without_a_folder_nothing_is_kept() -> None:
    make = Maker()
    assert [Kept().text(KEY, make) for _ in range(2)] == [TEXT] * 2
    assert make.times == 2


def test_what_is_cut_short_or_altered_is_made_anew(tmp_path: Path) -> None:
    make = Maker()
    Kept(tmp_path).text(KEY, make)
    path = kept_file(tmp_path)
    whole = path.read_bytes()
    spoilt = [whole[:length] for length in range(len(whole))]
    spoilt += [whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :] for place in range(len(whole))]
    spoilt += [whole + b"x", b"\xff" * 80, whole.replace(b"190", b"900")]
    for number, content in enumerate(spoilt):
        path.write_bytes(content)
        assert Kept(tmp_path).text(KEY, make) == TEXT
        assert make.times == number + 2
        assert path.read_bytes() == whole


def test_a_text_of_another_key_is_not_taken(tmp_path: Path) -> None:
    make = Maker()
    other = digest("picture", "other")
    Kept(tmp_path).text(other, lambda: "another picture")
    (tmp_path / KEY[:2]).mkdir(exist_ok=True)
    shutil.copy(tmp_path / other[:2] / other, tmp_path / KEY[:2] / KEY)
    assert Kept(tmp_path).text(KEY, make) == TEXT


@pytest.mark.parametrize("what", ["a file", "a folder in the place of the text", "nothing, below a file"])
def test_a_place_that_cannot_be_used_is_no_hindrance(tmp_path: Path, what: str) -> None:
    folder = tmp_path / "cache"
    if what == "a file":
        folder.write_text("mine", encoding="utf-8")
    elif what == "a folder in the place of the text":
        (folder / KEY[:2] / KEY).mkdir(parents=True)
    else:
        (tmp_path / "file").write_text("mine", encoding="utf-8")
        folder = tmp_path / "file" / "cache"
    make = Maker()
    kept = Kept(folder)
    assert [kept.text(KEY, make) for _ in range(2)] == [TEXT] * 2
    assert make.times == 2
    kept.prune()


def test_the_last_used_stay(tmp_path: Path) -> None:
    keys = [digest(str(number)) for number in range(6)]
    kept = Kept(tmp_path, most=3)
    for key in keys:
        kept.text(key, lambda: TEXT)
    kept.text(keys[0], lambda: TEXT)
    kept.prune()
    assert {path.name for path in tmp_path.glob("??/*")} == {keys[0], keys[4], keys[5]}


@given(st.lists(st.text(max_size=4), max_size=3), st.lists(st.text(max_size=4), max_size=3))
def test_no_two_lists_of_parts_share_a_name(one: list[str], other: list[str]) -> None:
    assert (digest(*one) == digest(*other)) == (one == other)


def test_of_what_was_gathered_the_rest_stays_where_it_is_asked_to(tmp_path: Path) -> None:
    def gathered() -> Gathered:
        return Gathered(Kept(tmp_path), "values")

    first = gathered()
    for name in ("a", "b", "c"):
        first.gather(name, name.upper())
    first.keep()
    one = gathered()
    assert (one.found("a"), one.found("d")) == ("A", None)
    one.gather("d", "D")
    one.keep(1, rest=True)  # one value is not worth it
    assert [gathered().found(name) for name in "abcd"] == ["A", "B", "C", None]
    one.keep(rest=True)
    assert [gathered().found(name) for name in "abcd"] == ["A", "B", "C", "D"]
    one.keep()
    assert [gathered().found(name) for name in "abcd"] == ["A", None, None, "D"]


def test_a_picture_is_its_own_when_anything_it_shows_differs(tmp_path: Path) -> None:
    pictures = Pictures(Kept(tmp_path))
    first = pictures.picture(chart("x"))
    assert pictures.picture(replace(chart("x"), values=chart("x").values[:1])) != first
    assert pictures.picture(replace(chart("x"), kind="yield_time")) != first
    assert Pictures(Kept(tmp_path)).picture(chart("x")) == first == Pictures().picture(chart("x"))


def test_a_site_is_the_same_with_anything_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing kept, kept, half of it spoilt: the same bytes."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home"))
    logbook = ROOT / "tests" / "logbooks" / "gallons"
    wanted = files(build(logbook, tmp_path / "none", "--no-cache"))
    assert not (tmp_path / "home").exists()
    assert files(build(logbook, tmp_path / "first")) == wanted
    kept = sorted((tmp_path / "home" / "esterday").glob("??/*"))
    assert len(kept) > 5
    assert files(build(logbook, tmp_path / "second")) == wanted
    for path in kept[::2]:
        path.write_bytes(path.read_bytes()[:-9] + b"<script/>")
    assert files(build(logbook, tmp_path / "third")) == wanted


def files(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()
    }
