"""Bench titrations of a fuel with acid -> soap and catalyst left, with what the titration can tell from none.

A reading may be a bound: `< 0.3 mL` or `> 2.5 mL`. What follows from it is a bound too, and where neither end is known,
nothing is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from generator.formulas.constants import SOAP_G_PER_MOL, molar_mass, soap_base
from generator.formulas.soap import (
    residual_catalyst_mg_per_kg,
    soap_detection_limit_mg_per_kg,
    soap_mg_per_kg,
)
from generator.language import tell
from generator.ledger.basis import density_line
from generator.ledger.bench import sample_g_of
from generator.ledger.readings import EXACT, Readings, plain
from generator.log import Log
from generator.records import Batch, Catalyst, Polish, SoapSample

# how a content is known: as a number, below what can be told from none, or between bounds
FOUND, NOT_FOUND, AT_LEAST, AT_MOST, BETWEEN = "yes", "no", tell("at least"), tell("at most"), tell("between")


@dataclass(frozen=True, slots=True)
class Soap:
    """What a titration with acid says of soap or catalyst.

    `mg_per_kg` is what the readings give as they stand, a bound taken for a reading; `low` and `high` are what the content
    can be, None where nothing bounds it from above; `limit` is the least that can be told from none.
    """

    acid_ml: float
    blank_ml: float
    acid_mol_per_l: float
    sample_g: float
    counted_g_per_mol: float
    mg_per_kg: float
    limit_mg_per_kg: float
    low_mg_per_kg: float
    high_mg_per_kg: float | None
    known: str

    @property
    def detected(self) -> bool:
        """Whether it is a number, above the detection limit."""
        return self.known == FOUND


class _Acid(NamedTuple):
    """Acid that one content took, mL: as it is written, the least and the most it can be; None is unbounded.

    `below` where the reading of all of it is itself written as less than something.
    """

    ml: float
    low_ml: float | None
    high_ml: float | None
    below: bool


def alkali(log: Log, batch: Batch) -> str | None:
    """The base whose soap the batch holds: `KOH` or `NaOH`; None where the catalyst is not known or mixed."""
    found = set()
    for stage in batch.reaction:
        for use in stage.catalyst:
            entry = log.material_of(use.lot)
            if entry is not None and isinstance(entry.record, Catalyst):
                found.add(soap_base(entry.record.of))
    return found.pop() if len(found) == 1 else None


def soap(log: Log, sample: SoapSample, base: str | None, readings: Readings = EXACT) -> Soap | None:
    """Soap from one titration; None where the alkali of the batch is not known, or nothing bounds the soap.

    With two indicators the acid that the catalyst took is taken off first. Where that is given as less than something it
    took nothing to that much, so the soap took all the acid to the rest of it; as more than something, the rest at most.
    """
    if base is None:
        return None
    whole_ml = readings.burette_ml([sample.acid], f"acid, {sample.point}")
    blank_ml = readings.burette_ml([sample.blank], f"blank, {sample.point}")
    rest_ml, ends, first = whole_ml, 1, ""
    if sample.catalyst is not None:
        rest_ml = whole_ml - _first_end_point_ml(sample, readings)
        ends += _first_readings(sample)
        first = sample.catalyst.acid.sign
    acid = _Acid(
        ml=rest_ml,
        low_ml=None if sample.acid.sign == "<" or first == ">" else rest_ml,
        high_ml=None if sample.acid.sign == ">" else whole_ml if first == "<" else rest_ml,
        below=sample.acid.sign == "<",
    )
    return _titrated(log, sample, acid, blank_ml, SOAP_G_PER_MOL[base], readings, ends=ends)


def catalyst_left(log: Log, sample: SoapSample, base: str | None, readings: Readings = EXACT) -> Soap | None:
    """Catalyst left in the fuel, as the base of the batch; None without a first end point."""
    if base is None or sample.catalyst is None:
        return None
    net_ml, sign = _first_end_point_ml(sample, readings), sample.catalyst.acid.sign
    acid = _Acid(
        ml=net_ml,
        low_ml=None if sign == "<" else net_ml,
        high_ml=None if sign == ">" else net_ml,
        below=sign == "<",
    )
    return _titrated(log, sample, acid, 0.0, molar_mass(base), readings, residual_catalyst_mg_per_kg)


def _first_readings(sample: SoapSample) -> int:
    """How many readings the first end point rests on: one, and its blank where there is one."""
    return 2 if sample.catalyst is not None and sample.catalyst.blank.value else 1


def _first_end_point_ml(sample: SoapSample, readings: Readings) -> float:
    assert sample.catalyst is not None
    acid_ml = readings.burette_ml([sample.catalyst.acid], f"acid to the first end point, {sample.point}")
    if sample.catalyst.blank.value >= sample.catalyst.acid.value:
        return acid_ml * 0  # within a drop of each other: the catalyst took nothing, and never less
    if not sample.catalyst.blank.value:
        return acid_ml
    return acid_ml - readings.burette_ml(
        [sample.catalyst.blank], f"blank to the first end point, {sample.point}"
    )


def _titrated(
    log: Log,
    sample: SoapSample,
    acid: _Acid,
    blank_ml: float,
    counted_g_per_mol: float,
    readings: Readings,
    formula: Callable[..., float] = soap_mg_per_kg,
    *,
    ends: int = 1,
) -> Soap | None:
    """One content; its detection limit counts as many readings of acid as the difference rests on."""
    line = readings.density(density_line(log, "fuel"), "fuel")
    sample_g = sample_g_of(sample.sample, line, log, readings, f"sample, {sample.point}")
    normality = readings.normality_mol_per_l(sample.normality)
    drop_ml = log.settings.instruments.burette.value * 1000
    limit = soap_detection_limit_mg_per_kg(
        drop_ml * ends**0.5, drop_ml, plain(normality), plain(sample_g), counted_g_per_mol
    )

    as_read = formula(acid.ml, blank_ml, normality, sample_g, counted_g_per_mol)

    def content(ml: float) -> float:
        return as_read if ml is acid.ml else formula(ml, blank_ml, normality, sample_g, counted_g_per_mol)

    low = content(acid.low_ml) if acid.low_ml is not None else 0.0
    low = low if plain(low) >= limit else 0.0
    high = content(acid.high_ml) if acid.high_ml is not None else None
    high = limit if high is not None and plain(high) < limit else high
    known = _known(acid, plain(low))
    if known is None:
        return None
    return Soap(
        acid_ml=acid.ml,
        blank_ml=blank_ml,
        acid_mol_per_l=normality,
        sample_g=sample_g,
        counted_g_per_mol=counted_g_per_mol,
        mg_per_kg=as_read,
        limit_mg_per_kg=plain(high) if acid.below and high is not None else limit,
        low_mg_per_kg=low,
        high_mg_per_kg=high,
        known=known,
    )


def _known(acid: _Acid, low: float) -> str | None:
    """How a content is known; None where neither of its ends is."""
    if acid.high_ml is None:
        return AT_LEAST if low else None
    if acid.low_ml is None:
        return NOT_FOUND if acid.below else AT_MOST
    if plain(acid.low_ml) != plain(acid.high_ml):
        return BETWEEN if low else AT_MOST
    return FOUND if low else NOT_FOUND


def last_sample(batch: Batch, point: str) -> SoapSample | None:
    """The last sample at a point of a batch, over all its runs; earlier ones stay in the file and on the page.

    What is fed once more is no feed of the batch.
    """
    runs = batch.first_passes if point == "feed" else batch.polish
    samples = [sample for run in runs for sample in run.soap if sample.point == point]
    return samples[-1] if samples else None


def between(batch: Batch) -> str | None:
    """The point before the product, where both were sampled; after a rotation its vessel is another one."""
    points = [sample.point for run in batch.polish for sample in run.soap]
    behind = [point for point in points if point.startswith("after ")]
    return behind[-1] if behind and "product" in points else None


def soap_of_run(log: Log, run: Polish, point: str, base: str | None) -> Soap | None:
    """The last soap result at a point of one run."""
    samples = [sample for sample in run.soap if sample.point == point]
    return soap(log, samples[-1], base) if samples else None
