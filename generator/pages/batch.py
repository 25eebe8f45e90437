"""One batch as a story: figures in the margin, what was written, its run through the columns, its results."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from generator.compute.results import Results, Written
from generator.digests import digest
from generator.language import said, say
from generator.pages.batch_bars import cost_bars, soap_bars
from generator.pages.batch_figures import (
    acid_figures,
    dose_figures,
    soap_figures,
    theory_figures,
    yield_figures,
)
from generator.pages.batch_working import budget_table, workings
from generator.pages.contents import soap_text, whole_text
from generator.pages.cost_figures import cost_figures
from generator.pages.history import history_table, late_text
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    charge_link,
    compare_link,
    grouped,
    label_link,
    lot_link,
    plain,
    run_shows,
    sheet_link,
    table_view,
    tank_link,
    trace_link,
    vessel_text,
)
from generator.pages.results import results_table, side_by_side, standing_table, standing_text
from generator.pages.view import Entry, Figure, Page, TableView, Unmade
from generator.pages.words import Shown, shown, unknown, with_unit
from generator.tables import RUNS

ROOT = "../"
# a run that leaves more than this share of its oil in the columns filled a fresh bed
FRESH_SHARE = 0.05


@dataclass(frozen=True, slots=True)
class Rows:
    """The rows of every table by batch, grouped once for all pages."""

    costs: Mapping[str, Row]
    runs: Mapping[str, list[Row]]
    tests: Mapping[str, list[Row]]
    standing: Mapping[str, list[Row]]
    changes: Mapping[str, list[Row]]


@dataclass(frozen=True, slots=True)
class Around:
    """The batches before and behind one, planned ones too, and the recorded one to put beside it."""

    before: str | None
    behind: str | None
    beside: str | None


def pages(results: Results, problems: Mapping[str, list[tuple[str, str]]]) -> Iterator[Unmade]:
    """The page of every batch; `problems` are the told warnings by batch, empty for the shared site."""
    rows = results.rows("batches")
    view = shown(results)
    of_batches = Rows(
        {row["batch"]: row for row in results.rows("costs")},
        grouped(results.rows("runs"), "batch"),
        grouped(results.rows("tests"), "subject"),
        grouped(results.rows("standing"), "batch"),
        grouped(results.rows("changes"), "batch"),
    )
    names = [row["batch"] for row in rows]
    coming = names + [item.batch.batch for item in results.planned[:1]]
    for place, row in enumerate(rows):
        before = names[place - 1] if place else None
        around = Around(before, next(iter(coming[place + 1 :]), None), before or next(iter(names[1:]), None))
        told = problems.get(row["batch"], [])
        yield Unmade(batch_link(row["batch"]), partial(_page, results, row, of_batches, view, around, told))


def _page(
    results: Results,
    row: Row,
    rows: Rows,
    view: Shown,
    around: Around,
    problems: list[tuple[str, str]],
) -> Page:
    name = row["batch"]
    cost = rows.costs.get(name)
    runs, tests = rows.runs.get(name, []), rows.tests.get(name, [])
    standing = rows.standing.get(name, [])
    groups = {
        say("Oil and dose"): dose_figures(row, view),
        say("In theory"): theory_figures(row, view),
        say("Yield"): yield_figures(row, view, len(runs)),
    }
    if runs:
        groups[say("Soap")] = soap_figures(row, len(runs), view)
        groups[say("Acid over the columns")] = acid_figures(row)
    if cost is not None:
        groups[say("Cost")] = cost_figures(cost, view)
    return Page(
        path=batch_link(name),
        title=say("Batch {name}", name=name),
        template="batch.html",
        section="batches",
        finding=finding(row, cost, view),
        content={
            "late": late_text(rows.changes.get(name, []), results),
            "moved": name in rows.changes,
            "standing": standing_text(standing),
            "figures": groups,
            "compared": _compared(tests, standing, rows.changes.get(name, []), results),
            "entries": list(_entries(results, name)),
            "soap_bars": soap_bars(row, len(runs)),
            "cost_title": say("What a {volume_word} cost", volume_word=view.volume_word),
            "cost_bars": cost_bars(cost, view) if cost is not None else [],
            "tables": [
                *([_runs(runs, view, results.audience)] if runs else []),
                *([results_table("tests", say("Results one by one"), tests, of_batch=True)] if tests else []),
                *([standing_table(standing)] if standing else []),
                *([history_table(rows.changes[name], view)] if name in rows.changes else []),
            ],
            "workings": workings(results.worked.get(name, []), ROOT),
            "sure": budget_table(row, results.budgets.get(name, {})),
            "paper": _paper(row),
            "record": _record(results.published.get(name), name),
            "explained": _explained(results, name),
            "note": row["note"] or "",
            "public_note": row["public_note"] or "",
            "previous": neighbour(around.before),
            "next": neighbour(around.behind),
            "beside": _beside(around.beside, name),
            "problems": problems,
            "assumed": said(row["assumed_temperatures"] or ""),
        },
    )


def _compared(
    tests: Sequence[Row], standing: Sequence[Row], changes: Sequence[Row], results: Results
) -> dict[str, list[Figure]]:
    """What stands beside another batch and is no computed figure: results, how they stand, late changes."""
    told = {say("In numbers"): standing_text(standing), say("Changed later"): late_text(changes, results)}
    stands = [Figure(label, text) for label, text in told.items() if text]
    groups = {say("Results"): side_by_side(tests), say("How it stands"): stands}
    return {group: items for group, items in groups.items() if items}


def _explained(results: Results, name: str) -> tuple[str, ...] | None:
    """What would close its mass balance; None where that closes."""
    found = results.explained.get(name)
    return tuple(map(said, found)) if found is not None else None


def _paper(row: Row) -> list[tuple[str, str]]:
    """What of it is made for paper; a label only where there is fuel."""
    name = row["batch"]
    label = [(say("label for a drum or can"), label_link(name, ROOT))] if row["fuel_l"] is not None else []
    return [(say("one sheet to print"), sheet_link(name, ROOT)), *label]


def _record(record: bytes | None, name: str) -> dict[str, str]:
    """The published record of a batch and its digest; nothing in the workshop, whose pages hold more than is published."""
    return {"file": f"{name}.json", "digest": digest(record)} if record is not None else {}


def finding(row: Row, cost: Row | None, view: Shown) -> str:
    """The batch in one sentence."""
    if row["fuel_l"] is None:
        return say(
            "Batch {batch} of {date}: {oil} of oil, not finished yet.",
            batch=row["batch"],
            date=row["date"],
            oil=view.volume(row["oil_l"]),
        )
    told = {
        "batch": row["batch"],
        "date": row["date"],
        "fuel": view.volume(row["fuel_l"]),
        "oil": view.volume(row["oil_l"]),
    }
    parts = [
        say(
            "Batch {batch} of {date}: {fuel} of fuel from {oil} of oil ({yield_volume} by volume {basis})",
            **told,
            yield_volume=with_unit(row["yield_volume_pct"], "%", 1),
            basis=view.basis,
        )
        if row["yield_volume_pct"]
        else say("Batch {batch} of {date}: {fuel} of fuel from {oil} of oil", **told)
    ]
    if row["heel_l"] is not None and row["oil_l"] is not None and row["heel_l"] > row["oil_l"] * FRESH_SHARE:
        parts.append(say("{heel} held back by a fresh bed", heel=view.volume(row["heel_l"])))
    if row["soap_product_detected"] is not None:
        parts.append(say("soap in the product: {product}", product=soap_text(row, "product")))
    if row["round_kg"]:
        met = say("{round} of the fuel met no bed", round=view.mass(row["round_kg"]))
        parts.append(
            say("{met}, so all of it holds {whole}", met=met, whole=whole)
            if (whole := whole_text(row)) != unknown()
            else met
        )
    if cost is not None and cost["with_media_per_l"] is not None:
        parts.append(say("{with_media} with media", with_media=view.per_volume(cost["with_media_per_l"], 2)))
    return f"{'; '.join(parts)}."


def _beside(other: object, batch: object) -> tuple[str, str] | None:
    """The comparison with a neighbour."""
    if other is None:
        return None
    return (say("side by side with {other}", other=other), compare_link(other, batch, ROOT))


def neighbour(batch: object) -> tuple[str, str] | None:
    """Name and address of a batch from the page of another; None without one."""
    return (str(batch), f"{batch}.html") if batch is not None else None


def _entries(results: Results, name: str) -> Iterator[Entry]:
    """What was written of a batch; at its fill into a tank the way to what became of it."""
    for item in results.written.get(name, []):
        yield _entry(item, results.audience)
        if item.section == "Fuel" and item.names and results.audience == "workshop":
            yield Entry(
                said(item.section), say("traced"), say("its oil, and who drew of it"), trace_link(name, ROOT)
            )


def _entry(item: Written, audience: str) -> Entry:
    href = ""
    if item.names and audience == "workshop":
        link = tank_link if item.section == "Fuel" else lot_link
        href = link(item.names, ROOT)
    told = said(item.text)
    text = f"{told} ({item.names})" if item.names and item.names != item.text else told
    return Entry(said(item.section), said(item.label), text, href)


def _runs(rows: Sequence[Row], view: Shown, audience: str) -> TableView:
    return table_view(
        RUNS,
        "runs",
        say("Through the columns"),
        rows,
        [
            Show("vessel", say("Vessel"), vessel_text),
            Show("charge", say("Charge"), plain("charge"), href=lambda row: charge_link(row["charge"], ROOT)),
            *run_shows(view),
        ],
    )
