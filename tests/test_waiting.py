"""Who waits for longer than a second sees what is done; a file, a pipe or a quiet command gets nothing of it."""

from __future__ import annotations

import io
import time

import pytest

from generator.cli import waiting as module
from generator.cli.waiting import waiting


class Terminal(io.StringIO):
    """What a terminal would get."""

    def isatty(self) -> bool:
        return True


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE_S", 0.02)
    monkeypatch.setattr(module, "STEP_S", 0.02)


def shown(
    monkeypatch: pytest.MonkeyPatch, stream: io.StringIO, seconds: float, *, quiet: bool = False
) -> str:
    monkeypatch.setattr("sys.stderr", stream)
    with waiting("Building", quiet=quiet):
        time.sleep(seconds)
    return stream.getvalue()


def test_a_terminal_is_told_and_left_clean(monkeypatch: pytest.MonkeyPatch) -> None:
    told = shown(monkeypatch, Terminal(), 0.3)
    assert told.startswith("\rBuilding, 0 s\r")
    assert told.endswith(f"\r{' ' * len('Building, 0 s')}\r")
    assert "\x1b" not in told


def test_what_is_quick_shows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE_S", 60)
    assert shown(monkeypatch, Terminal(), 0) == ""


@pytest.mark.parametrize(("stream", "quiet"), [(io.StringIO(), False), (Terminal(), True)])
def test_a_pipe_and_a_quiet_command_get_nothing(
    monkeypatch: pytest.MonkeyPatch, stream: io.StringIO, quiet: bool
) -> None:
    assert shown(monkeypatch, stream, 0.1, quiet=quiet) == ""


def test_a_mistake_ends_it_too(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr("sys.stderr", terminal)
    with pytest.raises(KeyError), waiting("Building"):
        time.sleep(0.1)
        raise KeyError
    assert terminal.getvalue().endswith(" \r")
