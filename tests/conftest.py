"""What all tests share: commands speak as to a person, not as to a forge, and keep nothing where the user keeps it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest


@pytest.fixture(autouse=True)
def _no_forge(monkeypatch: pytest.MonkeyPatch) -> None:
    """In CI the variable CI is set, and the commands then leave out the values of the files."""
    monkeypatch.delenv("CI", raising=False)


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The folder in which all commands of one run of the tests keep their pictures is not the user's own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield
