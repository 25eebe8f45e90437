"""Completion in a shell, as the README says to switch it on: a real bash is asked what comes next."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.logbook_files import logbook

ROOT = Path(__file__).resolve().parents[1]
LINE = re.search(r"(?m)^(eval \"[^\"]*bash_source[^\"]*\")", (ROOT / "README.md").read_text(encoding="utf-8"))


def completed(where: Path, *words: str) -> list[str]:
    """What a real bash offers behind these words, of which the last is begun."""
    assert LINE is not None
    command = where / "esterday"
    command.write_text(f"#!{sys.executable}\nfrom generator.cli import main\nmain(prog_name='esterday')\n")
    command.chmod(0o755)
    typed = " ".join(f"'{word}'" for word in ("esterday", *words))
    script = (
        f"{LINE[1]}\nCOMP_WORDS=({typed}); COMP_CWORD={len(words)}\n"
        '_esterday_completion esterday\nprintf "%s\\n" "${COMPREPLY[@]}"\n'
    )
    done = subprocess.run(
        ["bash", "-c", script],
        env={**os.environ, "PATH": f"{where}:{os.environ['PATH']}", "PYTHONPATH": str(ROOT)},
        cwd=where,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    return done.stdout.split("\n")


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("che", {"check"}),
        ("mig", {"migrate"}),
        ("check --js", {"--json"}),
        ("build --audience s", {"shared"}),
    ],
)
def test_bash_completes(typed: str, wanted: set[str], tmp_path: Path) -> None:
    assert wanted <= set(completed(tmp_path, *typed.split(" ")))


@pytest.mark.parametrize(
    ("typed", "wanted", "no"),
    [
        ("dose b", {"b1", "b2"}, "oil-1"),
        ("record b", {"b1", "b2"}, "shed"),
        ("record b1 ko", {"koh-1="}, "oil-1="),
        ("add ", {"b1", "oil-1", "shed", "tank-1", "school", "diesel"}, "logbook"),
        ("add b1 so", {"soap"}, "note"),
        ("add b1 soap ", {"point=", "acid=", "after="}, "soap"),
        ("add b1 fuel ", {"volume=", "tank="}, "fuel"),
        ("add b1 soap point=feed a", {"acid=", "after="}, "soap"),
        ("add shed event=pack ves", {"vessel="}, "history"),
        ("add tank-1 dr", {"draw", "draw="}, "dip"),
        ("new run b", {"b1", "b2"}, "oil-1"),
        ("new event s", {"shed"}, "school"),
        ("new batch --purifier s", {"shed"}, "school"),
        ("new lot --offer s", {"school"}, "shed"),
        ("new price d", {"diesel"}, "b1"),
        ("offer s", {"school"}, "shed"),
        ("explain decimal", {"decimal-comma"}, "bad-date"),
        ("add b9 ", set(), "soap"),
    ],
)
def test_bash_completes_what_the_logbook_holds(typed: str, wanted: set[str], no: str, tmp_path: Path) -> None:
    logbook(tmp_path)
    found = completed(tmp_path, *typed.split(" "))
    assert wanted <= set(found) and no not in found, found


def test_nothing_is_completed_where_there_is_no_logbook(tmp_path: Path) -> None:
    assert completed(tmp_path, "dose", "") == ["", ""]


def test_ids_are_found_in_a_folder_that_is_named(tmp_path: Path) -> None:
    logbook(tmp_path).rename(tmp_path / "book")
    assert "b1" in completed(tmp_path, "add", "--logbook", "book", "b")
