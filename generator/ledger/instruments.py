"""What is taken from tables and labels, and how well it is known: the rows `given` of `data/instruments.yaml`."""

from __future__ import annotations

import functools

from generator.data import rows
from generator.units import Quantity, quantity


@functools.cache
def given(name: str) -> Quantity:
    """The limits, or the standard uncertainty, of something given; KeyError for a row that is not there."""
    row = _rows()[name]
    return quantity(row["default"], (row["kind"],))


def given_standard_uncertainty(name: str) -> float:
    """The standard uncertainty of a row that is one as it stands, in its base unit."""
    assert _rows()[name]["shape"] == "standard"
    return given(name).value


@functools.cache
def _rows() -> dict[str, dict[str, str]]:
    table: dict[str, dict[str, str]] = rows("instruments")["given"]
    return table
