"""A logbook is the same with files that were read before and without, whatever stands in the folder that keeps them."""

from __future__ import annotations

import json
import shutil
from array import array
from base64 import b64encode
from pathlib import Path

import pytest

from generator import attaching
from generator.attaching import Refused
from generator.kept import NOTHING, Kept
from generator.read import document, remembered
from generator.read.attachments import attachments_of
from generator.read.folder import Folder, read_folder
from generator.read.remembered import FEW, Remembered
from generator.validate.logbook import checked_folder
from tests.logbook_files import BASE
from tests.test_gallery import CASES, lay_case

DEMO = Path(__file__).resolve().parents[2] / "logbook"
ONE_MARK = b64encode(array("I", [1, 1, 1, 1])).decode()
PDF = next(DEMO.glob("attachments/*.pdf"))


def told(folder: Folder) -> object:
    """All that was read."""
    documents = [
        *(one for each in folder.documents.values() for one in each),
        *(page.head for page in folder.pages),
    ]
    if folder.workshop is not None:
        documents.append(folder.workshop)
    read = [(one.file, one.data, list(one.marks.items()), one.offset, one.text) for one in documents]
    return read, folder.problems


def pack(kept: Kept) -> Path:
    """The one file that holds what was read."""
    assert kept.folder is not None
    (found,) = [path for path in kept.folder.glob("??/*") if path.stat().st_size > 1000]
    return found


@pytest.mark.parametrize("case", CASES)
def test_a_broken_logbook_is_told_alike_at_every_reading(case: str, tmp_path: Path) -> None:
    root = lay_case(case, tmp_path)
    kept = Kept(tmp_path / "kept")
    without = checked_folder(root)
    for _ in range(2):
        folder, checked = checked_folder(root, kept=kept)
        assert told(folder) == told(without[0])
        assert checked.problems == without[1].problems


def laid(folder: Path, of: Path = BASE) -> tuple[Path, Kept]:
    """A copy of a logbook, and an empty folder that keeps what is read of it."""
    shutil.copytree(of, folder / "logbook")
    return folder / "logbook", Kept(folder / "kept")


def parsed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The files that are parsed from here on."""
    names: list[str] = []
    parse = document.parse

    def counted(file: str, text: str, offset: int = 0) -> object:
        names.append(file)
        return parse(file, text, offset)

    monkeypatch.setattr(remembered, "parse", counted)
    return names


def test_only_what_changed_is_parsed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (root, kept), names = laid(tmp_path, DEMO), parsed(monkeypatch)
    first = told(read_folder(root, kept=kept))
    assert len(names) > 200
    names.clear()
    assert told(read_folder(root, kept=kept)) == first
    assert not names
    changed = root / "batches" / "2026" / "001.yaml"
    changed.write_text(changed.read_text(encoding="utf-8").replace("162 L", "163 L"), encoding="utf-8")
    again = read_folder(root, kept=kept)
    assert names == ["batches/2026/001.yaml"]
    assert told(again) == told(read_folder(root)) != first


def test_one_text_holds_a_logbook_and_no_file_that_is_gone(tmp_path: Path) -> None:
    root, kept = laid(tmp_path)
    read_folder(root, kept=kept)
    before = len(json.loads(pack(kept).read_bytes().partition(b"\n")[2]))
    gone = [*root.glob("lots/*"), *root.glob("batches/*"), *root.glob("prices/*")]
    for path in gone:
        path.unlink()
    read_folder(root, kept=kept)
    assert len(gone) > FEW
    assert len(json.loads(pack(kept).read_bytes().partition(b"\n")[2])) == before - len(gone)


def test_a_few_new_texts_are_not_written_and_read_as_they_are(tmp_path: Path) -> None:
    root, kept = laid(tmp_path, DEMO)
    read_folder(root, kept=kept)
    files = sorted(root.glob("lots/*.yaml"))
    for number, path in enumerate(files[: FEW // 2 + 1]):  # each is an old text less and a new one more
        before = pack(kept).stat().st_ino
        path.write_text(path.read_text(encoding="utf-8") + "note: changed\n", encoding="utf-8")
        assert told(read_folder(root, kept=kept)) == told(read_folder(root))
        assert (pack(kept).stat().st_ino == before) == (number < FEW // 2)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "not JSON",
        "[" * 100_000,
        '{"NAME": null}',
        '{"NAME": ["b", [1, 1, 1, 1]]}',
        f'{{"NAME": ["b", "{ONE_MARK[:-1]}"]}}',
        f'{{"NAME": ["b", "{ONE_MARK[:-4]}"]}}',
        f'{{"NAME": [{{"a": "b"}}, "{ONE_MARK}"]}}',
        f'{{"NAME": [1, "{ONE_MARK}"]}}',
    ],
)
def test_what_is_no_reading_is_read_anew(text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root, kept = laid(tmp_path)
    first = told(read_folder(root, kept=kept))
    names = json.loads(pack(kept).read_bytes().partition(b"\n")[2])
    known = json.dumps({name: json.loads(text)["NAME"] for name in names}) if "NAME" in text else text
    kept.keep(pack(kept).name, known)
    again = parsed(monkeypatch)
    assert told(read_folder(root, kept=kept)) == first
    assert len(again) == len(names)


def test_a_file_that_was_cut_short_or_turned_is_read_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root, kept = laid(tmp_path)
    first = told(read_folder(root, kept=kept))
    whole = pack(kept).read_bytes()
    again = parsed(monkeypatch)
    for damaged in (whole[:-1], whole[:2000] + b"x" + whole[2001:], b"", whole.replace(b"oil", b"oli", 1)):
        pack(kept).write_bytes(damaged.ljust(1001, b" "))
        again.clear()
        assert told(read_folder(root, kept=kept)) == first
        assert again


def test_another_release_or_another_folder_knows_nothing_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root, kept = laid(tmp_path)
    read_folder(root, kept=kept)
    names = parsed(monkeypatch)
    monkeypatch.setattr(remembered, "_maker", lambda: "another release")
    read_folder(root, kept=kept)
    assert len(names) > 10


def test_without_a_folder_nothing_is_kept_and_nothing_known(monkeypatch: pytest.MonkeyPatch) -> None:
    names = parsed(monkeypatch)
    found = Remembered(NOTHING, BASE)
    found.parse("a.yaml", "a: b\n")
    found.keep()
    found.parse("a.yaml", "a: b\n")
    assert names == ["a.yaml", "a.yaml"]


def test_a_report_is_looked_through_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "logbook" / "attachments").mkdir(parents=True)
    report = tmp_path / "logbook" / "attachments" / "one.pdf"
    shutil.copy(PDF, report)
    times: list[str] = []
    clean = attaching.cleaned

    def counted(name: str, raw: bytes) -> bytes:
        times.append(name)
        return clean(name, raw)

    monkeypatch.setattr(attaching, "cleaned", counted)
    for kept, expected in ((Kept(tmp_path / "kept"), 1), (NOTHING, 2)):
        times.clear()
        for _ in range(2):
            attachments_of(report.parents[1], kept).look_through("one.pdf")
        assert len(times) == expected
    report.write_bytes(report.read_bytes() + b"\n")
    attachments_of(report.parents[1], Kept(tmp_path / "kept")).look_through("one.pdf")
    assert len(times) == 3
    report.write_bytes(b"no report")
    for _ in range(2):
        with pytest.raises(Refused):
            attachments_of(report.parents[1], Kept(tmp_path / "kept")).look_through("one.pdf")
