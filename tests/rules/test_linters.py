"""The linters find nothing. Leave them out of a quick run with `pytest -m 'not lint'`."""

from __future__ import annotations

import subprocess
import sys

import pytest

from .sources import ROOT

pytestmark = pytest.mark.lint


@pytest.mark.parametrize("command", [["ruff", "check", "."], ["mypy"]], ids=["ruff", "mypy"])
def test_finds_nothing(command: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
