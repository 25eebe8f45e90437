"""What there is of every material, and what it cost, by the method chosen for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from generator.language import say
from generator.pages.parts import (
    Row,
    Show,
    acid_value_show,
    figures,
    plain,
    sizes,
    table_view,
    unit_costs,
    worded,
)
from generator.pages.view import TableView
from generator.pages.words import Shown, number
from generator.tables import INVENTORY


def inventory_table(rows: Sequence[Row], view: Shown) -> TableView:
    """One row per material: what came in is what was used, lost and is left, in amount and in money."""

    def money(column: str) -> Callable[[Row], str]:
        return lambda row: number(row[column], view.money_digits())

    poured = [
        Show("poured", say("Poured"), sizes(view, "poured")),
        Show("poured_cost", say("Its cost"), money("poured_cost"), view.currency),
    ]
    returned = [
        Show("returned", say("Went back"), sizes(view, "returned")),
        Show("returned_cost", say("Its cost"), money("returned_cost"), view.currency),
        Show("refunded", say("Paid back"), money("refunded"), view.currency),
    ]
    return table_view(
        INVENTORY,
        "inventory-table",
        say("Stock by what it cost: what came in is what was used, lost and is left"),
        rows,
        [
            Show(
                "material",
                say("Material"),
                lambda row: (
                    say("{material} in {vat}", material=view.material(row["material"]), vat=row["vat"])
                    if row["vat"]
                    else view.material(row["material"])
                ),
            ),
            Show("came", say("Came in"), sizes(view, "came")),
            Show("came_cost", say("Paid"), money("came_cost"), view.currency),
            Show("used", say("Used"), sizes(view, "used")),
            Show("used_cost", say("Cost of that"), money("used_cost"), view.currency),
            *(poured if any(row["poured"] for row in rows) else []),
            *(returned if any(row["returned"] for row in rows) else []),
            Show("lost", say("Missing"), sizes(view, "lost")),
            Show("lost_cost", say("Cost missing"), money("lost_cost"), view.currency),
            Show("left", say("Left"), sizes(view, "left")),
            Show("left_cost", say("Cost of it"), money("left_cost"), view.currency),
            Show("unit_cost", say("A unit"), unit_costs(view, "unit_cost")),
            acid_value_show(),
            Show("water_mg_per_kg", say("Water"), figures("water_mg_per_kg"), "mg/kg"),
            Show("method", say("Costed by"), worded("method")),
            Show("since", say("From"), plain("since")),
        ],
    )
