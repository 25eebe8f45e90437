"""What one version of a batch says, as texts that can be held against those of the next: figures, results, what was written."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from generator.compute.figures import figures as reckoned
from generator.compute.old_reports import OldReports
from generator.compute.versions import Step, hidden
from generator.compute.written import written
from generator.language import tell, term
from generator.ledger.facts import facts_of
from generator.log import Entry, Log
from generator.records import Batch, Report, Test

LABORATORY = term("laboratory")
NAME, DATE, NOTE = term("name"), term("date"), term("public note")
KEPT = 6  # digits, for other units
FIGURES = (
    "oil_l", "acid_value_mg_koh_per_g", "catalyst_g", "methanol_l", "fuel_l", "yield_volume_pct", "yield_mass_pct",
    "closure_pct", "soap_feed_mg_per_kg", "soap_between_mg_per_kg", "soap_product_mg_per_kg",
)  # fmt: skip
# labels of what was written, and the figure that moves with it and is told instead
COVERED = {
    "put in": "oil_l",
    "readings": "acid_value_mg_koh_per_g",
    "catalyst": "catalyst_g",
    "methanol": "methanol_l",
    "finished": "fuel_l",
    **{f"soap, {point}": f"soap_{point}_mg_per_kg" for point in ("feed", "between", "product")},
}


@dataclass(frozen=True, slots=True)
class Stand:
    """What a version of a batch says, by name; which of that are results, and what a figure is told instead of.

    `reports` are blobs, by the name of what they report; `partial` where a lot is not known, so that no figure can be reckoned.
    """

    said: Mapping[str, str]
    results: frozenset[str]
    covered: Mapping[str, str]
    reports: Mapping[str, tuple[str, ...]]
    hidden: bool
    partial: bool


def stand_of(
    shown: Log,
    step: Step,
    version: Entry[Batch],
    shows: Callable[[Report], bool],
    reports: OldReports,
) -> Stand:
    """What a version says as it is seen, with the reports that `shows` lets pass."""
    whole = step.batch
    assert whole is not None
    known = {use.lot for use in version.record.oil} <= set(shown.lots)
    if not known:
        version = Entry(version.id, version.record.model_copy(update={"oil": ()}), version.document)
    said = _figures(shown, version) if known else {}
    results = _results(version.record.tests)
    entries, covered = _entries(shown, version.record)
    more = {NAME: version.record.batch, DATE: version.record.date.isoformat()}
    if version.record.public_note:
        more[NOTE] = version.record.public_note
    return Stand(
        {**said, **more, **results, **entries},
        frozenset(results),
        covered,
        _reports(whole.record.tests, step.number, shows, reports),
        hidden(whole),
        not known,
    )


def _figures(shown: Log, version: Entry[Batch]) -> dict[str, str]:
    values = reckoned(facts_of(shown, version))
    return {name: f"{values[name]:.{KEPT}g}" for name in FIGURES if values[name] is not None}


def _results(tests: Sequence[Test]) -> dict[str, str]:
    """The results by property, each with its method and who found it."""
    found: dict[str, str] = {}
    for test in tests:
        if test.property is not None and test.value is not None:
            told = test.value if isinstance(test.value, str) else test.value.text
            told = "; ".join(
                text for text in (told, test.method, LABORATORY if test.laboratory else "") if text
            )
            found[test.property] = f"{found[test.property]}, {told}" if test.property in found else told
    return found


def _entries(shown: Log, batch: Batch) -> tuple[dict[str, str], dict[str, str]]:
    """What was written, by section and label, and the figures that are told instead of some of it.

    What is said of an oil is said in the file of its lot, and no part of this one.
    """
    found: dict[str, str] = {}
    covered: dict[str, str] = {}
    for item in written(shown, batch):
        if item.label.startswith("about "):
            continue
        name = tell("{section}: {label}", section=item.section, label=item.label)
        found[name] = f"{found[name]}, {item.text}" if name in found else item.text
        if item.label in COVERED:
            covered[name] = COVERED[item.label]
    return found, covered


def _reports(
    tests: Sequence[Test], number: int, shows: Callable[[Report], bool], reports: OldReports
) -> dict[str, tuple[str, ...]]:
    """The blobs of the reports of each property, in the order of their results."""
    found: dict[str, tuple[str, ...]] = {}
    for test in tests:
        if test.report is not None and test.property is not None and shows(test.report):
            name = tell("report of {property}", property=test.property)
            found[name] = (*found.get(name, ()), reports.at(test.report.file, number))
    return found
