"""Where the reports of laboratories lie on a site. Nothing of an address comes from a file's own name but its kind.

A private report has a count and a folder of its own, so that it moves no address of a public one.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import PurePosixPath

from generator.log import Entry, Log
from generator.records import Batch

FOLDER = "reports"
PRIVATE = f"{FOLDER}/private"


def addresses(entry: Entry[Batch]) -> dict[int, str]:
    """The address of each report of a batch, by the number of its result: batch, property, and which of these it is."""
    counts: Counter[tuple[str, str]] = Counter()
    found = {}
    for number, test in enumerate(entry.record.tests):
        if test.report is not None and test.property is not None:
            folder = FOLDER if test.report.public else PRIVATE
            name = test.property.replace(" ", "-")
            counts[folder, name] += 1
            kind = PurePosixPath(test.report.file).suffix.lower()
            found[number] = f"{folder}/{entry.id}-{name}-{counts[folder, name]}{kind}"
    return found


def attached(log: Log) -> dict[str, str]:
    """Every report of the batches that ran: its address, and the file it is made from."""
    return {
        address: report.file
        for entry in log.batches.values()
        for number, address in addresses(entry).items()
        if (report := entry.record.tests[number].report) is not None
    }


def of_public(log: Log) -> Log:
    """The log as if no private report had been attached."""
    return replace(log, batches={name: _of_public(entry) for name, entry in log.batches.items()})


def _of_public(entry: Entry[Batch]) -> Entry[Batch]:
    tests = tuple(
        test.model_copy(update={"report": None})
        if test.report is not None and not test.report.public
        else test
        for test in entry.record.tests
    )
    return replace(entry, record=entry.record.model_copy(update={"tests": tests}))
