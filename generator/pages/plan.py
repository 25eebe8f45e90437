"""A planned batch as a sheet to print and tick off: what to weigh, by stage, with what it rests on and the cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.compute.results import Results
from generator.ledger.sheet import ToWeigh
from generator.pages.parts import batch_link
from generator.pages.view import Page
from generator.pages.weigh import RULE, sheet
from generator.pages.weigh_words import grams, kilograms, litres
from generator.pages.words import Shown, listed, shown


def pages(results: Results, problems: Mapping[str, list[str]]) -> Iterator[Page]:
    """The sheet of every planned batch; the shared site has none."""
    view = shown(results)
    for item in results.planned:
        told = sheet(item, view)
        yield Page(
            path=batch_link(told.batch),
            title=f"Batch {told.batch}",
            template="plan.html",
            section="batches",
            finding=finding(item, view),
            content={
                "rule": RULE,
                "sections": told.sections,
                "missing": told.missing,
                "cautions": told.cautions,
                "command": f"esterday dose {told.batch}",
                "note": item.batch.note or "",
                "problems": problems.get(told.batch, []),
            },
        )


def finding(item: ToWeigh, view: Shown) -> str:
    """What to weigh in one sentence."""
    batch, dose = item.batch, item.dose
    start = f"Batch {batch.batch}, planned for {batch.date}: {litres(view, dose.facts.oil_l)} of oil"
    base, poured = dose.base, dose.methanol.parts
    if base is None or base.total_g is None or poured is None:
        lacks = f", for want of {listed(dose.missing)}" if dose.missing else ""
        return f"{start}; what to weigh is not all known{lacks}."
    volume = sum((part.litres for part in poured if part.litres is not None), 0.0)
    first = "; first a pre-treatment, then" if dose.pretreatment is not None else ","
    return f"{start}{first} {grams(view, base.total_g)} of {base.of} as weighed and {litres(view, volume)} of methanol."


def to_do(results: Results) -> list[tuple[str, str]]:
    """Planned batches as things to do."""
    view = shown(results)
    return [
        (
            f"Batch {item.batch.batch}, planned for {item.batch.date}: weigh out {litres(view, item.dose.facts.oil_l)} of oil, its base and its methanol.",
            batch_link(item.batch.batch),
        )
        for item in results.planned
    ]


def planned(results: Results) -> list[tuple[str, str, str]]:
    """The planned batches for a list: name, address, what they are."""
    view = shown(results)
    return [
        (
            f"Batch {item.batch.batch}",
            batch_link(item.batch.batch),
            f"planned for {item.batch.date}, {litres(view, item.dose.facts.oil_l)} of oil ({kilograms(view, item.dose.facts.oil_kg)})",
        )
        for item in results.planned
    ]
