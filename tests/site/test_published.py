"""What readers take away: the feed, the tables with their schema, the records with their digests."""

from __future__ import annotations

import csv
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import feedparser
import pyarrow.parquet
import pytest

from tests.logbook_files import Changes, logbook
from tests.site.building import ROOT, build

ATOM = "{http://www.w3.org/2005/Atom}"
# RFC 3339 date-time, as RFC 4287 section 3.3 asks; published
MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z")


def verify(*arguments: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "generator", "verify", *map(str, arguments)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def digest_on(page: Path) -> str:
    (found,) = re.findall(r'<code class="digest">([0-9a-f]{64})</code>', page.read_text(encoding="utf-8"))
    return str(found)


@pytest.mark.parametrize("audience", ["demo", "shared_demo", "gallons"])
def test_the_feed_is_read_by_another_program(audience: str, request: pytest.FixtureRequest) -> None:
    """Source: feedparser (library); RFC 4287 sections 4.1.1 and 4.1.2 for what must stand once (published)."""
    site: Path = request.getfixturevalue(audience)
    found = feedparser.parse((site / "feed.xml").read_bytes())
    assert not found.bozo and found.version == "atom10"
    root = ElementTree.fromstring((site / "feed.xml").read_bytes())
    for each in (root, *root.findall(f"{ATOM}entry")):
        for name in ("id", "title", "updated"):
            assert len(each.findall(f"{ATOM}{name}")) == 1
        assert MOMENT.fullmatch(each.findtext(f"{ATOM}updated") or "")
    ids = [entry.id for entry in found.entries]
    assert ids and len(ids) == len(set(ids)) and found.feed.id not in ids
    assert all(re.match(r"tag:[a-z.]+,[0-9-]{4,10}:/|urn:uuid:", each) for each in [*ids, found.feed.id])
    moments = [entry.updated for entry in found.entries]
    assert moments == sorted(moments, reverse=True) and found.feed.updated == moments[0]
    for entry in found.entries:
        path, _, place = entry.link.removeprefix("https://wendlow.example/fuel/").partition("#")
        page = (site / path).read_text(encoding="utf-8")
        assert not place or f'id="{place}"' in page, entry.link


def test_a_batch_made_private_is_gone_everywhere_at_the_next_build(tmp_path: Path) -> None:
    out = tmp_path / "site"
    root = logbook(tmp_path / "a")
    build(root, out, "--audience", "shared")
    named = [
        path
        for path in out.rglob("*")
        if path.is_file() and (b"b2" in path.read_bytes() or "b2" in path.name)
    ]
    names = {path.relative_to(out).as_posix() for path in named}
    assert {
        "feed.xml",
        "batches/b2.html",
        "batches/b2.json",
        "sheets/b2.html",
        "data/batches.csv",
        "find.html",
    } <= names
    path = root / "batches" / "b2.yaml"
    path.write_text(
        path.read_text(encoding="utf-8").replace("batch: b2\n", "batch: b2\nprivate: true\n"),
        encoding="utf-8",
    )
    build(root, out, "--audience", "shared")
    left = [path for path in out.rglob("*") if path.is_file() and re.search(rb"\bb2\b", path.read_bytes())]
    assert [path.relative_to(out).as_posix() for path in left if "vega" not in path.parts] == []
    assert not list(out.rglob("b2.*"))


def test_the_lines_on_the_page_print_the_digest_that_stands_there(shared_demo: Path) -> None:
    folder = shared_demo / "batches"
    for page in [folder / "2024-001.html", folder / "2026-020.html"]:
        command = f"sha256sum {page.stem}.json"
        assert command in page.read_text(encoding="utf-8")
        done = subprocess.run(command.split(), cwd=folder, capture_output=True, text=True, check=True)
        assert done.stdout.split()[0] == digest_on(page)


def test_every_table_is_what_the_list_of_digests_says(shared_demo: Path, demo: Path) -> None:
    for site in (shared_demo, demo):
        done = subprocess.run(
            ["sha256sum", "--check", "--strict", "data/sha256.txt"],
            cwd=site,
            capture_output=True,
            text=True,
            check=True,
        )
        listed = {line.split(": ")[0] for line in done.stdout.splitlines()}
        files = {f"data/{path.name}" for path in (site / "data").iterdir()} - {"data/sha256.txt"}
        assert files <= listed


def test_verify_takes_a_copy_laid_out_anew_and_no_changed_one(shared_demo: Path, tmp_path: Path) -> None:
    digest = digest_on(shared_demo / "batches" / "2026-020.html")
    record = json.loads((shared_demo / "batches" / "2026-020.json").read_bytes())
    assert set(record) == {"batch", "runs", "tests"}
    copy = tmp_path / "copy.json"
    copy.write_text(json.dumps(record, indent=4, ensure_ascii=True), encoding="utf-8")
    assert verify(copy, digest).returncode == 0
    assert verify(copy, digest.upper()).returncode == 0
    record["batch"]["fuel_l"] += 0.001
    copy.write_text(json.dumps(record), encoding="utf-8")
    done = verify(copy, digest)
    assert done.returncode == 1 and "is not the file" in done.stdout
    assert verify(copy, digest[:-1]).returncode == 2
    assert verify(tmp_path / "none.json", digest).returncode == 2


def test_what_is_private_moves_no_digest_and_what_is_public_does(tmp_path: Path) -> None:
    changes: list[Changes] = [
        {},
        {"lots/oil-1.yaml": ("paid: 0.40", "paid: 0.41")},
        {"batches/b1.yaml": ("volume: 100 L", "volume: 100.5 L")},
    ]
    found = []
    for number, change in enumerate(changes):
        site = build(
            logbook(tmp_path / f"{number}", change), tmp_path / f"site{number}", "--audience", "shared"
        )
        found.append(digest_on(site / "batches" / "b1.html"))
    assert found[0] == found[1] != found[2]


def test_the_workshop_has_no_published_record(demo: Path) -> None:
    assert not list((demo / "batches").glob("*.json"))
    assert 'class="digest"' not in (demo / "batches" / "2026-020.html").read_text(encoding="utf-8")


def test_parquet_holds_what_the_csv_holds(shared_demo: Path) -> None:
    """Source: pyarrow (library) reads it back."""
    for path in (shared_demo / "data").glob("*.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            reader = csv.DictReader(file)
            rows = list(reader)
        table = pyarrow.parquet.read_table(path.with_suffix(".parquet"))
        assert table.column_names == reader.fieldnames
        for one, other in zip(rows, table.to_pylist(), strict=True):
            for name, text in one.items():
                value = other[name]
                if isinstance(value, float):
                    assert float(text) == value
                else:
                    assert text in (value or "", f"'{value}")


def test_the_package_names_every_column_with_its_type(shared_demo: Path, demo: Path) -> None:
    for site in (shared_demo, demo):
        package = json.loads((site / "data" / "datapackage.json").read_bytes())
        assert {each["path"] for each in package["resources"]} == {
            path.name for path in (site / "data").glob("*.csv")
        }
        for resource in package["resources"]:
            with (site / "data" / resource["path"]).open(encoding="utf-8", newline="") as file:
                rows = list(csv.DictReader(file))
            fields = resource["schema"]["fields"]
            assert not rows or [field["name"] for field in fields] == list(rows[0])
            for field in fields:
                assert field["description"]
                if field["type"] == "number":
                    [float(row[field["name"]]) for row in rows if row[field["name"]]]


def test_the_maker_s_alias_stands_for_a_source_and_for_nothing_else(tmp_path: Path) -> None:
    oil: Changes = {
        "lots/oil-1.yaml": ("paid:", "code: K3\npublic_note: From a school.\nsource: Harbour\npaid:")
    }
    site = build(logbook(tmp_path, oil), tmp_path / "site", "--audience", "shared")
    text = (site / "batches" / "b1.html").read_text(encoding="utf-8")
    assert "from K3" in text and "From a school." in text
    everything = b"".join(path.read_bytes() for path in site.rglob("*") if path.is_file())
    assert b"Harbour" not in everything and b"oil-1" not in everything
    with (site / "data" / "batches.csv").open(encoding="utf-8", newline="") as file:
        assert {row["oil_sources"] for row in csv.DictReader(file)} == {"K3"}


def test_the_page_of_downloads_says_how_a_copy_is_checked_and_its_words_hold(
    shared_demo: Path, tmp_path: Path
) -> None:
    """As a reader: two files fetched into one folder, then into the folders they came from; the lines of the page are run."""
    page = (shared_demo / "downloads.html").read_text(encoding="utf-8")
    told = page[page.index('id="copy"') :]
    for word in ("certutil -hashfile", "Get-FileHash", "shasum -a 256", "What you cannot"):
        assert word in told
    for name in ("batches.csv", "sha256.txt"):
        shutil.copy(shared_demo / "data" / name, tmp_path)
    line = re.findall(r"<code>(sha256sum batches.csv)</code>", told)[0]
    printed = subprocess.run(line.split(), cwd=tmp_path, capture_output=True, text=True, check=True).stdout
    assert f"{printed.split()[0]}  data/batches.csv\n" in (tmp_path / "sha256.txt").read_text(
        encoding="utf-8"
    )
    (tmp_path / "data").mkdir()
    for name in ("batches.csv", "sha256.txt"):
        (tmp_path / name).rename(tmp_path / "data" / name)
    line = re.findall(r"<code>(sha256sum --check [^<]*)</code>", told)[0]
    assert subprocess.run(line.split(), cwd=tmp_path, capture_output=True, check=False).returncode == 0
    with (tmp_path / "data" / "batches.csv").open("ab") as file:
        file.write(b"x")
    assert subprocess.run(line.split(), cwd=tmp_path, capture_output=True, check=False).returncode == 1
