"""Acid behind a resin: what the exchange must have set free, what was to be expected, what was measured."""

from __future__ import annotations

from dataclasses import dataclass

from generator.formulas.constants import SOAP_G_PER_MOL
from generator.formulas.soap import acid_rise_mg_koh_per_g
from generator.formulas.uncertainty import combined, expanded
from generator.ledger.instruments import given_standard_uncertainty
from generator.ledger.interval import Interval
from generator.ledger.soap import alkali
from generator.log import Entry, Log
from generator.records import Batch
from generator.units import Quantity

ACID_VALUE = "acid value of the fuel"


@dataclass(frozen=True, slots=True)
class Acid:
    """Acid values of one batch, mg KOH/g: before the columns, set free, to expect, measured; None is unknown."""

    before: float | None
    rise_low: float | None
    rise_high: float | None
    expected_low: float | None
    expected_high: float | None
    measured: float | None
    u_each: float

    @property
    def agreement(self) -> str | None:
        """Whether what was measured lies in what was to be expected, give or take both results' uncertainty."""
        if self.measured is None or self.expected_low is None:
            return None
        margin = expanded(combined(self.u_each, self.u_each))
        if self.measured < self.expected_low - margin:
            return "lower than predicted"
        if self.expected_high is None:
            return None
        return "higher than predicted" if self.measured > self.expected_high + margin else "as predicted"


def acid_of(log: Log, entry: Entry[Batch], before: float | None, exchanged: Interval | None) -> Acid:
    """The acid of one batch, from the acid value of the feed and the soap that resins exchanged, mg/kg.

    Without an acid value of the feed the least to expect is the rise alone, and the most is unknown.
    """
    rise = _rise(exchanged, alkali(log, entry.record))
    return Acid(
        before=before,
        rise_low=rise.low if rise is not None else None,
        rise_high=rise.high if rise is not None else None,
        expected_low=(before or 0.0) + rise.low if rise is not None else None,
        expected_high=before + rise.high if rise is not None and before is not None else None,
        measured=_measured(entry.record),
        u_each=given_standard_uncertainty(ACID_VALUE),
    )


def _rise(exchanged: Interval | None, base: str | None) -> Interval | None:
    if exchanged is None or base is None:
        return None
    factor = SOAP_G_PER_MOL[base]
    return Interval(
        acid_rise_mg_koh_per_g(exchanged.low, factor), acid_rise_mg_koh_per_g(exchanged.high, factor)
    )


def _measured(batch: Batch) -> float | None:
    """The last acid value of the finished fuel that is a number and no bound."""
    values = [
        test.value.value
        for test in batch.tests
        if test.property == "acid value" and isinstance(test.value, Quantity) and not test.value.sign
    ]
    return values[-1] if values else None
