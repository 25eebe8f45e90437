"""A reading as a number: plain here, and with its standard uncertainty in `ledger/uncertain.py`.

Everything that follows from readings is computed by the same code on either kind of number: it adds, subtracts,
multiplies, divides and raises to powers, nothing else. A number that carries its uncertainty is annotated as the float it
stands for.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.formulas.constants import DensityLine
from generator.units import Quantity


class Readings:
    """Readings as plain numbers, in the units the names say. `name` is what a budget of uncertainty calls the input."""

    def burette_ml(self, readings: Sequence[Quantity], name: str) -> float:
        """Mean of burette readings, mL."""
        return sum(reading.value for reading in readings) * 1000 / len(readings)

    def sample_ml(self, quantity: Quantity, name: str) -> float:
        """Size of a sample taken by volume, mL."""
        return quantity.value * 1000

    def sample_g(self, quantity: Quantity, name: str) -> float:
        """Size of a weighed sample, g."""
        return quantity.value * 1000

    def volume_l(self, quantity: Quantity, name: str) -> float:
        """A large volume as read, L."""
        return quantity.value

    def mass_kg(self, quantity: Quantity, name: str) -> float:
        """A mass on the scale, kg."""
        return quantity.value

    def temperature_c(self, quantity: Quantity, assumed_c: float, name: str) -> float:
        """Temperature at which a volume was read, or the assumed one where none is written, °C."""
        return assumed_c if quantity.at_c is None else quantity.at_c

    def strength(self, quantity: Quantity) -> float:
        """Strength of a titrant as made, g/L or mol/L."""
        return quantity.value

    def normality_mol_per_l(self, quantity: Quantity) -> float:
        """Normality of the acid for soap, mol/L."""
        return quantity.value

    def purity_pct(self, pct: float, of: str, lot: str) -> float:
        """Purity of a lot of `catalyst`, `methanol` or `acid`, %."""
        return pct

    def density(self, line: DensityLine, of: str) -> DensityLine:
        """Density of `oil`, `fuel`, `methanol` or `layer`."""
        return line

    def oil_g_per_mol(self, g_per_mol: float, material: str, *, typical: bool) -> float:
        """Mean molar mass of an oil, from its material or from a typical oil."""
        return g_per_mol


EXACT = Readings()


def plain(number: float) -> float:
    """The number without its uncertainty."""
    return number if type(number) is float else float(getattr(number, "nominal_value", number))
