"""Charts are measured with the letters that come with the library: a picture looks the same whatever fonts a machine has."""

from __future__ import annotations

import re
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from tests.publish.injecting import missing

ROOT = Path(__file__).resolve().parents[2]
FONT = re.compile(r'openat\([^"]*"([^"]+\.(?:ttf|otf|ttc))"')
DRAW = """
from generator.charts.kinds import spec
from generator.render.pictures import svg
from tests.charts.samples import SAMPLES
for sample in SAMPLES:
    svg(spec(sample.kind, sample.params), sample.rows)
"""


def test_no_font_of_the_machine_is_opened_again_once_all_are_listed(tmp_path: Path) -> None:
    if (why := missing("strace")) is not None:
        pytest.skip(why)
    log = tmp_path / "opened"
    command = ["strace", "-f", "-e", "trace=openat", "-o", str(log), sys.executable, "-c", DRAW]
    subprocess.run(command, cwd=ROOT, check=True)
    opened = Counter(FONT.findall(log.read_text()))
    if not opened:
        pytest.skip("no fonts on this machine")
    assert set(opened.values()) == {1}, opened.most_common(3)
