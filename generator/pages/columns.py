"""Columns: where each bed stands, what its charges took up, what media cost."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.results import Results
from generator.pages.beds import charges_table, load_chart, pressure_chart, rate_chart
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    newest,
    plain,
    run_shows,
    table_view,
    volumes,
)
from generator.pages.view import Figure, Page, TableView
from generator.pages.words import UNKNOWN, Shown, count, interval, number, shown, significant, with_unit
from generator.tables import RUNS


def page(results: Results) -> Page:
    """The page of columns."""
    charges, runs, view = results.rows("charges"), results.rows("runs"), shown(results)
    standing = in_line([row for row in charges if row["unloaded"] is None])
    return Page(
        path="columns.html",
        title="Columns",
        template="columns.html",
        section="columns",
        finding=finding(standing),
        content={
            "figures": {
                f"{row['vessel']}, {row['position']}: {row['state']}": bed(row, view) for row in standing
            },
            "charts": [
                chart
                for chart in (
                    load_chart(runs, charges),
                    pressure_chart(runs, view),
                    rate_chart(charges, view),
                )
                if chart is not None
            ],
            "tables": [charges_table(charges, view), runs_table(runs, view)],
            "intro": _intro(results, charges),
            "cautions": [
                "Spent media, filters and rags wet with fuel heat themselves: closed metal container, outdoors.",
                "Rinsing a resin makes litres of contaminated methanol: toxic, and its vapour ignites easily.",
                "Pressure limits are the vessel maker's; nothing here is an allowable pressure.",
            ],
        },
    )


def in_line(charges: Sequence[Row]) -> list[Row]:
    """Charges in the order in which the fuel meets them."""
    order = {"lead": 0, "lag": 2}
    return sorted(charges, key=lambda row: (row["purifier"], order.get(row["position"], 1), row["position"]))


def _sure(row: Row) -> str:
    return (
        f" ({row['capacity_confidence']})"
        if row["capacity_confidence"]
        else ", which says nothing of how sure it is"
    )


def _intro(results: Results, charges: Sequence[Row]) -> str:
    """What holds for the media there are, and what a shared page leaves out."""
    parts = []
    if {row["type"] for row in charges} >= {"absorbent", "resin"}:
        parts.append(
            "An absorbent guards and a resin polishes; they keep their own ledgers and cannot change places."
        )
    parts.append(
        "Capacities are the figures in the media's rows; this workshop's own finished charges are the better source."
    )
    if results.audience == "shared":
        parts.append("Runs of batches that are not shown here are left out of every sum.")
    return " ".join(parts)


def finding(standing: Sequence[Row]) -> str:
    """Each bed in service in a few words."""
    if not standing:
        return "No bed is in service."
    parts = []
    for row in standing:
        share = row["soap_share_pct"] if row["type"] != "resin" else row["glycerol_share_pct"]
        since = "its last rinse" if row["last_rinse"] else "it was packed"
        what = f"glycerol since {since}, by the inlet content assumed" if row["type"] == "resin" else "soap"
        held = f", {with_unit(share, '%')} of its capacity for {what}" if share is not None else ""
        parts.append(f"{row['vessel']} ({row['position']}): {row['state']}{held}")
    return f"{'; '.join(parts)}."


def bed(row: Row, view: Shown) -> list[Figure]:
    """The figures of one charge in service."""
    low, high = row["soap_low_g"], row["soap_high_g"]
    soap = f"{interval(low, high)} g" if low is not None else UNKNOWN
    estimated = (
        f"estimate {with_unit(row['soap_estimate_g'], 'g')}, {count(row['runs_estimated'], 'run')} without all samples"
        if row["runs_estimated"]
        else "all runs sampled"
    )
    out = [
        Figure(
            "Medium",
            str(row["medium"]),
            f"{view.mass(row['mass_kg'])}, bed of {view.volume(row['bed_l'])}, packed {row['packed']}",
        ),
        Figure(
            "Fuel treated",
            view.volume(row["fuel_l"]),
            f"{number(row['bed_volumes'])} bed volumes in {count(row['runs'], 'run')}",
            "bed-volumes",
            "" if row["fuel_l"] is not None else "needs the volume fed in every run",
        ),
        Figure("Soap taken up", soap, estimated, "soap-held"),
        Figure(
            "Of capacity",
            significant(row["soap_share_pct"], "%", 2),
            f"{number(row['soap_capacity_g'])} g by the medium's row{_sure(row)}",
            "soap-held",
            "" if row["soap_share_pct"] is not None else "needs a capacity in the medium's row",
        ),
    ]
    if row["glycerol_capacity_g"] is not None:
        since = f"since the rinse of {row['last_rinse']}" if row["last_rinse"] else "since it was packed"
        out.append(
            Figure(
                "Glycerol",
                with_unit(row["glycerol_g"], "g"),
                f"{significant(row['glycerol_share_pct'], '%', 2)} of capacity {since}, by the inlet content assumed",
                "glycerol-held",
                "" if row["glycerol_g"] is not None else "needs glycerol_inlet of the vessel",
            )
        )
    out.append(
        Figure(
            "Medium per 1000 L",
            with_unit(row["media_per_1000_l"], "kg", 1),
            "so far; it falls until the charge is unloaded",
            "media-consumption",
            "" if row["media_per_1000_l"] is not None else "needs fuel treated",
        )
    )
    if row["cost"] is not None:
        out.append(
            Figure(
                "Cost of the charge",
                view.money(row["cost"]),
                f"{view.per_volume(row['cost_per_l'])}, an estimate while in service"
                if row["cost_per_l"] is not None
                else "over a life not known yet: write 'expected' where it was packed",
                "media-cost",
            )
        )
    return out


def runs_table(runs: Sequence[Row], view: Shown) -> TableView:
    """All runs, newest first."""
    caption, newest_first = newest("Runs", runs, "data/runs.csv")
    return table_view(
        RUNS,
        "runs-table",
        caption,
        newest_first,
        [
            Show("batch", "Batch", plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("start", "Start", plain("start")),
            Show("vessel", "Vessel", lambda row: f"{row['vessel']}, {row['position']}"),
            Show("fed_l", "Fed", volumes(view, "fed_l"), view.display["volume"]),
            *run_shows(view),
        ],
        filterable=True,
    )
