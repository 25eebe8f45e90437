"""What a blend is like, from its parts."""

from __future__ import annotations

from collections.abc import Sequence


def blended_cloud_point_c(litres: Sequence[float], points_c: Sequence[float]) -> float:
    """Cloud point of a blend of fuels of one kind, as a mean by volume: an estimate, never a measurement.

    Formula: CP = sum(V_i * CP_i) / sum(V_i)
    Where:
        CP: cloud point of the blend, °C
        V_i (litres): volume of each part, L
        CP_i (points_c): its cloud point, °C
    Range: parts whose cloud points were measured by one method and lie within some 10 °C of each other.
    Source: Benjumea et al., Fuel 87:2069 (2008), abstract, linear in the volume share; published formula.
    """
    return sum(one * point for one, point in zip(litres, points_c, strict=True)) / sum(litres)
