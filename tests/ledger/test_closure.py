"""A mass balance that closes, one mistake at a time, and what is told of it.

The batches are built from the chemistry: oil and methanol go in by moles, ester, layer and methanol taken back come out
with the same mass but for a small loss. Their shares are derived, or common practice without a source.
"""

from __future__ import annotations

import itertools
import random
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.constants import default_density
from generator.formulas.stoichiometry import ester_ceiling_kg, methanol_consumed_kg
from generator.ledger.closure import (
    BACK,
    CATALYST,
    FUEL,
    LAYER,
    METHANOL,
    OIL,
    Explanation,
    Flow,
    explanations,
)
from generator.ledger.slips import Balance, slips
from generator.units import convert, quantity
from tests.properties.law import LAW

MOLAR, REFERENCE_C = 870.0, 15.0
ENTERING = {OIL, METHANOL, CATALYST}
SCALED = {CATALYST, LAYER}  # what is put on a scale; all else is read as a volume
LINES = {
    OIL: default_density("oil"),
    METHANOL: default_density("methanol"),
    LAYER: default_density("layer"),
    BACK: default_density("methanol"),
    FUEL: default_density("fuel"),
}
# Volume within 1 % and density within 0.6 %, as limits: (0.58² + 0.35²)^0.5 %. A large scale to 0.1 kg. As a workshop's.
VOLUME_U, SCALE_U_KG = 0.0067, 0.1


def flow(name: str, text: str | None, entry: int = 0) -> Flow:
    """Take an entry into the balance as the ledger does: by its density at its temperature, 15 °C where none is written."""
    path = (name, entry)
    if text is None:
        return Flow(name, name in ENTERING, None, 0.0, None, LINES.get(name), REFERENCE_C, path)
    written = quantity(text, ("volume", "mass"))
    at_c = REFERENCE_C if written.at_c is None else written.at_c
    if written.kind == "mass":
        return Flow(name, name in ENTERING, written.value, SCALE_U_KG, written, LINES.get(name), at_c, path)
    kg = written.value * LINES[name].at(at_c) / 1000
    return Flow(name, name in ENTERING, kg, kg * VOLUME_U, written, LINES[name], at_c, path)


def told(flows: Iterable[Flow]) -> tuple[Explanation, ...]:
    flows = list(flows)
    oil_kg = sum(each.kg or 0.0 for each in flows if each.name == OIL)
    oil_l = oil_kg * 1000 / LINES[OIL].at(REFERENCE_C)
    return explanations(flows, oil_l=oil_l, triglyceride_g_per_mol=MOLAR, reference_c=REFERENCE_C)


def kept(flows: Sequence[Flow]) -> float:
    """Mass out over mass in."""
    out_kg, in_kg = (sum(each.kg or 0.0 for each in flows if each.entering is side) for side in (False, True))
    return out_kg / in_kg


def opens(flows: Sequence[Flow]) -> bool:
    """Whether more is lost or won than 3 % of handling and twice the combined standard uncertainty."""
    in_kg = sum(each.kg or 0.0 for each in flows if each.entering)
    u = max(sum(each.u_kg**2 for each in flows) ** 0.5 / in_kg, 0.005)
    return not 0.97 - 2 * u <= kept(flows) <= 1 + 2 * u


def chemistry(oil_l: float, ratio: float, converted: float, back: float, lost: float) -> dict[str, float]:
    """What goes in and comes out, kg: methanol by moles, ester as a share of theory, what is left over in the layer."""
    oil = oil_l * LINES[OIL].at(REFERENCE_C) / 1000
    consumed = methanol_consumed_kg(oil, 0, MOLAR)
    methanol, catalyst = consumed * ratio / 3, 0.0095 * oil
    fuel, taken = converted * ester_ceiling_kg(oil, 0, MOLAR), back * (consumed * ratio / 3 - consumed)
    layer = (oil + methanol + catalyst) * (1 - lost) - fuel - taken
    return {OIL: oil, METHANOL: methanol, CATALYST: catalyst, LAYER: layer, BACK: taken, FUEL: fuel}


def written(name: str, kg: float, unit: str, at_c: float | None = None) -> str:
    """Write an amount with three digits."""
    if unit in ("kg", "lb", "g"):
        return f"{three(convert(kg, 'mass', unit))} {unit}"
    litres = kg * 1000 / LINES[name].at(REFERENCE_C if at_c is None else at_c)
    at = "" if at_c is None else f" at {at_c:.0f} °C"
    return f"{three(convert(litres, 'volume', unit))} {unit}{at}"


def three(value: float) -> str:
    return f"{Decimal(f'{value:.2e}').normalize():f}"


# --- one batch, worked out ----------------------------------------------------------------------------------------------

# 100 L of oil, methanol at 6:1, ester at 98 % of theory, half of the excess taken back, 1 % lost. Derived; all kept at 15 °C.
TRUE_KG = chemistry(100, 6, 0.98, 0.5, 0.01)
GOOD: dict[str, str | None] = {
    OIL: "100 L",
    METHANOL: "25.6 L",
    CATALYST: "0.874 kg",
    LAYER: "16.4 kg",
    BACK: "6.4 L",
    FUEL: "103 L",
}


def batch(**changed: str | list[str] | None) -> list[Flow]:
    names = {
        "oil": OIL,
        "methanol": METHANOL,
        "catalyst": CATALYST,
        "layer": LAYER,
        "back": BACK,
        "fuel": FUEL,
    }
    entries: dict[str, str | list[str] | None] = {
        **GOOD,
        **{names[key]: text for key, text in changed.items()},
    }
    return [
        flow(name, text, entry)
        for name, texts in entries.items()
        for entry, text in enumerate(texts if isinstance(texts, list) else [texts])
    ]


@pytest.mark.parametrize("name", GOOD)
def test_the_batch_is_what_the_chemistry_gives(name: str) -> None:
    assert flow(name, GOOD[name]).kg == pytest.approx(TRUE_KG[name], rel=0.005)  # three digits are written


def test_a_batch_that_closes_needs_no_explanation() -> None:
    assert told(batch()) == ()


FIRST = {
    "gallons as litres, oil": ({"oil": "26.4 L"}, OIL, "unit", "26.4 US gal"),
    "gallons as litres, fuel": ({"fuel": "22.7 L"}, FUEL, "unit", "22.7 imp gal"),
    "gallons as litres, methanol": ({"methanol": "5.63 L"}, METHANOL, "unit", "5.63 imp gal"),
    "litres as gallons, oil": ({"oil": "100 US gal"}, OIL, "unit", "100 L"),
    "litres as gallons, fuel": ({"fuel": "103 imp gal at 16 °C"}, FUEL, "unit", "103 L at 16 °C"),
    "litres as gallons, taken back": ({"back": "6.4 US gal"}, BACK, "unit", "6.4 L"),
    "the other gallon, oil": ({"oil": "22 US gal"}, OIL, "unit", "22 imp gal"),
    "the other gallon, fuel": ({"fuel": "27.2 imp gal"}, FUEL, "unit", "27.2 US gal"),
    "pounds as kilograms, layer": ({"layer": "36.2 kg"}, LAYER, "unit", "36.2 lb"),
    "kilograms as pounds, layer": ({"layer": "16.4 lb"}, LAYER, "unit", "16.4 kg"),
    "kilograms as litres, oil": ({"oil": "92 L"}, OIL, "unit", "92 kg"),
    "kilograms as litres, methanol": ({"methanol": "20.3 L"}, METHANOL, "unit", "20.3 kg"),
    "kilograms as litres, fuel": ({"fuel": "90.6 L"}, FUEL, "unit", "90.6 kg"),
    "litres as kilograms, oil": ({"oil": "100 kg"}, OIL, "unit", "100 L"),
    "litres as kilograms, methanol": ({"methanol": "25.6 kg"}, METHANOL, "unit", "25.6 L"),
    "litres as kilograms, fuel": ({"fuel": "103 kg"}, FUEL, "unit", "103 L"),
    "a point moved, oil": ({"oil": "10.0 L"}, OIL, "decimal", "100 L"),
    "a point moved, methanol": ({"methanol": "256 L"}, METHANOL, "decimal", "25.6 L"),
    "a point moved, layer": ({"layer": "1.64 kg"}, LAYER, "decimal", "16.4 kg"),
    "a point moved, catalyst": ({"catalyst": "8.74 kg"}, CATALYST, "decimal", "0.874 kg"),
    "a point moved, taken back": ({"back": "64 L"}, BACK, "decimal", "6.4 L"),
    "digits swapped, oil": ({"oil": ["72 L", "82 L"]}, OIL, "digits", "28 L"),
    "digits swapped, layer": ({"layer": "61.4 kg"}, LAYER, "digits", "16.4 kg"),
    "read hot, fuel": ({"fuel": "107 L"}, FUEL, "temperature", "107 L at 6"),
    "not written, layer": ({"layer": None}, LAYER, "missing", "about 16 kg"),
    "not written, taken back": ({"back": None}, BACK, "missing", "about 6.4 L (5.1 kg)"),
    "one oil of two": ({"oil": ["60 L"]}, OIL, "missing", "about 40 L"),
}


@pytest.mark.parametrize(("changed", "name", "kind", "would_be"), FIRST.values(), ids=FIRST)
def test_the_mistake_comes_first(changed: dict[str, str], name: str, kind: str, would_be: str) -> None:
    first = told(batch(**changed))[0]
    assert (first.flow, first.kind) == (name, kind)
    assert first.would_be.startswith(would_be)
    assert first.path == (name, 1 if isinstance(changed.get("oil"), list) and kind == "digits" else 0)
    assert 97 <= first.closure_pct <= 100.5


# Where two are truly alike both are shown, in the order of how common they are.
ALIKE = {
    # 27 L more of oil, or 130 for 103: either puts yield and layer back
    "digits swapped, fuel": ({"fuel": "130 L"}, [(OIL, "missing"), (FUEL, "digits")]),
    # a second methanol of 7.6 L, and 18 kg for 18 L, come to the same within what a balance can show
    "one methanol of two": (
        {"methanol": "18 L"},
        [(METHANOL, "unit"), (BACK, "decimal"), (METHANOL, "missing")],
    ),
}


@pytest.mark.parametrize(("changed", "wanted"), ALIKE.values(), ids=ALIKE)
def test_mistakes_that_look_alike_are_all_shown(
    changed: dict[str, str], wanted: list[tuple[str, str]]
) -> None:
    assert [(each.flow, each.kind) for each in told(batch(**changed))] == wanted


HIDDEN = {
    "methanol read hot": {"methanol": "26.9 L"},
    "oil read hot": {"oil": "103 L"},
    "catalyst in pounds": {"catalyst": "1.93 kg"},
    "the other gallon, taken back": {"back": "1.41 US gal"},
}


@pytest.mark.parametrize("changed", HIDDEN.values(), ids=HIDDEN)
def test_a_mistake_too_small_for_the_balance_is_not_guessed_at(changed: dict[str, str]) -> None:
    assert told(batch(**changed)) == ()


def test_what_is_said() -> None:
    assert told(batch(oil=["52 L", "12.7 L at 20 °C"]))[0].sentence == (
        "the oil (entry 2), written 12.7 L at 20 °C, would have to be 12.7 US gal at 20 °C (48.1 L)"
    )
    assert told(batch(back=None))[0].sentence == (
        "the methanol taken back is not written, and would have to be about 6.4 L (5.1 kg)"
    )
    assert told(batch(oil=["60 L"]))[0].sentence == (
        "one more entry for the oil would have to be missing, about 40 L (37 kg)"
    )
    hot = told(batch(fuel="107 L at 59 °F"))[0]
    assert hot.sentence == (
        f"the fuel before the columns, written 107 L at 59 °F, would have to be {hot.would_be} (taken as 59 °F)"
    )
    assert hot.would_be in [f"107 L at {fahrenheit} °F" for fahrenheit in range(131, 150)]  # 55 to 65 °C


def test_amounts_are_told_in_the_units_of_the_batch() -> None:
    good = {"oil": "26.4 US gal", "methanol": "6.76 US gal", "catalyst": "1.93 lb", "layer": "36.2 lb"}
    assert told(batch(**good, fuel="27.2 US gal", back=None))[0].would_be == "about 1.7 US gal (11 lb)"
    assert told(batch(catalyst="874 g", layer=None))[0].would_be == "about 16 kg"


def test_nothing_is_invented_where_no_single_mistake_fits() -> None:
    """A fifth of the fuel is gone, the layer is at its most, and no digit, unit or temperature brings it back."""
    lost = batch(oil="111 L", methanol="33 L", layer="22 kg", back="8 L", fuel="88 L")
    assert opens(lost)
    assert told(lost) == ()


def test_no_other_figure_is_made_impossible() -> None:
    """10 kg are lost: more methanol back than the excess cannot be, a larger layer can."""
    found = told(batch(methanol="20 L", fuel="90 L", back=None, layer="17 kg"))
    assert found
    assert BACK not in {each.flow for each in found}


@pytest.mark.parametrize("name", [OIL, METHANOL, CATALYST, FUEL])
def test_there_is_no_balance_without_its_larger_flows(name: str) -> None:
    rest = [each for each in batch(layer="1.64 kg") if each.name != name]
    assert told([*rest, flow(name, None)]) == ()


@pytest.mark.parametrize("name", [OIL, METHANOL, FUEL])
def test_a_flow_that_is_not_listed_is_not_known(name: str) -> None:
    assert told([each for each in batch(layer="1.64 kg") if each.name != name]) == ()


# --- many batches -------------------------------------------------------------------------------------------------------


class Entry(NamedTuple):
    """One true amount and how its maker writes it."""

    name: str
    number: int
    kg: float
    read_kg: float
    unit: str
    at_c: float | None

    def flow(self, text: str | None = None) -> Flow:
        return flow(self.name, text or written(self.name, self.read_kg, self.unit, self.at_c), self.number)


class Mistake(NamedTuple):
    """Where it was made, its kind, and the beginning of what the entry would have to be."""

    flows: list[Flow]
    name: str
    number: int | None
    kind: str
    would_be: str

    def rank(self, found: Sequence[Explanation]) -> int | None:
        """The place of the true mistake among the explanations, from 0."""
        for place, each in enumerate(found):
            here = self.number is None or each.path == (self.name, self.number)
            same = (each.flow, each.kind) == (self.name, self.kind) and each.would_be.startswith(
                self.would_be
            )
            if here and same:
                return place
        return None


def entries(chance: random.Random) -> list[Entry]:
    """A batch of 40 to 400 L by one of three systems of units, each volume misread by 0.6 % (standard deviation)."""
    back = chance.choice([0.0, 0.0, chance.uniform(0.3, 0.8)])
    true_kg = chemistry(
        chance.uniform(40, 400),
        chance.uniform(4.8, 7),
        chance.uniform(0.95, 1),
        back,
        chance.uniform(0, 0.03),
    )
    unit = chance.choice(["L", "L", "US gal", "imp gal"])
    mass = "kg" if unit == "L" else chance.choice(["kg", "lb"])
    found = []
    for name, kg in true_kg.items():
        share = chance.uniform(0.25, 0.75)
        shares = [share, 1 - share] if name in (OIL, METHANOL) and chance.random() < 1 / 3 else [1.0]
        for number, part in enumerate(shares if kg > 0 else []):
            if name in SCALED:
                found.append(Entry(name, number, kg * part, kg * part, mass, None))
                continue
            read_kg = kg * part * (1 + chance.gauss(0, 0.006))
            at_c = None if chance.random() < 0.2 else float(chance.randint(8, 25))
            found.append(Entry(name, number, kg * part, read_kg, unit, at_c))
    return found


def completed(flows: Sequence[Flow]) -> list[Flow]:
    """With an entry for what was not written."""
    names = {each.name for each in flows}
    return [*flows, *(flow(name, None) for name in (BACK, LAYER) if name not in names)]


def closing(chance: random.Random) -> list[Entry]:
    """The next batch whose readings happen to close; a misread volume opens a few."""
    while True:
        batch_of = entries(chance)
        if 0.96 <= kept([entry.flow() for entry in batch_of]) <= 1.01:
            return batch_of


def wrongly(batch_of: Sequence[Entry], entry: Entry, text: str, kind: str, would_be: str) -> Mistake:
    flows = [entry.flow(text) if each is entry else each.flow() for each in batch_of]
    return Mistake(flows, entry.name, entry.number, kind, would_be)


def wrong_unit(chance: random.Random, batch_of: Sequence[Entry], pairs: list[tuple[str, str]]) -> Mistake:
    """The number of one unit with the name of another."""
    true, wrong = chance.choice(pairs)
    of_mass = true in ("kg", "lb") and wrong in ("kg", "lb")
    able = [each for each in batch_of if (each.name in SCALED if of_mass else each.name in LINES)]
    if "gal" in true + wrong:
        able = [each for each in batch_of if each.name not in SCALED]
    entry = chance.choice(able)
    kg = entry.kg if of_mass else entry.read_kg
    text = written(entry.name, kg, true, None if true in ("kg", "lb") else entry.at_c)
    number, at = text.split(" ")[0], "".join(text.partition(" at ")[1:])
    at = at if "gal" in true + wrong else ""
    return wrongly(batch_of, entry, f"{number} {wrong}{at}", "unit", f"{number} {true}")


def wrong_gallon(chance: random.Random, batch_of: Sequence[Entry]) -> Mistake:
    return wrong_unit(chance, batch_of, list(itertools.permutations(["L", "US gal", "imp gal"], 2)))


def wrong_pound(chance: random.Random, batch_of: Sequence[Entry]) -> Mistake:
    return wrong_unit(chance, batch_of, [("kg", "lb"), ("lb", "kg")])


def wrong_kind(chance: random.Random, batch_of: Sequence[Entry]) -> Mistake:
    return wrong_unit(chance, batch_of, [("kg", "L"), ("L", "kg")])


def moved_point(chance: random.Random, batch_of: Sequence[Entry]) -> Mistake:
    entry = chance.choice(batch_of)
    number, _, rest = entry.flow().quantity.text.partition(" ")  # type: ignore[union-attr]
    moved = Decimal(number) * chance.choice([Decimal(10), Decimal("0.1")])
    return wrongly(batch_of, entry, f"{moved.normalize():f} {rest}", "decimal", f"{number} ")


def swapped_digits(chance: random.Random, batch_of: Sequence[Entry]) -> Mistake | None:
    entry = chance.choice(batch_of)
    number, _, rest = entry.flow().quantity.text.partition(" ")  # type: ignore[union-attr]
    places = [place for place, sign in enumerate(number) if sign != "."]
    one, two = chance.choice(list(itertools.pairwise(places))) if len(places) > 1 else (0, 0)
    signs = list(number)
    signs[one], signs[two] = signs[two], signs[one]
    if signs == list(number) or (signs[0] == "0" and signs[1] != "."):
        return None
    return wrongly(batch_of, entry, f"{''.join(signs)} {rest}", "digits", f"{number} ")


def wrong_temperature(chance: random.Random, batch_of: Sequence[Entry]) -> Mistake:
    """Read at 55 to 60 °C and written without or with the usual temperature, or, one time in three, the reverse."""
    entry = chance.choice([each for each in batch_of if each.name not in SCALED])
    hot = float(chance.randint(55, 60))
    if chance.random() < 1 / 3:
        number = written(entry.name, entry.read_kg, entry.unit, entry.at_c).split(" at ")[0]
        return wrongly(batch_of, entry, f"{number} at {hot:.0f} °C", "temperature", "")
    number = written(entry.name, entry.read_kg, entry.unit, hot).split(" at ")[0]
    at = "" if entry.at_c is None else f" at {entry.at_c:.0f} °C"
    return wrongly(batch_of, entry, f"{number}{at}", "temperature", "")


def unwritten(chance: random.Random, batch_of: Sequence[Entry]) -> Mistake:
    entry = chance.choice([each for each in batch_of if each.name in (BACK, LAYER)])
    flows = [each.flow() for each in batch_of if each is not entry]
    return Mistake(flows, entry.name, entry.number, "missing", "about")


def forgotten(chance: random.Random, batch_of: Sequence[Entry]) -> Mistake | None:
    able = [each for each in batch_of if sum(other.name == each.name for other in batch_of) > 1]
    if not able:
        return None
    entry = chance.choice(able)
    return Mistake([e.flow() for e in batch_of if e is not entry], entry.name, None, "missing", "about")


MISTAKES = {
    "gallon": wrong_gallon,
    "pound": wrong_pound,
    "kg for L": wrong_kind,
    "point": moved_point,
    "digits": swapped_digits,
    "temperature": wrong_temperature,
    "not written": unwritten,
    "one of two": forgotten,
}


class Draw(NamedTuple):
    """One mistake in a batch that closed, and what was told of it."""

    kind: str
    opened: bool
    found: tuple[Explanation, ...]
    rank: int | None


def draws(seed: int, number: int) -> Iterator[Draw]:
    """Kind by kind in turn, a batch that closes and one mistake in it; entries in any order."""
    chance = random.Random(seed)
    for kind, make in itertools.islice(itertools.cycle(MISTAKES.items()), number):
        mistake = None
        while mistake is None:
            mistake = make(chance, closing(chance))
        flows = completed(mistake.flows)
        chance.shuffle(flows)
        found = told(flows)
        yield Draw(kind, opens(flows), found, mistake.rank(found))


def test_how_often_the_true_mistake_is_found() -> None:
    """Measured with this seed, 500 mistakes: 355 open the balance; of these the true one is first in 300, shown in 344.

    That is 84 % and 97 % of those that open the balance, 69 % shown of all: what is too small to open it stays hidden.

                     made  open  first  shown
        gallon         63    57     49     57
        pound          63    29     29     29   (most of the catalyst's are hidden)
        kg for L       63    41     37     41
        point          63    59     58     59
        digits         62    36     14     27
        temperature    62    11      3      9   (50 K are 3 % of a volume: as much as handling loses)
        not written    62    60     55     60
        one of two     62    62     55     62

    The batches are drawn from what is usual, and each kind of mistake is made equally often: real ones may do worse.
    """
    drawn, opened, first, shown = Counter[str](), Counter[str](), Counter[str](), Counter[str]()
    for draw in draws(20260110, 500):
        drawn[draw.kind] += 1
        opened[draw.kind] += draw.opened
        first[draw.kind] += draw.rank == 0
        shown[draw.kind] += draw.rank is not None
    assert drawn.total() == 500
    assert opened.total() >= 340
    assert shown.total() >= 0.95 * opened.total()
    assert first.total() >= 0.82 * opened.total()
    assert min(shown[kind] / opened[kind] for kind in MISTAKES) >= 0.7


def test_a_spill_is_mostly_taken_for_a_mistake() -> None:
    """Measured: of 200 batches that truly lost 8 to 20 % of their fuel, 160 are given an explanation that is not true.

    The figures alone cannot tell a spill from a slip of the pen. So nothing is told as a verdict.
    """
    chance, explained = random.Random(20260111), 0
    for _ in range(200):
        batch_of, left = closing(chance), chance.uniform(0.8, 0.92)
        entered = [
            each._replace(read_kg=each.read_kg * (left if each.name == FUEL else 1)) for each in batch_of
        ]
        flows = completed([entry.flow() for entry in entered])
        assert opens(flows)
        explained += told(flows) != ()
    assert 150 <= explained <= 170


SEEDS = st.integers(0, 10**9)


@LAW
@given(SEEDS)
def test_what_is_shown_closes_the_balance(seed: int) -> None:
    for draw in draws(seed, len(MISTAKES)):
        found = draw.found
        assert len(found) <= 3
        assert draw.opened or not found
        assert [each.score for each in found] == sorted(each.score for each in found)
        assert all(94.5 < each.closure_pct < 102.5 for each in found)  # 97 to 100 % and twice some 1.2 %


@LAW
@given(SEEDS)
def test_no_batch_that_closes_is_explained(seed: int) -> None:
    assert told(completed([entry.flow() for entry in closing(random.Random(seed))])) == ()


@LAW
@given(SEEDS, st.randoms(use_true_random=False))
def test_the_order_of_the_entries_does_not_matter(seed: int, order: random.Random) -> None:
    chance = random.Random(seed)
    flows = completed(moved_point(chance, closing(chance)).flows)
    shuffled = list(flows)
    order.shuffle(shuffled)
    assert told(shuffled) == told(flows)


def test_an_unwritten_flow_is_no_explanation_where_it_would_have_to_be_less_than_nothing() -> None:
    """More came out than went in: a layer that was not written cannot be missing."""
    balance = chemistry(100, 6, 0.98, 0.5, 0.01)
    flows = [flow(name, written(name, kg, "kg")) for name, kg in balance.items() if name != LAYER]
    over = [*flows[:-1], flow(FUEL, written(FUEL, balance[FUEL] * 1.5, "kg")), flow(LAYER, None)]
    found = list(slips(Balance(tuple(over), 100, MOLAR, 0.0, REFERENCE_C)))
    assert kept(over) > 1
    assert not [slip for slip in found if slip.kind == "missing" and slip.flow.name == LAYER]
    open_ = [*flows, flow(LAYER, None)]
    missing = [s for s in slips(Balance(tuple(open_), 100, MOLAR, 0.0, REFERENCE_C)) if s.kind == "missing"]
    assert LAYER in [slip.flow.name for slip in missing]
    assert all(slip.flow.kg is not None and slip.flow.kg > 0 for slip in missing)


@pytest.mark.parametrize(
    ("text", "swapped"),
    [("0.95 kg", {"9.05 kg", "0.59 kg"}), ("0.9 kg", {"9.0 kg"}), ("1.23 kg", {"2.13 kg", "1.32 kg"})],
)
def test_two_neighbouring_digits_are_swapped_also_across_the_point(text: str, swapped: set[str]) -> None:
    one = flow(OIL, text)
    found = slips(Balance((one,), 100, MOLAR, 0.0, REFERENCE_C))
    numbers = {quantity(each, ("mass",)).value for each in swapped}
    assert {quantity(slip.would_be, ("mass",)).value for slip in found if slip.kind == "digits"} == numbers


MENDED = {"oil": ("100 kg", "100 US gal"), "fuel": ("103 kg",), "layer": ("16.4 lb",), "back": ("64 L",)}


@pytest.mark.parametrize(("name", "text"), [(name, text) for name, texts in MENDED.items() for text in texts])
def test_a_mistake_that_is_mended_leaves_the_balance_as_it_was(name: str, text: str) -> None:
    first = told(batch(**{name: text}))[0]
    assert first.closure_pct == pytest.approx(100 * kept(batch()), rel=1e-9)


def test_what_is_far_less_likely_than_the_first_is_not_shown() -> None:
    """The fuel in gallons too would close it, with 1.6 mol of methanol for each of an oil that takes three."""
    (only,) = told(batch(oil="100 US gal"))
    assert only.would_be == "100 L"


def test_one_more_is_forgotten_sooner_where_there_were_several() -> None:
    """Common practice, no source."""
    rarity = {}
    for oils in (["60 L"], ["30 L", "30 L"]):
        found = slips(Balance(tuple(batch(oil=oils)), 60, MOLAR, 0.0, REFERENCE_C))
        (rarity[len(oils)],) = (
            slip.rarity
            for slip in found
            if slip.kind == "missing" and slip.flow.name == OIL and slip.instead_of is None
        )
    assert rarity[2] < rarity[1]
