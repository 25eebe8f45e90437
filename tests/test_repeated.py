"""A build that would repeat the last one does nothing; anything that differs makes it build."""

from __future__ import annotations

import errno
import shutil
import subprocess
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import generator.validate.logbook
from generator.build import Built, build_site
from generator.publish import Published, publish
from generator.read.folder import read_folder
from tests.site.building import ROOT

LOGBOOK = ROOT / "tests" / "logbooks" / "gallons"


class Shop:
    """A logbook, its site and what is kept; `repeats` tells whether a build read the logbook."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.logbook, self.site, self.cache = folder / "logbook", folder / "site", folder / "cache"
        shutil.copytree(LOGBOOK, self.logbook)
        self.read = 0
        real = read_folder

        def counted(*given: object) -> object:
            self.read += 1
            return real(*given)  # type: ignore[arg-type]

        monkeypatch.setattr(generator.validate.logbook, "read_folder", counted)
        self.first = self.build()

    def build(self, audience: str = "workshop", as_of: date | None = None) -> Built:
        return build_site(self.logbook, self.site, audience, as_of, self.cache)

    def repeats(self, audience: str = "workshop", as_of: date | None = None) -> bool:
        before = self.read
        self.build(audience, as_of)
        return self.read == before


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    return Shop(tmp_path, monkeypatch)


def test_nothing_changed(shop: Shop) -> None:
    before = {path: path.stat() for path in shop.site.rglob("*")}
    again = shop.build()
    assert shop.read == 1
    assert {path: path.stat() for path in shop.site.rglob("*")} == before
    assert (again.batches, again.pages, again.warnings) == (
        shop.first.batches,
        shop.first.pages,
        shop.first.warnings,
    )
    assert again.published is not None and shop.first.published is not None
    assert again.published.unchanged == tuple(sorted(shop.first.published.written))


def a_batch(shop: Shop) -> Path:
    return sorted((shop.logbook / "batches").rglob("*.yaml"))[0]


def grown(path: Path) -> None:
    path.write_text(path.read_text(encoding="utf-8") + "# x\n", encoding="utf-8")


def grown_anew(path: Path) -> None:
    path.write_text("x", encoding="utf-8")


def a_commit(folder: Path) -> None:
    subprocess.run(["git", "init", "-q", folder], check=True)


CHANGES: dict[str, Callable[[Shop], object]] = {
    "a record": lambda shop: grown(a_batch(shop)),
    "the settings": lambda shop: grown(shop.logbook / "logbook.yaml"),
    "a name": lambda shop: a_batch(shop).rename(a_batch(shop).with_name("zz.yaml")),
    "a stray file": lambda shop: (shop.logbook / "stray.txt").write_text("x", encoding="utf-8"),
    "a hidden file among the records": lambda shop: grown_anew(shop.logbook / "lots" / ".hidden"),
    "a stray folder": lambda shop: (shop.logbook / "stray").mkdir(),
    "a commit": lambda shop: a_commit(shop.logbook),
    "a page of the site": lambda shop: (shop.site / "index.html").write_bytes(b""),
    "a page gone": lambda shop: (shop.site / "index.html").unlink(),
    "a mode": lambda shop: (shop.site / "index.html").chmod(0o600),
    "a foreign file": lambda shop: (shop.site / "mine.txt").write_text("mine", encoding="utf-8"),
    "the list": lambda shop: (shop.site / ".esterday-files.json").touch(),
    "the cache": lambda shop: shutil.rmtree(shop.cache),
}


@pytest.mark.parametrize("what", CHANGES)
def test_a_change_is_seen(shop: Shop, what: str) -> None:
    CHANGES[what](shop)
    assert not shop.repeats()
    assert shop.repeats()


def test_an_empty_file_of_the_repository_is_not_none(shop: Shop) -> None:
    a_commit(shop.logbook)
    shop.build()
    assert shop.repeats()
    (shop.logbook / ".git" / "shallow").write_bytes(b"")  # git counts the repository as shallow
    assert not shop.repeats()


def test_a_build_under_which_a_file_changed_is_not_repeated(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file is changed before it is read and put back later: what the site shows is not what stands."""
    path = a_batch(shop)
    whole = path.read_bytes()

    def changed(*given: object) -> object:
        path.write_bytes(whole + b"note: changed\n")
        return read_folder(*given)  # type: ignore[arg-type]

    grown(shop.logbook / "logbook.yaml")
    with monkeypatch.context() as meanwhile:
        meanwhile.setattr("generator.validate.logbook.read_folder", changed)
        shop.build()
    path.write_bytes(whole)
    assert not shop.repeats()


def test_the_site_of_another_build_is_not_taken_for_ones_own(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another build takes its turn as soon as this one has published."""
    real = publish

    def overtaken(*given: Any, **more: Any) -> Published:
        done = real(*given, **more)
        monkeypatch.setattr("generator.build.publish", real)
        build_site(shop.logbook, shop.site, "workshop", None, shop.cache)
        return done

    monkeypatch.setattr("generator.build.publish", overtaken)
    shop.build("shared")
    workshop = (shop.site / "index.html").read_bytes()
    shop.build("shared")
    assert (shop.site / "index.html").read_bytes() != workshop


def test_a_passing_fault_of_git_is_not_remembered(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object, **__: object) -> object:
        raise BlockingIOError(errno.EAGAIN, "no process is to be had")

    a_commit(shop.logbook)
    with monkeypatch.context() as meanwhile:
        meanwhile.setattr("generator.read.git.subprocess.run", refused)
        assert shop.build().without_history == "git could not be started"
    assert not shop.repeats()


def test_what_is_asked_for_counts(shop: Shop) -> None:
    assert not shop.repeats("shared")
    assert not shop.repeats()
    assert not shop.repeats(as_of=date(2030, 1, 1))
    assert not shop.repeats()
    assert shop.repeats()


def test_an_error_is_told_each_time(shop: Shop) -> None:
    a_batch(shop).write_text("batch: [", encoding="utf-8")
    assert [shop.build().published for _ in range(2)] == [None, None]


def test_another_program_builds(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.repeated.program", lambda: "a newer one")
    assert not shop.repeats()


def test_a_link_among_the_files_is_never_passed_over(shop: Shop) -> None:
    (shop.logbook / "lots" / "link.yaml").symlink_to(a_batch(shop))
    shop.build()
    assert not shop.repeats()
