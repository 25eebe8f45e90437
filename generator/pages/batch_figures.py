"""The figures in the margin of a batch's page, and its small bars."""

from __future__ import annotations

from typing import Any

from generator.pages.parts import Row, figure
from generator.pages.view import Figure
from generator.pages.words import UNKNOWN, Shown, number, soap_text, with_unit
from generator.tables import BATCHES, COSTS


def dose_figures(row: Row, view: Shown) -> list[Figure]:
    """Oil, acidity, both terms of the dose, methanol."""
    named = row["catalyst_of"] or "catalyst"
    return [
        figure(
            BATCHES,
            row,
            "oil_kg",
            "Oil",
            f"{view.mass(row['oil_kg'])}, {view.volume(row['oil_l'])}",
            view.basis,
        ),
        figure(
            BATCHES,
            row,
            "acid_value_mg_koh_per_g",
            "Acid value",
            with_unit(row["acid_value_mg_koh_per_g"], "mg KOH/g", 2),
        ),
        figure(
            BATCHES, row, "ffa_pct", "Free fatty acid", with_unit(row["ffa_pct"], "%", 2), "as oleic acid"
        ),
        figure(
            BATCHES,
            row,
            "dose_neutralising_g",
            "Dose: to neutralise",
            view.weighed(row["dose_neutralising_g"]),
            f"{named} as weighed",
        ),
        figure(
            BATCHES,
            row,
            "dose_base_g",
            "Dose: base rate",
            view.weighed(row["dose_base_g"]),
            "the maker's own rule",
        ),
        figure(
            BATCHES, row, "dose_g", "Dose: both terms", view.weighed(row["dose_g"]), f"{named} as weighed"
        ),
        figure(
            BATCHES, row, "catalyst_g", "Weighed, all stages", view.weighed(row["catalyst_g"]), _against(row)
        ),
        figure(
            BATCHES,
            row,
            "methanol_pct_v_v",
            "Methanol",
            with_unit(row["methanol_pct_v_v"], "% of the oil's volume", 1),
            _ratio(row),
        ),
    ]


def _against(row: Row) -> str:
    difference = row["dose_difference_pct"]
    if difference is None:
        return ""
    if round(difference) == 0:
        return "first stage as the rule says"
    return f"first stage {with_unit(abs(difference), '%')} {'above' if difference > 0 else 'below'} the rule"


def _ratio(row: Row) -> str:
    return (
        f"{number(row['methanol_molar_ratio'], 1)} mol per mol of oil"
        if row["methanol_molar_ratio"] is not None
        else ""
    )


def yield_figures(row: Row, view: Shown, vessels: int) -> list[Figure]:
    """Yields on three bases, what the columns kept, mass closure."""
    out = [
        figure(BATCHES, row, "fuel_l", "Finished fuel", view.volume(row["fuel_l"]), view.basis),
        figure(
            BATCHES,
            row,
            "yield_volume_pct",
            "By volume of oil",
            with_unit(row["yield_volume_pct"], "%", 1),
            view.basis,
        ),
        figure(
            BATCHES,
            row,
            "yield_mass_pct",
            "By mass of oil",
            with_unit(row["yield_mass_pct"], "%", 1),
            "before the columns",
        ),
        figure(
            BATCHES,
            row,
            "yield_theory_pct",
            "Against theory",
            with_unit(row["yield_theory_pct"], "%", 1),
            f"ester in theory {view.mass(row['ester_theory_kg'])}",
        ),
        figure(
            BATCHES,
            row,
            "heel_l",
            "Left in the columns",
            view.volume(row["heel_l"], 1) if row["heel_l"] is not None else UNKNOWN,
            "released by the beds" if (row["heel_l"] or 0.0) < 0 else "fed minus finished",
        ),
        figure(
            BATCHES,
            row,
            "closure_pct",
            "Mass closure",
            with_unit(row["closure_pct"], "%", 1),
            "mass out over mass in",
        ),
    ]
    return [item for item in out if vessels or item.label != "Left in the columns"]


def soap_figures(row: Row, vessels: int) -> list[Figure]:
    """Soap at the points of the run, and the acid that exchange sets free."""
    labels = {"feed": "Feed", "between": "Between the columns", "product": "Product"}
    if vessels < 2:
        del labels["between"]
    out = [
        figure(BATCHES, row, f"soap_{point}_mg_per_kg", label, soap_text(row, point))
        for point, label in labels.items()
    ]
    rise = with_unit(row["acid_rise_mg_koh_per_g"], "mg KOH/g", 3)
    basis = "soap the resin exchanged frees its acid"
    out.append(
        figure(BATCHES, row, "acid_rise_mg_koh_per_g", "Acid rise over the resin, at most", rise, basis)
    )
    return out


def cost_figures(cost: Row, view: Shown) -> list[Figure]:
    """Cost per litre by tier."""
    return [
        cost_figure(cost, "cash_per_l", "Cash", view, "oil, methanol, catalyst, energy, other"),
        cost_figure(cost, "with_media_per_l", "With media", view, media_basis(cost)),
        cost_figure(cost, "with_labour_per_l", "With labour", view),
        cost_figure(
            cost,
            "per_diesel_l",
            f"Per {view.volume_word} of diesel equivalent",
            view,
            "with media, by net heat",
        ),
    ]


def media_basis(cost: Row) -> str:
    """Whether the share of media is final."""
    return "an estimate while a bed is in service" if cost["media_estimated"] == "yes" else ""


def cost_figure(cost: Row, column: str, label: str, view: Shown, basis: str = "", digits: int = 3) -> Figure:
    """One tier of the cost of a batch; an unknown one says what it lacks, not what it is made of."""
    value = cost[column]
    text = view.per_volume(value, digits)
    lacks = [
        item
        for item in (cost["missing"] or "").split(", ")
        if item and not item.startswith(_BEYOND.get(column, ()))
    ]
    missing = f"needs {', '.join(lacks)}" if value is None else ""
    return Figure(label, text, basis, COSTS.column(column).method, missing)


# what a tier does not need, by how its words begin
_LABOUR = ("hours worked", "labour rate")
_BEYOND = {
    "cash_per_l": (*_LABOUR, "cost and expected life", "volume fed"),
    "with_media_per_l": _LABOUR,
    "per_diesel_l": _LABOUR,
}


def soap_bars(row: Row, vessels: int) -> list[dict[str, Any]]:
    """Bars on a scale whose full length is the feed, or the largest of them."""
    points = {"Feed": "feed", "Between": "between", "Product": "product"}
    if vessels < 2:
        del points["Between"]
    known = [row[f"soap_{point}_mg_per_kg"] or 0.0 for point in points.values()]
    most = max(known)
    if most <= 0:
        return []
    return [
        {
            "label": label,
            "text": soap_text(row, point),
            "censored": row[f"soap_{point}_detected"] == "no",
            "share": round(100 * (row[f"soap_{point}_mg_per_kg"] or 0.0) / most, 1),
        }
        for label, point in points.items()
    ]


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
