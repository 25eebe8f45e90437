"""The charges as a table and as charts: soap against capacity, inlet pressure, medium per 1000 litres."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from generator.language import said, say
from generator.pages.batches import CHARTED
from generator.pages.bed_pressure import inlet_chart, pressure_show
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    charge_link,
    figures,
    materials,
    plain,
    table_view,
    volumes,
    worded,
)
from generator.pages.view import Chart, TableView
from generator.pages.words import Shown, count, interval, number, significant
from generator.tables import CHARGES, EVENTS, RUNS


def vessel_name(rows: Sequence[Row]) -> Callable[[Row], str]:
    """What a vessel is called in a chart: with its purifier where there are several."""
    several = len({row["purifier"] for row in rows}) > 1
    return lambda row: f"{row['purifier']} {row['vessel']}" if several else str(row["vessel"])


DRAWN = ("rinse", "regenerate", "rotate")  # that are drawn above the strips


def strips_chart(charges: Sequence[Row], events: Sequence[Row], view: Shown, as_of: str) -> Chart | None:
    """The charges of every vessel through time."""
    if not charges:
        return None
    name = vessel_name(charges)
    vessels = {row["charge"]: name(row) for row in charges}
    values: list[dict[str, Any]] = [
        {
            "kind": "charge",
            "vessel": vessels[row["charge"]],
            "charge": row["charge"],
            "name": row["charge"].rsplit("-", 1)[1],
            "start": row["packed"],
            "end": row["unloaded"] or as_of,
            "standing": row["unloaded"] is None,
            "told": f"{view.material(row['medium'])}, {count(row['runs'], 'run', 'runs')}: {said(row['state'])}",
        }
        for row in charges
    ]
    marked = [row for row in events if row["event"] in DRAWN]
    values += [
        {
            "kind": said(row["event"]),
            "vessel": vessels[row["charge"]],
            "charge": row["charge"],
            "name": "",
            "start": row["date"],
            "end": row["date"],
            "standing": False,
            "told": said(row["event"]),
        }
        for row in marked
        if row["charge"] in vessels
    ]
    drawn = [event for event in DRAWN if any(value["kind"] == said(event) for value in values)]
    standing = sum(row["unloaded"] is None for row in charges)
    sentence = say(
        "{charge} in {vessel}, {standing} of them in service.",
        charge=count(len(charges), "charge", "charges"),
        vessel=count(len(set(vessels.values())), "vessel", "vessels"),
        standing=standing,
    )
    table = events_table(events, view, "events-table")
    return Chart(
        "strips", say("Charges through time"), sentence, "bed_strips", tuple(values), table, {"events": drawn}
    )


def load_chart(runs: Sequence[Row], charges: Sequence[Row]) -> Chart:
    """Soap in each charge through time against its capacity."""
    capacity, name = {row["charge"]: row["soap_capacity_g"] for row in charges}, vessel_name(charges)
    recent = [row for row in runs if row["load_g"] is not None][-2 * CHARTED :]
    values = tuple(
        {
            "date": row["start"][:10],
            "batch": row["batch"],
            "charge": row["charge"],
            "vessel": f"{name(row)}, {said(row['position'])}",
            "load_g": row["load_g"],
            "capacity_g": capacity[row["charge"]],
        }
        for row in recent
    )
    beyond = [row for row in charges if row["soap_share_pct"] is not None and row["soap_share_pct"] > 100]
    finished = sum(row["unloaded"] is not None for row in charges)
    sentence = say(
        "{charge}, {unloaded} of them unloaded; {beyond} took up more soap than their capacity, by the estimate.",
        charge=count(len(charges), "charge", "charges"),
        unloaded=finished or say("none"),
        beyond=len(beyond) or say("none"),
    )
    return Chart("bed-load", say("Soap in each bed"), sentence, "bed_load", values, _load_table(recent))


def _load_table(rows: Sequence[Row]) -> TableView:
    return table_view(
        RUNS,
        "load-table",
        say("Soap in each charge after each run"),
        rows,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("charge", say("Charge"), plain("charge"), href=lambda row: charge_link(row["charge"])),
            Show("load_g", say("Soap, estimate"), figures("load_g"), "g"),
            Show(
                "load_share_pct",
                say("Of capacity"),
                lambda row: significant(row["load_share_pct"], "", 2),
                "%",
            ),
        ],
    )


def pressure_chart(runs: Sequence[Row], view: Shown) -> Chart | None:
    """Highest inlet pressure by run."""
    read = {(row["purifier"], row["vessel"]) for row in runs if row["inlet_kpa"] is not None}
    rows = [row for row in runs if (row["purifier"], row["vessel"]) in read][-2 * CHARTED :]
    if not any(row["inlet_kpa"] is not None for row in rows):
        return None
    name = vessel_name(rows)
    table = table_view(
        RUNS,
        "pressure-table",
        say("Highest inlet pressure by run"),
        rows,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("vessel", say("Vessel"), name),
            pressure_show(view, "inlet_kpa", say("Inlet")),
        ],
    )
    return inlet_chart(rows, view, name, say(", not corrected for flow or temperature"), table)


def rate_chart(charges: Sequence[Row], view: Shown) -> Chart | None:
    """Medium per thousand litres or gallons by charge."""
    rows = [row for row in charges if row["media_per_1000_l"] is not None]
    if not rows:
        return None
    values = tuple(
        {
            "charge": row["charge"],
            "vessel": row["vessel"],
            "packed": row["packed"],
            "media_per_thousand": view.per_thousand_number(row["media_per_1000_l"]),
            "in_service": row["unloaded"] is None,
        }
        for row in rows
    )
    done = [
        row["media_per_1000_l"] for row in rows if row["unloaded"] is not None and row["position"] == "lead"
    ]
    told = (
        say(
            "finished lead charges took {least} to {most}",
            least=number(view.per_thousand_number(min(done)), 1),
            most=number(view.per_thousand_number(max(done)), 1),
        )
        if done
        else say("no lead charge is finished yet")
    )
    return Chart(
        "media-rate",
        say("Media consumption"),
        say(
            "Medium in {unit} of fuel: {told}; charges in service still fall.",
            unit=view.per_thousand_unit,
            told=told,
        ),
        "media_rate",
        values,
        charges_table(rows, view, "rate-table"),
        {"unit": view.per_thousand_unit},
    )


def charges_table(charges: Sequence[Row], view: Shown, id_: str = "charges-table") -> TableView:
    """All charges, newest first."""
    return table_view(
        CHARGES,
        id_,
        say("Charges"),
        list(charges)[::-1],
        [
            Show("charge", say("Charge"), plain("charge"), href=lambda row: charge_link(row["charge"])),
            Show("position", say("Position"), worded("position")),
            Show("medium", say("Medium"), materials(view, "medium")),
            Show("packed", say("Packed"), plain("packed")),
            Show("unloaded", say("Unloaded"), lambda row: row["unloaded"] or say("in service")),
            Show("runs", say("Runs"), plain("runs")),
            Show(
                "fuel_l",
                say("Fuel treated"),
                volumes(view, "fuel_l"),
                view.display["volume"],
            ),
            Show("bed_volumes", say("Bed volumes"), figures("bed_volumes")),
            Show(
                "soap_estimate_g",
                say("Soap taken up"),
                lambda row: interval(row["soap_low_g"], row["soap_high_g"]),
                "g",
            ),
            Show(
                "soap_share_pct",
                say("Of capacity"),
                lambda row: significant(row["soap_share_pct"], "", 2),
                "%",
            ),
            Show(
                "media_per_1000_l",
                say("Medium used"),
                lambda row: number(view.per_thousand_number(row["media_per_1000_l"]), 1),
                view.per_thousand_unit,
            ),
        ],
    )


def _why(row: Row) -> str:
    return row["reason"] or (say("until {until}", until=row["until"]) if row["until"] else "")


def events_table(rows: Sequence[Row], view: Shown, id_: str, root: str = "") -> TableView:
    """What was done, newest first."""
    return table_view(
        EVENTS,
        id_,
        say("What was done to the columns"),
        list(rows)[::-1],
        [
            Show("date", say("Date"), plain("date")),
            Show("event", say("What"), worded("event")),
            Show("purifier", say("Purifier"), plain("purifier")),
            Show("vessel", say("Vessel"), plain("vessel")),
            Show("charge", say("Charge"), plain("charge"), href=lambda row: charge_link(row["charge"], root)),
            Show("position", say("Position after it"), worded("position")),
            Show("spent", say("Spent"), lambda row: said(row["spent"] or "")),
            Show("reason", say("Why"), _why),
            Show(
                "drained_l",
                say("Drained"),
                lambda row: (
                    number(view.volume_number(row["drained_l"])) if row["drained_l"] is not None else ""
                ),
                view.display["volume"],
            ),
            Show("used", say("With"), lambda row: said(row["used"] or "")),
            Show("note", say("Private note"), lambda row: row["note"] or ""),
        ],
    )
