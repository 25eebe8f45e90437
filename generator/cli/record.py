"""`esterday record`: what was weighed makes a record of a planned batch."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.completing import ids, lots_of_record
from generator.cli.saving import DRY_RUN, LOGBOOK_OPTION, insert, opened, stop, stop_for
from generator.cli.telling import command
from generator.read.root import front_of

_EXAMPLES = (
    "esterday record 2026-025 koh-006='1.92 kg' meoh-008='41 L at 18 °C'",
    "esterday record 2026-025 --as-planned --dry-run",
)
_HELP = """Make a record of the planned batch BATCH: its reaction, with what was weighed of each LOT. Give a lot once for each
stage, in their order. The plan stays above it, and from then on stock is drawn. Amounts of the weigh sheet are written
only when --as-planned says so, and then marked as such.
"""


@command(*_EXAMPLES, short="Make a record of a planned batch, with what was weighed.", text=_HELP)
@click.argument("batch", shell_complete=ids("batches"))
@click.argument("amounts", nargs=-1, metavar="[LOT=AMOUNT]...", shell_complete=lots_of_record)
@click.option("--as-planned", is_flag=True, help="Take the weigh sheet's amounts where none is said.")
@LOGBOOK_OPTION
@DRY_RUN
def record(batch: str, amounts: tuple[str, ...], as_planned: bool, logbook: Path, dry_run: bool) -> None:
    """Write the reaction of a planned batch; the help text stands in the decorator."""
    from generator.problems import did_you_mean
    from generator.validate.answer import Fault
    from generator.writing.adding import Target
    from generator.writing.reaction import amounts_of, asked_for, reaction_of

    book = opened(logbook)
    entry = book.log.planned.get(batch)
    if entry is None and batch in book.log.batches:
        at = book.log.batches[batch].at("reaction", key=True)
        raise stop(
            f"{batch} is recorded already: {front_of(book.root)}{at.file}:{at.line}",
            "nothing is written over; change its amounts in the file by hand",
        )
    if entry is None:
        raise stop(f"no planned batch is called '{batch[:64]}'", did_you_mean(batch, book.log.planned))
    assert book.checked.ledgers is not None
    wanted = amounts_of(book.log, entry, book.checked.ledgers.doses[batch])
    said: dict[str, list[str]] = {}
    for text in amounts:
        lot, sign, amount = text.partition("=")
        if not sign:
            raise stop(f"'{text[:64]}' is not LOT=AMOUNT", f"write {asked_for(book.log, wanted)}")
        said.setdefault(lot, []).append(amount)
    stages = reaction_of(book.log, wanted, said, as_planned=as_planned)
    if isinstance(stages, Fault):
        raise stop_for(stages)
    remark = "  # where nothing else was said, amounts of the weigh sheet" if as_planned else ""
    insert(book, Target("batches", entry, "reaction", ("reaction",), False), stages, dry_run, remark)
