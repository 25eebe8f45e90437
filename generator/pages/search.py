"""What can be found by its words: batches, lots, charges, offers, tanks, results, notes, problems and pages.

Made from the results and pages of one audience, so that what that audience may not see cannot be found either.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.compute.results import Results
from generator.data import rows
from generator.explaining import by_area
from generator.language import said, say, term
from generator.methods import methods
from generator.pages import downloads, explain, glossary
from generator.pages.parts import (
    batch_link,
    charge_link,
    grouped,
    label_link,
    lot_link,
    offer_link,
    sheet_link,
    tank_link,
)
from generator.pages.results import where_text
from generator.pages.sought import BLANK, LABEL, OWN, PLAN, SHEET, SOUGHT
from generator.pages.view import Chart, Figure, Page, TableView
from generator.pages.words import capital, count, listed, shown


@dataclass(frozen=True, slots=True)
class Found:
    """One thing that can be found: its kind, name, address from the root, words about it, its day where it has one.

    `also` are other words for it that nobody needs to read, `asked` those by which it is looked for before others.
    """

    kind: str
    title: str
    href: str
    text: str = ""
    date: str = ""
    also: str = ""
    asked: str = ""


PATH = "find.html"
UNNAMED = ("Result", "Caution")
# the kinds in the order in which they are listed: what one is called, and several
KINDS = {
    "Batch": (term("batch"), term("Batches")),
    "Charge": (term("charge"), term("Charges")),
    "Lot": (term("lot"), term("Lots")),
    "Offer": (term("offer"), term("Offers")),
    "Tank": (term("tank"), term("Tanks")),
    "Result": (term("result"), term("Results")),
    "Page": (term("page"), term("Pages")),
    "Word": (term("word"), term("Words")),
    "Caution": (term("caution"), term("Cautions")),
    "Method": (term("method"), term("Methods")),
    "Problem": (term("problem"), term("Problems")),
}


def entries(results: Results, pages: Sequence[Page]) -> list[Found]:
    """Everything that can be found on these pages, kind by kind; what has a day newest first."""
    by_path = {page.path: page for page in pages}
    found = [
        *_batches(results, by_path),
        *_charges(results, by_path),
        *_lots(results),
        *_offers(results),
        *_tanks(results),
        *_tests(results),
        *_printed(results, by_path),
        *_pages(pages, results.specification),
    ]
    if "methods.html" in by_path:
        found += _cautions()
        found += [
            Found("Method", say(each.title), f"methods.html#{each.id}", say(each.text)) for each in methods()
        ]
    if glossary.PATH in by_path:
        found += _words()
    if explain.PATH in by_path:
        found += _problems()
    return found


def _told(*parts: object) -> str:
    """The words there are, in one text."""
    return " ".join(str(part).strip() for part in parts if part)


def _batches(results: Results, by_path: Mapping[str, Page]) -> Iterator[Found]:
    planned = [item.batch for item in results.planned]
    for plan in reversed(planned):
        path = batch_link(plan.batch)
        if path not in by_path:  # plans are for the workshop alone
            continue
        yield Found(
            "Batch",
            say("Batch {batch}", batch=plan.batch),
            path,
            _told(by_path[path].finding, plan.note),
            plan.date.isoformat(),
            asked=say(PLAN),
        )
    for row in reversed(results.rows("batches")):
        path = batch_link(row["batch"])
        written = results.written.get(row["batch"], [])
        lots = [item.names for item in written if item.names and item.section != "Fuel"]
        used = say("From {lots}.", lots=listed(list(dict.fromkeys(lots)))) if lots else ""
        text = _told(by_path[path].finding, row["public_note"], row["note"], used)
        yield Found("Batch", say("Batch {batch}", batch=row["batch"]), path, text, row["date"])


def _charges(results: Results, by_path: Mapping[str, Page]) -> Iterator[Found]:
    events = grouped(results.rows("events"), "charge")
    for row in reversed(results.rows("charges")):
        path = charge_link(row["charge"])
        done = [
            f"{event['date']} {said(event['event'])}: {_told(event['reason'], said(event['used'] or ''), event['note'])}."
            for event in events.get(row["charge"], [])
            if event["reason"] or event["used"] or event["note"]
        ]
        text = _told(by_path[path].finding, row["lot"] and say("From {lot}.", lot=row["lot"]), *done)
        yield Found("Charge", say("Charge {charge}", charge=row["charge"]), path, text, row["packed"])


def _lots(results: Results) -> Iterator[Found]:
    view = shown(results)
    for row in reversed(results.rows("lots")):
        source = row["source"] and say(", from {source}", source=row["source"])
        text = _told(
            say(
                "{material}, received {received}{source}.",
                material=view.material(row["material"]),
                received=row["received"],
                source=source or "",
            ),
            row["code"],
            row["note"],
        )
        title = say("Lot {lot}", lot=row["lot"])
        yield Found("Lot", title, lot_link(row["lot"]), text, row["received"], row["material"])


def _offers(results: Results) -> Iterator[Found]:
    view = shown(results)
    for row in results.rows("offers"):
        became = say(", bought as {lot}", lot=row["lot"]) if row["lot"] else ""
        text = say(
            "{material}, offered {offered}: {state}{became}.",
            material=view.material(row["material"]),
            offered=row["offered"],
            state=said(row["state"]),
            became=became,
        )
        yield Found(
            "Offer",
            say("Offer {offer}", offer=row["offer"]),
            offer_link(row["offer"]),
            text,
            row["offered"],
            row["material"],
        )


def _tanks(results: Results) -> Iterator[Found]:
    names = {name: f"{told}:" for name, told in results.names.tanks.items()}
    for name, moves in grouped(results.rows("tanks"), "tank").items():
        given = list(dict.fromkeys(row["to"] for row in moves if row["to"]))
        out = say("; drawn for {given}", given=listed(given)) if given else ""
        yield Found(
            "Tank",
            say("Tank {name}", name=name),
            tank_link(name),
            _told(names.get(name), "".join((count(len(moves), "entry", "entries"), out, "."))),
            moves[-1]["date"],
        )


def _tests(results: Results) -> Iterator[Found]:
    for row in reversed(results.rows("tests")):
        held = said(row["verdict"]) if row["verdict"] != "no limit" else ""
        told = ", ".join(str(part) for part in (said(row["method"] or ""), where_text(row), held) if part)
        title = say(
            "{property} of batch {subject}", property=capital(say(row["property"])), subject=row["subject"]
        )
        yield Found(
            "Result",
            title,
            f"{batch_link(row['subject'])}#tests",
            f"{said(str(row['written']))}; {told}.",
            row["date"],
        )


def _printed(results: Results, by_path: Mapping[str, Page]) -> Iterator[Found]:
    """The newest sheet and the newest label: what others are called, and where they are."""
    if results.audience == "workshop":
        text, asked = say(downloads.FOR_THE_BENCH), say(BLANK)
        yield Found("Page", say("Empty batch sheet"), "downloads.html#blank", text, asked=asked)
    told = say("Each batch has its own, behind a link at the head of its page.")
    for link, title, asked in (
        (sheet_link, term("Sheet of batch {batch} to print"), SHEET),
        (label_link, term("Label of batch {batch} to print"), LABEL),
    ):
        made = [row["batch"] for row in results.rows("batches") if link(row["batch"]) in by_path]
        for batch in made[-1:]:
            yield Found("Page", say(title, batch=batch), link(batch), told, asked=say(asked))


def _pages(pages: Sequence[Page], specification: str) -> Iterator[Found]:
    for page in pages:
        if page.template == "page.html":
            yield Found("Page", page.title, page.path, page.content["body"], asked=say(OWN))
        elif "/" not in page.path and page.path != PATH:
            yield Found(
                "Page",
                page.title,
                page.path,
                page.finding,
                also=" ".join(dict.fromkeys(_names(page.content))),
                asked=_told(
                    say(SOUGHT.get(page.path, "")), page.path == "quality.html" and said(specification)
                ),
            )


def _names(content: Any) -> Iterator[str]:
    """What stands on a page by name: groups and their figures, charts, tables."""
    if isinstance(content, Figure):
        yield content.label
    elif isinstance(content, TableView):
        yield content.caption
    elif isinstance(content, Chart):
        yield content.title
    elif isinstance(content, Mapping):
        for group, items in content.items():
            yield from (name for name in (str(group), *_names(items)) if name[:1].isupper())
    elif isinstance(content, list | tuple):
        for item in content:
            yield from _names(item)


def _words() -> Iterator[Found]:
    for each in glossary.words():
        others = ", ".join(each.also)
        also = " ".join((*map(say, each.heads), say(others)))
        yield Found(
            "Word",
            say(each.term),
            f"{glossary.PATH}#{each.id}",
            _told(say(each.text), say(each.caution)),
            "",
            also,
        )


def _cautions() -> Iterator[Found]:
    for text in rows("cautions"):
        yield Found(
            "Caution",
            say(text),
            "methods.html#cautions",
            also=say("caution cautions safety danger hazard fire risk"),
        )


def _problems() -> Iterator[Found]:
    for each in (one for listed_ones in by_area().values() for one in listed_ones):
        code = each.rule.code
        yield Found(
            "Problem",
            code,
            f"{explain.PATH}#{code}",
            _told(say(each.rule.meaning), say(each.why), say(each.rule.remedy)),
        )


def registered(found: Sequence[Found]) -> dict[str, list[tuple[str, str]]]:
    """Name and address of everything, by kind, for a page that is read; results and cautions have no name of their own."""
    out: dict[str, list[tuple[str, str]]] = {}
    for each in found:
        if each.kind not in UNNAMED:
            out.setdefault(say(KINDS[each.kind][1]), []).append((_bare(each), each.href))
    return out


def _bare(each: Found) -> str:
    """The name without its kind, which stands above it."""
    return each.title.removeprefix(f"{say(each.kind)} ")
