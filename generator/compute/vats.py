"""One row per line in the account of a vat: what was poured in or drawn, and how acid, how wet and how dear it was then."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.ledger.ledgers import Ledgers
from generator.ledger.vats import Mix
from generator.tables import VATS


def vats(ledgers: Ledgers, batches: pd.DataFrame) -> pd.DataFrame:
    """All vats by id, each by time; what a batch drew stands beside what its own titration said."""
    titrated = dict(zip(batches["batch"], batches["acid_value_mg_koh_per_g"], strict=True))
    return frame(
        VATS,
        [_row(ledgers, name, mix, titrated) for name, vat in ledgers.vats.items() for mix in vat.mixes],
    )


def _row(ledgers: Ledgers, vat: str, mix: Mix, titrated: Mapping[str, float | None]) -> dict[str, Any]:
    line, drawn = mix.line, mix.line.what == "drawn"
    each = ledgers.inventory.unit_cost(vat, line.day, line.by) if drawn else None
    holds = ledgers.log.lots[vat].record.holds
    return {
        "vat": vat,
        "date": line.day.isoformat(),
        "event": line.what,
        "by": line.by or None,
        "amount": float(line.amount),
        "content": float(line.balance),
        "holds": holds.value if holds is not None else None,
        "parts": _parts(mix),
        "acid_value_mg_koh_per_g": mix.acid_value_mg_koh_per_g,
        "water_mg_per_kg": mix.water_mg_per_kg,
        "unit_cost": float(each) if each is not None else None,
        "titrated_mg_koh_per_g": titrated.get(line.by) if drawn else None,
    }


def _parts(mix: Mix) -> str | None:
    """The lots in it with their shares, the largest first; those that round to nothing are left out."""
    total = sum(mix.litres.values())
    parts = sorted(mix.litres.items(), key=lambda item: (-item[1], item[0]))
    return (
        ", ".join(f"{lot} {100 * each / total:.0f} %" for lot, each in parts if each / total >= 0.005) or None
    )
