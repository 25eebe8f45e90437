"""A folder with a good logbook in it, as a maker stands in."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.logbook_files import logbook


@pytest.fixture
def shed(tmp_path: Path) -> Path:
    logbook(tmp_path)
    return tmp_path
