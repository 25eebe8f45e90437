"""Numbers and units as a reader sees them: rounded to what was measured, in the units the logbook displays."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from generator.compute.names import Names
from generator.formulas.uncertainty import expanded
from generator.language import count as counted
from generator.language import grouped, said, say, spoken, term
from generator.locales import money_decimals
from generator.units import Quantity, convert, quantity

if TYPE_CHECKING:
    from generator.compute.results import Results

NARROW = "\u202f"  # a space that does not break, before a unit
MINUS = "\u2212"


def unknown() -> str:
    """The word for what is not known."""
    return say("unknown")


def number(value: float | None, digits: int = 0) -> str:
    """Write a number with a fixed count of decimals, as the locale does; unknown as the word.

    Below zero it has a minus, not a hyphen: no line breaks behind it.
    """
    if value is None:
        return unknown()
    whole, point, rest = f"{abs(value):.{digits}f}".partition(".")
    sign = MINUS if value < 0 and (whole + rest).strip("0") else ""
    return f"{sign}{grouped(whole)}{point and spoken().signs.decimal}{rest}"


def shown_change(value: float | None, digits: int) -> str:
    """Write a difference with its sign."""
    text = number(value, digits)
    return f"+{text}" if value is not None and value > 0 else text


def with_unit(value: float | None, unit: str, digits: int = 0) -> str:
    """Write a number and its unit; unknown as the word alone."""
    if value is None:
        return unknown()
    return f"{number(value, digits)}{NARROW}{unit}" if unit else number(value, digits)


def significant(value: float | None, unit: str = "", figures: int = 3) -> str:
    """Write a number with so many significant figures."""
    if value is None:
        return unknown()
    return with_unit(value, unit, decimals(value, figures))


def decimals(value: float, figures: int = 3) -> int:
    """How many decimals keep so many significant figures; none for zero."""
    if value == 0:
        return 0
    magnitude = len(str(int(abs(value)))) if abs(value) >= 1 else -_leading_zeros(abs(value))
    return max(figures - magnitude, 0)


def step_decimals(step: Quantity) -> int:
    """How many decimals of a gram a scale of this step shows."""
    exponent = (step.exact * 1000).normalize().as_tuple().exponent
    assert isinstance(exponent, int)
    return max(-exponent, 0)


def plus_minus(value: float | None, standard: float | None, unit: str = "", digits: int = 0) -> str:
    """Write a number with its expanded uncertainty (k = 2), both to the place where the uncertainty has its last digit.

    The uncertainty keeps two digits where it begins with 1 or 2, one digit otherwise. Where none is known the number is
    written with `digits` decimals alone.
    """
    if value is None or not standard:
        return with_unit(value, unit, digits)
    reach = expanded(standard)
    exponent = math.floor(math.log10(reach))
    places = (1 if reach / 10**exponent < 2.95 else 0) - exponent
    shown = [number(round(item, places), max(places, 0)) for item in (value, reach)]
    text = f"{shown[0]}{NARROW}±{NARROW}{shown[1]}"
    return f"{text}{NARROW}{unit}" if unit else text


def _leading_zeros(value: float) -> int:
    text = f"{value:.12f}".split(".")[1]
    return len(text) - len(text.lstrip("0"))


def interval(low: float | None, high: float | None) -> str:
    """Two ends, or one number where they are the same when written."""
    if high is None:
        return unknown() if low is None else say("{low} or more", low=number(low))
    first, last = number(low), number(high)
    return last if first == last else say("{first} to {last}", first=first, last=last)


def limit_names(edition: str) -> dict[str, str]:
    """The edition of a limit as a chart names it: in full, and without its year for a narrow chart; none for none."""
    return {
        "limit_label": say("limit of {edition}", edition=said(edition)) if edition else "",
        "limit_short": said(edition.partition(", edition")[0]),
    }


def capital(text: str) -> str:
    """A text as it begins a sentence."""
    return f"{text[:1].upper()}{text[1:]}"


def limit_shown(text: str | None) -> str:
    """A limit of a table in the language in use, or that there is none."""
    return said(text) if text else say("none")


def listed(words: Sequence[str]) -> str:
    """Join words with commas and an `and`."""
    if len(words) < 2:
        return "".join(words)
    return say("{join} and {words}", join=", ".join(words[:-1]), words=words[-1])


def count(value: int, one: str, many: str = "") -> str:
    """Write a count with its noun."""
    return counted(value, one, many or f"{one}s")


def sort_key(value: Any) -> str:
    """The key a table sorts by: a number plainly, a word as it is, nothing for unknown."""
    if value is None:
        return ""
    return f"{value:.6g}" if isinstance(value, float) else str(value)


@dataclass(frozen=True, slots=True)
class Shown:
    """The display units of a logbook, and figures written in them.

    Every amount has `digits` decimals, or more where it would lose one of its `figures`; grams have what the scale shows.
    """

    display: Mapping[str, str]
    currency: str
    reference_c: float
    ffa_as: str = "oleic"
    scale_decimals: int = 0
    names: Names = field(default_factory=Names)

    def material(self, name: str) -> str:
        """A material by its name, or its id where it has none."""
        return self.names.materials.get(name, name)

    def of_material(self, name: str) -> str:
        """A material within a sentence: its name may hold commas, so it stands in quotation marks."""
        found = self.names.materials.get(name)
        return name if found is None else say("“{name}”", name=found)

    def tank(self, name: str) -> str:
        """A tank by its id, and its name behind it."""
        found = self.names.tanks.get(name)
        return name if found is None else f"{name}, {found}"

    def volume(
        self, litres: float | None, digits: int = 0, standard: float | None = None, figures: int = 0
    ) -> str:
        """Litres in the display unit, with it; with ± where their standard uncertainty is given."""
        unit, shown = self.display["volume"], self.volume_number(litres)
        least = digits if unit == "L" or figures else digits + 1
        return plus_minus(shown, self.volume_number(standard), unit, _at_least(shown, least, figures))

    def volume_number(self, litres: float | None) -> float | None:
        """Litres in the display unit."""
        return None if litres is None else convert(litres, "volume", self.display["volume"])

    def mass(self, kg: float | None, digits: int = 1, standard: float | None = None, figures: int = 0) -> str:
        """Kilograms in the display unit, with it; with ± where their standard uncertainty is given."""
        unit, shown = self.display["mass"], self.mass_number(kg)
        return plus_minus(shown, self.mass_number(standard), unit, _at_least(shown, digits, figures))

    def mass_number(self, kg: float | None) -> float | None:
        """Kilograms in the display unit."""
        return None if kg is None else convert(kg, "mass", self.display["mass"])

    def weighed(self, grams: float | None, standard: float | None = None, figures: int = 3) -> str:
        """What stands on the scale: grams, or the display unit where that is not metric; with ± where given."""
        if self.display["mass"] in ("kg", "g"):
            return plus_minus(grams, standard, "g", _at_least(grams, self.scale_decimals, figures))
        kg = None if grams is None else grams / 1000
        return self.mass(kg, 2, None if standard is None else standard / 1000, figures)

    def per_thousand_number(self, kg_per_1000_l: float | None) -> float | None:
        """Medium per 1000 L of fuel as mass per thousand of the display unit of volume."""
        each = self.volume_number(1.0)
        found = self.mass_number(kg_per_1000_l)
        return found / each if found is not None and each is not None else None

    @property
    def per_thousand_unit(self) -> str:
        """Its unit."""
        return say("{mass} per 1000 {volume}", mass=self.display["mass"], volume=self.display["volume"])

    def pressure_number(self, kpa: float | None) -> float | None:
        """Kilopascals in the display unit."""
        return None if kpa is None else convert(kpa, "pressure", self.display["pressure"])

    def pressure(self, kpa: float | None) -> str:
        """Kilopascals in the display unit, with it."""
        unit = self.display["pressure"]
        return with_unit(self.pressure_number(kpa), unit, 2 if unit == "bar" else 1)

    def temperature_number(self, celsius: float | None) -> float | None:
        """Degrees Celsius in the display unit."""
        return None if celsius is None else convert(celsius, "temperature", self.display["temperature"])

    def temperature(self, celsius: float | None) -> str:
        """Degrees Celsius in the display unit, with it."""
        return with_unit(self.temperature_number(celsius), self.display["temperature"])

    def per_volume_number(self, per_l: float | None) -> float | None:
        """Money per litre as money per display unit of volume."""
        return None if per_l is None else per_l / convert(1.0, "volume", self.display["volume"])

    def per_volume(self, per_l: float | None, digits: int = 3) -> str:
        """Money per litre as money per display unit of volume, with currency and unit."""
        return self.rate(self.per_volume_number(per_l), f"{self.currency}/{self.display['volume']}", digits)

    def per_mass(self, per_kg: float | None, digits: int = 2) -> str:
        """Money per kilogram as money per display unit of mass, with currency and unit."""
        each = self.mass_number(1.0)
        found = per_kg / each if per_kg is not None and each is not None else None
        return self.rate(found, f"{self.currency}/{self.display['mass']}", digits)

    def rate(self, value: float | None, unit: str, digits: int) -> str:
        """Money per something, the unit behind it; `digits` is for a currency of two decimals."""
        return with_unit(value, unit, self.money_digits(digits))

    def money(self, amount: float | None) -> str:
        """An amount of money, with the decimals of its currency, and its code where the locale has it."""
        if amount is None:
            return unknown()
        parts = [self.currency, number(amount, self.money_digits())]
        return NARROW.join(parts if spoken().signs.money_first else parts[::-1])

    def money_digits(self, digits: int = 2) -> int:
        """How many decimals money has here, where it would have so many in a currency of two."""
        return max(digits + money_decimals(self.currency) - 2, 0)

    @property
    def volume_word(self) -> str:
        """The display unit of volume as a word in a sentence."""
        words = {"L": term("litre"), "US gal": term("US gallon"), "imp gal": term("imperial gallon")}
        return say(words.get(self.display["volume"], self.display["volume"]))

    @property
    def per_unit(self) -> str:
        """The unit of prices of fuel and oil."""
        return f"{self.currency}/{self.display['volume']}"

    @property
    def reference(self) -> str:
        """The reference temperature."""
        return self.temperature(self.reference_c)

    @property
    def basis(self) -> str:
        """The basis of every volume."""
        return say("at {reference}", reference=self.reference)


def shown(results: Results) -> Shown:
    """The display of a logbook's results."""
    step = quantity(results.instruments["scale"], ("mass",))
    return Shown(
        results.display,
        results.currency,
        results.reference_c,
        results.ffa_as,
        step_decimals(step),
        results.names,
    )


def _at_least(value: float | None, digits: int, figures: int) -> int:
    return digits if value is None or not figures else max(digits, decimals(value, figures))
