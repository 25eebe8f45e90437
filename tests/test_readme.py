"""What the README shows is true: its batch is a batch, its commands exist and run in their order, its two set-up commands are CI's."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

from click.testing import CliRunner

from generator.cli import main
from generator.read.document import parse
from generator.records import Batch
from generator.validate.grammar import record_of

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def _blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, re.DOTALL)


def _run(where: Path, script: str) -> subprocess.CompletedProcess[str]:
    """Run lines of a shell in which `esterday` is this checkout's."""
    esterday = f'esterday() {{ "{sys.executable}" -m generator "$@"; }}'
    return subprocess.run(
        ["bash", "-c", f"set -e\n{esterday}\n{script}"],
        cwd=where,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


def test_the_batch_shown_is_a_batch() -> None:
    text = next(block for block in _blocks("yaml") if block.startswith("batch:"))
    reading = parse("README.md", text)
    assert reading.problems == []
    assert reading.document is not None
    record, problems = record_of(Batch, reading.document, {"gallon": "none", "currency": "EUR"})
    assert problems == []
    assert record is not None and record.batch == "2026-014"


def test_a_batch_is_written_as_shown(tmp_path: Path) -> None:
    """The lines in their order, in a shell, in a copy of the demo under git; no error is left in the end."""
    shutil.copytree(ROOT / "logbook", tmp_path / "logbook")
    block = next(block for block in _blocks("sh") if "esterday record" in block)
    who = "git config user.name A; git config user.email a@example.org"
    done = _run(tmp_path, f"git init -q .\n{who}\n{block}esterday check\n")
    assert done.returncode == 0, done.stderr
    assert "114 batches and 2 planned read: 0 errors" in done.stderr


def test_a_spreadsheet_is_read_as_shown(tmp_path: Path) -> None:
    """The sheet and the map that are shown, and the lines in their order, in a copy of the demo."""
    shutil.copytree(ROOT / "logbook", tmp_path / "logbook")
    (tmp_path / "old.csv").write_text(_blocks("csv")[0], encoding="utf-8")
    filled = next(block for block in _blocks("yaml") if block.startswith("import: batches"))
    (tmp_path / "filled.yaml").write_text(filled, encoding="utf-8")
    block = next(block for block in _blocks("sh") if "--suggest" in block)
    first, rest = block.split("\n", 1)
    filled_in = "cp map.yaml proposed.yaml\ncp filled.yaml map.yaml"
    done = _run(tmp_path, f"{first}\n{filled_in}\n{rest}esterday check\n")
    assert done.returncode == 0, done.stderr
    assert "2 files written; 0 rows there already and the same; 0 rows not used." in done.stderr
    assert "read: 0 errors" in done.stderr
    second = (tmp_path / "logbook" / "batches" / "2026" / "p-2.yaml").read_text(encoding="utf-8")
    assert second.endswith("note: |\n  settled badly,\n  left over Sunday\n  Methanol (L): 4\n")
    back = (tmp_path / "all-batches.csv").read_text(encoding="utf-8-sig")
    assert "\np-1;2026-11-14;20,5;2,4 / 2,5;190;4,5;19;amber;\n" in back
    proposed = (tmp_path / "proposed.yaml").read_text(encoding="utf-8")
    for line in (line for line in filled.split("always:")[0].split("\n") if "note.line" not in line):
        assert line in proposed


def test_every_command_shown_exists() -> None:
    shown = re.findall(r"^(?:\.venv/bin/)?esterday (\w+)([^\n#]*)", "\n".join(_blocks("sh")), re.MULTILINE)
    assert len(shown) >= 3
    for command, rest in shown:
        help_text = CliRunner().invoke(main, [command, "--help"])
        assert help_text.exit_code == 0
        for option in re.findall(r"--[\w-]+", rest):
            assert option in help_text.output


def test_ci_calls_the_test_command_as_it_stands() -> None:
    command = next(block for block in _blocks("sh") if "pytest" in block).strip()
    assert command in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_the_first_paragraph_says_the_job() -> None:
    first = README.split("\n\n")[1]
    for word in ("biodiesel", "batch", "columns" if "columns" in first else "column", "cost", "site"):
        assert word in first
