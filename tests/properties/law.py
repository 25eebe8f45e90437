"""How the laws are tried: the same examples at every run, and values a workshop could meet."""

from __future__ import annotations

from hypothesis import settings
from hypothesis import strategies as st

LAW = settings(derandomize=True, deadline=None, max_examples=100, database=None)


def between(low: float, high: float) -> st.SearchStrategy[float]:
    """Ordinary floats of a range, ends included."""
    return st.floats(low, high, allow_nan=False, allow_infinity=False, allow_subnormal=False)


PURITY_PCT = between(50, 100)
BURETTE_ML = between(0, 50)
SAMPLE_G = between(0.1, 100)
OIL_KG = between(0.1, 2000)
FFA_PCT = between(0, 60)
ACIDS = ("12:0", "14:0", "16:0", "16:1", "18:0", "18:1", "18:2", "18:3", "20:0", "20:1", "22:0", "22:1")
PROFILES = st.dictionaries(st.sampled_from(ACIDS), between(0.1, 100), min_size=1, max_size=len(ACIDS))
