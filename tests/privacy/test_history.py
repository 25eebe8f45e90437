"""What was private in an older version of a batch moves no byte of the shared site, which tells its late changes."""

from __future__ import annotations

import subprocess
from functools import reduce
from pathlib import Path

import feedparser
import pytest

from generator.build import build_site
from generator.pages.words import NARROW
from tests.logbook_files import lay, logbook
from tests.read.test_git import B1, repository, run

FIRST = ("volume: 97 L", "volume: 95 L")
HIDDEN = "note: zanzibar\nenergy: 777 kWh\nlabour: 33 h\nfuel:"


def shared_site(parent: Path, *hidden: tuple[str, str]) -> dict[str, bytes]:
    """The shared site of a repository whose first version of b1 had other fuel, and what is hidden in it and written anew before it is gone."""
    parent.mkdir()
    root = logbook(parent)
    last = (root / B1).read_text(encoding="utf-8")
    for change in (FIRST, *hidden):
        lay(root, B1, change)
    run(parent, "init", "-b", "main")
    run(parent, "add", ".")
    run(parent, "commit", "-m", "all", at=20)
    if hidden:
        lay(root, B1, ("zanzibar", "zanzibar again"))
        run(parent, "commit", "-am", "note", at=22)
    (root / B1).write_text(last, encoding="utf-8")
    run(parent, "commit", "-am", "fuel", at=25)
    out = parent / "site"
    assert build_site(root, out, "shared").published is not None
    return {str(file.relative_to(out)): file.read_bytes() for file in out.rglob("*") if file.is_file()}


def test_what_an_older_version_hid_moves_no_byte(tmp_path: Path) -> None:
    plain = shared_site(tmp_path / "plain")
    assert b"2026-01-25" in plain["data/changes.csv"]
    assert shared_site(tmp_path / "hidden", ("fuel:", HIDDEN)) == plain


def test_a_late_change_comes_to_readers_of_the_feed(tmp_path: Path) -> None:
    """RFC 4287, section 4.2.15: updated is when an entry was last changed in a way that matters."""
    feed = feedparser.parse(shared_site(tmp_path / "plain")["feed.xml"])
    changed, batch = feed.entries[:2] if "changed on" in feed.entries[0].title else feed.entries[1::-1]
    assert changed.title == "Batch b1 changed on 2026-01-25" and changed.link.endswith("b1.html#history")
    assert changed.updated == changed.published == feed.feed.updated == "2026-01-25T00:00:00Z"
    assert batch.link.endswith("b1.html") and batch.published < batch.updated == "2026-01-25T00:00:00Z"
    assert f"finished fuel: 95.00{NARROW}L, then 97.00{NARROW}L; yield by volume: 95.0" in changed.summary


def test_the_feed_carries_each_of_two_late_changes(tmp_path: Path) -> None:
    root = repository(tmp_path)
    lay(root, B1, ("volume: 96 L", "volume: 94 L"))
    run(tmp_path, "commit", "-am", "again", at=28)
    assert build_site(root, tmp_path / "site", "shared").published is not None
    feed = feedparser.parse((tmp_path / "site" / "feed.xml").read_bytes())
    changed = [entry for entry in feed.entries if "changed on" in entry.title]
    assert [entry.updated[:10] for entry in changed] == ["2026-01-28", "2026-01-25"]
    assert [entry.summary.partition(";")[0] for entry in changed] == [
        f"finished fuel: 96.00{NARROW}L, then 94.00{NARROW}L",
        f"finished fuel: 97.00{NARROW}L, then 96.00{NARROW}L",
    ]
    assert len({entry.id for entry in feed.entries}) == len(feed.entries)


@pytest.mark.parametrize(
    "ids",
    [
        {"oil-1": "oil-old"},
        {"frying-oil": "old-oil"},
        {"oil-1": "oil-old", "frying-oil": "old-oil"},
        {"koh-1": "koh-old", "flakes": "old-flakes"},
        {"meoh-1": "meoh-old", "meoh-back": "meoh-older"},
        {"tank-1": "tank-old"},
        {"chips-1": "chips-old", "beads-1": "beads-old"},
    ],
    ids=" ".join,
)
def test_other_ids_beside_a_public_change_move_no_byte(ids: dict[str, str], tmp_path: Path) -> None:
    """In one commit: what was public is told as if the ids had always been those of now."""

    def shared(parent: Path, earlier: dict[str, str]) -> dict[str, bytes]:
        parent.mkdir()
        root = logbook(parent)
        last = {path: path.read_text(encoding="utf-8") for path in root.rglob("*.yaml")}
        for path, text in last.items():
            other = reduce(lambda so_far, ids: so_far.replace(*ids), earlier.items(), text)
            path.write_text(other, encoding="utf-8")
        lay(root, B1, FIRST)
        run(parent, "init", "-b", "main")
        run(parent, "add", ".")
        run(parent, "commit", "-m", "all", at=20)
        for path, text in last.items():
            path.write_text(text, encoding="utf-8")
        run(parent, "commit", "-am", "fuel", at=25)
        assert build_site(root, parent / "site", "shared").published is not None
        return {
            str(path.relative_to(parent / "site")): path.read_bytes()
            for path in (parent / "site").rglob("*")
            if path.is_file()
        }

    assert shared(tmp_path / "other", ids) == shared(tmp_path / "plain", {})


PRIVATE_EDITS = {
    "a note": (B1, "note: seen again", "note: zanzibar\nenergy: 777 kWh"),
    "who sold a lot": ("lots/oil-1.yaml", "material:", "source: zanzibar\nmaterial:"),
    "a rate of labour": ("logbook.yaml", "title:", "labour_rate: 77.00 EUR/h\ntitle:"),
    "another lot's id": ("", "oil-1", "oil-zanzibar"),
    "another oil's id": ("", "frying-oil", "zanzibar-oil"),
}


@pytest.mark.parametrize("name", PRIVATE_EDITS)
def test_an_edit_of_what_is_private_that_is_not_committed_moves_no_byte(name: str, tmp_path: Path) -> None:
    """What is told not to be committed is told by what of it is public."""
    root = repository(tmp_path)
    file, before, after = PRIVATE_EDITS[name]
    out = tmp_path / "site"

    def shared() -> dict[str, bytes]:
        assert build_site(root, out, "shared").published is not None
        return {str(path.relative_to(out)): path.read_bytes() for path in out.rglob("*") if path.is_file()}

    plain = shared()
    for path in [root / file] if file else sorted(root.rglob("*.yaml")):
        path.write_text(path.read_text(encoding="utf-8").replace(before, after), encoding="utf-8")
    assert subprocess.run(["git", "-C", root, "diff", "--quiet"], check=False).returncode == 1
    assert shared() == plain
    if file == B1:  # else that nothing moved would say nothing
        lay(root, B1, ("volume: 96 L", "volume: 94 L"))
        assert shared() != plain
