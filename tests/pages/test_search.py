"""What can be found: everything of the workshop, and for others nothing that they may not see."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from generator.compute.audience import shared
from generator.compute.results import Results
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.pages.search import KINDS, PATH, Found, entries
from generator.pages.site import Pages, Told
from generator.pages.sought import SOUGHT
from generator.pages.view import Page
from generator.render.finding import finding_scripts
from tests.compute.test_audience import CANARY, PRIVATE
from tests.logbook_files import Changes, log_of

B1 = "batches/b1.yaml"
PUBLIC_NOTE: Changes = {
    B1: ("tests:", "public_note: The pump sang.\nnote: Said nothing to anyone.\ntests:"),
}


def made(parent: Path, changes: Changes | None = None, *, audience: str) -> tuple[Results, Sequence[Page]]:
    """Results and pages of an audience."""
    log = log_of(parent, changes)
    found = shared(log) if audience == "shared" else tally(Ledgers(log))
    return found, list(Pages(found, Told([], {}, {}), ()))


def found_by(parent: Path, changes: Changes | None = None, *, audience: str = "workshop") -> list[Found]:
    return entries(*made(parent, changes, audience=audience))


def test_every_kind_is_there_and_every_address_is_a_page(tmp_path: Path) -> None:
    results, pages = made(tmp_path, audience="workshop")
    found = entries(results, pages)
    assert {each.kind for each in found} == set(KINDS)
    paths = {page.path for page in pages}
    assert [each.href for each in found if each.href.partition("#")[0] not in paths] == []
    assert len({(each.kind, each.title, each.href, each.date) for each in found}) == len(found)


def test_a_note_a_result_and_a_lot_are_found_by_their_words(tmp_path: Path) -> None:
    found = found_by(tmp_path, PUBLIC_NOTE)
    told = {each.title: each.text for each in found}
    assert "The pump sang." in told["Batch b1"] and "Said nothing to anyone." in told["Batch b1"]
    assert "From " in told["Batch b1"] and "oil-1" in told["Batch b1"]
    assert any(each.kind == "Result" and each.title.endswith("of batch b1") for each in found)
    assert next(each for each in found if each.title == "Lot oil-1").href == "oil.html#lot-oil-1"


def test_every_page_of_its_own_is_found_by_other_words_too(tmp_path: Path) -> None:
    _, pages = made(tmp_path, audience="workshop")
    paths = {page.path for page in pages if "/" not in page.path and page.path != PATH}
    assert paths == set(SOUGHT)


def test_the_newest_sheet_and_label_are_found_where_there_are_any(tmp_path: Path) -> None:
    results, pages = made(tmp_path, audience="workshop")
    told = {
        each.href: each for each in entries(results, pages) if each.href.startswith(("sheets/", "labels/"))
    }
    assert len(told) == 2 and all("print" in each.asked for each in told.values())
    without = [page for page in pages if not page.path.startswith("labels/")]
    assert not [each for each in entries(results, without) if each.href.startswith("labels/")]


def test_the_canary_is_found_in_the_workshop(tmp_path: Path) -> None:
    """Else its absence below would say nothing."""
    text = repr(found_by(tmp_path, PRIVATE))
    assert text.count(CANARY) >= 5


def test_nothing_private_can_be_found_on_the_shared_site(tmp_path: Path) -> None:
    results, pages = made(tmp_path, {**PRIVATE}, audience="shared")
    scripts = b"".join(finding_scripts(pages).values()).decode()
    assert CANARY not in scripts and "7291" not in scripts
    kinds = {each.kind for each in entries(results, pages)}
    assert kinds.isdisjoint({"Lot", "Offer", "Tank", "Problem"}) and "Batch" in kinds


def test_a_public_note_is_found_by_anyone_and_a_private_one_by_none(tmp_path: Path) -> None:
    text = repr(found_by(tmp_path, PUBLIC_NOTE, audience="shared"))
    assert "The pump sang." in text
    assert "Said nothing" not in text


def test_a_private_batch_cannot_be_found(tmp_path: Path) -> None:
    hidden: Changes = {"batches/b2.yaml": ("batch: b2\n", "batch: b2\nprivate: true\n")}
    assert "b2" in repr(found_by(tmp_path / "a", hidden))
    assert "b2" not in repr(found_by(tmp_path / "b", hidden, audience="shared"))


def test_changing_what_is_private_changes_no_byte_of_what_is_found(tmp_path: Path) -> None:
    plain = finding_scripts(made(tmp_path / "a", audience="shared")[1])
    changed = finding_scripts(made(tmp_path / "b", PRIVATE, audience="shared")[1])
    assert plain == changed and len(plain) == 3


def test_hostile_words_end_no_script(tmp_path: Path) -> None:
    hostile = "</script><script>alert(1)</script> &"
    changes: Changes = {B1: ("tests:", f"note: '{hostile}'\ntests:")}
    script = finding_scripts(made(tmp_path, changes, audience="workshop")[1])["assets/entries.js"].decode()
    assert "</script" not in script and "&" not in script
    told = json.loads(script.removeprefix("window.logbookEntries = ").rstrip(";\n"))
    assert any("</script><script>alert(1)</script> &" in each["text"] for each in told["entries"])


def test_the_data_of_a_batch_is_what_its_page_shows(tmp_path: Path) -> None:
    _, pages = made(tmp_path, audience="workshop")
    script = finding_scripts(pages)["batches/b1.js"].decode()
    told = json.loads(script.partition("] = ")[2].rstrip(";\n"))
    page = next(page for page in pages if page.path == "batches/b1.html")
    for group, items in page.content["figures"].items():
        shown = dict(told["groups"])[group]
        assert shown == [[item.label, item.text, item.missing or item.basis] for item in items]
    written = [name for name, _ in told["groups"] if name.startswith("As written: ")]
    assert written == list(dict.fromkeys(f"As written: {item.section}" for item in page.content["entries"]))
