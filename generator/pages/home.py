"""Home: what to do now, where each bed stands, how the last batch went."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.compute.results import Results
from generator.language import said, say, term
from generator.pages import batch as batch_page
from generator.pages import batch_table
from generator.pages import batches as batches_page
from generator.pages import oil as oil_page
from generator.pages import plan as plan_page
from generator.pages.bed_ahead import batches_text
from generator.pages.bed_figures import glycerol_leads, share_text
from generator.pages.columns import in_line, refills
from generator.pages.contents import soap_text, whole_text
from generator.pages.cost_figures import cost_figure, media_basis
from generator.pages.history import history_told
from generator.pages.parts import (
    Row,
    batch_link,
    charge_link,
    figure,
    measured,
    vessel_text,
)
from generator.pages.places import placed
from generator.pages.tanks import set_the_book
from generator.pages.view import Figure, Page
from generator.pages.words import Shown, count, listed, shown, significant, unknown
from generator.tables import BATCHES

RECENT = 8
# a dip that differs from the book by more than this share of the tank wants looking after
DIP_SHARE = 0.05


def page(results: Results, warnings: int) -> Page:
    """The first page; the same for both audiences, from what each may see."""
    rows, view = results.rows("batches"), shown(results)
    charges = in_line([row for row in results.rows("charges") if row["unloaded"] is None])
    last = next((row for row in reversed(rows) if row["fuel_l"] is not None), rows[-1] if rows else None)
    costs = {row["batch"]: row for row in results.rows("costs")}
    return placed(
        "home",
        finding=batch_page.finding(last, costs.get(last["batch"]), view)
        if last is not None
        else say("No batch is written yet: write the first file in batches/."),
        content={
            **(
                {"actions": actions(results, charges, rows, warnings)}
                if results.audience == "workshop"
                else {}
            ),
            "late": history_told(results),
            "year": batches_page.year_text(rows, view, results.as_of),
            "beds": [bed(row, view) for row in charges],
            "last": _last(last, costs.get(last["batch"]) if last else None, view) if last is not None else [],
            "last_link": (
                say("Last batch: {batch}, {date}", batch=last["batch"], date=last["date"]),
                batch_link(last["batch"]),
            )
            if last is not None
            else None,
            "tables": [
                batch_table.table(
                    rows, view, results, newest_first=True, id_="recent", most=min(RECENT, len(rows))
                )
            ]
            if rows
            else [],
        },
    )


def actions(
    results: Results, charges: Sequence[Row], rows: Sequence[Row], warnings: int
) -> list[tuple[str, str]]:
    """What needs doing now, most pressing first; empty where nothing does."""
    view = shown(results)
    out = plan_page.to_do(results)
    out += [
        (
            say(
                "Vessel {vessel} of {purifier} ({position}), {state}: {action}.",
                vessel=row["vessel"],
                purifier=row["purifier"],
                position=said(row["position"]),
                state=said(row["state"]),
                action=said(row["action"]),
            ),
            charge_link(row["charge"]),
        )
        for row in charges
        if row["action"]
    ]
    out += refills(charges, results.rows("lots"), view)
    if rows:
        out += [
            (say("Batch {name} is not finished.", name=name), batch_link(name)) for name in unfinished(rows)
        ]
    for row in dips_to_look_at(results.rows("tanks")):
        told = say(
            "{tank}: the dip of {date} says {dipped}, the book {dipped_2}.",
            tank=view.tank(row["tank"]),
            date=row["date"],
            dipped=view.volume(row["dipped_l"]),
            dipped_2=view.volume(row["dipped_l"] - row["difference_l"]),
        )
        out.append((told, "tanks.html"))
    offers = results.rows("offers")
    if any(row["state"] == "open" for row in offers):
        out.append((oil_page.finding(offers, view), "oil.html"))
    out += _due(results)
    untested = _untested(results, rows)
    if untested:
        out.append((untested, "quality.html"))
    if warnings:
        out.append(
            (
                say("{warning} about the files.", warning=count(warnings, "warning", "warnings")),
                "problems.html",
            )
        )
    return out


def unfinished(batches: Sequence[Row]) -> list[str]:
    """The last of the batches of which nobody said what came out, however long ago; of one that failed that is nothing."""
    return [row["batch"] for row in batches if row["fuel_l"] is None][-RECENT:]


def dips_to_look_at(moves: Sequence[Row]) -> list[Row]:
    """The last dip of each tank that is far from the book and did not set it."""
    last = {row["tank"]: row for row in moves if row["event"] == "dip"}
    return [
        row
        for row in last.values()
        if abs(row["difference_l"]) > row["capacity_l"] * DIP_SHARE and not set_the_book(row)
    ]


def _due(results: Results) -> list[tuple[str, str]]:
    """Tests that the rhythm of the logbook asks for, bench and laboratory together."""
    names = list(dict.fromkeys(said(row["property"]) for row in results.rows("due") if row["due"]))
    return [(say("Tests are due: {names}.", names=listed(names)), "quality.html#due")] if names else []


def _untested(results: Results, rows: Sequence[Row]) -> str:
    """How many of the last batches have no result at all."""
    tested = {row["subject"] for row in results.rows("tests") if row["property"] != "soap"}
    lacking = [
        row["batch"] for row in rows[-RECENT:] if row["fuel_l"] is not None and row["batch"] not in tested
    ]
    recent = min(RECENT, len(rows))
    if not lacking:
        return ""
    if recent == 1:
        return say("The only batch has no test beside soap and conversion.")
    text = (
        term("{lacking} of the last {recent} batches has no test beside soap and conversion.")
        if len(lacking) == 1
        else term("{lacking} of the last {recent} batches have no test beside soap and conversion.")
    )
    return say(text, lacking=len(lacking), recent=recent)


def bed(row: Row, view: Shown) -> dict[str, Any]:
    """One bed in service: its state in words, the ledger that is fuller, what is left."""
    soap, share = row["soap_share_pct"], None
    if glycerol_leads(row):
        share, rinse = row["glycerol_share_pct"], row["glycerol_batches_left"]
        text = say(
            "{share} of its capacity for glycerol, by the inlet content assumed",
            share=significant(share, "%", 2),
        )
        held = say("{share_text} of that for soap; ", share_text=share_text(row)) if soap is not None else ""
        ahead = (
            say("batches to a rinse: {rinse}; ", rinse=significant(rinse, "", 2)) if rinse is not None else ""
        )
        detail = f"{held}{ahead}".removesuffix("; ")
    elif soap is None:
        text = say("share of capacity unknown")
        detail = say(
            "needs a capacity, from the medium's row or three spent charges, and samples of its runs"
        )
    else:
        share, left = soap, batches_text(row)
        text = say("{share_text} of its capacity for soap", share_text=share_text(row))
        detail = (
            say("batches left: {left}", left=left)
            if left != unknown()
            else say("what a batch brings is not known")
        )
    return {
        "vessel": f"{row['purifier']} {vessel_text(row)}",
        "medium": view.material(row["medium"]),
        "state": said(row["state"]),
        "share_text": text,
        "share": round(min(share, 100.0), 1) if share is not None else None,
        "detail": detail,
        "href": charge_link(row["charge"]),
    }


def _last(row: Row, cost: Row | None, view: Shown) -> list[Figure]:
    out = [
        figure(
            BATCHES,
            row,
            "fuel_l",
            say("Finished fuel"),
            view.volume(row["fuel_l"], 0, row["u_fuel_l"]),
            view.basis,
        ),
        measured(BATCHES, row, "yield_volume_pct", say("Yield by volume"), "%", 1),
        measured(BATCHES, row, "closure_pct", say("Mass closure"), "%", 1),
        figure(BATCHES, row, "soap_product_mg_per_kg", say("Soap in the product"), soap_text(row, "product")),
    ]
    if text := whole_text(row):
        out.append(figure(BATCHES, row, "soap_whole_high_mg_per_kg", say("Soap in all of the fuel"), text))
    if cost is not None:
        out.append(cost_figure(cost, "with_media_per_l", say("Cost with media"), view, media_basis(cost), 2))
    return out
