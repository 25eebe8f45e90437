"""A planned batch as a sheet to print and tick off: what to weigh, by stage, with what it rests on and the cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from generator.compute.results import Results
from generator.language import said, say, term
from generator.ledger.sheet import ToWeigh
from generator.pages.batch import neighbour
from generator.pages.bed_ahead import ranged
from generator.pages.parts import Row, Show, batch_link, charge_link, grouped, plain, table_view, vessel_text
from generator.pages.view import Page, TableView, Unmade
from generator.pages.weigh import RULE, sheet
from generator.pages.weigh_words import grams, kilograms, litres
from generator.pages.words import Shown, listed, number, shown
from generator.tables import COMING

BEDS_LACK = term("what the columns will take of it: 'purifier' under 'plan' says which")


def pages(results: Results, problems: Mapping[str, list[tuple[str, str]]]) -> Iterator[Unmade]:
    """The sheet of every planned batch; the shared site has none."""
    several = len({row["purifier"] for row in results.rows("charges")}) > 1
    coming = grouped(results.rows("coming"), "batch")
    names = [row["batch"] for row in results.rows("batches")[-1:]]
    names += [item.batch.batch for item in results.planned]
    for item in results.planned:
        name = item.batch.batch
        place = names.index(name)
        around = names[place - 1] if place else None, next(iter(names[place + 1 :]), None)
        lacks_beds = several and item.batch.plan is not None and item.batch.plan.purifier is None
        lacking = [say(BEDS_LACK)] if lacks_beds else []
        told = coming.get(name, []), lacking, problems.get(name, [])
        yield Unmade(batch_link(name), partial(_page, item, shown(results), around, *told))


def _page(
    item: ToWeigh,
    view: Shown,
    around: tuple[str | None, str | None],
    beds: Sequence[Row],
    lacking: Sequence[str],
    problems: Sequence[tuple[str, str]],
) -> Page:
    told = sheet(item, view)
    before, behind = around
    return Page(
        path=batch_link(told.batch),
        title=say("Batch {batch}", batch=told.batch),
        template="plan.html",
        section="batches",
        finding=finding(item, view),
        content={
            "rule": say(RULE),
            "sections": told.sections,
            "tables": [beds_table(beds, view)] if beds else [],
            "missing": [*told.missing, *lacking],
            "cautions": told.cautions,
            "command": f"esterday dose {told.batch}",
            "note": item.batch.note or "",
            "problems": problems,
            "previous": neighbour(before),
            "next": neighbour(behind),
        },
    )


def finding(item: ToWeigh, view: Shown) -> str:
    """What to weigh in one sentence."""
    batch, dose = item.batch, item.dose
    start = say(
        "Batch {batch}, planned for {date}: {litres} of oil",
        batch=batch.batch,
        date=batch.date,
        litres=litres(view, dose.facts.oil_l),
    )
    base, poured = dose.base, dose.methanol.parts
    if base is None or base.total_g is None or poured is None:
        lacks = (
            say(", for want of {missing}", missing=listed(list(map(said, dose.missing))))
            if dose.missing
            else ""
        )
        return say("{start}; what to weigh is not all known{lacks}.", start=start, lacks=lacks)
    volume = sum((part.litres for part in poured if part.litres is not None), 0.0)
    first = say("; first a pre-treatment, then") if dose.pretreatment is not None else ","
    return say(
        "{start}{first} {grams} of {of} as weighed and {litres} of methanol.",
        start=start,
        first=first,
        grams=grams(view, base.total_g),
        of=base.of,
        litres=litres(view, volume),
    )


def beds_table(rows: Sequence[Row], view: Shown) -> TableView:
    """What the batch will leave in every bed of its purifier, what that bed can still take, and what it costs."""
    return table_view(
        COMING,
        "beds",
        say("What the columns will take of it, by the last batches and its volume"),
        rows,
        [
            Show("vessel", say("Vessel"), vessel_text),
            Show(
                "charge", say("Charge"), plain("charge"), href=lambda row: charge_link(row["charge"], "../")
            ),
            Show("brings_g_middle", say("Leaves there"), lambda row: ranged(row, "brings_g"), "g"),
            Show("left_g_middle", say("Bed can take"), lambda row: ranged(row, "left_g"), "g"),
            Show(
                "cost",
                say("Medium for it"),
                lambda row: number(row["cost"], view.money_digits()),
                view.currency,
            ),
        ],
    )


def to_do(results: Results) -> list[tuple[str, str]]:
    """Planned batches as things to do."""
    view = shown(results)
    return [
        (
            say(
                "Batch {batch}, planned for {date}{overdue}: weigh out {litres} of oil, its base and its methanol.",
                batch=item.batch.batch,
                date=item.batch.date,
                overdue=_overdue(item, results.as_of),
                litres=litres(view, item.dose.facts.oil_l),
            ),
            batch_link(item.batch.batch),
        )
        for item in results.planned
    ]


def _overdue(item: ToWeigh, as_of: str) -> str:
    """Said of a plan whose day has passed."""
    late = item.batch.date.isoformat() < as_of
    return say(", a day that has passed; write its reaction or another date") if late else ""


def planned(results: Results) -> list[tuple[str, str, str]]:
    """The planned batches for a list: name, address, what they are."""
    view = shown(results)
    return [
        (
            say("Batch {batch}", batch=item.batch.batch),
            batch_link(item.batch.batch),
            say(
                "planned for {date}, {litres} of oil ({kilograms})",
                date=item.batch.date,
                litres=litres(view, item.dose.facts.oil_l),
                kilograms=kilograms(view, item.dose.facts.oil_kg),
            ),
        )
        for item in results.planned
    ]
