"""One row per charge and one per run: what each bed took up, what is left, and what that means in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from statistics import median
from typing import Any

import pandas as pd

from generator.compute.results import frame
from generator.formulas.columns import (
    bed_volumes,
    bed_volumes_per_h,
    empty_bed_contact_min,
    flow_l_per_h,
    media_kg_per_1000_l,
    share_pct,
)
from generator.ledger.batch_facts import known
from generator.ledger.charges import Charge, Columns, Run
from generator.ledger.media import Spread
from generator.tables import CHARGES, RUNS

RECENT_RUNS = 5


def charges(columns: Columns, spreads: Mapping[str, Spread]) -> pd.DataFrame:
    """All charges by vessel and number; one row each."""
    return frame(CHARGES, [_charge(charge, spreads[charge.id]) for charge in columns.charges])


def runs(columns: Columns) -> pd.DataFrame:
    """All runs by start and vessel; one row each."""
    rows = [row for charge in columns.charges for row in _runs(charge)]
    return frame(RUNS, sorted(rows, key=lambda row: (row["start"], row["batch"], row["vessel"])))


def soap_share_pct(charge: Charge) -> float | None:
    """Estimated soap over the capacity of the medium's row."""
    return known(share_pct, charge.soap.estimate, charge.capacity_g("soap"))


def glycerol_share_pct(charge: Charge) -> float | None:
    """Glycerol since packing or rinsing over the capacity of the medium's row."""
    return known(share_pct, charge.glycerol.estimate, charge.capacity_g("glycerol"))


def next_load_g(charge: Charge) -> float | None:
    """Soap the next batch is likely to bring to this bed: the median of its recent measured runs."""
    recent = [run.estimate_g for run in charge.runs if run.is_measured and run.estimate_g is not None][
        -RECENT_RUNS:
    ]
    return median(recent) if recent else None


def state(charge: Charge) -> str:
    """The state of a bed in words; the lag is never the first alarm."""
    if charge.unloaded is not None:
        return "unloaded"
    if not charge.runs:
        return "new"
    last = charge.runs[-1]
    if charge.position == "lag" and last.soap_out is not None and last.soap_out.low > 0:
        return "soap behind it: stop and run again"
    share, left = (
        soap_share_pct(charge),
        known(lambda whole, held: whole - held, charge.capacity_g("soap"), charge.soap.estimate),
    )
    if share is not None and share >= 100:
        return "spent, the vessel behind it is exposed" if charge.position == "lead" else "spent"
    if charge.soap.estimate is None:
        return "load unknown: no run has its samples"
    if charge.capacity_g("soap") is None:
        return "share unknown: the medium's row gives no capacity"
    coming = next_load_g(charge)
    if left is not None and coming is not None and left < coming:
        return "change before the next batch"
    glycerol_left = known(
        lambda whole, held: whole - held, charge.capacity_g("glycerol"), charge.glycerol.estimate
    )
    if glycerol_left is not None and last.glycerol_g is not None and glycerol_left < last.glycerol_g:
        return "rinse before the next batch"
    return "working"


def _charge(charge: Charge, spread: Spread) -> dict[str, Any]:
    litres = charge.fuel_l
    rinsed = [reset.at for reset in charge.resets if reset.by == "rinse"]
    high = charge.soap.high
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
        "fuel_kg": charge.fuel_kg,
        "bed_volumes": known(bed_volumes, litres, charge.pack.bed.value),
        "soap_low_g": charge.soap.low,
        "soap_high_g": high,
        "soap_estimate_g": charge.soap.estimate,
        "capacity_confidence": _confidence(charge),
        "runs_estimated": sum(not run.is_measured for run in charge.runs),
        "soap_capacity_g": charge.capacity_g("soap"),
        "soap_share_pct": soap_share_pct(charge),
        "glycerol_g": charge.glycerol.estimate if charge.capacity_g("glycerol") is not None else None,
        "glycerol_capacity_g": charge.capacity_g("glycerol"),
        "glycerol_share_pct": glycerol_share_pct(charge),
        "rinses": len(rinsed),
        "last_rinse": rinsed[-1].date().isoformat() if rinsed else None,
        "media_per_1000_l": known(media_kg_per_1000_l, charge.pack.mass.value, litres or None),
        "state": state(charge),
        "cost": spread.cost,
        "expected_l": spread.expected_l,
        "expected_basis": spread.basis,
        "cost_per_l": spread.per_l,
        "cost_booked": _booked(spread),
        "cost_correction": spread.correction,
    }


def _booked(spread: Spread) -> float | None:
    """What the runs so far were charged; None where one of them is not known."""
    return known(lambda *amounts: sum(amounts), *(booking.amount for booking in spread.bookings))


def _confidence(charge: Charge) -> str | None:
    """The words of the medium's row about its capacities."""
    rows = charge.medium.ledgers if charge.medium is not None else ()
    return "; ".join(f"{row.of}: {row.confidence}" for row in rows if row.confidence is not None) or None


def _runs(charge: Charge) -> Iterator[dict[str, Any]]:
    capacity = charge.capacity_g("soap")
    for run in charge.runs:
        flow = known(flow_l_per_h, run.fed_l, run.hours if run.hours > 0 else None)
        yield {
            "batch": run.batch,
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
            **_ends(run),
            "glycerol_g": run.glycerol_g,
            "load_g": run.load_g,
            "load_share_pct": known(share_pct, run.load_g, capacity),
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
