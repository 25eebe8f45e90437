"""Who sees a report: the workshop always, others only where file and settings both say so; and no name of a file travels."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from tests.logbook_files import lay, logbook
from tests.publish.trees import contents
from tests.read.test_git import run

from .samples import CANARY, attach, pdf, photo, png

SETTING = ("title:", "public: [tests.report]\ntitle:")
NAME = f"{CANARY}.pdf"


def build(root: Path, out: Path, audience: str) -> dict[str, bytes]:
    """Build a site; its files."""
    done: Result = CliRunner().invoke(main, ["build", str(root), "--out", str(out), "--audience", audience])
    assert done.exit_code == 0, done.output
    return contents(out)


def reports(tree: dict[str, bytes]) -> list[str]:
    return sorted(path for path in tree if path.startswith("reports/"))


def whole(tree: dict[str, bytes]) -> bytes:
    return b"\n".join([*(path.encode() for path in tree), *tree.values()])


@pytest.mark.parametrize("public", [False, True])
@pytest.mark.parametrize("setting", [False, True])
def test_both_have_to_say_so(public: bool, setting: bool, tmp_path: Path) -> None:
    root = logbook(tmp_path)
    attach(root, NAME, pdf(), public=public)
    if setting:
        lay(root, "logbook.yaml", SETTING)
    tree = build(root, tmp_path / "shared", "shared")
    assert reports(tree) == (["reports/b2-water-1.pdf"] if public and setting else [])
    assert CANARY.encode() not in whole(tree)
    assert (b"../reports/" in tree["batches/b2.html"]) == (public and setting)


def test_the_workshop_has_it_on_the_page_of_the_batch(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    attach(root, NAME, pdf())
    tree = build(root, tmp_path / "site", "workshop")
    assert reports(tree) == ["reports/private/b2-water-1.pdf"]
    assert b'href="../reports/private/b2-water-1.pdf"' in tree["batches/b2.html"]
    assert CANARY.encode() not in whole(tree)


@pytest.mark.parametrize("setting", [False, True])
def test_a_private_report_moves_no_byte_of_the_shared_site(setting: bool, tmp_path: Path) -> None:
    trees = []
    for number, raw in enumerate([None, pdf(), pdf(picture=False)]):
        root = logbook(tmp_path / str(number), {"logbook.yaml": SETTING} if setting else None)
        if raw is not None:
            attach(root, NAME, raw)
        trees.append(build(root, tmp_path / str(number) / "out", "shared"))
    assert trees[0] == trees[1] == trees[2]


def test_the_count_of_private_reports_is_in_no_address(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"logbook.yaml": SETTING})
    attach(root, NAME, pdf())
    (root / "attachments" / "b.png").write_bytes(png())
    path = root / "batches" / "b2.yaml"
    more = "  - {property: water, value: 320 mg/kg, report: {file: b.png, public: true}}\n"
    path.write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
    assert reports(build(root, tmp_path / "out", "shared")) == ["reports/b2-water-1.png"]


def test_a_private_batch_keeps_its_reports(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"logbook.yaml": SETTING})
    attach(root, NAME, pdf(), public=True)
    lay(root, "batches/b2.yaml", ("batch: b2\n", "batch: b2\nprivate: true\n"))
    assert reports(build(root, tmp_path / "out", "shared")) == []


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    attach(root, "a.jpg", photo())
    (tmp_path / "secret.jpg").write_bytes(photo())
    (root / "attachments" / "a.jpg").unlink()
    (root / "attachments" / "a.jpg").symlink_to(tmp_path / "secret.jpg")
    done = CliRunner().invoke(main, ["check", str(root)])
    assert done.exit_code == 1 and "(not-a-plain-file)" in done.stderr


@pytest.mark.parametrize("name", ["../secret.jpg", "/etc/passwd", "..", ".", "a/b.jpg"])
def test_no_way_leads_out_of_the_folder(name: str, tmp_path: Path) -> None:
    root = logbook(tmp_path)
    attach(root, "a.jpg", photo())
    (root / "secret.jpg").write_bytes(photo())
    lay(root, "batches/b2.yaml", ("a.jpg", name))
    done = CliRunner().invoke(main, ["check", str(root)])
    assert done.exit_code == 1 and "(attachment-missing)" in done.stderr


def test_a_linked_folder_is_not_looked_into(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    attach(root, "a.jpg", photo())
    (root / "attachments").rename(tmp_path / "elsewhere")
    (root / "attachments").symlink_to(tmp_path / "elsewhere")
    done = CliRunner().invoke(main, ["check", str(root)])
    assert done.exit_code == 1 and "(attachment-missing)" in done.stderr


def committed(root: Path, told: str, at: int) -> None:
    """Commit all of a logbook on a day of January 2026."""
    if not (root / ".git").exists():
        run(root, "init", "-b", "main")
    run(root, "add", ".")
    run(root, "commit", "-m", told, at=at)


@pytest.mark.parametrize("audience", ["workshop", "shared"])
def test_a_report_that_was_exchanged_is_a_late_change_and_who_wrote_it_is_none(
    audience: str, tmp_path: Path
) -> None:
    """The result that names it stays as it is, so that nothing else tells."""
    root = logbook(tmp_path, {"logbook.yaml": SETTING})
    attach(root, NAME, pdf(), public=True)
    committed(root, "all", 20)
    (root / "attachments" / NAME).write_bytes(pdf().replace(CANARY.encode(), CANARY[::-1].encode()))
    committed(root, "another author", 22)
    plain = build(root, tmp_path / "a", audience)
    assert b"report of water" not in plain["data/changes.csv"]
    (root / "attachments" / NAME).write_bytes(pdf(picture=False))
    if audience == "shared":
        open_ = build(root, tmp_path / "b", audience)["data/changes.csv"]
        assert b"b2,,not committed,report of water,attached,another one,no" in open_
    committed(root, "another report", 25)
    tree = build(root, tmp_path / "c", audience)
    assert b"b2,2026-01-25,changed,report of water,attached,another one,yes" in tree["data/changes.csv"]
    assert "last on 2026-01-25: report of water." in tree["batches/b2.html"].decode()


def test_a_private_report_that_was_exchanged_leaves_no_trace(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"logbook.yaml": SETTING})
    attach(root, NAME, pdf())
    committed(root, "all", 20)
    plain = build(root, tmp_path / "a", "shared")
    (root / "attachments" / NAME).write_bytes(pdf(picture=False))
    assert build(root, tmp_path / "b", "shared") == plain
    committed(root, "another report", 25)
    assert build(root, tmp_path / "c", "shared") == plain
    (root / "attachments" / "other.pdf").write_bytes(pdf(picture=False))
    lay(root, "batches/b2.yaml", (NAME, "other.pdf"))
    assert build(root, tmp_path / "d", "shared") == plain
