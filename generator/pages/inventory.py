"""What there is of every material, and what it cost, by the method chosen for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from generator.pages.parts import Row, Show, figures, plain, table_view
from generator.pages.view import TableView
from generator.pages.words import UNKNOWN, Shown, number, with_unit
from generator.tables import INVENTORY


def inventory_table(rows: Sequence[Row], view: Shown) -> TableView:
    """One row per material: what came in is what was used, lost and is left, in amount and in money."""

    def size(column: str) -> Callable[[Row], str]:
        return lambda row: view.volume(row[column]) if row["unit"] == "L" else view.mass(row[column])

    def money(column: str) -> Callable[[Row], str]:
        return lambda row: number(row[column], 2)

    return table_view(
        INVENTORY,
        "inventory-table",
        "Stock by what it cost: what came in is what was used, lost and is left",
        rows,
        [
            Show("material", "Material", plain("material")),
            Show("method", "Costed by", _method),
            Show("came", "Came in", size("came")),
            Show("came_cost", "for", money("came_cost"), view.currency),
            Show("used", "Used", size("used")),
            Show("used_cost", "for", money("used_cost"), view.currency),
            Show("lost", "Missing", size("lost")),
            Show("lost_cost", "for", money("lost_cost"), view.currency),
            Show("left", "Left", size("left")),
            Show("left_cost", "for", money("left_cost"), view.currency),
            Show("unit_cost", "a unit", lambda row: _each(row, view)),
            Show(
                "acid_value_mg_koh_per_g",
                "Acid value",
                figures("acid_value_mg_koh_per_g", 1),
                "mg KOH/g",
            ),
            Show("water_mg_per_kg", "Water", figures("water_mg_per_kg"), "mg/kg"),
        ],
    )


def _method(row: Row) -> str:
    return f"{row['method']}, from {row['since']}" if row["since"] is not None else str(row["method"])


def _each(row: Row, view: Shown) -> str:
    if row["unit"] == "L":
        return view.per_volume(row["unit_cost"], 2)
    per_mass = view.mass_number(1.0)
    if row["unit_cost"] is None or per_mass is None:
        return UNKNOWN
    return with_unit(row["unit_cost"] / per_mass, f"{view.currency}/{view.display['mass']}", 2)
