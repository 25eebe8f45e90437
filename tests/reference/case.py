"""One case: what goes in, what comes out, how near, why that near, and who says so."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import pytest

WORDS = (
    "published",
    "published formula",
    "secondary copy",
    "library",
    "derived",
    "from memory",
    "common practice, no source",
)
REASONS = {
    "R": "rounding of the printed value",
    "F": "floating point only",
    "K": "choice of constants, rounded or exact",
    "L": "version of a library or of the atomic masses",
    "P": "physical or model spread",
}


@dataclass(frozen=True, slots=True)
class Case:
    """A reference case. `derived` and `from memory` guard against change; they are no outside evidence."""

    id: str
    formula: Callable[..., float]
    inputs: Mapping[str, Any]
    expected: float
    tolerance: float
    reason: str
    source: str
    place: str
    confidence: str

    def __post_init__(self) -> None:
        assert self.confidence in WORDS, self.confidence
        assert self.reason in REASONS, self.reason
        assert self.source and self.place

    def check(self) -> None:
        """Compute, and compare within the tolerance, which is absolute."""
        found = self.formula(**self.inputs)
        told = (
            f"{self.id}: {found!r}, expected {self.expected!r} ± {self.tolerance:g} ({REASONS[self.reason]})"
        )
        assert abs(found - self.expected) <= self.tolerance, f"{told}; {self.source}, {self.place}"


def each(cases: Iterable[Case]) -> pytest.MarkDecorator:
    """Run a test once per case; its name says how sure the expected value is."""
    params = [pytest.param(case, id=f"{case.id} ({case.confidence})") for case in cases]
    return pytest.mark.parametrize("case", params)
