"""A column that the settings make public moves with the keys it is made from, and with no other private key."""

from __future__ import annotations

import copy
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator import records
from generator.compute.audience import shared
from generator.compute.bare import UNWRITTEN, without_private, without_private_batches
from generator.compute.opened import groups, keys_for, told
from generator.compute.tally import tally
from generator.data import rows
from generator.ledger.ledgers import Ledgers
from generator.log import Log
from generator.read.folder import Folder, read_folder
from generator.records import Record
from generator.tables import widenable
from generator.validate.logbook import check
from tests.compute.test_audience import bytes_of
from tests.logbook_files import logbook
from tests.privacy.mutating import POOL, Book, Site, change, different, fit, laid, observed, sites, two_books
from tests.site.building import ROOT

EXAMPLES, EACH, LEAST = 24, 12, 200
FROZEN = ROOT / "tests" / "frozen" / "format-1" / "logbook"
# columns that are made from the same keys, one row each
ALIKE = {groups(name): [each for each in widenable() if groups(each) == groups(name)] for name in widenable()}


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> list[Book]:
    return two_books(tmp_path_factory.mktemp("books"))


@pytest.fixture(scope="module")
def seen() -> dict[tuple[str, str], list[object]]:
    return {key: values[:20] for key, values in observed(read_folder(FROZEN)).items()}


def widened(folder: Folder, columns: list[str]) -> Folder:
    """A copy whose settings make these columns public."""
    other = copy.deepcopy(folder)
    assert other.workshop is not None
    other.workshop.data["public"] = list(columns)
    return other


def closed(folder: Folder, columns: list[str]) -> list[Site]:
    """The private keys that none of these columns is made from."""
    opened = keys_for(columns)
    return [site for site in sites(folder) if site.key not in opened.get(site.kind, frozenset())]


def changed(folder: Folder, site: Site, values: list[object]) -> tuple[Folder, object] | None:
    """The folder with the first of these values in the key that leaves it without errors."""
    for value in values:
        after = change(folder, site, value)
        if after is not None:
            return after, value
    return None


@pytest.fixture(scope="module")
def values(books: list[Book], seen: dict[tuple[str, str], list[object]]) -> list[dict[Site, object]]:
    """For each logbook a value for one place of every private key, all of which can be written there together."""
    found: list[dict[Site, object]] = []
    for book in books:
        folder, kept, tried = book.folder, {}, set()
        for site in sites(book.folder):
            if (site.kind, site.key) not in tried:
                new = changed(folder, site, [*seen.get((site.kind, site.key), []), *POOL, None])
                if new is not None:
                    folder, kept[site] = new
                    tried.add((site.kind, site.key))
        found.append(kept)
    return found


@pytest.mark.parametrize("columns", ALIKE.values(), ids=[columns[0] for columns in ALIKE.values()])
def test_every_other_private_key_changed_at_once_changes_no_figure(
    books: list[Book], values: list[dict[Site, object]], columns: list[str]
) -> None:
    for book, new in zip(books, values, strict=True):
        folder = widened(book.folder, columns)
        places = set(closed(folder, columns))
        kept = [(site, value) for site, value in new.items() if site in places]
        after = _all_laid(folder, kept)
        assert len(kept) >= 15
        assert bytes_of(shared(_log(after))) == bytes_of(shared(_log(folder)))


def _all_laid(folder: Folder, kept: list[tuple[Site, object]]) -> Folder:
    """All of these changes; where they only fit together with others, those that fit one after the other."""
    after = folder
    for site, value in kept:
        after = laid(after, site, value) or after
    if fit(after):
        return after
    after = folder
    for site, value in kept:
        after = change(after, site, value) or after
    return after


def test_changes_with_some_columns_made_public_change_no_byte(
    books: list[Book], seen: dict[tuple[str, str], list[object]], capsys: pytest.CaptureFixture[str]
) -> None:
    made: list[str] = []

    @settings(
        max_examples=EXAMPLES, deadline=None, derandomize=True, database=None,
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(st.data())
    def tried(data: st.DataObject) -> None:
        book = data.draw(st.sampled_from(books))
        columns = data.draw(st.lists(st.sampled_from(widenable()), min_size=1, max_size=4, unique=True))
        folder = widened(book.folder, columns)
        plain, places, told_of = book.tree(copy.deepcopy(folder)), closed(folder, columns), []
        for _ in range(EACH):
            site = data.draw(st.sampled_from(places))
            values = [None, *seen.get((site.kind, site.key), []), *POOL]
            first = data.draw(st.integers(0, len(values) - 1))
            found = changed(folder, site, values[first:] + values[:first])
            if found is not None:
                folder, value = found
                told_of.append(f"{columns} {site.file} {site.kind}.{site.key}: {value!r}")
        assert different(plain, book.tree(copy.deepcopy(folder))) == [], told_of
        made.extend(told_of)

    tried()
    with capsys.disabled():
        print(f"\n{len(made)} changes of private values behind widened columns: no byte changed")
    assert len(made) >= LEAST


def _log(folder: Folder) -> Log:
    log = check(folder).log
    assert log is not None
    return log


@pytest.mark.parametrize("columns", ALIKE.values(), ids=[columns[0] for columns in ALIKE.values()])
def test_a_column_is_what_the_workshop_sees(tmp_path: Path, columns: list[str]) -> None:
    """Else a key lacks in the list, and the shared site would show another figure or none."""
    for root in (FROZEN, logbook(tmp_path)):
        log = _log(widened(read_folder(root), columns))
        planned = {name: entry for name, entry in log.planned.items() if not entry.record.private}
        public = replace(
            log, batches=without_private_batches(log), planned=planned, as_of=without_private(log).now()
        )
        whole, found = tally(Ledgers(public)), shared(log)
        for name in columns:
            table, _, column = name.partition(".")
            if name != "tests.report":  # which are shown hangs on each report too
                told_here = [row[column] for row in found.rows(table)]
                assert told_here == [row[column] for row in whole.rows(table)], name


def test_a_private_batch_moves_no_column_that_is_made_public(books: list[Book]) -> None:
    book = books[1]
    folder = widened(book.folder, list(widenable()))
    for document in folder.documents["batches"]:
        if document.data["batch"] == "b2":
            document.data["private"] = "true"
    never = copy.deepcopy(folder)
    for document in never.documents["batches"]:
        if document.data["batch"] == "b2":
            document.data.update(labour="3 h", note="other words", energy="17 kWh")
            document.data["fuel"]["volume"] = "11 L"
    assert different(book.tree(folder), book.tree(never)) == []


def test_every_column_says_what_it_is_made_from() -> None:
    listed = rows("opened")
    tables = {name.partition(".")[0] for name in widenable()}
    assert set(listed["columns"]) <= {*widenable(), *tables}
    lines = list(told(widenable()))
    assert [line.partition(":")[0] for line in lines] == list(widenable())
    assert {group for name in widenable() for group in groups(name)} == set(listed["keys"])


def test_the_list_names_keys_that_there_are_and_all_that_a_record_cannot_do_without() -> None:
    """A required key that no list opens has no value to stand for it."""
    for columns in ALIKE.values():
        for kind, keys in keys_for(columns).items():
            model: type[Record] = getattr(records, kind)
            fields = {field.alias or name: field for name, field in model.model_fields.items()}
            assert keys <= set(fields), kind
            lacking = {name for name, field in fields.items() if field.is_required()} - keys
            assert all((model, name) in UNWRITTEN for name in lacking - {"lot", "into", "received"}), kind


def test_what_a_column_is_made_from_moves_it(tmp_path: Path) -> None:
    """Else nothing of the above would be worth much: prices move a cost, and the energy does not."""
    folder = widened(read_folder(logbook(tmp_path)), ["costs.oil_per_l"])
    before = shared(_log(folder)).rows("costs")
    for key, value, same in (("energy", "77 kWh", True), ("paid", "0.77 EUR/L", False)):
        other = copy.deepcopy(folder)
        for document in other.documents["lots" if key == "paid" else "batches"]:
            if key != "paid" or document.data["lot"] == "oil-1":
                document.data[key] = value
        assert (shared(_log(other)).rows("costs") == before) is same
