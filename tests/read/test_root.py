"""The logbook a command takes where none is named: `logbook`, or the one a person stands in."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.cli import main
from generator.read.root import usual_logbook
from tests.logbook_files import logbook


@pytest.mark.parametrize(
    ("stands_in", "found"),
    [(".", "logbook"), ("logbook", "."), ("logbook/batches", ".."), ("logbook/batches/2026", "../..")],
)
def test_it_is_found_from_inside(
    stands_in: str, found: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = logbook(tmp_path)
    (root / "batches" / "2026").mkdir()
    monkeypatch.chdir(tmp_path / stands_in)
    assert usual_logbook() == Path(found)
    done = CliRunner().invoke(main, ["check"])
    assert (done.exit_code, "0 errors" in done.output) == (0, True), done.output


def test_a_command_that_writes_needs_no_folder_named_and_names_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = logbook(tmp_path)
    monkeypatch.chdir(root / "batches")
    done = CliRunner().invoke(main, ["new", "batch", "b9", "--date", "2026-08-01"])
    assert done.exit_code == 0, done.output
    assert (root / "batches" / "b9.yaml").is_file()
    assert "Next: esterday" in done.output and "--logbook" not in done.output
    assert CliRunner().invoke(main, ["add", "b9", "note", "By the door."]).exit_code == 0
    assert "By the door." in (root / "batches" / "b9.yaml").read_text(encoding="utf-8")


def test_a_logbook_in_a_logbook_goes_first_and_a_mere_folder_of_that_name_does_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = logbook(tmp_path)
    monkeypatch.chdir(root)
    (root / "logbook").mkdir()
    assert usual_logbook() == Path()
    (root / "logbook" / "logbook.yaml").touch()
    assert usual_logbook() == Path("logbook")


def test_where_there_is_none_the_usual_one_is_missed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(main, ["check"])
    assert done.exit_code != 0
    assert "esterday begin logbook" in done.output
