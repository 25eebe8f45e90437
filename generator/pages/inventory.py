"""What there is of every material, and what it cost, by the method chosen for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from generator.pages.parts import ACID_VALUE_COLUMN, Row, Show, figures, plain, sizes, table_view, unit_costs
from generator.pages.view import TableView
from generator.pages.words import Shown, number
from generator.tables import INVENTORY


def inventory_table(rows: Sequence[Row], view: Shown) -> TableView:
    """One row per material: what came in is what was used, lost and is left, in amount and in money."""

    def money(column: str) -> Callable[[Row], str]:
        return lambda row: number(row[column], 2)

    returned = [
        Show("returned", "Went back", sizes(view, "returned")),
        Show("returned_cost", "Its cost", money("returned_cost"), view.currency),
        Show("refunded", "Paid back", money("refunded"), view.currency),
    ]
    return table_view(
        INVENTORY,
        "inventory-table",
        "Stock by what it cost: what came in is what was used, lost and is left",
        rows,
        [
            Show("material", "Material", plain("material")),
            Show("came", "Came in", sizes(view, "came")),
            Show("came_cost", "Paid", money("came_cost"), view.currency),
            Show("used", "Used", sizes(view, "used")),
            Show("used_cost", "Cost of that", money("used_cost"), view.currency),
            *(returned if any(row["returned"] for row in rows) else []),
            Show("lost", "Missing", sizes(view, "lost")),
            Show("lost_cost", "Cost missing", money("lost_cost"), view.currency),
            Show("left", "Left", sizes(view, "left")),
            Show("left_cost", "Cost of it", money("left_cost"), view.currency),
            Show("unit_cost", "A unit", unit_costs(view, "unit_cost")),
            ACID_VALUE_COLUMN,
            Show("water_mg_per_kg", "Water", figures("water_mg_per_kg"), "mg/kg"),
            Show("method", "Costed by", plain("method")),
            Show("since", "From", plain("since")),
        ],
    )
