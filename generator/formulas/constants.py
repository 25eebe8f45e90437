"""Molar masses from the table of substances, and the constants that standards fix by convention.

The two are kept apart on purpose: a figure to be compared with a laboratory's needs the convention, a mass
balance needs the exact mass.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final

from generator.data import rows
from generator.formulas.density import density_kg_per_m3

KOH_CONVENTION_G_PER_MOL: Final = 56.1
"""Potassium hydroxide as EN 14104 and ISO 660 round it, g/mol (secondary copy)."""

OLEIC_CONVENTION_G_PER_MOL: Final = 282.0
"""Oleic acid as free fatty acid is counted, g/mol; 28.2 in AOCS Ca 5a-40 (secondary copy)."""

FREE_ACID_G_PER_MOL: Final[Mapping[str, float]] = MappingProxyType(
    {"oleic": OLEIC_CONVENTION_G_PER_MOL, "palmitic": 256.0, "lauric": 200.0}
)
"""The acids as which free fatty acid may be counted, g/mol, by convention: AOCS Ca 5a-40 (from memory but for oleic)."""

SOAP_G_PER_MOL: Final[Mapping[str, float]] = MappingProxyType({"KOH": 320.56, "NaOH": 304.4})
"""Soap counted as potassium or sodium oleate, g/mol, by its base: AOCS Cc 17-95 (from memory)."""


@dataclass(frozen=True, slots=True)
class DensityLine:
    """A density that falls in a straight line with temperature, with its source and how sure it is."""

    kg_per_m3: float
    reference_c: float
    slope_kg_per_m3_k: float
    source: str
    confidence: str

    def at(self, temperature_c: float) -> float:
        """The density at a temperature, kg/m³.

        Units: °C in, kg/m³ out.
        Range: 0 to 60 °C.
        Source: `density.density_kg_per_m3` on this line.
        """
        return density_kg_per_m3(self.kg_per_m3, self.slope_kg_per_m3_k, temperature_c, self.reference_c)


@functools.cache
def molar_mass(species: str) -> float:
    """Molar mass of a substance such as `methanol`, `KOH` or the fatty acid `18:1`.

    Units: g/mol.
    Range: the species of `data/substances.yaml`, no other.
    Source: molmass 2026.1.8, IUPAC atomic masses; library.
    """
    table = _substances()
    return float({**table["molar_masses"], **table["fatty_acids"]}[species]["g_per_mol"])


@functools.cache
def default_density(liquid: str) -> DensityLine:
    """Density to use where a logbook gives none: of `oil`, `fuel`, `methanol` or `glycerol`.

    Units: kg/m³ at °C, falling by kg/m³/K.
    Range: the liquids of `data/substances.yaml`, no other.
    Source: named in each row with its own word; oil and fuel from memory, the others library.
    """
    row = _substances()["densities"][liquid]
    return DensityLine(
        kg_per_m3=float(row["kg_per_m3"]),
        reference_c=float(row["reference_c"]),
        slope_kg_per_m3_k=float(row["slope_kg_per_m3_k"]),
        source=rows("sources")[row["source"]]["title"],
        confidence=row["confidence"],
    )


@functools.cache
def net_heat_mj_per_l(liquid: str) -> float:
    """Net heat (lower heating value) of `fuel` or `diesel`, both from one source.

    Units: MJ/L.
    Range: `fuel` and `diesel`, no other.
    Source: California Energy Commission, gallon equivalents by net heat; published.
    """
    return float(_substances()["energy"][liquid]["mj_per_l"])


def soap_base(catalyst: str) -> str:
    """Name the base, `KOH` or `NaOH`, whose soap a catalyst makes: key of `SOAP_G_PER_MOL`.

    Units: none, a name.
    Range: KOH, NaOH, KOCH3, NaOCH3, no other.
    Source: potassium gives potassium soap, sodium sodium soap; derived.
    """
    return {"KOH": "KOH", "KOCH3": "KOH", "NaOH": "NaOH", "NaOCH3": "NaOH"}[catalyst]


@functools.cache
def _substances() -> Mapping[str, Any]:
    table: Mapping[str, Any] = rows("substances")
    return table
