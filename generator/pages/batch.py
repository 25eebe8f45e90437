"""One batch as a story: figures in the margin, what was written, its run through the columns, its results."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from generator.compute.results import Results, Written
from generator.compute.steps import Worked
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
class Around:
    """The batches before and behind one, planned ones too, and the recorded one to put beside it."""

    before: str | None
    behind: str | None
    beside: str | None


@dataclass(frozen=True, slots=True)
class Of:
    """All that the page of a batch is made from: its rows in the tables, what was written and worked out, how it is shown."""

    row: Row
    cost: Row | None
    runs: Sequence[Row]
    tests: Sequence[Row]
    standing: Sequence[Row]
    changes: Sequence[Row] | None
    problems: Sequence[tuple[str, str]]
    around: Around
    written: Sequence[Written]
    worked: Sequence[Worked]
    budgets: Mapping[str, Mapping[str, float]]
    explained: Sequence[str] | None
    record: str | None
    remembered: bool
    audience: str
    view: Shown


def pages(results: Results, problems: Mapping[str, list[tuple[str, str]]]) -> Iterator[Unmade]:
    """The page of every batch; `problems` are the told warnings by batch, empty for the shared site."""
    rows, view = results.rows("batches"), shown(results)
    costs = {row["batch"]: row for row in results.rows("costs")}
    runs, tests = grouped(results.rows("runs"), "batch"), grouped(results.rows("tests"), "subject")
    standing, changes = (
        grouped(results.passing("standing"), "batch"),
        grouped(results.rows("changes"), "batch"),
    )
    names = [row["batch"] for row in rows]
    coming = names + [item.batch.batch for item in results.planned[:1]]

    def of(place: int, name: str) -> Of:
        before = names[place - 1] if place else None
        return Of(
            rows[place],
            costs.get(name),
            runs.get(name, []),
            tests.get(name, []),
            standing.get(name, []),
            changes.get(name),
            problems.get(name, []),
            Around(
                before,
                next(iter(coming[place + 1 : place + 2]), None),
                before or next(iter(names[1:2]), None),
            ),
            results.written.get(name, []),
            results.worked.get(name, []),
            results.budgets.get(name, {}),
            results.explained.get(name),
            record_digest(results, name),
            results.remembered,
            results.audience,
            view,
        )

    for place, name in enumerate(names):
        yield Unmade(batch_link(name), _page, partial(of, place, name))


def record_digest(results: Results, batch: str) -> str | None:
    """The digest of the record that is published of a batch; None where there is none."""
    record = results.published.get(batch)
    return digest(record) if record is not None else None


def _page(of: Of) -> Page:
    name, view = of.row["batch"], of.view
    groups = {
        say("Oil and dose"): dose_figures(of.row, view),
        say("In theory"): theory_figures(of.row, view),
        say("Yield"): yield_figures(of.row, view, len(of.runs)),
    }
    if of.runs:
        groups[say("Soap")] = soap_figures(of.row, len(of.runs), view)
        groups[say("Acid over the columns")] = acid_figures(of.row)
    if of.cost is not None:
        groups[say("Cost")] = cost_figures(of.cost, view)
    return Page(
        path=batch_link(name),
        title=say("Batch {name}", name=name),
        template="batch.html",
        section="batches",
        finding=finding(of.row, of.cost, view),
        content={
            "late": _late(of),
            "moved": of.changes is not None,
            "standing": standing_text(of.standing),
            "figures": groups,
            "compared": _compared(of),
            "entries": list(_entries(of)),
            "soap_bars": soap_bars(of.row, len(of.runs)),
            "cost_title": say("What a {volume_word} cost", volume_word=view.volume_word),
            "cost_bars": cost_bars(of.cost, view) if of.cost is not None else [],
            "tables": _tables(of),
            "workings": workings(of.worked, ROOT),
            "sure": budget_table(of.row, of.budgets),
            "paper": _paper(of.row),
            "record": _record(of),
            "explained": tuple(map(said, of.explained)) if of.explained is not None else None,
            "note": of.row["note"] or "",
            "public_note": of.row["public_note"] or "",
            "previous": neighbour(of.around.before),
            "next": neighbour(of.around.behind),
            "beside": _beside(of.around.beside, name),
            "problems": of.problems,
            "assumed": said(of.row["assumed_temperatures"] or ""),
        },
    )


def _late(of: Of) -> str:
    return late_text(of.changes or [], of.remembered)


def _tables(of: Of) -> list[TableView]:
    return [
        *([_runs(of.runs, of.view, of.audience)] if of.runs else []),
        *([results_table("tests", say("Results one by one"), of.tests, of_batch=True)] if of.tests else []),
        *([standing_table(of.standing)] if of.standing else []),
        *([history_table(of.changes, of.view)] if of.changes is not None else []),
    ]


def _compared(of: Of) -> dict[str, list[Figure]]:
    """What stands beside another batch and is no computed figure: results, how they stand, late changes."""
    told = {say("In numbers"): standing_text(of.standing), say("Changed later"): _late(of)}
    stands = [Figure(label, text) for label, text in told.items() if text]
    groups = {say("Results"): side_by_side(of.tests), say("How it stands"): stands}
    return {group: items for group, items in groups.items() if items}


def _paper(row: Row) -> list[tuple[str, str]]:
    """What of it is made for paper; a label only where there is fuel."""
    name = row["batch"]
    label = [(say("label for a drum or can"), label_link(name, ROOT))] if row["fuel_l"] is not None else []
    return [(say("one sheet to print"), sheet_link(name, ROOT)), *label]


def _record(of: Of) -> dict[str, str]:
    """The published record of a batch and its digest; nothing in the workshop, whose pages hold more than is published."""
    return {"file": f"{of.row['batch']}.json", "digest": of.record} if of.record is not None else {}


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


def _entries(of: Of) -> Iterator[Entry]:
    """What was written of a batch; at its fill into a tank the way to what became of it."""
    for item in of.written:
        yield _entry(item, of.audience)
        if item.section == "Fuel" and item.names and of.audience == "workshop":
            link = trace_link(of.row["batch"], ROOT)
            yield Entry(said(item.section), say("traced"), say("its oil, and who drew of it"), link)


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
