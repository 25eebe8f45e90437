"""What was private in an older version of a batch moves no byte of the shared site, which tells its late changes."""

from __future__ import annotations

from pathlib import Path

import feedparser

from generator.build import build_site
from tests.logbook_files import lay, logbook
from tests.read.test_git import B1, run

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
    (changed,) = (entry for entry in feed.entries if entry.link.endswith("b1.html"))
    assert changed.updated == feed.feed.updated == "2026-01-25T00:00:00Z"
    assert changed.published < changed.updated and feed.entries[0] == changed
    assert changed.summary.endswith("Changed on 2026-01-25: finished fuel; yield by volume.")
