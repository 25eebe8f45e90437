"""Figures that cannot be, or that a slip of the pen would explain: yields, methanol, mass, cost."""

from __future__ import annotations

from collections.abc import Iterator

from generator.formulas.acidity import ffa_pct
from generator.formulas.balance import yield_volume_pct
from generator.formulas.uncertainty import expanded
from generator.ledger.batch_facts import USUAL_CLOSURE_PCT, Facts, known
from generator.ledger.flows import explained, is_open
from generator.ledger.ledgers import Ledgers
from generator.ledger.spoken import mass, volume
from generator.ledger.uncertain import standard_uncertainty
from generator.log import Entry, Log
from generator.problems import Problem
from generator.records import Batch
from generator.validate.checks.oil import HIGH_FFA_PCT

YIELD_CEILING_PCT = 104.5  # where the oil is not known well enough for a ceiling of its own
YIELD_FLOOR_PCT = 50.0
LEAST_MOLES = 3.0
MOST_RECOVERED = 1.05  # of what was poured; common practice, no source
DOSE_OFF_PCT = 25.0


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check the figures of every batch."""
    log = ledgers.log
    for entry in log.batches.values():
        facts = ledgers.facts[entry.id]
        told = [*_heel(log, entry, facts)] or [*_yield(ledgers, entry, facts)]
        told += [*_methanol(entry, facts), *_recovered(log, entry, facts)]
        yield from told
        if not told:  # the same slip would open the mass as well
            yield from _closure(ledgers, entry, facts)
        yield from _dose(entry, facts)


def _yield(ledgers: Ledgers, entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    if facts.fuel_l is None or facts.oil_l is None:
        return
    pct = 100 * facts.fuel_l / facts.oil_l
    fed_pct = 100 * facts.fed_l / facts.oil_l if facts.fed_l is not None else pct
    if pct > 150:
        yield Problem(
            "impossible-yield",
            entry.at("fuel"),
            f"{volume(ledgers.log, facts.fuel_l)} of fuel from {volume(ledgers.log, facts.oil_l)} of oil cannot be",
            "check the units of both: litres or gallons",
            (entry.at("oil"),),
        )
    elif (high := _high(ledgers, facts, ceiling := _ceiling_pct(facts))) is not None:
        high_pct, path = high
        yield Problem(
            "high-yield",
            entry.at(*path),
            f"a volume yield of {high_pct:.1f} % lies above the {ceiling:.1f} % that this oil can give",
            "methanol left in the fuel, fuel released by a bed, or a volume read warm",
            (entry.at("oil"),),
        )
    elif fed_pct < YIELD_FLOOR_PCT and facts.fuel_l > 0:  # none at all is what a failed batch gave
        yield Problem(
            "low-yield",
            entry.at("fuel"),
            f"a volume yield of {fed_pct:.0f} % is far below what the oil can give",
            "check the units of fuel and oil; an emulsion belongs in a note",
            (entry.at("oil"),),
        )


def _ceiling_pct(facts: Facts) -> float:
    """What the oil can give at most; the usual ceiling where its own is not known, or rests on a doubted titration."""
    acid = facts.acidity
    if facts.yield_ceiling_pct is None or acid is None or not 0 <= acid.ffa_oleic_pct <= HIGH_FFA_PCT:
        return YIELD_CEILING_PCT
    return facts.yield_ceiling_pct


def _high(ledgers: Ledgers, facts: Facts, ceiling_pct: float) -> tuple[float, tuple[str, ...]] | None:
    """The yield of fed or of finished fuel that lies above its ceiling by more than the readings leave open, and where
    that volume stands; None where neither does. The interval is not asked for where the yield is plainly below.
    """
    oil_l = facts.oil_l
    assert oil_l is not None
    found = {
        name: yield_volume_pct(litres, oil_l)
        for name in ("fed_l", "fuel_l")
        if (litres := getattr(facts, name)) is not None
    }
    high = {name: pct for name, pct in found.items() if pct > ceiling_pct}
    if not high:
        return None
    measured = ledgers.measured(facts.batch)
    own = measured.yield_ceiling_pct if facts.yield_ceiling_pct == ceiling_pct else ceiling_pct
    beyond = []
    for name, pct in high.items():
        between = known(
            lambda litres, oil, ceiling: yield_volume_pct(litres, oil) - ceiling,
            getattr(measured, name),
            measured.oil_l,
            own,
        )
        if between is None or pct > ceiling_pct + expanded(standard_uncertainty(between)):
            beyond.append((pct, ("polish", "volume") if name == "fed_l" else ("fuel",)))
    return max(beyond, default=None)


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


def _recovered(log: Log, entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    """No more methanol comes back than was poured, but for what the readings leave open."""
    poured, back = facts.methanol_kg, facts.methanol_recovered_kg
    if poured is not None and back is not None and back > poured * MOST_RECOVERED:
        yield Problem(
            "recovered-beyond",
            entry.at("methanol_recovered", "volume"),
            f"{mass(log, back)} of methanol taken back, and {mass(log, poured)} poured",
            "check both volumes and their units; methanol of several batches is written with the one it came from",
            (entry.at("reaction", 0, "methanol"),),
        )


def _closure(ledgers: Ledgers, entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    closure = facts.closure_pct
    if closure is None or USUAL_CLOSURE_PCT[0] <= closure <= USUAL_CLOSURE_PCT[1]:
        return
    measured = ledgers.measured(entry.id)
    assert measured.closure_pct is not None
    if not is_open(measured):
        return
    found = explained(ledgers.log, entry, facts)
    reach = expanded(standard_uncertainty(measured.closure_pct))
    sentences = "; or ".join(each.sentence for each in found)
    lost = "; or mass was truly lost" if closure < USUAL_CLOSURE_PCT[0] else ""
    place = entry.at(*found[0].path) if found else entry.at("batch")
    yield Problem(
        "mass-open",
        place,
        f"mass out is {closure:.1f} ± {reach:.1f} % of mass in",
        f"{sentences}{lost}. Possibilities only: look at the sheet first"
        if found
        else "no single entry explains it; look for a flow that was not written",
        tuple(other for other in (entry.at("oil"), entry.at("fuel")) if other != place),
    )


def _dose(entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    demand = facts.dose_demand_mol_per_kg
    if demand is None or not 0 <= ffa_pct(demand) <= HIGH_FFA_PCT:
        return  # a dose cannot be held to a titration that is doubted already
    stages = {"": facts.dose_difference_pct}
    if facts.compared_pct < 100:  # the first stage against its share; then all of them against the whole
        stages = {
            " of the first stage": facts.dose_difference_pct,
            " of all stages": facts.dose_of_all_stages_pct,
        }
    for which, off in stages.items():
        if off is None or abs(off) <= DOSE_OFF_PCT:
            continue
        lots = [use.lot for use in entry.record.reaction[0].catalyst]
        twice = f"; lot '{lots[0]}' stands twice in the list" if len(lots) != len(set(lots)) else ""
        yield Problem(
            "dose-off",
            entry.at("reaction", 0, "catalyst"),
            f"the catalyst weighed{which} is {abs(off):.0f} % {'above' if off > 0 else 'below'} the workshop's rule{twice}",
            "check the mass, its unit and the titration; if it was meant, say why in a note",
            (entry.at("titration"),),
        )
        return


def _heel(log: Log, entry: Entry[Batch], facts: Facts) -> Iterator[Problem]:
    used = {run.purifier for run in entry.record.polish}
    if not used or not used <= set(log.purifiers):
        return
    if facts.heel_l is None or facts.fed_l is None or facts.fuel_l is None:
        return
    room = sum(vessel.volume.value for name in used for vessel in log.purifiers[name].record.vessels)
    if facts.heel_l > room:
        yield Problem(
            "heel-impossible",
            entry.at("fuel"),
            f"{volume(log, facts.fed_l)} were fed and {volume(log, facts.fuel_l)} came out: the columns would keep {volume(log, facts.heel_l)}, and hold {volume(log, room)}",
            "check the volumes and units of 'polish' and 'fuel'",
            (entry.at("polish", 0, "volume"),),
        )
