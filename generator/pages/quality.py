"""Quality: results held to the edition of their day, what was not tested, soap through the columns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from generator.compute.results import Results
from generator.language import said, say, term
from generator.pages import coverage
from generator.pages.batches import CHARTED
from generator.pages.history import late_finding, late_table
from generator.pages.parts import Row, batch_link, grouped, newest
from generator.pages.places import placed
from generator.pages.quality_charts import VERDICTS, property_chart, soap_chart
from generator.pages.results import DIGIT_ALONE, results_table
from generator.pages.view import Cell, Chart, Figure, Head, Page, TableView
from generator.pages.words import count, listed

CHARTED_PROPERTIES = ("acid value", "water")
HELD = {
    "within": term("laboratory: within"),
    "outside": term("laboratory: outside"),
    "cannot tell": term("laboratory: cannot tell"),
}

# columns of the table beside the picture, and the states whose properties stand in each
COLUMNS = {
    term("Laboratory: within"): ("within",),
    term("Laboratory: outside"): ("outside",),
    term("Laboratory: cannot tell"): ("cannot tell",),
    term("Bench only"): ("bench only",),
    term("Without a limit"): ("not asked",),
}


def page(results: Results) -> Page:
    """The page of quality."""
    rows, tests, standing = results.rows("batches"), results.rows("tests"), results.passing("standing")
    return placed(
        "quality",
        finding=finding(tests, standing),
        content={
            "figures": _tallied(tests),
            "charts": [
                *_matrix(standing),
                soap_chart(rows),
                *(chart for name in CHARTED_PROPERTIES if (chart := property_chart(name, tests)) is not None),
            ],
            "tables": _tables(results, tests),
            "cautions": [
                say(
                    "A bench test is not a standard's method, and a result beside a limit is no statement of conformity."
                ),
                say(
                    "Surveys of finished fuel failed on methanol and flash point, total glycerol and oxidation stability; a soap test sees none of them. What was not tested is not known."
                ),
            ],
            "intro": f"{detail(tests, standing)} {_edition(results)}".strip(),
            "history": late_finding(results),
            "moved": bool(late_table(results)),
        },
    )


def _edition(results: Results) -> str:
    if not results.specification:
        return say("No specification is chosen in logbook.yaml, so results stand without limits.")
    return say(
        "Each batch is held to the edition of its day; the newest to {edition}. Read in: {source}.",
        edition=said(results.specification),
        source=said(results.specification_source),
    )


def finding(tests: Sequence[Row], standing: Sequence[Row]) -> str:
    """What laboratories found, and of how much of that the last digit is all that is known of its precision."""
    batches = grouped(standing, "batch")
    if not tests:
        return say("No result is written yet.")
    held = _held(tests)
    of_all = say("of {batch}", batch=count(len(batches), "batch", "batches"))
    if not held:
        return say(
            "{result} on {tested} {of_all}, none of them by a laboratory against a limit: how the fuel lies to a specification is not known.",
            result=count(len(tests), "result", "results"),
            tested=len({row["subject"] for row in tests}),
            of_all=of_all,
        )
    told = listed([f"{sum(row['verdict'] == word for row in held)} {say(word)}" for word in VERDICTS])
    digits = sum(row["u_from"] == DIGIT_ALONE for row in held)
    alone = say(", {digits} of these by the last digit alone", digits=digits) if digits else ""
    return say(
        "Laboratories gave {result} with a limit on {tested} {of_all}: {told}{alone}.",
        result=count(len(held), "result", "results"),
        tested=len({row["subject"] for row in held}),
        of_all=of_all,
        told=told,
        alone=alone,
    )


def _held(tests: Sequence[Row]) -> list[Row]:
    """Results of laboratories that have a limit to be held to."""
    return [row for row in tests if row["laboratory"] == "yes" and row["verdict"] in VERDICTS]


def detail(tests: Sequence[Row], standing: Sequence[Row]) -> str:
    """What the words of the finding mean, and how much of an edition was tested at all."""
    held = _held(tests)
    if not held:
        return ""
    parts = [say("Cannot tell: the limit lies inside the result's own interval.")]
    if any(row["u_from"] == DIGIT_ALONE for row in held):
        parts.append(say("By the last digit alone: no precision of the method is known here."))
    return " ".join([*parts, _most(grouped(standing, "batch"))])


def _most(batches: Mapping[str, Sequence[Row]]) -> str:
    """How much of its edition the best tested batch was tested for."""
    asked: dict[str, int] = {}
    tested: dict[str, int] = {}
    for name, rows in batches.items():
        states = [row["state"] for row in rows if row["limit"]]
        if states:
            asked[name], tested[name] = len(states), sum(state in VERDICTS for state in states)
    if not tested:
        return say("No edition was in force.")
    name = max(tested, key=lambda each: (tested[each] / asked[each], each))
    whole = [each for each, found in tested.items() if found == asked[each]]
    if whole:
        return say(
            "{batch} of {tested} had a laboratory result for every property of the edition.",
            batch=count(len(whole), "batch", "batches"),
            tested=len(tested),
        )
    return say(
        "No batch had one for every property of its edition; the most, {name}, for {tested} of {asked}.",
        name=name,
        tested=tested[name],
        asked=asked[name],
    )


def _tallied(tests: Sequence[Row]) -> dict[str, list[Figure]]:
    """Results by their verdict: of laboratories, of the bench, and of both where the workshop has limits of its own."""
    if not tests:
        return {}
    of = {word: [row for row in tests if row["laboratory"] == word] for word in ("yes", "no")}
    own = [row for row in tests if row["own_limit"]]
    return {
        say("Laboratory results against their limits"): _counts(of["yes"], "verdict"),
        say("Bench readings beside the limits"): _counts(of["no"], "verdict"),
        **({say("All results against our own limits"): _counts(own, "own_verdict")[:3]} if own else {}),
    }


def _counts(chosen: Sequence[Row], verdict: str) -> list[Figure]:
    labels = {
        "within": say("Within"),
        "outside": say("Outside"),
        "cannot tell": say("Cannot tell"),
        "no limit": say("No limit in this edition"),
    }
    basis = {
        "within": say("with their whole interval"),
        "outside": say("with their whole interval"),
        "cannot tell": say("the limit lies inside the interval"),
    }
    out = []
    for key, label in labels.items():
        of_kind = [row for row in chosen if row[verdict] == key]
        told = basis.get(key, "")
        if told and of_kind:
            digits = sum(row["u_from"] == DIGIT_ALONE for row in of_kind)
            told = say("{told}; {digits} of these by the last digit alone", told=told, digits=digits)
        out.append(Figure(label, str(len(of_kind)), told, "verdict"))
    return out


def _matrix(standing: Sequence[Row]) -> Iterator[Chart]:
    """Every property of every batch in one picture, and beside it what each batch lacks."""
    of_batch = grouped(standing, "batch")
    batches = {name: of_batch[name] for name in list(of_batch)[-CHARTED:]}
    shown = [row for rows in batches.values() for row in rows if row["limit"] or row["results"]]
    if not any(row["results"] for row in shown):
        return
    values = tuple(
        {
            "batch": row["batch"],
            "date": row["date"],
            "property": say(row["property"]),
            "state": said(HELD.get(str(row["state"]), str(row["state"]))),
            "results": said(row["written"]),
        }
        for row in shown
        if row["results"]
    )
    names = list(dict.fromkeys(say(row["property"]) for row in shown))
    untested = [name for name in names if not any(value["property"] == name for value in values)]
    sentence = say(
        "The last {batch} and {names} properties: a mark is a result, an empty place was not tested",
        batch=count(len(batches), "batch", "batches"),
        names=len(names),
    )
    sentence += say("; never in these batches: {untested}.", untested=listed(untested)) if untested else "."
    yield Chart(
        "standing",
        say("Every batch, every property"),
        sentence,
        "standing",
        values,
        _matrix_table(batches),
        {"properties": names, "states": list(dict.fromkeys(value["state"] for value in values))},
    )


def _matrix_table(batches: dict[str, Sequence[Row]]) -> TableView:
    """One row a batch: the names of its properties by how they stand."""
    heads = (
        Head(say("Batch")),
        Head(say("Date")),
        *(Head(say(label)) for label in COLUMNS),
        Head(say("Not tested"), meaning=say("properties of the edition without any result"), numeric=True),
    )
    cells = tuple(
        (
            Cell(name, name, batch_link(name)),
            Cell(rows[0]["date"], rows[0]["date"]),
            *(_names(rows, states) for states in COLUMNS.values()),
            _untested(rows),
        )
        for name, rows in reversed(batches.items())
    )
    return TableView("standing-table", say("What each batch was tested for, the newest first"), heads, cells)


def _names(rows: Sequence[Row], states: tuple[str, ...]) -> Cell:
    text = ", ".join(say(row["property"]) for row in rows if row["state"] in states and row["results"])
    return Cell(text or "–", text)


def _untested(rows: Sequence[Row]) -> Cell:
    asked = [row for row in rows if row["limit"]]
    missing = sum(row["state"] == "not tested" for row in asked)
    return Cell(say("{missing} of {asked}", missing=missing, asked=len(asked)), str(missing))


def _tables(results: Results, tests: Sequence[Row]) -> list[TableView]:
    """Coverage, for the workshop what is due and how old stored fuel is, agreement, late changes, results."""
    workshop = results.audience == "workshop"
    return [
        *([coverage.due(results)] if results.rows("due") else []),
        coverage.coverage(results),
        *([coverage.stored(results)] if workshop and results.rows("stored") else []),
        *([coverage.agreement(results)] if results.rows("agreement") else []),
        *late_table(results),
        _outside(tests),
        _all(tests),
    ]


def _outside(tests: Sequence[Row]) -> TableView:
    rows = [
        row
        for row in tests
        if "outside" in (row["verdict"], row["own_verdict"]) or row["verdict"] == "cannot tell"
    ]
    return results_table("outside", say("Outside a limit, or cannot tell"), rows[::-1])


def _all(tests: Sequence[Row]) -> TableView:
    caption, newest_first = newest(say("All results"), tests, "data/tests.csv")
    return results_table("all-results", caption, newest_first, filterable=True)
