"""Figures that cannot be, or that a slip of the pen would explain: yields, methanol, mass, cost."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ledger.facts import Facts
from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.problems import Problem
from generator.records import Batch
from generator.validate.checks.oil import HIGH_FFA_PCT

YIELD_CEILING_PCT = 104.5
YIELD_FLOOR_PCT = 50.0
LEAST_MOLES = 3.0
CLOSURE_PCT = (90.0, 105.0)
DOSE_OFF_PCT = 25.0


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check the figures of every batch."""
    log = ledgers.log
    for entry in log.batches.values():
        facts = ledgers.facts[entry.id]
        told = [*_heel(log, entry, facts)] or [*_yield(entry, facts)]
        told += _methanol(entry, facts)
        yield from told
        if not told:  # the same slip would open the mass as well
            yield from _closure(entry, facts)
        yield from _dose(entry, facts)


def _yield(entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    if facts.fuel_l is None or facts.oil_l is None:
        return
    pct = 100 * facts.fuel_l / facts.oil_l
    fed_pct = 100 * facts.fed_l / facts.oil_l if facts.fed_l is not None else pct
    if pct > 150:
        yield Problem(
            "impossible-yield",
            entry.at("fuel"),
            f"{facts.fuel_l:.0f} L of fuel from {facts.oil_l:.0f} L of oil cannot be",
            "check the units of both: litres or gallons",
            (entry.at("oil"),),
        )
    elif max(pct, fed_pct) > YIELD_CEILING_PCT:
        yield Problem(
            "high-yield",
            entry.at("fuel"),
            f"a volume yield of {max(pct, fed_pct):.1f} % lies above the ceiling near {YIELD_CEILING_PCT} %",
            "methanol left in the fuel, fuel released by a bed, or a volume read warm",
            (entry.at("oil"),),
        )
    elif fed_pct < YIELD_FLOOR_PCT:
        yield Problem(
            "low-yield",
            entry.at("fuel"),
            f"a volume yield of {fed_pct:.0f} % is far below what the oil can give",
            "check the units of fuel and oil; an emulsion belongs in a note",
            (entry.at("oil"),),
        )


def _methanol(entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    ratio = facts.methanol_molar_ratio
    if ratio is not None and ratio < LEAST_MOLES:
        yield Problem(
            "methanol-short",
            entry.at("reaction", 0, "methanol"),
            f"{ratio:.1f} mol of methanol per mol of oil, and the reaction takes {LEAST_MOLES:.0f}",
            "check the volumes and units of methanol and oil",
            (entry.at("oil"),),
        )


def _closure(entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    if facts.closure_pct is not None and not CLOSURE_PCT[0] <= facts.closure_pct <= CLOSURE_PCT[1]:
        yield Problem(
            "mass-open",
            entry.at("batch"),
            f"mass out is {facts.closure_pct:.1f} % of mass in",
            "97 to 103 % is usual for readings by hand; look for a volume in the wrong unit (kg for L, gallons), or a flow not written",
            (entry.at("oil"), entry.at("fuel")),
        )


def _dose(entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    off, acid = facts.dose_difference_pct, facts.acidity
    if acid is None or not 0 <= acid.ffa_pct <= HIGH_FFA_PCT:
        return  # a dose cannot be held to a titration that is doubted already
    if off is not None and abs(off) > DOSE_OFF_PCT:
        lots = [use.lot for use in entry.record.reaction[0].catalyst]
        twice = f"; lot '{lots[0]}' stands twice in the list" if len(lots) != len(set(lots)) else ""
        yield Problem(
            "dose-off",
            entry.at("reaction", 0, "catalyst"),
            f"the catalyst weighed is {abs(off):.0f} % {'above' if off > 0 else 'below'} the workshop's rule{twice}",
            "check the mass, its unit and the titration; if it was meant, say why in a note",
            (entry.at("titration"),),
        )


def _heel(log: Log, entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    polish = entry.record.polish
    purifier = log.purifiers.get(polish.purifier) if polish is not None else None
    if purifier is None or facts.heel_l is None:
        return
    room = sum(vessel.volume.value for vessel in purifier.record.vessels)
    if facts.heel_l > room:
        yield Problem(
            "heel-impossible",
            entry.at("fuel"),
            f"{facts.fed_l:.0f} L were fed and {facts.fuel_l:.0f} L came out: the columns would keep {facts.heel_l:.0f} L, and hold {room:.0f} L",
            "check the volumes and units of 'polish' and 'fuel'",
            (entry.at("polish", "volume"),),
        )
