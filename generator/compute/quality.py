"""Results of batches held to the limits that were in force on their day, and how each property of each batch stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta
from typing import Any

import pandas as pd

from generator.compute.frames import frame, grouped_rows, plain_rows
from generator.compute.reports import addresses
from generator.formulas.uncertainty import expanded
from generator.language import tell
from generator.ledger.editions import Edition, in_force, own_editions, standards
from generator.ledger.results import CANNOT_TELL, NO_LIMIT, OUTSIDE, WITHIN, against, known
from generator.ledger.titrated import Titrated, against_titrated, titrated
from generator.log import Entry, Log
from generator.properties import method_named, properties
from generator.records import Batch, Test
from generator.specifications import Limit
from generator.tables import LIMITS, STANDING, TESTS
from generator.units import Quantity

NOT_TESTED = "not tested"
# the worst first: a retest that came out well does not wipe out what it repeats
WORST = (OUTSIDE, CANNOT_TELL, WITHIN)
Row = Mapping[str, Any]


def tests(log: Log, batches: pd.DataFrame) -> pd.DataFrame:
    """All results of all batches, by date of the batch; one row each. A retest stands below what it repeats.

    The soap of the product, titrated through the run, is the last result of a batch.
    """
    soap = {row["batch"]: titrated(row, "soap_product") for row in plain_rows(batches)}
    return frame(TESTS, list(_tests(log, soap)))


def _tests(log: Log, soap: Mapping[str, Titrated | None]) -> Iterator[dict[str, Any]]:
    editions, own = standards(log), own_editions(log)
    for entry in log.batches_in_time():
        standard, ours = in_force(editions, entry.record.date), in_force(own, entry.record.date)
        seen: dict[tuple[str, bool], list[str]] = {}
        reports = addresses(entry)
        for number, test in enumerate(entry.record.tests):
            if test.property is not None:
                before = seen.setdefault((test.property, test.laboratory), [])
                yield {**_row(entry, test, before, standard, ours), "report": reports.get(number)}
        found = soap[entry.id]
        if found is not None:
            yield _soap_row(entry, found, seen.get(("soap", False), []), standard, ours)


def _row(
    entry: Entry[Batch], test: Test, before: list[str], standard: Edition | None, own: Edition | None
) -> dict[str, Any]:
    value, name = test.value, test.property or ""
    sure = known(test)
    limit, ours = _limit(standard, name), _limit(own, name)
    written = value.text if isinstance(value, Quantity) else value
    row = {
        "subject": entry.id,
        "date": (test.date or entry.record.date).isoformat(),
        "property": name,
        "value": value.value if isinstance(value, Quantity) else None,
        "qualifier": (value.sign or None) if isinstance(value, Quantity) else None,
        "word": value if isinstance(value, str) else None,
        "written": written,
        "unit": properties()[name].unit,
        "u": sure.u if sure is not None else None,
        "u_from": sure.basis if sure is not None else None,
        "method": test.method,
        "laboratory": "yes" if test.laboratory else "no",
        "by_method": _by_method(limit, test.method),
        "repeat": len(before) + 1,
        "repeats": "; ".join(before) or None,
        **_limits(standard, limit, against(value, sure, limit)),
        **_own(own, ours, against(value, sure, ours)),
    }
    before.append(str(written))
    return row


def _soap_row(
    entry: Entry[Batch], found: Titrated, before: list[str], standard: Edition | None, own: Edition | None
) -> dict[str, Any]:
    """The product's soap as a result on the bench."""
    limit, ours = _limit(standard, "soap"), _limit(own, "soap")
    return {
        "subject": entry.id,
        "date": entry.record.date.isoformat(),
        "property": "soap",
        "value": found.value,
        "qualifier": found.sign or None,
        "word": None,
        "written": found.text,
        "unit": properties()["soap"].unit,
        "u": found.u,
        "u_from": "its readings" if found.u is not None else None,
        "method": "titration of the product",
        "laboratory": "no",
        "by_method": "no",
        "report": None,
        "repeat": len(before) + 1,
        "repeats": "; ".join(before) or None,
        **_limits(standard, limit, against_titrated(found, limit)),
        **_own(own, ours, against_titrated(found, ours)),
    }


def _limit(edition: Edition | None, name: str) -> Limit | None:
    return edition.limits.get(name) if edition is not None else None


def _by_method(limit: Limit | None, method: str | None) -> str:
    return "yes" if limit is not None and method_named(method or "") in limit.methods else "no"


def _limits(edition: Edition | None, limit: Limit | None, verdict: str) -> dict[str, Any]:
    return {
        "edition": edition.name if edition is not None else None,
        "limit": limit.text if limit else None,
        "limit_low": limit.low if limit else None,
        "limit_high": limit.high if limit else None,
        "verdict": verdict,
    }


def _own(edition: Edition | None, limit: Limit | None, verdict: str) -> dict[str, Any]:
    return {
        "own_edition": edition.name if edition is not None else None,
        "own_limit": limit.text if limit else None,
        "own_low": limit.low if limit else None,
        "own_high": limit.high if limit else None,
        "own_verdict": verdict,
    }


def standing(log: Log, tested: pd.DataFrame) -> pd.DataFrame:
    """How each property of each batch stands: those of the edition in its order, then what was tested beyond it."""
    return frame(STANDING, list(_standing(log, tested)))


def _standing(log: Log, tested: pd.DataFrame) -> Iterator[dict[str, Any]]:
    by_batch = grouped_rows(tested, "subject")
    editions, own = standards(log), own_editions(log)
    for entry in log.batches_in_time():
        standard, ours = in_force(editions, entry.record.date), in_force(own, entry.record.date)
        rows, day = by_batch.get(entry.id, []), entry.record.date.isoformat()
        names = [*(standard.limits if standard else ()), *(ours.limits if ours else ())]
        for name in dict.fromkeys([*names, *(row["property"] for row in rows)]):
            limits = (_limit(standard, name), _limit(ours, name))
            yield {
                "batch": entry.id,
                "date": day,
                "property": name,
                "edition": standard.name if standard is not None else None,
                **_stands([row for row in rows if row["property"] == name], limits, rows),
            }


def _stands(found: Sequence[Row], limits: tuple[Limit | None, Limit | None], all_rows: Sequence[Row]) -> Row:
    limit, ours = limits
    laboratory = [row["verdict"] for row in found if row["laboratory"] == "yes"]
    bench = [row["verdict"] for row in found if row["laboratory"] == "no"]
    own = [row["own_verdict"] for row in found]
    return {
        "limit": limit.text if limit else None,
        "results": len(found),
        "written": "; ".join(str(row["written"]) for row in found) or None,
        "laboratory": _in_order(laboratory, limit) + _stood_in(laboratory, limit, all_rows),
        "bench": _in_order(bench, limit),
        "own_limit": ours.text if ours else None,
        "own": _in_order(own, ours) if ours else None,
        "own_state": _worst(own) or NOT_TESTED if ours else None,
        "state": _state(laboratory, bench, limit),
    }


def _in_order(verdicts: Sequence[str], limit: Limit | None) -> str:
    """The verdicts one after the other: `outside, then within` never becomes `within`."""
    if not verdicts:
        return NOT_TESTED
    first, *later = verdicts
    told = ", ".join([first, *(tell("then {verdict}", verdict=each) for each in later)])
    return told if limit is not None else NO_LIMIT


def _stood_in(laboratory: Sequence[str], limit: Limit | None, rows: Sequence[Row]) -> str:
    """What the standard takes in place of a result of this property, where a laboratory found it."""
    other = limit.instead if limit is not None else None
    if laboratory or other is None or other.low is None:
        return ""
    for row in rows:
        reach = expanded(row["u"] or 0.0)
        named = row["property"] == other.property and row["laboratory"] == "yes" and row["value"] is not None
        if named and row["qualifier"] != "<" and row["value"] - reach >= other.low:
            stands_in = tell(
                "a {property} of {value} stands in for it", property=other.property, value=other.text
            )
            return f"; {stands_in}"
    return ""


def _state(laboratory: Sequence[str], bench: Sequence[str], limit: Limit | None) -> str:
    if limit is None:
        return "not asked"
    return _worst(laboratory) or ("bench only" if bench else NOT_TESTED)


def _worst(verdicts: Sequence[str]) -> str | None:
    return next((word for word in WORST if word in verdicts), None)


def limits(log: Log) -> pd.DataFrame:
    """The limits of every edition that the settings choose, in the order in which they hold; one row each."""
    return frame(LIMITS, [*_limit_rows(standards(log)), *_limit_rows(own_editions(log))])


def _limit_rows(editions: Sequence[Edition]) -> Iterator[dict[str, Any]]:
    for place, edition in enumerate(editions, 1):
        end = editions[place].begins if place < len(editions) else None
        for limit in edition.limits.values():
            yield {
                "edition": edition.name,
                "own": "yes" if edition.own else "no",
                "from": edition.begins.isoformat() if edition.begins else None,
                "until": (end - timedelta(days=1)).isoformat() if end else None,
                "property": limit.property,
                "limit": limit.text,
                "low": limit.low,
                "high": limit.high,
                "unit": limit.unit,
                "methods": ", ".join(limit.methods) or None,
                "condition": limit.condition or None,
                "instead": f"{limit.instead.property} {limit.instead.text}" if limit.instead else None,
                "confidence": limit.confidence,
                "source": edition.source,
                "note": limit.note or None,
            }
