"""One row per charge and one per run: what each bed took up, what is left, and what that means in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pandas as pd

from generator.compute.columns_ahead import ahead
from generator.compute.frames import frame
from generator.formulas.columns import (
    bed_volumes,
    bed_volumes_per_h,
    empty_bed_contact_min,
    media_kg_per_1000_l,
    share_pct,
    superficial_velocity_m_per_h,
)
from generator.formulas.constants import DensityLine
from generator.kept import APART, Gathered
from generator.language import tell
from generator.ledger.basis import FUEL, amount, density_line
from generator.ledger.batch_facts import known
from generator.ledger.breakthrough import curve_of
from generator.ledger.capacity import Capacity
from generator.ledger.charges import PREDICTED, Charge, Run, sum_of
from generator.ledger.ledgers import Ledgers
from generator.ledger.media import Spread
from generator.ledger.pressure import clean_band_kpa, drops_of, flow_of
from generator.ledger.states import State, state_of
from generator.records import Event, Regenerate, Rest, Rinse, Unload
from generator.tables import CHARGES, EVENTS, RUNS


def charges(ledgers: Ledgers, before: Gathered = APART) -> pd.DataFrame:
    """All charges by vessel and number; one row each; `before` may hold the curves of some."""
    fuel = density_line(ledgers.log, FUEL)
    return frame(CHARGES, [_row(ledgers, charge, fuel, before) for charge in ledgers.columns.charges])


def _row(ledgers: Ledgers, charge: Charge, fuel: DensityLine, before: Gathered) -> dict[str, Any]:
    forecast = ledgers.forecasts.get(charge.id)
    return {
        **_charge(charge, ledgers.media[charge.id]),
        **_capacity(charge, ledgers.capacities[charge.id]),
        **_pressed(charge, fuel),
        **_kept_curve(charge, before),
        **ahead(charge, forecast),
        **_state(state_of(ledgers.columns, charge, forecast)),
    }


def events(ledgers: Ledgers) -> pd.DataFrame:
    """What was done to the purifiers, in time; one row each, two for a rotation."""
    line = density_line(ledgers.log, FUEL)
    rows = [
        {
            "date": one.at.strftime("%Y-%m-%d"),
            "purifier": one.purifier,
            "event": one.event,
            "vessel": one.vessel,
            "charge": one.charge,
            "position": one.place,
            **_done(ledgers, one.of, line),
        }
        for one in sorted(ledgers.columns.happened, key=lambda one: (one.at, one.purifier))
    ]
    return frame(EVENTS, rows)


def _done(ledgers: Ledgers, event: Event, fuel: DensityLine) -> dict[str, Any]:
    """What an event says of itself, by its kind."""
    used = event.used if isinstance(event, Rinse | Regenerate) else None
    drained = event.drained if isinstance(event, Unload | Rest) else None
    return {
        "spent": ("yes" if event.spent else "no") if isinstance(event, Unload | Regenerate) else None,
        "until": event.until.strftime("%Y-%m-%d") if isinstance(event, Rest) else None,
        "drained_l": amount(ledgers.log, drained, fuel).litres if drained is not None else None,
        "reason": event.reason if isinstance(event, Unload) else None,
        "used": tell("{amount} of {of}", amount=used.amount.text, of=used.lot) if used is not None else None,
        "note": event.note,
    }


def runs(ledgers: Ledgers) -> pd.DataFrame:
    """All runs by start and vessel; one row each."""
    own = ledgers.capacities
    rows = [row for charge in ledgers.columns.charges for row in _runs(charge, own[charge.id])]
    return frame(RUNS, sorted(rows, key=lambda row: (row["start"], row["batch"], row["vessel"])))


def _charge(charge: Charge, spread: Spread) -> dict[str, Any]:
    litres = charge.fuel_l
    rinsed = [reset.at for reset in charge.resets if reset.by == "rinse"]
    glycerol_g = charge.capacity_g("glycerol")
    return {
        "charge": charge.id,
        "purifier": charge.purifier,
        "vessel": charge.vessel.vessel,
        "position": charge.position,
        "medium": charge.pack.medium,
        "type": charge.medium.type if charge.medium else None,
        "lot": charge.pack.lot,
        "packed": charge.packed.date().isoformat(),
        "unloaded": charge.unloaded.date().isoformat() if charge.unloaded else None,
        "reason": charge.reason,
        "mass_kg": charge.pack.mass.value,
        "bed_l": charge.pack.bed.value,
        "runs": len(charge.runs),
        "fuel_l": litres,
        "passed_l": charge.passed_l,
        "fuel_kg": charge.fuel_kg,
        "bed_volumes": known(bed_volumes, charge.passed_l, charge.pack.bed.value),
        "soap_low_g": charge.soap.low,
        "soap_high_g": charge.soap.high,
        "soap_estimate_g": charge.soap.estimate,
        "capacity_confidence": _confidence(charge),
        "runs_estimated": sum(not run.is_measured for run in charge.runs),
        "runs_predicted": sum(run.basis == PREDICTED for run in charge.runs),
        "glycerol_g": charge.glycerol.estimate if glycerol_g is not None else None,
        "glycerol_capacity_g": glycerol_g,
        "glycerol_share_pct": known(share_pct, charge.glycerol.estimate, glycerol_g),
        "rinses": len(rinsed),
        "last_rinse": rinsed[-1].date().isoformat() if rinsed else None,
        "media_per_1000_l": known(media_kg_per_1000_l, charge.pack.mass.value, litres or None),
        "cost": spread.cost,
        "cost_missing": _cost_missing(charge) if spread.cost is None else None,
        "supplies_cost": spread.supplies,
        "expected_l": spread.expected_l,
        "expected_basis": spread.basis,
        "cost_per_l": spread.per_l,
        "cost_booked": _booked(spread),
        "cost_correction": spread.correction,
    }


def _cost_missing(charge: Charge) -> str:
    priced = charge.pack.lot is not None
    return tell("needs the price of its lot") if priced else tell("needs the lot it was packed from")


def _capacity(charge: Charge, capacity: Capacity | None) -> dict[str, Any]:
    """What it can take up and how much of that is used, each with its range."""
    soap, kg = charge.soap, charge.pack.mass.value
    grams = capacity.grams if capacity is not None else None
    return {
        "soap_per_kg": known(lambda held: held / kg, soap.estimate),
        "exchanged_mol": charge.exchanged_mol if charge.is_resin else None,
        "kg_per_kg": known(lambda fuel: fuel / kg, charge.fuel_kg),
        "void_l": charge.void_l,
        "drained_l": charge.drained_l,
        "life": charge.life,
        "since": charge.since.date().isoformat(),
        "since_l": sum_of(run.fuel_l for run in charge.present),
        "regenerations": sum(reset.by == "regenerate" for reset in charge.resets),
        "soap_capacity_low_g": grams.low if grams else None,
        "soap_capacity_g": grams.middle if grams else None,
        "soap_capacity_high_g": grams.high if grams else None,
        "capacity_at_least_g": capacity.at_least_g if capacity else None,
        "capacity_lives": capacity.lives if capacity else None,
        "soap_share_low_pct": known(share_pct, soap.low, grams.high if grams else None),
        "soap_share_pct": known(share_pct, soap.estimate, grams.middle if grams else None),
        "soap_share_high_pct": known(share_pct, soap.high, grams.low if grams else None),
    }


def _pressed(charge: Charge, fuel: DensityLine) -> dict[str, Any]:
    """How its drop of pressure rose, and the band of a clean bed at its usual flow."""
    drops = drops_of(charge)
    band = clean_band_kpa(charge, drops.like_flow_l_per_h, fuel)
    return {
        "like_flow_l_per_h": drops.like_flow_l_per_h,
        "drop_rise": drops.rise,
        "drop_missing": drops.missing,
        "fouled": None if drops.rise is None else "yes" if drops.fouled else "no",
        "clean_low_kpa": band.low if band is not None else None,
        "clean_high_kpa": band.high if band is not None else None,
    }


def _kept_curve(charge: Charge, before: Gathered) -> dict[str, Any]:
    """The same curve for as long as nothing of the charge changes: to fit it some hundred times is dear."""
    if not before.is_kept:
        return _curve(charge)
    return dict(before.value(lambda: _curve(charge), "curve", repr(charge)))


def _curve(charge: Charge) -> dict[str, Any]:
    """The curve by which it breaks through, or why there is none."""
    found = curve_of(charge)
    if isinstance(found, str):
        return {"curve_missing": found}
    return {
        "half_low_g": found.half_g.low,
        "half_g": found.half_g.middle,
        "half_high_g": found.half_g.high,
        "steepness_per_g": found.steepness_per_g,
        "curve_points": found.points,
    }


def _state(state: State) -> dict[str, str | None]:
    return {"state": state.words, "action": state.action or None, "harder": "yes" if state.harder else "no"}


def _booked(spread: Spread) -> float | None:
    """What the runs so far were charged; None where one of them is not known."""
    return known(lambda *amounts: sum(amounts), *(booking.amount for booking in spread.bookings))


def _confidence(charge: Charge) -> str | None:
    """The words of the medium's row about its capacities."""
    rows = charge.medium.ledgers if charge.medium is not None else ()
    return (
        "; ".join(
            tell("{kind}: {sure}", kind=row.of, sure=row.confidence)
            for row in rows
            if row.confidence is not None
        )
        or None
    )


def _runs(charge: Charge, capacity: Capacity | None) -> Iterator[dict[str, Any]]:
    drops = drops_of(charge)
    for run, like_kpa in zip(charge.runs, drops.like_kpa, strict=True):
        flow = flow_of(run)
        yield {
            "batch": run.batch,
            "number": run.number + 1,
            "purifier": run.purifier,
            "vessel": run.vessel,
            "position": run.position,
            "charge": run.charge,
            "start": run.start.strftime("%Y-%m-%d %H:%M"),
            "hours": run.hours,
            "fed_l": run.fed_l,
            "flow_l_per_h": flow,
            "bed_volumes_per_h": known(bed_volumes_per_h, flow, charge.pack.bed.value),
            "contact_min": known(empty_bed_contact_min, charge.pack.bed.value, flow),
            "inlet_kpa": run.gauged.inlet_kpa,
            "drop_kpa": run.gauged.drop_kpa,
            "like_drop_kpa": like_kpa,
            "velocity_m_per_h": known(
                superficial_velocity_m_per_h,
                flow,
                charge.vessel.diameter.value if charge.vessel.diameter is not None else None,
            ),
            **_ends(run),
            "estimate_g": run.estimate_g,
            "basis": run.basis or "unknown",
            "glycerol_g": run.glycerol_g,
            "life": run.life,
            "load_g": run.load_g,
            "load_share_pct": known(share_pct, run.load_g, capacity.grams.middle if capacity else None),
            "glycerol_load_g": run.glycerol_load_g if charge.capacity_g("glycerol") is not None else None,
        }


def _ends(run: Run) -> dict[str, float | None]:
    pairs = {"soap_in": run.soap_in, "soap_out": run.soap_out}
    out: dict[str, float | None] = {}
    for name, interval in pairs.items():
        out[f"{name}_low_mg_per_kg"] = interval.low if interval else None
        out[f"{name}_high_mg_per_kg"] = interval.high if interval else None
    out["soap_low_g"] = run.soap_g.low if run.soap_g else None
    out["soap_high_g"] = run.soap_g.high if run.soap_g else None
    return out
