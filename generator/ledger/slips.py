"""What a single entry of a mass balance would have to be, had a usual mistake been made in it.

Wrong unit, moved point, swapped digits, a volume read hot, an entry not written: each with the words for the maker. Which
of them explain a balance is judged in `closure`. Limits and weights are common practice, no source.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from generator.formulas.constants import DensityLine
from generator.language import tell
from generator.units import Quantity, convert, units

OIL, METHANOL, CATALYST = "oil", "methanol", "catalyst"
LAYER, BACK, FUEL = "layer drawn off", "methanol taken back", "fuel before the columns"
HANDLING_PCT: Final = 3.0  # lost to vapour, filters and wet vessels at most, of the mass that went in
USUAL_LOSS_PCT: Final = 1.0  # where an amount that was not written, or a temperature, is solved for
COLDEST_C, HOTTEST_C = 0.0, 70.0  # of a liquid whose volume is read
# How rare each mistake is, as minus the logarithm of its share: wrong units and flows not written are commoner than a
# moved point, and that than swapped digits. What is solved for closes any gap, so it has to be likelier to count.
UNIT, UNWRITTEN, ONE_OF_SEVERAL, ONE_MORE = 0.0, 0.5, 1.5, 2.0
OTHER_GALLON, ASSUMED, MISREAD, POINT, DIGITS = 0.7, 1.0, 1.8, 1.0, 2.0
LARGE: Final = ("L", "US gal", "imp gal", "kg", "lb")
SLIPS: Final = {
    **{"L": ("US gal", "imp gal"), "US gal": ("L", "imp gal"), "imp gal": ("L", "US gal")},
    **{"kg": ("lb", "g"), "lb": ("kg",), "g": ("kg",)},
}


@dataclass(frozen=True, slots=True)
class Flow:
    """One entry of the balance; `kg` is None where it was not written, `at_c` is the temperature it was taken at."""

    name: str
    entering: bool
    kg: float | None
    u_kg: float
    quantity: Quantity | None
    density: DensityLine | None
    at_c: float
    path: tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Balance:
    """What a balance is judged by; `oil_l` is the oil as written, in litres at the reference temperature."""

    flows: tuple[Flow, ...]
    oil_l: float | None
    g_per_mol: float
    ffa_pct: float
    reference_c: float

    def unit(self, kind: str, usual: str) -> str:
        """The unit in which the maker wrote this balance."""
        written = [flow.quantity for flow in self.flows if flow.quantity]
        if kind == "temperature":
            return "°F" if any(quantity.text.endswith("F") for quantity in written) else usual
        found = (quantity.unit.symbol for quantity in written if quantity.kind == kind)
        return next((symbol for symbol in found if symbol in LARGE), usual)


@dataclass(frozen=True, slots=True)
class Slip:
    """A flow as it would have to be; it stands instead of another one, or beside all of them."""

    kind: str
    rarity: float
    flow: Flow
    instead_of: Flow | None
    sentence: str
    would_be: str


def slips(balance: Balance) -> Iterator[Slip]:
    """Every mistake that is tried, whether it closes the balance or not."""
    for flow in balance.flows:
        if flow.kg is None:
            yield from _not_written(balance, flow)
        elif flow.quantity is not None and flow.kg > 0 and flow.quantity.number > 0:
            yield from _units(balance, flow, flow.quantity, flow.kg)
            yield from _numbers(balance, flow, flow.quantity, flow.kg)
            yield from _temperatures(balance, flow, flow.quantity, flow.kg)
    for name in (OIL, METHANOL, LAYER):
        yield from _one_more(balance, [flow for flow in balance.flows if flow.name == name and flow.kg])


def side_kg(flows: Sequence[Flow], *, entering: bool) -> float:
    """All that went in, or all that came out; what was not written counts as none."""
    return sum(flow.kg or 0.0 for flow in flows if flow.entering is entering)


def _other(
    balance: Balance, flow: Flow, times: float, kind: str, rarity: float, would_be: str, why: str
) -> Slip:
    like = [each for each in balance.flows if each.name == flow.name]
    name = (
        tell("{flow} (entry {number})", flow=flow.name, number=like.index(flow) + 1)
        if len(like) > 1
        else flow.name
    )
    text = flow.quantity.text if flow.quantity else ""
    sentence = tell(
        "the {flow}, written {text}, would have to be {would_be} ({why})",
        flow=name,
        text=text,
        would_be=would_be,
        why=why,
    )
    after = replace(flow, kg=(flow.kg or 0.0) * times, u_kg=flow.u_kg * times)
    return Slip(kind, rarity, after, flow, sentence, would_be)


def _units(balance: Balance, flow: Flow, written: Quantity, kg: float) -> Iterator[Slip]:
    number, symbol = f"{written.number:f}", written.unit.symbol
    known = units(written.kind)
    others = [(other, float(known[other].factor / written.unit.factor)) for other in SLIPS.get(symbol, ())]
    if symbol == "L":
        others.append(("kg", float(written.number) / kg))
    elif symbol == "kg" and flow.density is not None:
        others.append(("L", flow.density.at(flow.at_c) / 1000))
    for slip, times in others:
        at = _at(written) if written.kind == "volume" and slip != "kg" else ""
        rarity = OTHER_GALLON if "gal" in symbol and "gal" in slip else UNIT
        same = f"{_plain(float(written.number) * times)} {symbol}"
        yield _other(balance, flow, times, "unit", rarity, f"{number} {slip}{at}", same)


def _at(written: Quantity) -> str:
    return "".join(written.text.partition(" at ")[1:])


def _numbers(balance: Balance, flow: Flow, written: Quantity, kg: float) -> Iterator[Slip]:
    moved = [
        ("decimal", POINT, tell("a point moved"), written.number * step)
        for step in (Decimal(10), Decimal("0.1"))
    ]
    swaps = [
        ("digits", DIGITS, tell("two digits swapped"), number) for number in _swapped(f"{written.number:f}")
    ]
    for kind, rarity, why, number in (*moved, *swaps):
        would_be = f"{number.normalize():f} {written.unit.symbol}{_at(written)}"
        yield _other(balance, flow, float(number / written.number), kind, rarity, would_be, why)


def _swapped(text: str) -> Iterator[Decimal]:
    for one, two in itertools.pairwise([place for place, sign in enumerate(text) if sign.isdigit()]):
        signs = list(text)
        signs[one], signs[two] = signs[two], signs[one]
        if signs[one] != signs[two] and (signs[0] != "0" or signs[1:2] == ["."]):
            yield Decimal("".join(signs))


def _temperatures(balance: Balance, flow: Flow, written: Quantity, kg: float) -> Iterator[Slip]:
    line = flow.density
    if written.kind != "volume" or line is None:
        return
    for more_kg in _wanted_kg(balance.flows, flow.entering):
        times = 1 + more_kg / kg
        at_c = line.reference_c + (line.kg_per_m3 - line.at(flow.at_c) * times) / line.slope_kg_per_m3_k
        if COLDEST_C <= at_c <= HOTTEST_C:
            taken, found = (_degrees(balance, each) for each in (flow.at_c, at_c))
            would_be = f"{written.text.partition(' at ')[0]} at {found}"
            rarity, why = (
                (ASSUMED, tell("not written, taken as {degrees}", degrees=taken))
                if written.at_c is None
                else (MISREAD, tell("taken as {degrees}", degrees=taken))
            )
            yield _other(balance, flow, times, "temperature", rarity, would_be, why)
            return


def _wanted_kg(flows: Sequence[Flow], entering: bool) -> Iterator[float]:
    """What a flow would have to gain: for the usual loss, else for the nearer end of what handling explains."""
    went_in, came_out = side_kg(flows, entering=True), side_kg(flows, entering=False)
    for loss_pct in (USUAL_LOSS_PCT, 0.0 if came_out > went_in else HANDLING_PCT):
        kept = 1 - loss_pct / 100
        yield came_out / kept - went_in if entering else went_in * kept - came_out


def _not_written(balance: Balance, flow: Flow) -> Iterator[Slip]:
    if (kg := next(_wanted_kg(balance.flows, flow.entering))) > 0:
        amount = _amount(balance, flow, kg)
        sentence = tell(
            "the {flow} is not written, and would have to be {amount}", flow=flow.name, amount=amount
        )
        yield Slip("missing", UNWRITTEN, replace(flow, kg=kg, u_kg=0.0), flow, sentence, amount)


def _one_more(balance: Balance, written: Sequence[Flow]) -> Iterator[Slip]:
    if written and (kg := next(_wanted_kg(balance.flows, written[-1].entering))) > 0:
        flow = replace(written[-1], kg=kg, u_kg=0.0, quantity=None)
        amount, rarity = _amount(balance, flow, kg), ONE_OF_SEVERAL if len(written) > 1 else ONE_MORE
        sentence = tell(
            "one more entry for the {flow} would have to be missing, {amount}", flow=flow.name, amount=amount
        )
        yield Slip("missing", rarity, flow, None, sentence, amount)


def _amount(balance: Balance, flow: Flow, kg: float) -> str:
    unit, volume = balance.unit("mass", "kg"), balance.unit("volume", "L")
    mass = f"{_plain(convert(kg, 'mass', unit), 2)} {unit}"
    if flow.density is None or flow.name == LAYER:
        return tell("about {amount}", amount=mass)
    litres = kg * 1000 / flow.density.at(balance.reference_c)
    return tell("about {amount}", amount=f"{_plain(convert(litres, 'volume', volume), 2)} {volume} ({mass})")


def _degrees(balance: Balance, at_c: float) -> str:
    unit = balance.unit("temperature", "°C")
    return f"{convert(at_c, 'temperature', unit):.0f} {unit}"


def _plain(value: float, digits: int = 3) -> str:
    return f"{Decimal(f'{value:.{digits - 1}e}').normalize():f}"
