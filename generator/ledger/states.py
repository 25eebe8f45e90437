"""The state of a bed in words, and what to do about it; the vessel behind another is never the first to be named."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from statistics import median

from generator.formulas.columns import share_pct
from generator.formulas.constants import SOAP_G_PER_MOL, molar_mass
from generator.language import tell
from generator.ledger.charges import Charge, Run
from generator.ledger.forecast import Forecast
from generator.ledger.interval import Interval
from generator.ledger.passes import Columns, Pass

FINE_PCT = 50.0
PASSES_PCT = 50.0  # of the soap that comes in
LETS_PCT = 25.0
RISEN_PCT, RISEN_TIMES = 10.0, 2.0  # or a tenth, where that is twice what its first runs let through
FIRST = 3
HARDER_TIMES = 3.0  # a run against the usual one, of a bed behind another
ALKALI_MG_PER_KG = 5.0  # sodium and potassium together, EN 14214; secondary copy
STOP = tell("stop, titrate the product again, and run the batch once more when the bed before it is changed")
CHANGE = tell("change it before the next batch")
READY = tell("titrate behind it in every run, and have its next filling ready")
UNLOADED, NEW, FINE, WORKING = tell("unloaded"), tell("new"), tell("fine"), tell("working")


@dataclass(frozen=True, slots=True)
class State:
    """In words, and the action it asks for; empty where it asks for none. `harder`: its last run took far more than usual."""

    words: str
    action: str = ""
    harder: bool = False


def state_of(columns: Columns, charge: Charge, forecast: Forecast | None) -> State:
    """The state of one bed."""
    if charge.unloaded is not None:
        return State(UNLOADED)
    if not charge.runs or forecast is None:
        return State(NEW)
    last = _last_pass(columns, charge)
    leaking = last is not None and leaks(last)
    if leaking and (charge.is_last or charge.in_line == 1):
        return State(tell("soap behind it"), STOP)
    found = _by_soap(charge, forecast)
    if found.action or not leaking:
        return found
    return State(
        tell("soap has passed the whole line"),
        tell("titrate behind this bed before the next run, and change it if soap comes through"),
    )


def _by_soap(charge: Charge, forecast: Forecast) -> State:
    last = (
        charge.is_last or charge.in_line == 1
    )  # what passes it is the product's, judged by what is in there
    passes = None if last else passing_pct(charge)
    if passes is not None and passes.low >= PASSES_PCT:
        return State(
            tell(
                "{share} % of the soap passes it, the vessel behind it is exposed", share=f"{passes.low:.0f}"
            ),
            CHANGE,
        )
    if charge.soap.estimate is None:
        return State(
            tell("load unknown, no run has its samples"),
            tell("titrate before and behind it in the next run"),
        )
    if forecast.capacity is not None and forecast.left_g is not None:
        if forecast.left_g.middle <= 0:
            spent = tell("spent") if last else tell("spent, the vessel behind it is exposed")
            return State(spent, CHANGE)
        coming = _next_g(forecast)
        if coming is not None and forecast.left_g.middle < coming:
            return State(tell("nearly spent, less is left than a batch leaves in it"), CHANGE)
    if passes is not None and _lets_through(charge, passes):
        return State(
            tell(
                "lets {share} % of the soap through, the vessel behind it takes it",
                share=f"{passes.low:.0f}",
            ),
            READY,
        )
    if not last and _may_not_hold(forecast):
        return State(tell("working, but it may not hold the next batch"), READY)
    if _glycerol_short(charge):
        return State(
            tell("nearly full of glycerol, by the inlet content assumed"),
            tell("rinse it before the next batch"),
        )
    if forecast.capacity is None or forecast.left_g is None:
        return State(tell("share unknown, no capacity is known of its medium"))
    share = 100 * charge.soap.estimate / forecast.capacity.grams.middle
    state = FINE if share < FINE_PCT else WORKING
    harder = _harder(charge, forecast, state)
    return State(harder or state, harder=bool(harder))


def _next_g(forecast: Forecast) -> float | None:
    """What the next batch leaves in it, by its estimate: the first one that is planned, else one as the last ones."""
    planned = forecast.coming[0].grams if forecast.coming else None
    coming = planned if planned is not None else forecast.per_batch_g
    return coming.middle if coming is not None else None


def _may_not_hold(forecast: Forecast) -> bool:
    """Whether the least that it can still take is below what the next batch leaves."""
    coming = _next_g(forecast)
    return forecast.left_g is not None and coming is not None and forecast.left_g.low < coming


def passing_pct(charge: Charge) -> Interval | None:
    """Soap behind the bed over soap before it in the last measured run of its life, %; None where there is none."""
    return next(_passings(reversed(charge.present)), None)


def _passings(runs: Iterable[Run]) -> Iterator[Interval]:
    for run in runs:
        if run.is_measured and run.soap_in is not None and run.soap_out is not None and run.soap_in.low > 0:
            least, most = (
                share_pct(run.soap_out.low, run.soap_in.high),
                share_pct(run.soap_out.high, run.soap_in.low),
            )
            yield Interval(least, most)


def _lets_through(charge: Charge, now: Interval) -> bool:
    if now.low >= LETS_PCT:
        return True
    first = median(each.middle for each in islice(_passings(charge.present), FIRST))
    return now.low >= RISEN_PCT and now.low >= RISEN_TIMES * first


def _harder(charge: Charge, forecast: Forecast, state: str) -> str:
    """What a bed behind another took in its last run, where that was far beyond the usual; the cause stands before it."""
    usual, last = forecast.per_batch_g, charge.runs[-1]
    if charge.place == 0 or usual is None or last.estimate_g is None or not last.is_measured:
        return ""
    if last.estimate_g < HARDER_TIMES * usual.middle or len(forecast.recent) < FIRST:
        return ""
    return tell(
        "{state}, but its last run left {grams} g in it and most leave {usual} g",
        state=state,
        grams=f"{last.estimate_g:.0f}",
        usual=f"{usual.middle:.0f}",
    )


def leaks(one: Pass) -> bool:
    """Whether the product of a run held more soap than would fit 5 mg/kg of sodium and potassium."""
    product = one.soap[-1]
    if product is None:
        return False
    factor = product.counted_g_per_mol
    metal = "K" if factor == SOAP_G_PER_MOL["KOH"] else "Na"
    return product.low_mg_per_kg > ALKALI_MG_PER_KG * factor / molar_mass(metal)


def _glycerol_short(charge: Charge) -> bool:
    capacity, held = charge.capacity_g("glycerol"), charge.glycerol.estimate
    last = charge.runs[-1].glycerol_g if charge.runs else None
    return capacity is not None and held is not None and last is not None and capacity - held < last


def _last_pass(columns: Columns, charge: Charge) -> Pass | None:
    return next((one for one in reversed(columns.passes) if any(other is charge for other in one.line)), None)
