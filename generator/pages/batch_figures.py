"""The figures in the margin of a batch's page, and its small bars."""

from __future__ import annotations

from generator.formulas.uncertainty import expanded
from generator.language import said, say, term
from generator.pages.contents import titrated_text, whole_text
from generator.pages.parts import Row, figure, measured
from generator.pages.view import Figure
from generator.pages.words import NARROW, Shown, number, plus_minus, unknown, with_unit
from generator.tables import BATCHES


def dose_figures(row: Row, view: Shown) -> list[Figure]:
    """Oil, acidity, both terms of the dose, methanol."""
    named = row["catalyst_of"] or say("catalyst")
    oil = f"{view.mass(*_two(row, 'oil_kg'))}, {view.volume(*_two(row, 'oil_l'))}"
    return [
        figure(
            BATCHES, row, "oil_kg", say("Oil"), oil if row["oil_kg"] is not None else unknown(), view.basis
        ),
        measured(BATCHES, row, "acid_value_mg_koh_per_g", say("Acid value"), "mg KOH/g", 2),
        measured(
            BATCHES,
            row,
            "ffa_pct",
            say("Free fatty acid"),
            "%",
            2,
            say("as {ffa_as} acid", ffa_as=said(view.ffa_as)),
        ),
        *_treated(row),
        _weighed(
            row,
            "dose_neutralising_g",
            say("Dose: to neutralise"),
            view,
            say("{named} as weighed", named=named),
        ),
        _weighed(row, "dose_base_g", say("Dose: base rate"), view, say("the maker's own rule")),
        _weighed(row, "dose_g", say("Dose: both terms"), view, say("{named} as weighed", named=named)),
        figure(
            BATCHES,
            row,
            "catalyst_g",
            say("Weighed, all stages"),
            view.weighed(row["catalyst_g"]),
            _against(row),
        ),
        measured(BATCHES, row, "methanol_pct_v_v", say("Methanol"), say("% of the oil's volume"), 1),
        measured(
            BATCHES, row, "methanol_molar_ratio", say("Methanol to oil"), "mol/mol", 1, _molar_basis(row)
        ),
    ]


def _treated(row: Row) -> list[Figure]:
    """The acid value that the dose rests on, where there was a pre-treatment."""
    column = "treated_acid_value_mg_koh_per_g"
    if row[column] is None:
        return []
    return [
        measured(
            BATCHES,
            row,
            column,
            say("After the pre-treatment"),
            "mg KOH/g",
            2,
            say("with mineral acid that stayed"),
        )
    ]


def _two(row: Row, column: str) -> tuple[float | None, int, float | None]:
    """A figure, one decimal, its standard uncertainty: what the words of a display unit take."""
    return row[column], 1, row[f"u_{column}"]


def _weighed(row: Row, column: str, label: str, view: Shown, basis: str) -> Figure:
    return figure(BATCHES, row, column, label, view.weighed(row[column], row[f"u_{column}"]), basis)


def _mass(row: Row, column: str, label: str, view: Shown, basis: str = "") -> Figure:
    return figure(BATCHES, row, column, label, view.mass(*_two(row, column)), basis)


def _against(row: Row) -> str:
    difference = row["dose_difference_pct"]
    if difference is None:
        return ""
    about = said(row["dose_compared"] or "")
    if round(difference) == 0:
        return say("{about} as the rule says", about=about)
    text = (
        term("{about} {difference} above the rule")
        if difference > 0
        else term("{about} {difference} below the rule")
    )
    return say(text, about=about, difference=with_unit(abs(difference), "%"))


def _molar_basis(row: Row) -> str:
    return (
        say("molar mass of the oil from {oil_basis}", oil_basis=said(row["oil_basis"]))
        if row["oil_basis"] is not None
        else ""
    )


def theory_figures(row: Row, view: Shown) -> list[Figure]:
    """What the reaction could give at most, and what the free acid takes from it."""
    basis = say("full conversion of the neutral oil")
    return [
        measured(
            BATCHES,
            row,
            "triglyceride_g_per_mol",
            say("Molar mass of the oil"),
            "g/mol",
            0,
            _molar_basis(row),
        ),
        _mass(row, "ester_theory_kg", say("Ester"), view, basis),
        _mass(row, "glycerol_theory_kg", say("Glycerol"), view, say("pure; the layer drawn off is larger")),
        _mass(
            row,
            "methanol_consumed_kg",
            say("Methanol consumed"),
            view,
            say("what was fed beyond it is excess"),
        ),
        _mass(row, "soap_theory_kg", say("Soap from the free acid"), view),
        _mass(row, "water_theory_kg", say("Water from neutralising"), view),
    ]


def yield_figures(row: Row, view: Shown, vessels: int) -> list[Figure]:
    """Yields on three bases, what the columns kept, mass closure."""
    out = [
        figure(BATCHES, row, "fuel_l", say("Finished fuel"), view.volume(*_two(row, "fuel_l")), view.basis),
        measured(BATCHES, row, "yield_volume_pct", say("By volume of oil"), "%", 1, _ceiling(row, view)),
        measured(BATCHES, row, "yield_mass_pct", say("By mass of oil"), "%", 1, say("before the columns")),
        measured(BATCHES, row, "yield_theory_pct", say("Against theory"), "%", 1, say("ester in theory")),
        _mass(
            row, "settling_loss_kg", say("Ester not in the fuel"), view, say("in the layer, or not converted")
        ),
        figure(
            BATCHES,
            row,
            "heel_l",
            say("Left in the columns"),
            view.volume(*_two(row, "heel_l")) if row["heel_l"] is not None else unknown(),
            _heel(row, view),
        ),
        *_before(row, view),
        measured(BATCHES, row, "closure_pct", say("Mass closure"), "%", 1, say("mass out over mass in")),
        _mass(row, "unaccounted_kg", say("Not accounted for"), view, say("mass in less mass out")),
    ]
    return [item for item in out if vessels or item.label != say("Left in the columns")]


def _before(row: Row, view: Shown) -> list[Figure]:
    """Whose fuel the first litres were."""
    if row["heel_before_l"] is None:
        return []
    basis = say(
        "of {heel_before_of}: the first litres out of the columns were its fuel",
        heel_before_of=row["heel_before_of"],
    )
    return [
        figure(
            BATCHES, row, "heel_before_l", say("Stood in the beds"), view.volume(row["heel_before_l"]), basis
        )
    ]


def _ceiling(row: Row, view: Shown) -> str:
    ceiling = row["yield_ceiling_pct"]
    if ceiling is None:
        return view.basis
    return say(
        "{basis}; at most {u_yield_ceiling}",
        basis=view.basis,
        u_yield_ceiling=plus_minus(ceiling, row["u_yield_ceiling_pct"], "%", 1),
    )


def _heel(row: Row, view: Shown) -> str:
    fresh = row["heel_fresh_l"]
    if fresh is not None:
        return say(
            "fed minus finished; beds that were fresh, rinsed or drained took up about {volume} in their voids",
            volume=view.volume(fresh),
        )
    left, standard = row["heel_l"], row["u_heel_l"]
    if left is None or abs(left) <= expanded(standard or 0.0):
        return (
            say("fed minus finished; no more than the readings can tell from none")
            if left is not None
            else ""
        )
    return say("released by the beds") if left < 0 else say("fed minus finished")


def soap_figures(row: Row, vessels: int, view: Shown) -> list[Figure]:
    """Soap at the points of the run and in all of the fuel, and catalyst where a second indicator was used."""
    labels = {
        "soap_feed": say("Feed"),
        "soap_between": say("Between the columns"),
        "soap_product": say("Product"),
    }
    if vessels < 2:
        del labels["soap_between"]
    labels |= {
        name: label
        for name, label in (
            ("catalyst_feed", say("Catalyst, feed")),
            ("catalyst_product", say("Catalyst, product")),
        )
        if row[f"{name}_detected"] is not None
    }
    out = [
        figure(BATCHES, row, f"{name}_mg_per_kg", label, titrated_text(row, name))
        for name, label in labels.items()
    ]
    if text := whole_text(row):
        basis = (
            say("{round} of it met no bed", round=view.mass(row["round_kg"]))
            if row["round_kg"]
            else say("all its runs together")
        )
        out.append(figure(BATCHES, row, "soap_whole_high_mg_per_kg", say("In all of the fuel"), text, basis))
    return out


def acid_figures(row: Row) -> list[Figure]:
    """Acid before and behind the resin: the exchange frees the acid of the soap."""
    rise = (row["acid_rise_low_mg_koh_per_g"], row["acid_rise_high_mg_koh_per_g"])
    expected = (row["acid_predicted_low_mg_koh_per_g"], row["acid_predicted_high_mg_koh_per_g"])
    without = (
        "" if row["acid_before_mg_koh_per_g"] is not None else say("no acid value of the feed is written")
    )
    return [
        measured(BATCHES, row, "acid_before_mg_koh_per_g", say("In the feed"), "mg KOH/g", 2),
        figure(
            BATCHES,
            row,
            "acid_rise_high_mg_koh_per_g",
            say("Set free by the resin"),
            _acid_range(*rise, 3),
            say("from the soap it exchanged"),
        ),
        figure(
            BATCHES,
            row,
            "acid_predicted_low_mg_koh_per_g",
            say("To expect"),
            _acid_range(*expected, 2),
            without,
        ),
        measured(
            BATCHES,
            row,
            "acid_measured_mg_koh_per_g",
            say("Measured"),
            "mg KOH/g",
            2,
            said(row["acid_agreement"] or ""),
        ),
    ]


def _acid_range(low: float | None, high: float | None, digits: int) -> str:
    unit = f"{NARROW}mg KOH/g"
    if low is None:
        return unknown()
    if high is None:
        return say("{low}{unit} or more", low=number(low, digits), unit=unit)
    first, last = number(low, digits), number(high, digits)
    return (
        f"{last}{unit}"
        if first == last
        else say("{first} to {last}{unit}", first=first, last=last, unit=unit)
    )
