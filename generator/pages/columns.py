"""Columns: where each bed stands, what its charges took up, what media cost."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.results import Results
from generator.language import said, say, term
from generator.ledger.states import CHANGE, READY, STOP
from generator.pages.bed_ahead import ahead_figures
from generator.pages.bed_figures import (
    cautions,
    fuel_figures,
    glycerol_figures,
    soap_figures,
)
from generator.pages.beds import charges_table, load_chart, pressure_chart, rate_chart, strips_chart
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    charge_link,
    newest,
    plain,
    run_shows,
    table_view,
    vessel_text,
    volumes,
)
from generator.pages.places import placed
from generator.pages.view import Figure, Page, TableView
from generator.pages.words import Shown, capital, count, number, shown, significant, with_unit
from generator.tables import RUNS

ROLLING = 10  # batches
FEW = 5  # batches left that ask for the next filling to be at hand
_PRESSING = {STOP: 0, CHANGE: 1}  # the most pressing first


def page(results: Results) -> Page:
    """The page of columns."""
    charges, runs, view = results.rows("charges"), results.rows("runs"), shown(results)
    standing = in_line([row for row in charges if row["unloaded"] is None])
    return placed(
        "columns",
        finding=finding(standing),
        content={
            "figures": {
                f"{row['purifier']} {row['vessel']}, {said(row['position'])}: {said(row['state'])}": bed(
                    row, view
                )
                for row in standing
            },
            "charts": [
                chart
                for chart in (
                    strips_chart(charges, results.rows("events"), view, results.as_of),
                    load_chart(runs, charges) if charges else None,
                    pressure_chart(runs, view),
                    rate_chart(charges, view),
                )
                if chart is not None
            ],
            "tables": [charges_table(charges, view), runs_table(runs, view)],
            "intro": f"{_intro(results, charges)}{_consumption(results)}",
            "cautions": cautions(charges),
        },
    )


def in_line(charges: Sequence[Row]) -> list[Row]:
    """Charges in the order in which the fuel meets them."""
    order = {"lead": 0, "lag": 2}
    return sorted(charges, key=lambda row: (row["purifier"], order.get(row["position"], 1), row["position"]))


def _intro(results: Results, charges: Sequence[Row]) -> str:
    """What holds for the media there are, and what a shared page leaves out."""
    parts = []
    if {row["type"] for row in charges} >= {"absorbent", "resin"}:
        parts.append(
            say(
                "An absorbent guards and a resin polishes; they keep their own ledgers and cannot change places."
            )
        )
    parts.append(
        say(
            "Capacities are learnt from this workshop's own spent charges; under three of them the figure in the medium's row stands."
        )
    )
    if results.audience == "shared":
        parts.append(say("Runs of batches that are not shown here are left out of every sum."))
    return " ".join(parts)


def _consumption(results: Results) -> str:
    """Medium of the last batches; they were charged by what each charge was expected to treat."""
    rows = [row for row in results.rows("batches") if row["media_kg_per_1000_l"] is not None and row["fed_l"]]
    view = shown(results)
    recent, before = rows[-ROLLING:], rows[-2 * ROLLING : -ROLLING]
    if len(recent) < ROLLING:
        return ""
    text = say(
        " The last {rolling} batches used {mean} of medium",
        rolling=ROLLING,
        mean=with_unit(view.per_thousand_number(_mean_kg(recent)), view.per_thousand_unit, 1),
    )
    return (
        say(
            "{text}, the {rolling} before them {mean}.",
            text=text,
            rolling=ROLLING,
            mean=number(view.per_thousand_number(_mean_kg(before)), 1),
        )
        if len(before) == ROLLING
        else f"{text}."
    )


def _mean_kg(rows: Sequence[Row]) -> float:
    litres = sum(row["fed_l"] for row in rows)
    return float(sum(row["media_kg_per_1000_l"] * row["fed_l"] for row in rows) / litres)


def finding(standing: Sequence[Row]) -> str:
    """How many beds in service ask for something, and which one first; what each asks for stands in its figures."""
    if not standing:
        return say("No bed is in service.")
    asking = [row for row in standing if row["action"]]
    beds = say("{bed} in service", bed=count(len(standing), "bed", "beds"))
    if not asking:
        told = (
            term("{beds}, and it asks for nothing now, by what was titrated.")
            if len(standing) == 1
            else term("{beds}, and none asks for anything now, by what was titrated.")
        )
        return say(told, beds=beds)
    first = min(asking, key=lambda row: _PRESSING.get(row["action"], len(_PRESSING)))
    told = (
        term("Of {beds} {asking} for something now: {bed}, {state}.")
        if len(asking) == 1
        else term("Of {beds} {asking} for something now, first of all {bed}, {state}.")
    )
    return say(
        told,
        beds=beds,
        asking=count(len(asking), "asks", "ask"),
        bed=f"{first['purifier']} {first['vessel']} ({said(first['position'])})",
        state=said(first["state"]),
    )


def refills(standing: Sequence[Row], lots: Sequence[Row], view: Shown) -> list[tuple[str, str]]:
    """Beds that may be changed soon although the stock of their medium is less than their filling."""
    stock: dict[tuple[str, str], float] = {}
    for lot in lots:
        key = (lot["material"], lot["unit"])
        stock[key] = stock.get(key, 0.0) + max(lot["left"], 0.0)
    found = []
    for row in standing:
        left = row["batches_left_low"]
        if row["action"] not in (CHANGE, READY) and (left is None or left > FEW):
            continue
        kg, litres = stock.get((row["medium"], "kg"), 0.0), stock.get((row["medium"], "L"), 0.0)
        if kg < row["mass_kg"] and litres < row["bed_l"]:
            has = view.mass(kg) if kg or not litres else view.volume(litres)
            told = say(
                "The next filling of vessel {vessel} of {purifier} takes {mass} of {medium}, and {has} is in stock.",
                vessel=row["vessel"],
                purifier=row["purifier"],
                mass=view.mass(row["mass_kg"]),
                medium=view.of_material(row["medium"]),
                has=has,
            )
            found.append((told, charge_link(row["charge"])))
    return found


def bed(row: Row, view: Shown) -> list[Figure]:
    """The figures of one charge in service that say what to do; its own page has them all."""
    packed = say(
        "{mass} of {medium}, bed of {volume}, packed {packed}",
        mass=view.mass(row["mass_kg"]),
        medium=view.of_material(row["medium"]),
        volume=significant(view.volume_number(row["bed_l"]), view.display["volume"]),
        packed=row["packed"],
    )
    asked = [Figure(say("To do"), capital(said(row["action"])))] if row["action"] else []
    named = view.names.purifiers.get(row["purifier"])
    return [
        *asked,
        *([Figure(say("Purifier"), named)] if named else []),
        Figure(say("Charge"), str(row["charge"]), packed, href=charge_link(row["charge"])),
        *fuel_figures(row, view)[:1],
        *soap_figures(row)[:2],
        *ahead_figures(row, view)[1:4],
        *glycerol_figures(row),
    ]


def runs_table(runs: Sequence[Row], view: Shown) -> TableView:
    """All runs, newest first."""
    caption, newest_first = newest(say("Runs"), runs, "data/runs.csv")
    return table_view(
        RUNS,
        "runs-table",
        caption,
        newest_first,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("start", say("Start"), plain("start")),
            Show("vessel", say("Vessel"), vessel_text),
            Show("fed_l", say("Fed"), volumes(view, "fed_l"), view.display["volume"]),
            *run_shows(view),
        ],
        filterable=True,
    )
