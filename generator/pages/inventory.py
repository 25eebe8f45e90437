"""What there is of every material, and what it cost, by the method chosen for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from generator.language import said, say, term
from generator.pages.parts import (
    Row,
    Show,
    acid_value_show,
    figures,
    sizes,
    table_view,
    unit_costs,
)
from generator.pages.view import TableView
from generator.pages.words import Shown, number, shown_change
from generator.tables import INVENTORY

PAID = term("Paid")
LABELS = {
    "came": term("Came to use"),
    "used": term("Used"),
    "poured": term("Poured"),
    "returned": term("Went back"),
    "lost": term("Missing"),
    "left": term("Left"),
}


def inventory_tables(rows: Sequence[Row], view: Shown) -> list[TableView]:
    """One row per material, in amount and in money: what came to use is what was used, went back, is missing and is left."""
    moved = [name for name in ("poured", "returned") if any(row[name] for row in rows)]
    material = Show("material", say("Material"), partial(_material, view))
    amounts = [
        Show(name, say(LABELS[name]), sizes(view, name)) for name in ("came", "used", *moved, "lost", "left")
    ]
    money = [
        Show(
            f"{name}_cost",
            say(PAID if name == "came" else LABELS[name]),
            _money(f"{name}_cost", view),
            view.currency,
        )
        for name in ("came", "used", *moved, "lost", "left")
    ]
    gained = Show(
        "returned_gain",
        say("Gained by it"),
        lambda row: shown_change(row["returned_gain"], view.money_digits()),
        view.currency,
    )
    costed = Show("method", say("Costed by"), _costed)
    unit = Show("unit_cost", say("A unit"), unit_costs(view, "unit_cost"))
    tested = [acid_value_show(), Show("water_mg_per_kg", say("Water"), figures("water_mg_per_kg"), "mg/kg")]
    first = table_view(
        INVENTORY, "inventory-table", say("Stock by amount"), rows, [material, *amounts, unit, *tested]
    )
    second = table_view(
        INVENTORY,
        "inventory-cost",
        say("Stock by what it cost"),
        rows,
        [material, *money, *([gained] if "returned" in moved else []), costed],
    )
    return [
        replace(
            first,
            told=say(
                "What came to use is what came in less what was lost in preparation. It is what was used, poured into vats, went back, is missing and is left."
            ),
        ),
        replace(
            second,
            told=say(
                "All that was paid for what came to use is in what was used, was poured, went back, is missing and is left."
            ),
        ),
    ]


def _material(view: Shown, row: Row) -> str:
    name = view.material(row["material"])
    return say("{material} in {vat}", material=name, vat=row["vat"]) if row["vat"] else name


def _costed(row: Row) -> str:
    """The method, and from which day it holds."""
    method = said(row["method"])
    return say("{method}, from {since}", method=method, since=row["since"]) if row["since"] else method


def _money(column: str, view: Shown) -> Callable[[Row], str]:
    return lambda row: number(row[column], view.money_digits())
