"""The mark of the tests that run linters."""

from __future__ import annotations

import pytest


def pytest_configure(config: pytest.Config) -> None:
    """Make the mark known, as unknown ones are errors."""
    config.addinivalue_line("markers", "lint: runs a linter over the whole project")
