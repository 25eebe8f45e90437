"""`esterday new`: write the next record, or the next entry of one, from what the logbook knows."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from generator.cli.add import add_to
from generator.cli.asking import PARTS, ask_for, is_open
from generator.cli.completing import ids, ids_of_kind
from generator.cli.drafts import Draft, draft_of
from generator.cli.giving import from_flags, from_json, refuse_two
from generator.cli.saving import DATE, DRY_RUN, Opened, as_typed, create, opened, stop, stop_for, today
from generator.cli.telling import command
from generator.read.root import usual_logbook

if TYPE_CHECKING:
    from collections.abc import Mapping

    from generator.writing.batch import Proposal
    from generator.writing.scalars import Value

_KINDS = ("batch", "lot", "offer", "run", "event", "draw", "dip", "test", "price")
_TOLD_BY = {
    "batch": ("plan.purifier",),
    "lot": ("material", "vat"),
    "offer": ("source", "material"),
    "event": ("event", "vessel"),
    "test": ("property",),
}
# what is written by hand, in a file of this folder
_BY_HAND = {
    "tank": "tanks",
    "purifier": "columns",
    "column": "columns",
    "columns": "columns",
    "vessel": "columns",
    "material": "materials",
}
_EXAMPLES = (
    "esterday new batch",
    "esterday new batch --set oil.0.volume='66 L at 22 °C' --purifier shed",
    "esterday new lot --ask",
    "esterday new lot --offer 2026-10-hospital",
    "esterday new lot vat-1 --set vat=true --set holds='1000 L'",
    "esterday new run 2026-026 --ask",
    "esterday new event shed --ask",
    "esterday new draw tank-1 --set draw='40 L at 12 °C' --set to=member-05",
    "esterday new offer --from offer.json --dry-run",
)
_HELP = """Write the next record of a KIND, or the next entry of the record ID, from what the logbook knows.

A batch, lot or offer is a new file; ID is its id, and without one it is the next in the logbook's habit. A run through
the columns goes to the batch ID, an event to the history of the purifier ID, a draw or dip to that of the tank ID, a test to the batch,
lot or offer ID, a price to the series ID. A batch begins as planned. Nothing is written over, and nothing is written that the check would call an error:
the answers are kept beside the logbook, and the same command takes them up again.
"""


class _Kind(click.Choice[str]):
    """A kind of record or entry; what is none leads to the one that is meant."""

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Read a kind, or say which there are."""
        from generator.problems import did_you_mean, visible

        if value in self.choices:
            return value
        folder = _BY_HAND.get(value.casefold().removesuffix("s"), _BY_HAND.get(value.casefold()))
        hint = (
            f"it is written by hand, as a file in {folder}/ like the one there; its keys: esterday schema {folder}"
            if folder
            else did_you_mean(value, self.choices)
        )
        told = f"'{visible(value)[:64]}' is no kind of what this writes\n    hint: {hint}"
        raise click.BadParameter(told, ctx, param)


@command(
    *_EXAMPLES, short="Write the next batch, lot, offer, run, event, draw, dip, test or price.", text=_HELP
)
@click.argument("kind", type=_Kind(_KINDS), metavar="KIND")
@click.argument("name", default="", metavar="[ID]", shell_complete=ids_of_kind)
@click.argument("logbook", type=click.Path(path_type=Path), required=False)
@click.option(
    "--set", "pairs", multiple=True, metavar="KEY=VALUE", help="Set a value; dots lead into groups and lists."
)
@click.option(
    "--from",
    "source",
    type=click.File("r", encoding="utf-8-sig"),
    help="Take values from a JSON file, or - for stdin.",
)
@click.option("--ask", is_flag=True, help="Ask for each value, and check each answer as it is typed.")
@click.option(
    "--purifier",
    default="",
    shell_complete=ids("columns"),
    help="For a batch: the purifier it is for.",
)
@click.option(
    "--offer",
    default="",
    shell_complete=ids("offers"),
    help="For a lot: the offer that was bought, with its tests and its price.",
)
@click.option("--fresh", is_flag=True, help="Forget the draft of an earlier try.")
@DATE
@DRY_RUN
def new(
    kind: str,
    name: str,
    logbook: Path | None,
    pairs: tuple[str, ...],
    source: Any,
    ask: bool,
    purifier: str,
    offer: str,
    fresh: bool,
    day: datetime.datetime | None,
    dry_run: bool,
) -> None:
    """Write the next record; the help text stands in the decorator."""
    from generator.validate.logbook import context_of

    if name and logbook is None and _is_logbook(Path(name)):
        name, logbook = "", Path(name)
    given = {**from_json(source), **from_flags(pairs)}
    if kind in ("batch", "lot", "offer"):
        refuse_two("id", name, kind, given)
    if kind == "batch":
        refuse_two("purifier", purifier, "plan.purifier", given)
    book = opened(logbook or usual_logbook())
    assert book.folder.workshop is not None
    of = offer if kind == "lot" else purifier
    draft = draft_of(book.root, (kind, name, of, *_about(kind, name, given)), given, fresh)
    try:
        work = _record if kind in ("batch", "lot", "offer") else _entry
        work(book, kind, name, of, draft, ask, today(day), dry_run)
    except (SystemExit, click.Abort) as stopped:
        if isinstance(stopped, click.Abort):
            click.echo(err=True)  # the cursor stands behind a question
        if not dry_run:
            draft.keep_what_fits(kind, context_of(book.folder.workshop))
        raise
    if not dry_run:
        draft.forget()


def _is_logbook(path: Path) -> bool:
    try:
        return (path / "logbook.yaml").is_file()
    except OSError:  # a name that no file can have
        return False


def _about(kind: str, name: str, given: Mapping[str, str]) -> list[str]:
    """What tells two drafts of one kind apart where no id does, so that none takes up answers of another."""
    return (
        [given.get(key, "") for key in _TOLD_BY.get(kind, ())]
        if kind in _TOLD_BY and (not name or kind in ("event", "test"))
        else []
    )


def _record(
    book: Opened,
    kind: str,
    name: str,
    of: str,
    draft: Draft,
    ask: bool,
    day: datetime.date,
    dry_run: bool,
) -> None:
    """A file of its own; `of` is the purifier a batch is for, or the offer that a lot was."""
    from generator.problems import did_you_mean
    from generator.validate.answer import Fault
    from generator.writing.batch import RECORDS, text_of
    from generator.writing.following import next_of_bought
    from generator.writing.questions import questions
    from generator.writing.typed import said_in

    of = of or draft.answers.get("plan.purifier", "")
    what, known = ("offer", book.log.offers) if kind == "lot" else ("purifier", book.log.purifiers)
    if of and of not in known:
        raise stop(f"there is no {what} '{of[:64]}'", did_you_mean(of, known))
    if kind == "lot" and not ask and not of and "material" not in draft.answers:
        raise stop(
            "which material was delivered?", f"say --set material=ONE of {', '.join(book.log.materials)}"
        )
    found = _proposal(book, kind, name, of, draft.answers, day)
    if ask:
        for part in PARTS.get(kind, PARTS[""]):
            asked = questions(kind, found.data, book.log.settings)[part]
            ask_for(
                book,
                kind,
                [each for each in asked if is_open(book, each.key, kind, name, found)],
                draft,
                dry_run,
            )
            found = _proposal(book, kind, name, of, draft.answers, day)
    data = said_in(RECORDS[kind], found.data, draft.answers)
    if isinstance(data, Fault):
        raise stop_for(data)
    if kind == "batch":
        _need_stock(data, draft.answers, [*book.log.planned])
    create(
        book,
        found.naming.file,
        text_of(kind, replace(found, data=data)),
        dry_run,
    )
    if kind == "lot" and of and book.log.offers[of].record.bought_as is None:
        click.echo(f"Next: {next_of_bought(of, found.naming.id, as_typed(book))}", err=True)


def _need_stock(data: Mapping[str, Any], said: Mapping[str, str], planned: list[str]) -> None:
    """Exit with 1 where no lot is left to make a batch of, and none was said; what was said is left to the check."""
    for path, what in ((("oil",), "oil"), (("plan", "catalyst"), "catalyst")):
        spoken = [key.split(".")[: len(path)] for key in said]
        if any(path[: len(parts)] == tuple(parts) for parts in spoken):
            continue
        there: Any = data
        for part in path:
            there = there.get(part)
        if not there:
            beside = f" beside what {', '.join(planned[:4])} will take" if planned else ""
            told = f"no lot of {what} has stock left{beside}"
            raise stop(told, "write the delivery first: esterday new lot --ask", 1)


def _proposal(
    book: Opened, kind: str, name: str, of: str, answers: Mapping[str, Value], day: datetime.date
) -> Proposal:
    from generator.writing.batch import proposed_batch
    from generator.writing.purchase import bought, proposed_lot, proposed_offer

    name = name or str(answers.get(kind, ""))
    if kind == "batch":
        assert book.checked.ledgers is not None
        return proposed_batch(book.checked.ledgers, day, name, of, answers)
    if of and kind == "lot":
        offer = book.log.offers[of]
        return bought(
            proposed_lot(book.log, day, name, {"material": offer.record.material, **answers}), offer
        )
    return (proposed_lot if kind == "lot" else proposed_offer)(book.log, day, name, answers)


def _entry(
    book: Opened, kind: str, name: str, _: str, draft: Draft, ask: bool, day: datetime.date, dry_run: bool
) -> None:
    """A further entry of a record that is there."""
    from generator.records import SERIES
    from generator.validate.answer import Fault
    from generator.writing.adding import Said, target_of, usual_of
    from generator.writing.questions import event_questions, questions

    if not name:
        raise stop(f"which one is the {kind} for?", f"write esterday new {kind} ID")
    if kind == "price" and name in SERIES and name not in book.log.prices:
        _first_price(book, name, draft, ask, day, dry_run)
        return
    what = "value" if kind == "price" else kind
    if ask:
        target = target_of(book.log, name, what)
        if isinstance(target, Fault):
            raise stop_for(target)
        there = usual_of(book.log, target, draft.answers, day)
        ask_for(book, kind, questions(kind, there, book.log.settings), draft, dry_run)
        if kind == "event":
            ask_for(
                book,
                kind,
                event_questions(draft.answers.get("event", ""), there, book.log.settings),
                draft,
                dry_run,
            )
    add_to(book, name, Said(what, (), (), draft.answers), day, dry_run)


def _first_price(book: Opened, name: str, draft: Draft, ask: bool, day: datetime.date, dry_run: bool) -> None:
    """The file of a reference price, with its first value."""
    from generator.writing.questions import questions
    from generator.writing.scalars import text_of_price

    there = {"date": day.isoformat()}
    if ask:
        ask_for(book, "price", questions("price", there, book.log.settings), draft, dry_run)
    if "value" not in draft.answers:
        unit = f"{book.log.settings.currency}/{'L' if name == 'diesel' else 'kWh'}"
        raise stop(f"the first price of {name} is not said", f"write --set value='... {unit}', or --ask")
    point = {**there, **{key: str(text) for key, text in draft.answers.items()}}
    create(book, f"prices/{name}.yaml", text_of_price(name, point), dry_run)
