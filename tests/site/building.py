"""Run the real command on a logbook."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def build(logbook: Path, out: Path, *options: str, env: dict[str, str] | None = None) -> Path:
    """Run the command as a user would."""
    command = [sys.executable, "-m", "generator", "build", str(logbook), "--out", str(out), *options]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, env=env, check=False)
    assert done.returncode == 0, done.stderr
    return out
