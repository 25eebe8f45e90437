"""The figures in the margin of a batch's page, and its small bars."""

from __future__ import annotations

from typing import Any

from generator.formulas.uncertainty import expanded
from generator.pages.parts import Row, figure, measured
from generator.pages.view import Figure
from generator.pages.words import (
    NARROW,
    UNKNOWN,
    Shown,
    number,
    plus_minus,
    soap_text,
    titrated_text,
    whole_text,
    with_unit,
)
from generator.tables import BATCHES


def dose_figures(row: Row, view: Shown) -> list[Figure]:
    """Oil, acidity, both terms of the dose, methanol."""
    named = row["catalyst_of"] or "catalyst"
    oil = f"{view.mass(*_two(row, 'oil_kg'))}, {view.volume(*_two(row, 'oil_l'))}"
    return [
        figure(BATCHES, row, "oil_kg", "Oil", oil if row["oil_kg"] is not None else UNKNOWN, view.basis),
        measured(BATCHES, row, "acid_value_mg_koh_per_g", "Acid value", "mg KOH/g", 2),
        measured(BATCHES, row, "ffa_pct", "Free fatty acid", "%", 2, f"as {view.ffa_as} acid"),
        *_treated(row),
        _weighed(row, "dose_neutralising_g", "Dose: to neutralise", view, f"{named} as weighed"),
        _weighed(row, "dose_base_g", "Dose: base rate", view, "the maker's own rule"),
        _weighed(row, "dose_g", "Dose: both terms", view, f"{named} as weighed"),
        figure(
            BATCHES, row, "catalyst_g", "Weighed, all stages", view.weighed(row["catalyst_g"]), _against(row)
        ),
        measured(BATCHES, row, "methanol_pct_v_v", "Methanol", "% of the oil's volume", 1),
        measured(BATCHES, row, "methanol_molar_ratio", "Methanol to oil", "mol/mol", 1, _molar_basis(row)),
    ]


def _treated(row: Row) -> list[Figure]:
    """The acid value that the dose rests on, where there was a pre-treatment."""
    column = "treated_acid_value_mg_koh_per_g"
    if row[column] is None:
        return []
    return [
        measured(
            BATCHES, row, column, "After the pre-treatment", "mg KOH/g", 2, "with mineral acid that stayed"
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
    about = row["dose_compared"]
    if round(difference) == 0:
        return f"{about} as the rule says"
    return f"{about} {with_unit(abs(difference), '%')} {'above' if difference > 0 else 'below'} the rule"


def _molar_basis(row: Row) -> str:
    return f"molar mass of the oil from {row['oil_basis']}" if row["oil_basis"] is not None else ""


def theory_figures(row: Row, view: Shown) -> list[Figure]:
    """What the reaction could give at most, and what the free acid takes from it."""
    basis = "full conversion of the neutral oil"
    return [
        measured(
            BATCHES, row, "triglyceride_g_per_mol", "Molar mass of the oil", "g/mol", 0, _molar_basis(row)
        ),
        _mass(row, "ester_theory_kg", "Ester", view, basis),
        _mass(row, "glycerol_theory_kg", "Glycerol", view, "pure; the layer drawn off is larger"),
        _mass(row, "methanol_consumed_kg", "Methanol consumed", view, "what was fed beyond it is excess"),
        _mass(row, "soap_theory_kg", "Soap from the free acid", view),
        _mass(row, "water_theory_kg", "Water from neutralising", view),
    ]


def yield_figures(row: Row, view: Shown, vessels: int) -> list[Figure]:
    """Yields on three bases, what the columns kept, mass closure."""
    out = [
        figure(BATCHES, row, "fuel_l", "Finished fuel", view.volume(*_two(row, "fuel_l")), view.basis),
        measured(BATCHES, row, "yield_volume_pct", "By volume of oil", "%", 1, _ceiling(row, view)),
        measured(BATCHES, row, "yield_mass_pct", "By mass of oil", "%", 1, "before the columns"),
        measured(BATCHES, row, "yield_theory_pct", "Against theory", "%", 1, "ester in theory"),
        _mass(row, "settling_loss_kg", "Ester not in the fuel", view, "in the layer, or not converted"),
        figure(
            BATCHES,
            row,
            "heel_l",
            "Left in the columns",
            view.volume(*_two(row, "heel_l")) if row["heel_l"] is not None else UNKNOWN,
            _heel(row, view),
        ),
        *_before(row, view),
        measured(BATCHES, row, "closure_pct", "Mass closure", "%", 1, "mass out over mass in"),
        _mass(row, "unaccounted_kg", "Not accounted for", view, "mass in less mass out"),
    ]
    return [item for item in out if vessels or item.label != "Left in the columns"]


def _before(row: Row, view: Shown) -> list[Figure]:
    """Whose fuel the first litres were."""
    if row["heel_before_l"] is None:
        return []
    basis = f"of {row['heel_before_of']}: the first litres out of the columns were its fuel"
    return [
        figure(BATCHES, row, "heel_before_l", "Stood in the beds", view.volume(row["heel_before_l"]), basis)
    ]


def _ceiling(row: Row, view: Shown) -> str:
    ceiling = row["yield_ceiling_pct"]
    if ceiling is None:
        return view.basis
    return f"{view.basis}; at most {plus_minus(ceiling, row['u_yield_ceiling_pct'], '%', 1)}"


def _heel(row: Row, view: Shown) -> str:
    fresh = row["heel_fresh_l"]
    if fresh is not None:
        return f"fed minus finished; the fresh beds hold about {view.volume(fresh)} in their voids"
    left, standard = row["heel_l"], row["u_heel_l"]
    if left is None or abs(left) <= expanded(standard or 0.0):
        return "fed minus finished; no more than the readings can tell from none" if left is not None else ""
    return "released by the beds" if left < 0 else "fed minus finished"


def soap_figures(row: Row, vessels: int, view: Shown) -> list[Figure]:
    """Soap at the points of the run and in all of the fuel, and catalyst where a second indicator was used."""
    labels = {"soap_feed": "Feed", "soap_between": "Between the columns", "soap_product": "Product"}
    if vessels < 2:
        del labels["soap_between"]
    labels |= {
        name: label
        for name, label in (("catalyst_feed", "Catalyst, feed"), ("catalyst_product", "Catalyst, product"))
        if row[f"{name}_detected"] is not None
    }
    out = [
        figure(BATCHES, row, f"{name}_mg_per_kg", label, titrated_text(row, name))
        for name, label in labels.items()
    ]
    if text := whole_text(row):
        basis = (
            f"{view.mass(row['round_kg'])} of it met no bed" if row["round_kg"] else "all its runs together"
        )
        out.append(figure(BATCHES, row, "soap_whole_high_mg_per_kg", "In all of the fuel", text, basis))
    return out


def acid_figures(row: Row) -> list[Figure]:
    """Acid before and behind the resin: the exchange frees the acid of the soap."""
    rise = (row["acid_rise_low_mg_koh_per_g"], row["acid_rise_high_mg_koh_per_g"])
    expected = (row["acid_predicted_low_mg_koh_per_g"], row["acid_predicted_high_mg_koh_per_g"])
    without = "" if row["acid_before_mg_koh_per_g"] is not None else "no acid value of the feed is written"
    return [
        measured(BATCHES, row, "acid_before_mg_koh_per_g", "In the feed", "mg KOH/g", 2),
        figure(
            BATCHES,
            row,
            "acid_rise_high_mg_koh_per_g",
            "Set free by the resin",
            _acid_range(*rise, 3),
            "from the soap it exchanged",
        ),
        figure(
            BATCHES,
            row,
            "acid_predicted_low_mg_koh_per_g",
            "To expect",
            _acid_range(*expected, 2),
            without,
        ),
        measured(
            BATCHES, row, "acid_measured_mg_koh_per_g", "Measured", "mg KOH/g", 2, row["acid_agreement"] or ""
        ),
    ]


def _acid_range(low: float | None, high: float | None, digits: int) -> str:
    unit = f"{NARROW}mg KOH/g"
    if low is None:
        return UNKNOWN
    if high is None:
        return f"{number(low, digits)}{unit} or more"
    first, last = number(low, digits), number(high, digits)
    return f"{last}{unit}" if first == last else f"{first} to {last}{unit}"


def soap_bars(row: Row, vessels: int) -> list[dict[str, Any]]:
    """Bars on a scale whose full length is the feed, or the largest of them."""
    points = {"Feed": "feed", "Between": "between", "Product": "product"}
    if vessels < 2:
        del points["Between"]
    ends = {point: _soap_end(row, point) for point in points.values()}
    most = max(ends.values())
    if most <= 0:
        return []
    return [
        {
            "label": label,
            "text": soap_text(row, point),
            "censored": row[f"soap_{point}_detected"] not in (None, "yes"),
            "share": round(100 * ends[point] / most, 1),
        }
        for label, point in points.items()
    ]


def _soap_end(row: Row, point: str) -> float:
    """How long a bar is: the content, or of one that is bounded the most it can be, or the least."""
    names = ("mg_per_kg", "high_mg_per_kg", "low_mg_per_kg")
    return next(
        (row[f"soap_{point}_{name}"] for name in names if row[f"soap_{point}_{name}"] is not None), 0.0
    )


def cost_bars(cost: Row, view: Shown) -> list[dict[str, Any]]:
    """Cost per litre by part, on the scale of the largest."""
    parts = ("oil", "methanol", "catalyst", "energy", "other", "media", "labour")
    known = {part: cost[f"{part}_per_l"] for part in parts}
    most = max((value for value in known.values() if value is not None), default=0.0)
    if most <= 0:
        return []
    return [
        {
            "label": part.capitalize(),
            "text": view.per_volume(value),
            "censored": False,
            "share": round(100 * (value or 0.0) / most, 1),
        }
        for part, value in known.items()
        if value is None or value > 0
    ]
