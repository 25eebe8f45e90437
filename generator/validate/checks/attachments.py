"""A report that a result names lies in `attachments/`, is what it says, and holds pages or a picture and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Any

from generator.attaching import MAX_BYTES, Refused
from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.problems import Place, Problem, did_you_mean, visible
from generator.read.attachments import ATTACHMENTS


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Every report that is named, and every file that no result names."""
    log = ledgers.log
    named = set()
    for entry in log.written_batches():
        for number, test in enumerate(entry.record.tests):
            if test.report is not None:
                named.add(test.report.file)
                yield from _fault(log, entry.at("tests", number, "report", "file"), test.report.file)
    others: Iterator[Entry[Any]] = chain(log.lots.values(), log.offers.values())
    for entry in others:
        for number, test in enumerate(entry.record.tests):
            if test.report is not None:
                named.add(test.report.file)
                yield Problem(
                    "unknown-key",
                    entry.at("tests", number, "report", key=True),
                    "'report' belongs to the result of a batch",
                    "drop it here; of an oil's report write the figures",
                )
    for name in log.attachments.sizes:
        if name not in named and not name.startswith("."):
            told = visible(name)
            yield Problem(
                "stray-file", Place(f"{ATTACHMENTS}/{told}"), "no result names this report, and it was not read",
                f"name it in the result: 'report: {{file: {told}}}'",
            )  # fmt: skip


def _fault(log: Log, place: Place, name: str) -> Iterator[Problem]:
    sizes = log.attachments.sizes
    told = visible(name)[:64]
    if name not in sizes:
        hint = did_you_mean(name, sizes) or f"put the file into the folder '{ATTACHMENTS}' of the logbook"
        yield Problem("attachment-missing", place, f"there is no report '{told}' in {ATTACHMENTS}/", hint)
        return
    size = sizes[name]
    if size is None:
        message = f"'{told}' is a link or a special file and was not opened"
        yield Problem("not-a-plain-file", place, message, "put a plain file there")
    elif size > MAX_BYTES:
        message = f"'{told}' has {size} bytes, and at most {MAX_BYTES} are taken"
        yield Problem("attachment-too-large", place, message, "scan it in fewer colours or points")
    else:
        try:
            log.attachments.look_through(name)
        except Refused as refused:
            yield Problem(refused.code, place, visible(refused.message), refused.hint)
        except OSError as error:
            message = f"'{told}' cannot be read: {error.strerror or type(error).__name__}"
            yield Problem("unreadable", place, message, "let the user who builds read it")
