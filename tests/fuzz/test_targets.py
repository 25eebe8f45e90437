"""Every target with what Hypothesis makes of bytes, of text and of changed seeds: the same examples at every run."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.conftest import Counted

from .targets import TARGETS, seeds

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = {"grammar": 150, "workbook": 150}
USUAL = 500
SEEDS = seeds(ROOT)
# signs that mean something to one of the readers
SIGNS = st.sampled_from(
    [*"\t\n\r\0 #&*!|>'\"%@`,[]{}?:-=+.0e<>/\\;$€°", "\ufeff", "\u2028", "\u202e", "\ud83d\ude00"]
)


def changed(seed: bytes) -> st.SearchStrategy[bytes]:
    """A seed with a part of it replaced by something else."""
    places = st.tuples(
        st.integers(0, len(seed)), st.integers(0, 20), st.binary(max_size=8) | SIGNS.map(encoded)
    )
    return places.map(lambda place: seed[: place[0]] + place[2] + seed[place[0] + place[1] :])


def encoded(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")


def of(name: str) -> st.SearchStrategy[bytes]:
    texts = st.text(max_size=60).map(encoded) | st.lists(SIGNS, max_size=30).map("".join).map(encoded)
    return st.binary(max_size=200) | texts | st.sampled_from(SEEDS[name]).flatmap(changed)


@pytest.mark.parametrize("name", TARGETS)
def test_nothing_but_own_errors(name: str, counted: Counted) -> None:
    done = 0

    @settings(
        derandomize=True,
        deadline=None,
        database=None,
        max_examples=EXAMPLES.get(name, USUAL),
        suppress_health_check=[HealthCheck.too_slow],  # a machine may be busy
    )
    @given(raw=of(name))
    def tried(raw: bytes) -> None:
        nonlocal done
        TARGETS[name](raw)
        done += 1

    tried()
    for seed in SEEDS[name]:
        TARGETS[name](seed)
    counted("made-up inputs read without a foreign error", done)
