"""For paper: a label for a drum or a can of a batch's fuel."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from generator.compute.results import Results
from generator.language import say, term
from generator.pages.history import late_text
from generator.pages.parts import Row, batch_link, grouped, label_link
from generator.pages.view import Figure, Page, Unmade
from generator.pages.words import shown

ROOT = "../"
NO_ADDRESS = term(
    "The logbook gives no address of its site, so there is no code to scan: write address in logbook.yaml."
)
# plain words of the usual cautions; a label by law is another thing
LABEL = (
    term("Burns. Keep it from flames, sparks and hot surfaces; do not smoke near it."),
    term(
        "Rags, sawdust and filters wet with it can heat themselves alight: into a closed metal container, outdoors."
    ),
    term("Not to drink. Keep it locked away from children and in no bottle for food or drink."),
    term("Keep it off skin and eyes, and out of drains, soil and water."),
    term("Can hold methanol, whose vapour ignites easily, where it was not tested for it."),
)
NO_LABEL_BY_LAW = term(
    "This is no hazard label by GHS or any other rule, and no statement of conformity. What must stand on a container, and what may be stored where, the authorities of your place say."
)


MIXED = term(
    "Out of a tank comes fuel of other batches too: write which tank, and do not judge such a can by this batch alone."
)


def pages(results: Results) -> Iterator[Unmade]:
    """A label for every batch that has fuel."""
    changes = grouped(results.rows("changes"), "batch")
    for row in results.rows("batches"):
        if row["fuel_l"] is not None:
            told = changes.get(row["batch"], [])
            yield Unmade(label_link(row["batch"]), partial(_label, results, row, told))


def _label(results: Results, row: Row, changes: Sequence[Row]) -> Page:
    view, name = shown(results), row["batch"]
    told = [
        Figure(say("Batch"), str(name)),
        Figure(say("Made"), str(row["date"])),
        Figure(say("All of the batch"), view.volume(row["fuel_l"]), view.basis),
    ]
    if row["tank"] is not None:
        told.append(Figure(say("Tank"), view.tank(row["tank"])))
    return Page(
        path=label_link(name),
        title=say("Biodiesel"),
        template="label.html",
        section="batches",
        finding="",
        content={
            "told": told,
            "filled": (say("Amount in this container"), say("Filled on"), say("Out of the tank"), say("By")),
            "of": say("fatty acid methyl esters, made from used cooking oil in a workshop"),
            "late": late_text(changes, results.remembered),
            "cautions": [say(text) for text in LABEL],
            "caveat": f"{say(MIXED)} {say(NO_LABEL_BY_LAW)}",
            "back": batch_link(name, ROOT),
            "scanned": scanned(results, name),
            "unscanned": say(NO_ADDRESS),
        },
    )


def scanned(results: Results, batch: object) -> str:
    """The address of a batch's page on the published site; empty where none is set."""
    return f"{results.address}{batch_link(batch)}" if results.address is not None else ""
