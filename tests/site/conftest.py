"""The demo and the small logbook, built once with the real command for all tests of the site."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.site.building import ROOT, build


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workshop site of the demo."""
    return build(ROOT / "logbook", tmp_path_factory.mktemp("demo") / "site")


@pytest.fixture(scope="session")
def shared_demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shared site of the demo."""
    return build(ROOT / "logbook", tmp_path_factory.mktemp("shared") / "site", "--audience", "shared")


@pytest.fixture(scope="session")
def gallons(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workshop site of the small logbook in US units."""
    return build(ROOT / "tests" / "logbooks" / "gallons", tmp_path_factory.mktemp("gallons") / "site")
