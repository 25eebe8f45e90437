"""Completion in a shell, as the README says to switch it on: a real bash is asked what comes next."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
LINE = re.search(r"(?m)^(eval \"[^\"]*bash_source[^\"]*\")", (ROOT / "README.md").read_text(encoding="utf-8"))


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
    assert LINE is not None
    command = tmp_path / "esterday"
    command.write_text(f"#!{sys.executable}\nfrom generator.cli import main\nmain(prog_name='esterday')\n")
    command.chmod(0o755)
    words = ["esterday", *typed.split()]
    script = (
        f"{LINE[1]}\nCOMP_WORDS=({' '.join(words)}); COMP_CWORD={len(words) - 1}\n"
        '_esterday_completion esterday\nprintf "%s\\n" "${COMPREPLY[@]}"\n'
    )
    done = subprocess.run(
        ["bash", "-c", script],
        env={**os.environ, "PATH": f"{tmp_path}:{os.environ['PATH']}", "PYTHONPATH": str(ROOT)},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert wanted <= set(done.stdout.split())
