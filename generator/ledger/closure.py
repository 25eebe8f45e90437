"""Which single entry, had it been written wrongly, would best explain a mass balance that does not close.

Possibilities in order, never a verdict: each says what the entry would have to be, and nothing is changed. Amounts come
as they were taken into the balance. Limits and weights are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from generator.formulas.dose import methanol_molar_ratio
from generator.formulas.stoichiometry import ester_ceiling_kg, methanol_consumed_kg
from generator.ledger.slips import (
    BACK,
    CATALYST,
    FUEL,
    HANDLING_PCT,
    LAYER,
    METHANOL,
    OIL,
    Balance,
    Flow,
    Slip,
    side_kg,
    slips,
)

__all__ = ["BACK", "CATALYST", "FUEL", "LAYER", "METHANOL", "OIL", "Explanation", "Flow", "explanations"]

LEAST_U_PCT: Final = 0.5  # no balance by hand is surer than that, as standard uncertainty
OPEN: Final = 2.0  # standard uncertainties beyond the allowance from which on a balance is open
USUAL_G_PER_MOL: Final = 870.0  # stands in for an oil nobody described, only to judge what is plausible
MOST, FAR = 3, 4.0  # explanations shown, and how much worse than the best one they may be


@dataclass(frozen=True, slots=True)
class Explanation:
    """One mistake that would explain the gap: `closure_pct` holds after it; the lower its `score`, the better it fits."""

    flow: str
    path: tuple[str | int, ...]
    kind: str
    sentence: str
    would_be: str
    closure_pct: float
    score: float


def explanations(
    flows: Iterable[Flow],
    *,
    oil_l: float | None,
    triglyceride_g_per_mol: float | None,
    reference_c: float,
    ffa_pct: float = 0.0,
) -> tuple[Explanation, ...]:
    """Rank the mistakes that would close the balance, at most three; none where it closes or nothing explains it.

    `oil_l` is the oil as written, in litres at `reference_c`. A layer and methanol taken back that were not written
    count as none; where any other flow is not known there is no balance.
    """
    ordered = tuple(sorted(flows, key=_place))
    missing = {flow.name for flow in ordered if flow.kg is None} | {OIL, METHANOL, FUEL}.difference(
        flow.name for flow in ordered
    )
    if not missing <= {LAYER, BACK} or _kg(ordered, OIL) <= 0 or _off(ordered) <= OPEN:
        return ()
    balance = Balance(ordered, oil_l, triglyceride_g_per_mol or USUAL_G_PER_MOL, ffa_pct, reference_c)
    judged = [each for slip in slips(balance) if (each := _judged(balance, slip)) is not None]
    ranked = sorted(judged, key=lambda each: (each.score, each.sentence))
    return tuple(each for each in ranked if each.score <= ranked[0].score + FAR)[:MOST]


def _place(flow: Flow) -> tuple[str, list[tuple[int, str]]]:
    return flow.name, [(step, "") if isinstance(step, int) else (-1, step) for step in flow.path]


def _kg(flows: Sequence[Flow], name: str) -> float:
    return sum(flow.kg or 0.0 for flow in flows if flow.name == name)


def _off(flows: Sequence[Flow]) -> float:
    """How far the loss lies outside what handling explains, in combined standard uncertainties."""
    went_in = side_kg(flows, entering=True)
    loss = went_in - side_kg(flows, entering=False)
    u_kg = float(sum(flow.u_kg**2 for flow in flows if flow.kg is not None) ** 0.5)
    return max(-loss, loss - went_in * HANDLING_PCT / 100, 0.0) / max(u_kg, went_in * LEAST_U_PCT / 100)


def _judged(balance: Balance, slip: Slip) -> Explanation | None:
    """An explanation closes the balance, takes half of the gap or more, and makes no other figure impossible."""
    after = (*(flow for flow in balance.flows if flow is not slip.instead_of), slip.flow)
    off, was, now = _off(after), _oddities(balance, balance.flows), _oddities(balance, after)
    if off > min(OPEN, _off(balance.flows) / 2) or any(
        odd > 1 and odd > was.get(name, 0.0) for name, odd in now.items()
    ):
        return None
    closure_pct = 100 * side_kg(after, entering=False) / side_kg(after, entering=True)
    score = slip.rarity + off**2 / 2 + sum(2 * min(odd, 3.0) ** 2 for odd in now.values())
    words = (slip.flow.name, slip.flow.path, slip.kind, slip.sentence, slip.would_be)
    return Explanation(*words, closure_pct, score)


def _oddities(balance: Balance, flows: Sequence[Flow]) -> dict[str, float]:
    """For each figure of the batch: 0 where it is usual, 1 at the edge of what is plausible, more beyond."""
    oil_kg, methanol_kg = _kg(flows, OIL), _kg(flows, METHANOL)
    excess_kg = max(methanol_kg - methanol_consumed_kg(oil_kg, balance.ffa_pct, balance.g_per_mol), 1e-9)
    ratio = methanol_molar_ratio(methanol_kg, 100.0, oil_kg, balance.g_per_mol)
    found = {"ratio": _odd(ratio, 3.5, 4.5, 7.0, 9.0)}
    found["back"] = _odd(100 * _kg(flows, BACK) / excess_kg, -1.0, 0.0, 90.0, 100.0)
    if _kg(flows, CATALYST) > 0:
        found["catalyst"] = _odd(100 * _kg(flows, CATALYST) / oil_kg, 0.2, 0.5, 1.8, 3.0)
    if _kg(flows, LAYER) > 0:
        found["layer"] = _odd(100 * _kg(flows, LAYER) / oil_kg, 8.0, 14.0, 26.0, 35.0)
    line = next((flow.density for flow in flows if flow.name == FUEL and flow.density), None)
    if line is not None and balance.oil_l:
        oil_l = balance.oil_l * oil_kg / _kg(balance.flows, OIL)
        pct_per_kg = 100 * 1000 / line.at(balance.reference_c) / oil_l
        ceiling_pct = ester_ceiling_kg(oil_kg, balance.ffa_pct, balance.g_per_mol) * pct_per_kg
        found["yield"] = _odd(_kg(flows, FUEL) * pct_per_kg, 75.0, 92.0, ceiling_pct, ceiling_pct + 2)
    return found


def _odd(value: float, low: float, usual_low: float, usual_high: float, high: float) -> float:
    return max((usual_low - value) / (usual_low - low), (value - usual_high) / (high - usual_high), 0.0)
