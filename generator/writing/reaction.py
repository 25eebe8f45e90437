"""A planned batch becomes a record: the stages of its reaction, lot by lot, with what was weighed; the plan stays."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.ledger.dose import Dose, StageDose
from generator.ledger.parts import Part
from generator.ledger.readings import plain
from generator.log import Entry, Log
from generator.problems import visible
from generator.records import Batch, Plan
from generator.units import NotAQuantity, quantity
from generator.validate.answer import Fault
from generator.writing.own_units import example, measured
from generator.writing.scalars import Value

# what an amount is read as, the usual kind first
_KINDS = {"catalyst": ("mass", "volume"), "methanol": ("volume", "mass")}


@dataclass(frozen=True, slots=True)
class Amount:
    """One amount of a stage: its lot, what it is, and what the weigh sheet says, empty where it says nothing."""

    stage: int
    name: str
    lot: str
    planned: str


def amounts_of(log: Log, entry: Entry[Batch], dose: Dose) -> list[Amount]:
    """Every amount the reaction of a planned batch needs, in the order of its stages."""
    plan = entry.record.plan
    assert plan is not None
    stages: Sequence[StageDose | None] = dose.stages or (None,)
    return [amount for number, stage in enumerate(stages) for amount in _of_stage(log, plan, number, stage)]


def _of_stage(log: Log, plan: Plan, number: int, stage: StageDose | None) -> Iterator[Amount]:
    grams = stage.catalyst_g if stage is not None else None
    weighed = measured(plain(grams) / 1000, "kg", 3, log.settings) if grams is not None else ""
    yield Amount(number, "catalyst", plan.catalyst, weighed)
    parts = stage.methanol if stage is not None else None
    if parts is None:
        yield from (Amount(number, "methanol", item.lot, "") for item in plan.methanol)
        return
    yield from (Amount(number, "methanol", part.lot, _poured(log, part)) for part in parts)


def _poured(log: Log, part: Part) -> str:
    if part.litres is None:
        return measured(plain(part.kg), "kg", 2, log.settings)
    litres = measured(plain(part.litres), "L", 1, log.settings)
    return f"{litres} at {measured(log.reference_c, '°C', 0, log.settings)}"


def reaction_of(
    log: Log, wanted: Sequence[Amount], said: Mapping[str, Sequence[str]], *, as_planned: bool
) -> list[Value] | Fault:
    """The stages with the amounts that were said, one a stage for each lot; those of the sheet only `as_planned`."""
    unknown = [lot for lot in said if lot not in {amount.lot for amount in wanted}]
    if unknown:
        hint = f"its lots are {', '.join(dict.fromkeys(amount.lot for amount in wanted))}"
        return Fault(f"'{visible(unknown[0])[:64]}' is not a lot of this plan", hint)
    taken: list[str] = []
    for amount in wanted:
        texts = said.get(amount.lot, ())
        taken.append(
            texts[amount.stage] if amount.stage < len(texts) else amount.planned if as_planned else ""
        )
    missing = [amount for amount, text in zip(wanted, taken, strict=True) if not text]
    if missing:
        return _missing(
            log, missing, _lacking(log, missing) if as_planned else "--as-planned takes the sheet's"
        )
    stages: dict[int, dict[str, list[Value]]] = {}
    for amount, text in zip(wanted, taken, strict=True):
        try:
            kind = quantity(text, _KINDS[amount.name], log.settings.gallon).kind
        except NotAQuantity as error:
            return Fault(f"{amount.lot}: {error.message}", error.hint)
        stages.setdefault(amount.stage, {"catalyst": [], "methanol": []})[amount.name].append(
            {"lot": amount.lot, kind: text}
        )
    return [dict(stage) for stage in stages.values()]


def _lacking(log: Log, amounts: Sequence[Amount]) -> str:
    """Why the weigh sheet has no amount of these."""
    rule = log.settings.dose
    if rule is None:
        return "the sheet has no amount of it, for logbook.yaml has no 'dose'"
    if rule.methanol is None and all(amount.name == "methanol" for amount in amounts):
        return "the sheet has no amount of it, for 'dose' in logbook.yaml has no 'methanol'"
    return "the sheet has no amount of it: 'esterday dose' prints it, and says what it lacks"


def asked_for(log: Log, amounts: Sequence[Amount]) -> str:
    """What is to be said, lot by lot, in the workshop's own units: `koh-001='... kg'`."""
    return " ".join(
        f"{amount.lot}='{example('... kg' if amount.name == 'catalyst' else '... L at ... °C', log.settings)}'"
        for amount in amounts
    )


def _missing(log: Log, amounts: Sequence[Amount], more: str) -> Fault:
    told = [
        f"{amount.lot} in stage {amount.stage + 1}"
        + (f" (sheet: {amount.planned})" if amount.planned else "")
        for amount in amounts
    ]
    hint = f"write what was weighed, once for each stage: {asked_for(log, amounts)}; {more}"
    return Fault(f"no amount is said for {', '.join(told)}", hint)
