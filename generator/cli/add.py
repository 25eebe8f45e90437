"""`esterday add`: add one thing to a record that is there."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.cli.completing import ids, words_of_add
from generator.cli.saving import DATE, DRY_RUN, LOGBOOK_OPTION, Opened, insert, opened, stop_for, today
from generator.cli.telling import command

if TYPE_CHECKING:
    from generator.writing.adding import Said

_EXAMPLES = (
    "esterday add 2026-014 soap point=product acid='0.2 mL' after='150 L'",
    "esterday add 2026-014 test property='acid value' value='0.21 mg KOH/g' laboratory=true",
    "esterday add 2026-014 note 'Settled overnight.'",
    "esterday add shed event=rotate vessel=A with=B",
    "esterday add tank-1 draw='40 L at 12 °C' to=member-05",
    "esterday add diesel '1.73 EUR/L'",
)
_HELP = """Add one thing to the record called TARGET: a batch, purifier, tank, lot, offer or price.

What is not said is taken from what is written: the day is today, sample and strength of a soap titration are as the last time at its point, its blank as before in the same batch. Only lines are added; what is there stays. With any new error nothing is written.
"""


@command(*_EXAMPLES, short="Add one thing to a record that is there.", text=_HELP, takes_dashes=True)
@click.argument("target", shell_complete=ids())
@click.argument("words", nargs=-1, metavar="[WHAT] [VALUE | KEY=VALUE]...", shell_complete=words_of_add)
@LOGBOOK_OPTION
@DATE
@DRY_RUN
def add(
    target: str, words: tuple[str, ...], logbook: Path, day: datetime.datetime | None, dry_run: bool
) -> None:
    """Add one thing to a record; the help text stands in the decorator."""
    from generator.validate.answer import Fault
    from generator.writing.adding import said

    told = said(words)
    if isinstance(told, Fault):
        raise stop_for(told)
    add_to(opened(logbook), target, told, today(day), dry_run)


def add_to(book: Opened, name: str, told: Said, day: datetime.date, dry_run: bool) -> None:
    """Add to the record of a name; exits with 2 for what is no place or no value, with 1 for what brings an error."""
    from generator.validate.answer import Fault
    from generator.validate.logbook import context_of
    from generator.writing.adding import Said, target_of, usual_of, value_of

    if name in book.log.prices and told.what[:1].isdigit():  # with quotes around number and unit, or without
        text = " ".join((told.what, *told.bare))
        told = Said("value", (text,), (text,), told.pairs)
    target = target_of(book.log, name, told.what, told.pairs)
    if isinstance(target, Fault):
        raise stop_for(target)
    assert book.folder.workshop is not None
    usual = usual_of(book.log, target, told.pairs, day)
    value = value_of(target, told, usual, context_of(book.folder.workshop))
    if isinstance(value, Fault):
        raise stop_for(value)
    insert(book, target, value, dry_run)
