"""What the tests of a lot or an offer say of its oil: the last plain result of each property."""

from __future__ import annotations

from generator.formulas.constants import DensityLine
from generator.ledger.bench import acidity
from generator.log import Log
from generator.records import Test, Titration
from generator.units import Quantity


def acid_value_of(log: Log, tests: tuple[Test, ...], line: DensityLine) -> float | None:
    """The last acid value among tests, mg KOH/g: titrated by the workshop or written as a result; None where none is known."""
    found = (
        _titrated(log, test.titration, line) if test.titration is not None else _plain(test)
        for test in reversed(tests)
        if test.titration is not None or test.property == "acid value"
    )
    return next(found, None)


def result_of(tests: tuple[Test, ...], name: str) -> float | None:
    """The last uncensored result of a property among tests, in its base unit."""
    values = [_plain(test) for test in tests if test.property == name]
    return values[-1] if values else None


def _titrated(log: Log, titration: Titration, line: DensityLine) -> float | None:
    found = acidity(log, titration, line)
    return found.acid_value_mg_koh_per_g if found is not None else None


def _plain(test: Test) -> float | None:
    last = test.value
    return last.value if isinstance(last, Quantity) and not last.sign else None
