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


def mixed_content(kg: Sequence[float], contents: Sequence[float]) -> float:
    """Content of a mixture by the mass of its parts: acid, water, anything that is neither made nor lost in mixing.

    Formula: c = sum(m_i * c_i) / sum(m_i)
    Where:
        c: content of the mixture, in the unit of its parts
        m_i (kg): mass of each part, kg
        c_i (contents): its content by mass, in the same unit
    Range: masses 0 or above, not all 0; parts that mix through and do not react.
    Source: balance of mass in mixing without reaction; published formula.
    """
    return sum(one * content for one, content in zip(kg, contents, strict=True)) / sum(kg)
