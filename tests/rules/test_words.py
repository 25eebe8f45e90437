"""The project speaks of itself alone, and its files run on any machine."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from .sources import ROOT, ours, shown

# One letter of each stands in brackets, so that this list does not find itself.
FORBIDDEN = {
    "a path of one machine": r"(?<![\w.])/([w]ork|[o]pt|[h]ome/\w+|[r]oot)/",
    "a host of a package registry": r"[p]ypi\.org|[p]ythonhosted|[n]pmjs|[d]eb\.debian|[r]egistry\.\w+\.\w+",
    "how the text came about": r"(?i:\b[s]essions?\b|\b[c]hatbots?\b|\blanguage [m]odels?\b|\b[s]ubagents?\b)|\b[A]I\b",
    "an unfinished place": r"\b([T]ODO|[F]IXME|[X]XX)\b",
}
ALLOWED = re.compile(r"scope=\"[s]ession\"")  # how pytest names the length of a run

FILES = ours()


def found(text: str) -> list[str]:
    """Name each forbidden word with its line."""
    rest = ALLOWED.sub("", text)
    return [
        f"line {rest.count(chr(10), 0, match.start()) + 1}: {match[0]!r} is {why}"
        for why, pattern in FORBIDDEN.items()
        for match in re.finditer(pattern, rest)
    ]


def test_files_are_found() -> None:
    assert {ROOT / "pyproject.toml", Path(__file__), ROOT / "generator" / "problems.py"} <= set(FILES)


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_no_word_that_does_not_belong(path: Path) -> None:
    assert found(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_plain_text(path: Path) -> None:
    """Bad input for the tests is made by the tests, not kept as broken text files."""
    content = path.read_bytes()
    assert b"\r" not in content
    assert content == b"" or content.endswith(b"\n")
    content.decode("utf-8")


@pytest.mark.parametrize(
    "words",
    [
        "see {}work/main/x".format("/"),
        "{}opt/v/bin/python".format("/"),
        "https://{}.org/x".format("pypi"),
        "in an earlier {}ion".format("sess"),
        "{}I wrote this".format("A"),
        "# {}DO: later".format("TO"),
    ],
)
def test_each_kind_is_found(words: str) -> None:
    assert len(found(f"first line\n{words}\n")) == 1


def test_ordinary_words_pass() -> None:
    assert (
        found(
            '@pytest.fixture(scope="'
            + "sess"
            + 'ion")\nsessionStorage obsession network/work.html AIM ../work/x'
        )
        == []
    )
