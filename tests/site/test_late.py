"""A late change to a published figure is named wherever a reader comes by, for both audiences, with the way to what moved."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest

from generator.build import build_site
from generator.compute.results import Results
from generator.pages.history import history_told
from tests.logbook_files import BASE, lay, logbook
from tests.read.test_git import B1, repository, run

TAG = re.compile(r"<[^>]+>")
PAGES = ("index.html", "batches.html", "quality.html", "batches/b1.html", "sheets/b1.html")


def built(root: Path, audience: str) -> Path:
    out = root.parent / audience
    assert build_site(root, out, audience).published is not None
    return out


def words(path: Path) -> str:
    """What stands on a page, in one line."""
    return " ".join(unescape(TAG.sub(" ", path.read_text(encoding="utf-8"))).split())


@pytest.mark.parametrize("audience", ["workshop", "shared"])
def test_a_late_change_is_named_on_every_page_a_reader_comes_by(audience: str, tmp_path: Path) -> None:
    site = built(repository(tmp_path), audience)
    for page in PAGES[:3]:
        assert (
            "figures of 1 batch were changed after the day they were recorded, last on 2026-01-25 in b1."
            in words(site / page)
        ), page
    for page in PAGES[3:]:
        assert (
            "Changed after the day it was recorded, last on 2026-01-25: finished fuel; yield by volume."
            in words(site / page)
        )
    mark = '<a href="batches/b1.html#history">2026-01-25</a>'
    for page in ("index.html", "batches.html"):
        assert mark in (site / page).read_text(encoding="utf-8")
    assert 'href="quality.html#late"' in (site / "index.html").read_text(encoding="utf-8")
    assert "2026-01-25 changed finished fuel 97.00 L 96.00 L" in words(site / "quality.html")
    assert 'href="#history"' in (site / "batches/b1.html").read_text(encoding="utf-8")


def test_nothing_is_named_where_nothing_was_changed_late_and_what_is_not_known_is_said(
    tmp_path: Path,
) -> None:
    root = logbook(tmp_path)
    site = built(root, "shared")
    for page in PAGES:
        assert "is not known: these pages know no history of the files" in words(site / page), page
    run(tmp_path, "init", "-b", "main")
    run(tmp_path, "add", ".")
    run(tmp_path, "commit", "-m", "all", at=20)
    lay(root, B1, ("fuel:", "note: seen again\nfuel:"))
    run(tmp_path, "commit", "-am", "note", at=26)
    site = built(root, "shared")
    assert (
        "By the history in git nothing that was written of a batch, and no limit, was changed after the day it was recorded; none was taken away. Not followed: lots, materials"
        in words(site / "quality.html")
    )
    for page in PAGES:
        assert "changed after the day" not in words(site / page).casefold().replace(
            "no limit, was changed after the day", ""
        )
        assert "not known: these pages" not in words(site / page)
        assert "Changed later" not in words(site / page)


def test_in_gallons_a_change_is_told_to_the_digits_it_has(tmp_path: Path) -> None:
    """Kept as four digits of litres, 100.3 and 100.7, it would be told as 26.50 and 26.60."""
    root = logbook(tmp_path)
    settings = (BASE / "logbook.yaml").read_text(encoding="utf-8")
    lay(
        root,
        "logbook.yaml",
        settings + "\ndisplay: {volume: US gal, mass: lb, temperature: °F, pressure: psi}\n",
    )
    lay(root, B1, ("volume: 97 L", "volume: 26.50 US gal"))
    run(tmp_path, "init", "-b", "main")
    run(tmp_path, "add", ".")
    run(tmp_path, "commit", "-m", "all", at=20)
    lay(root, B1, ("volume: 26.50 US gal", "volume: 26.61 US gal"))
    run(tmp_path, "commit", "-am", "fuel", at=25)
    assert "finished fuel 26.50 US gal 26.61 US gal" in words(built(root, "shared") / "quality.html")


def test_a_sentence_names_few_batches() -> None:
    """Where many were changed on one day, the table names them."""

    def told(names: int) -> str:
        rows = [
            {"batch": f"b{number}", "date": "2026-01-25", "late": "yes", "what": "changed"}
            for number in range(names)
        ]
        found = history_told(cast("Results", SimpleNamespace(remembered=True, rows=lambda _: rows)))
        assert found is not None
        return found[0]

    assert told(3).endswith(
        "figures of 3 batches were changed after the day they were recorded, last on 2026-01-25 in b0, b1, b2."
    )
    assert told(4).endswith(
        "figures of 4 batches were changed after the day they were recorded, last on 2026-01-25."
    )


def test_what_was_taken_away_and_what_is_not_committed_is_named_where_a_reader_comes_by(
    tmp_path: Path,
) -> None:
    root = repository(tmp_path)
    lay(root, B1, ("volume: 96 L", "volume: 95 L"))
    lay(root, "logbook.yaml", ("base: 7 g/L", "base: 6.9 g/L"))
    lay(root, "batches/b2.yaml", None)
    run(tmp_path, "commit", "-m", "away", "--", str(root / "batches/b2.yaml"), at=28)
    site = built(root, "shared")
    for page in PAGES[:3]:
        text = words(site / page)
        assert "Taken away after it was recorded: b2." in text, page
        assert (
            "What stands here is not all committed, so that no history has it: b1; the settings." in text
        ), page
    for page in PAGES[3:]:
        assert "Not committed, so that no history has it: finished fuel; yield by volume." in words(
            site / page
        )
    table = words(site / "quality.html")
    assert (
        "b2 2026-01-28 removed – – –" in table and "b1 – not committed finished fuel 96.00 L 95.00 L" in table
    )
    assert 'href="batches/b2.html' not in (site / "quality.html").read_text(encoding="utf-8")


def test_the_label_of_a_drum_tells_of_a_late_change(tmp_path: Path) -> None:
    site = built(repository(tmp_path), "shared")
    assert "last on 2026-01-25: finished fuel; yield by volume." in words(site / "labels/b1.html")
    assert "Changed after" not in words(site / "labels/b2.html")


def test_the_quality_page_tells_its_history_apart_and_leads_to_what_moved(tmp_path: Path) -> None:
    """It stood at the end of a paragraph on intervals and sources, where an inspector passed it by."""
    text = (built(repository(tmp_path), "shared") / "quality.html").read_text(encoding="utf-8")
    (told,) = re.findall(r'<p class="intro">(By the history in git.*?)</p>', text)
    assert told.endswith('<a href="#late">What moved</a>') and 'id="late"' in text
