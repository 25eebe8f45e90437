"""Pieces that several pages share: cells, tables of declared columns, figures that say what they lack."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.compute.frames import Passing
from generator.language import said, say
from generator.pages.view import Cell, Figure, Head, TableView
from generator.pages.words import Shown, interval, number, plus_minus, significant, sort_key, unknown
from generator.tables import Table

Row = Mapping[str, Any]
LONGEST = 500


@dataclass(frozen=True, slots=True)
class Show:
    """How one declared column is shown: its label and unit as said, its text for a row, a link."""

    column: str
    label: str
    text: Callable[[Row], str]
    unit: str = ""
    href: Callable[[Row], str] | None = None
    anchor: Callable[[Row], str] | None = None


def plain(column: str) -> Callable[[Row], str]:
    """The text of a column of words; a dash where nothing is written."""
    return lambda row: str(row[column]) if row[column] is not None else "–"


def worded(column: str) -> Callable[[Row], str]:
    """The word of a column whose words are the program's, in the language in use; a dash where nothing is written."""
    return lambda row: said(row[column]) if row[column] is not None else "–"


def vessel_text(row: Row) -> str:
    """A vessel and its place in the line."""
    return f"{row['vessel']}, {said(row['position'])}"


def figures(column: str, digits: int = 0) -> Callable[[Row], str]:
    """The number of a column, rounded."""
    return lambda row: number(row[column], digits)


def acid_value_show() -> Show:
    """The acid value of an oil, as most tables show it."""
    column = "acid_value_mg_koh_per_g"
    return Show(column, say("Acid value"), figures(column, 1), "mg KOH/g")


def materials(view: Shown, column: str) -> Callable[[Row], str]:
    """The name of the material in a column, or its id where it has none."""
    return lambda row: view.material(row[column]) if row[column] is not None else "–"


def volumes(view: Shown, column: str, digits: int = 0) -> Callable[[Row], str]:
    """The litres of a column as a number of display units."""
    finer = digits if view.display["volume"] == "L" else digits + 1
    return lambda row: number(view.volume_number(row[column]), finer)


def prices(view: Shown, column: str, digits: int) -> Callable[[Row], str]:
    """The money per litre of a column as a number per display unit."""
    return lambda row: number(view.per_volume_number(row[column]), digits)


def sizes(view: Shown, column: str) -> Callable[[Row], str]:
    """An amount in the unit its lot is kept in, with the display unit."""
    return lambda row: view.volume(row[column]) if row["unit"] == "L" else view.mass(row[column])


def unit_costs(view: Shown, column: str) -> Callable[[Row], str]:
    """Money per unit a lot is kept in, as money per display unit."""
    return lambda row: (
        view.per_volume(row[column], 2) if row["unit"] == "L" else view.per_mass(row[column], 2)
    )


def run_shows(view: Shown) -> list[Show]:
    """How a run through one vessel went: flow, contact, pressure, soap; for tables of runs."""
    return [
        Show("bed_volumes_per_h", say("Flow"), figures("bed_volumes_per_h", 1), say("bed volumes/h")),
        Show("contact_min", say("Contact"), figures("contact_min"), "min"),
        Show(
            "inlet_kpa",
            say("Inlet, highest"),
            lambda row: number(view.pressure_number(row["inlet_kpa"]), 2),
            view.display["pressure"],
        ),
        Show(
            "soap_high_g",
            say("Soap taken up"),
            lambda row: interval(row["soap_low_g"], row["soap_high_g"]),
            "g",
        ),
        Show(
            "load_share_pct",
            say("Of capacity, after"),
            lambda row: significant(row["load_share_pct"], "", 2),
            "%",
        ),
    ]


def table_view(
    table: Table,
    id_: str,
    caption: str,
    rows: Iterable[Row],
    shows: Sequence[Show],
    *,
    filterable: bool = False,
) -> TableView:
    """A table of declared columns as shown; unknown figures stand as a dash, numbers sort by their value."""
    listed = list(rows)
    heads = tuple(
        Head(
            show.label,
            show.unit,
            say(table.column(show.column).meaning),
            any(isinstance(row[show.column], float | int) for row in listed),
            table.column(show.column).method,
        )
        for show in shows
    )
    missing = unknown()
    cells = tuple(tuple(_cell(show, row, missing) for show in shows) for row in listed)
    return TableView(id_, caption, heads, cells, filterable)


def _cell(show: Show, row: Row, missing: str) -> Cell:
    text, value = show.text(row), row[show.column]
    if text == missing:
        text = "–"
    return Cell(
        text,
        text if isinstance(value, str) and value else sort_key(value),  # words by what a reader sees
        show.href(row) if show.href is not None and row[show.column] is not None else "",
        show.anchor(row) if show.anchor is not None else "",
    )


def figure(table: Table, row: Row, column: str, label: str, text: str, basis: str = "") -> Figure:
    """A figure of a declared column; an unknown one names what it needs and does not have."""
    declared = table.column(column)
    missing = ""
    if text == unknown():
        lacking = [say(need.replace("_", " ")) for need in _lacking(table, row, declared.needs)]
        missing = (
            say("needs {join}", join=", ".join(dict.fromkeys(lacking))) if lacking else say("not written")
        )
    return Figure(label, text, basis, declared.method, missing)


def measured(
    table: Table, row: Row, column: str, label: str, unit: str, digits: int, basis: str = ""
) -> Figure:
    """A figure of an uncertain column, with its ±; `digits` decimals where no uncertainty is known."""
    return figure(table, row, column, label, plus_minus(row[column], row[f"u_{column}"], unit, digits), basis)


def _lacking(table: Table, row: Row, needs: Sequence[str]) -> list[str]:
    """The inputs that are empty; for one that is itself computed, what it lacks in turn.

    Inputs that are no columns (a titration, the dose rule) count where no column explains the gap.
    """
    out: list[str] = []
    for need in needs:
        if need in row and row[need] is None:
            out += _lacking(table, row, table.column(need).needs) or [plain_name(need)]
    return out or [need for need in needs if need not in row]


def plain_name(column: str) -> str:
    """A column as a reader calls it: without its unit."""
    unit_endings = ("_mg_koh_per_g", "_mg_per_kg", "_per_l", "_pct", "_kg", "_ml", "_l", "_g", "_h")
    return next((column.removesuffix(end) for end in unit_endings if column.endswith(end)), column)


def batch_link(batch: object, root: str = "") -> str:
    """The page of a batch."""
    return f"{root}batches/{batch}.html"


def offer_link(offer: object, root: str = "") -> str:
    """The page of an offer."""
    return f"{root}offers/{offer}.html"


def charge_link(charge: object, root: str = "") -> str:
    """The page of a charge."""
    return f"{root}charges/{charge}.html"


def compare_link(first: object, second: object, root: str = "") -> str:
    """Two batches side by side."""
    return f"{root}compare.html#compare={first},{second}"


def sheet_link(batch: object, root: str = "") -> str:
    """The sheet of a batch."""
    return f"{root}sheets/{batch}.html"


def label_link(batch: object, root: str = "") -> str:
    """The label of a batch."""
    return f"{root}labels/{batch}.html"


def lot_link(lot: object, root: str = "") -> str:
    """The row of a lot."""
    return f"{root}oil.html#lot-{lot}"


def tank_link(tank: object, root: str = "") -> str:
    """The figures of a tank."""
    return f"{root}tanks.html#tank-{tank}"


def trace_link(name: object, root: str = "") -> str:
    """The rows of tracing that name a lot, a batch or a lot of a tank."""
    return f"{root}tracing.html#find-traces={name}"


def grouped(rows: Iterable[Row], column: str) -> Mapping[str, Sequence[Row]]:
    """Rows by the id in a column; those without one are left out."""
    if isinstance(rows, Passing):
        return rows.grouped(column)
    out: dict[str, list[Row]] = {}
    for row in rows:
        if row[column] is not None:
            out.setdefault(row[column], []).append(row)
    return out


def newest(caption: str, rows: Sequence[Row], file: str) -> tuple[str, list[Row]]:
    """Rows newest first for a long table, and a caption that says where the rest is when they are too many to read."""
    if len(rows) <= LONGEST:
        return caption, list(rows)[::-1]
    return say(
        "{caption}: the latest {longest} of {rows}, all of them in {file}",
        caption=caption,
        longest=LONGEST,
        rows=len(rows),
        file=file,
    ), list(rows[-LONGEST:])[::-1]
