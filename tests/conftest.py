"""What all tests share: the commands speak as to a person, not as to a forge, unless a test says otherwise."""

from __future__ import annotations

import pytest


@pytest.fixture(autouse=True)
def _no_forge(monkeypatch: pytest.MonkeyPatch) -> None:
    """In CI the variable CI is set, and the commands then leave out the values of the files."""
    monkeypatch.delenv("CI", raising=False)
