"""Whatever is private may be changed, added or taken away: the shared site stays as it is, byte by byte."""

from __future__ import annotations

import copy
import os
import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.compute.opened import public_keys
from generator.read.folder import Folder, read_folder
from tests.logbook_files import logbook
from tests.privacy.mutating import POOL, Book, change, different, fit, observed, sites, two_books
from tests.site.building import ROOT, build

# not to be changed without another key, a file or ids of the same logbook; the demo's values of some are drawn above
ALONE = frozenset(
    (
        "Count.mass", "Loss.mass", "Shape.dip table", "Shape.horizontal cylinder", "TankEvent.dip", "Lot.recovered", "PriceSeries.price", "Regenerate.with", "Test.report",
        "Workshop.costing", "Lot.filled", "Lot.holds", "Lot.vat",  # a vat has all three, and is no purchase
    )
)  # fmt: skip
EXAMPLES, EACH, LEAST = 32, 12, 200


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> list[Book]:
    return two_books(tmp_path_factory.mktemp("books"))


@pytest.fixture(scope="module")
def seen() -> dict[tuple[str, str], list[object]]:
    """What the demo and the small logbook write in private keys."""
    found: dict[tuple[str, str], list[object]] = {}
    for root in (ROOT / "logbook", ROOT / "tests" / "logbooks" / "gallons"):
        for key, values in observed(read_folder(root)).items():
            found.setdefault(key, []).extend(values[:20])
    return found


def test_changes_of_what_is_private_change_no_byte(
    books: list[Book], seen: dict[tuple[str, str], list[object]], capsys: pytest.CaptureFixture[str]
) -> None:
    """Several changes on top of each other, each of which leaves a logbook without errors."""
    made: list[str] = []
    places = {id(book): sites(book.folder) for book in books}

    @settings(
        max_examples=EXAMPLES,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.data())
    def changed(data: st.DataObject) -> None:
        book = data.draw(st.sampled_from(books))
        folder, told = book.folder, []
        for _ in range(EACH):
            site = data.draw(st.sampled_from(places[id(book)]))
            values = [None, *seen.get((site.kind, site.key), []), *POOL]
            first = data.draw(st.integers(0, len(values) - 1))
            for value in values[first:] + values[:first]:
                after = change(folder, site, value)
                if after is not None:
                    folder = after
                    told.append(f"{site.file} {site.kind}.{site.key}: {value!r}")
                    break
        assert different(book.plain, book.tree(copy.deepcopy(folder))) == [], told
        made.extend(told)

    changed()
    with capsys.disabled():
        kinds = {text.split(" ")[1] for text in made}
        print(
            f"\n{len(made)} changes of private values in {EXAMPLES} logbooks, {len(kinds)} keys: no byte of the shared site changed"
        )
    assert len(made) >= LEAST


def test_every_private_key_is_changed_once(
    books: list[Book], seen: dict[tuple[str, str], list[object]]
) -> None:
    """Each key that a record of these logbooks can have takes some value; all of them together change no byte."""
    untried: set[str] = set()
    tried: set[str] = set()
    for book in books:
        folder = book.folder
        for site in sites(book.folder):
            name = f"{site.kind}.{site.key}"
            if name in tried:
                continue
            for value in (*seen.get((site.kind, site.key), []), *POOL, None):
                after = change(folder, site, value)
                if after is not None:
                    folder = after
                    tried.add(name)
                    break
            else:
                untried.add(name)
        assert different(book.plain, book.tree(copy.deepcopy(folder))) == []
    assert untried - tried <= ALONE, sorted(untried - tried - ALONE)
    assert len(tried) > 70


def _renamed(old: str, new: str) -> Callable[[Folder], None]:
    def rename(folder: Folder) -> None:
        for listed in folder.documents.values():
            for document in listed:
                _replace(document.data, old, new)

    return rename


def _replace(data: object, old: str, new: str) -> None:
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in list(pairs):
        if value == old:
            data[key] = new  # type: ignore[index]
        _replace(value, old, new)


def _without(kind: str) -> Callable[[Folder], None]:
    def remove(folder: Folder) -> None:
        folder.documents[kind].clear()
        for document in folder.documents["batches"]:
            if kind == "tanks":
                document.data.get("fuel", {}).pop("tank", None)

    return remove


def _again(kind: str, key: str) -> Callable[[Folder], None]:
    """One more record of a kind, which nothing else names."""

    def add(folder: Folder) -> None:
        twin = copy.deepcopy(folder.documents[kind][0])
        twin.data[key] = "a-first-of-all"
        twin.data.pop("history", None)  # of a tank, which nobody fills
        folder.documents[kind].insert(0, twin)

    return add


def _poured(folder: Folder) -> None:
    """Oil comes by way of a vat."""
    (bought,) = (one for one in folder.documents["lots"] if one.data["lot"] == "oil-1")
    data = {
        **{key: bought.data[key] for key in ("material", "received")},
        "lot": "vat-1", "vat": "true", "holds": "400 L",
        "filled": [{"date": bought.data["received"], "lot": "oil-1", "volume": "150 L at 15 °C"}],
    }  # fmt: skip
    folder.documents["lots"].append(replace(bought, file="lots/vat-1.yaml", data=data))
    folder.documents["batches"][0].data["oil"][0]["lot"] = "vat-1"


def _backwards(folder: Folder) -> None:
    for listed in folder.documents.values():
        listed.reverse()


STRUCTURAL: dict[str, Callable[[Folder], None]] = {
    "a lot has another id": _renamed("oil-1", "zz-1"),
    "a material that is no medium has another id": _renamed("frying-oil", "zz-oil"),
    "a tank has another id": _renamed("tank-1", "zz-tank"),
    "an offer has another id": _renamed("school", "a-school"),
    "no tanks": _without("tanks"),
    "no offers": _without("offers"),
    "no prices": _without("prices"),
    "one more lot": _again("lots", "lot"),
    "one more offer": _again("offers", "offer"),
    "one more tank": _again("tanks", "tank"),
    "no private page": lambda folder: folder.pages.clear(),
    "oil by way of a vat": _poured,
    "files in another order": _backwards,
}


@pytest.mark.parametrize("name", STRUCTURAL)
def test_whole_records_that_are_private_leave_no_trace(books: list[Book], name: str) -> None:
    book = books[1]
    folder = book.copied()
    STRUCTURAL[name](folder)
    if name.startswith("a material"):
        materials = folder.documents["materials"][0].data["materials"]
        materials["zz-oil"] = materials.pop("frying-oil")
    assert repr(folder) != repr(book.folder)
    assert fit(folder)
    assert different(book.plain, book.tree(folder)) == []


def test_the_list_of_public_keys_names_keys_that_there_are() -> None:
    """Else a slip of the pen in the list would make a key private, and nobody would see why."""
    from generator import records

    for kind, keys in public_keys().items():
        fields = getattr(records, kind).model_fields
        assert keys <= {field.alias or name for name, field in fields.items()}, kind


def test_author_place_and_machine_change_no_byte(tmp_path: Path) -> None:
    """Another author, folder, time zone, language and names of files: the real command on two repositories."""
    trees = []
    for number, (author, zone) in enumerate([("Ann Other", "Asia/Tokyo"), ("N. N.", "America/Lima")]):
        root = logbook(tmp_path / f"folder {number}")
        if number:
            for path in [
                *(root / "lots").iterdir(),
                *(root / "batches").iterdir(),
                *(root / "tanks").iterdir(),
            ]:
                shutil.move(path, path.with_name(f"x-{path.name}"))
        mail = f"{author.replace(' ', '')}@{number}.example"
        git = ["git", "-C", str(root), "-c", f"user.name={author}", "-c", f"user.email={mail}"]
        for command in (["init", "-q"], ["add", "."], ["commit", "-q", "-m", f"private {number}"]):
            subprocess.run([*git, *command], check=True, capture_output=True)
        env = {**os.environ, "TZ": zone, "LANG": "C.UTF-8" if number else "C", "USER": author}
        site = build(root, tmp_path / f"site {number}", "--audience", "shared", env=env)
        trees.append(
            {str(path.relative_to(site)): path.read_bytes() for path in site.rglob("*") if path.is_file()}
        )
    assert different(*trees) == []
    assert not [name for name, text in trees[0].items() if re.search(rb"Ann ?Other|folder 0|Tokyo", text)]
