"""Quality: results held to the chosen edition, what was not tested, soap through the columns."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from generator.compute.results import Results
from generator.pages.batches import CHARTED
from generator.pages.parts import Row, Show, batch_link, newest, plain, table_view
from generator.pages.view import Chart, Figure, Page, TableView
from generator.pages.words import count, soap_text, with_unit
from generator.specifications import Limit
from generator.tables import BATCHES, TESTS

CHARTED_PROPERTIES = ("acid value", "water")
POINTS = {"feed": "feed", "between": "between", "product": "product"}


def page(results: Results, limits: Mapping[str, Limit]) -> Page:
    """The page of quality."""
    rows, tests = results.rows("batches"), results.rows("tests")
    charts = [soap_chart(rows)]
    charts += [
        chart
        for name in CHARTED_PROPERTIES
        if (chart := property_chart(name, tests, limits, results)) is not None
    ]
    return Page(
        path="quality.html",
        title="Quality",
        template="quality.html",
        section="quality",
        finding=finding(rows, tests, results),
        content={
            "figures": {"Results against the limits": _counts(tests, results)},
            "charts": charts,
            "tables": [coverage(rows, tests, limits), _outside(tests), _all(tests)],
            "cautions": [
                "A bench test is not a standard's method, and a result beside a limit is no statement of conformity.",
                "Surveys of finished fuel failed on methanol and flash point, total glycerol and oxidation stability; a soap test sees none of them. What was not tested is not known.",
            ],
            "intro": f"Limits: {results.specification_source}."
            if results.specification
            else "No specification is chosen in logbook.yaml, so results stand without limits.",
        },
    )


def finding(rows: Sequence[Row], tests: Sequence[Row], results: Results) -> str:
    """The last results in one sentence, and how much was not tested."""
    if not tests:
        return "No result is written yet."
    held = [row for row in tests if row["verdict"] in ("within", "outside", "cannot tell")]
    outside = [row for row in held if row["verdict"] == "outside"]
    tested = {row["subject"] for row in tests}
    text = f"{count(len(tests), 'result')} on {len(tested)} of {count(len(rows), 'batch', 'batches')}"
    if not held:
        return f"{text}; none of them has a limit here."
    last = f", the last on batch {outside[-1]['subject']} ({outside[-1]['property']})" if outside else ""
    return f"{text}; of {len(held)} that have a limit, {len(outside)} lie outside it{last}."


def _counts(tests: Sequence[Row], results: Results) -> list[Figure]:
    labels = {
        "within": "Within",
        "outside": "Outside",
        "cannot tell": "Cannot tell",
        "no limit": "No limit in this edition",
    }
    basis = {"within": "of the limit, as read", "cannot tell": "the result straddles the limit"}
    return [
        Figure(label, str(sum(row["verdict"] == key for row in tests)), basis.get(key, ""), "verdict")
        for key, label in labels.items()
    ]


def soap_chart(rows: Sequence[Row]) -> Chart:
    """Soap at the three points through time, censored results marked."""
    recent = list(rows)[-CHARTED:]
    values: list[dict[str, Any]] = [
        {
            "date": row["date"],
            "batch": row["batch"],
            "point": label,
            "mg_per_kg": row[f"soap_{point}_mg_per_kg"],
            "detected": row[f"soap_{point}_detected"] == "yes",
            "limit": row[f"soap_{point}_limit_mg_per_kg"],
        }
        for row in recent
        for point, label in POINTS.items()
        if row[f"soap_{point}_detected"] in ("yes", "no")  # what is only bounded stands in the table
    ]
    counts = {
        label: sum(row[f"soap_{point}_detected"] is not None for row in recent)
        for point, label in POINTS.items()
    }
    bounded = sum(row[f"soap_{point}_low_mg_per_kg"] is not None for row in recent for point in POINTS) - len(
        values
    )
    below = sum(value["point"] == "product" and not value["detected"] for value in values)
    sentence = (
        f"Of {count(len(recent), 'batch', 'batches')}, {counts['feed']} have a feed sample, {counts['between']} one between the columns and "
        f"{counts['product']} one of the product; in {below} of the product samples no soap was detected, and their mark stands at the detection limit."
    )
    if bounded:
        sentence += f" In the table alone: {count(bounded, 'result', 'results')} known only by bounds."
    shows = [
        Show("batch", "Batch", plain("batch"), href=lambda row: batch_link(row["batch"])),
        Show("date", "Date", plain("date")),
    ]
    shows += [
        Show(
            f"soap_{point}_mg_per_kg",
            label.capitalize(),
            _soap_at(point),
            "mg/kg",
        )
        for point, label in POINTS.items()
    ]
    return Chart(
        "soap",
        "Soap through the columns",
        sentence,
        "soap_points",
        tuple(values),
        table_view(BATCHES, "soap-table", "Soap by batch", recent, shows),
    )


def _soap_at(point: str) -> Callable[[Row], str]:
    return lambda row: soap_text(row, point)


def property_chart(
    name: str, tests: Sequence[Row], limits: Mapping[str, Limit], results: Results
) -> Chart | None:
    """One property through time with its limit; None where it was never tested."""
    rows = [row for row in tests if row["property"] == name and row["value"] is not None][-CHARTED:]
    if not rows:
        return None
    held = limits.get(name)
    values = tuple(
        {
            "date": row["date"],
            "batch": row["subject"],
            "value": row["value"],
            "qualifier": row["qualifier"],
            "laboratory": row["laboratory"] == "yes",
        }
        for row in rows
    )
    outside = sum(row["verdict"] == "outside" for row in rows)
    against = (
        f"; {outside or 'none'} outside the limit ({held.text}, {results.specification})" if held else ""
    )
    laboratory = sum(row["laboratory"] == "yes" for row in rows)
    sentence = f"{count(len(rows), 'result')} of {name}, {laboratory} by a laboratory{against}."
    params = {
        "property": name,
        "unit": rows[0]["unit"],
        "low": held.low if held else None,
        "high": held.high if held else None,
        "limit_label": f"limit of {results.specification}" if held else "",
    }
    view = table_view(
        TESTS,
        f"{name.replace(' ', '-')}-table",
        f"Results of {name}",
        rows,
        [
            Show("subject", "Batch", plain("subject"), href=lambda row: batch_link(row["subject"])),
            Show("date", "Date", plain("date")),
            Show("value", "Result", plain("written")),
            Show("method", "Method", plain("method")),
            Show("laboratory", "Where", lambda row: "laboratory" if row["laboratory"] == "yes" else "bench"),
            Show("verdict", "Against the limit", plain("verdict")),
        ],
    )
    return Chart(name.replace(" ", "-"), name.capitalize(), sentence, "property_limit", values, view, params)


def coverage(rows: Sequence[Row], tests: Sequence[Row], limits: Mapping[str, Limit]) -> TableView:
    """Which property was tested in what share of the batches; those never tested are listed too."""
    names = list(dict.fromkeys([*limits, *(row["property"] for row in tests)]))
    table_rows = []
    for name in names:
        found = [row for row in tests if row["property"] == name]
        subjects = {row["subject"] for row in found}
        last = max((row["date"] for row in found), default=None)
        share = 100 * len(subjects) / len(rows) if rows else 0.0
        table_rows.append(
            {
                "property": name,
                "value": share,
                "date": last,
                "repeat": len(found),
                "verdict": limits[name].text if name in limits else None,
            }
        )
    return table_view(
        TESTS,
        "coverage",
        "What was tested, in how many batches",
        table_rows,
        [
            Show("property", "Property", plain("property")),
            Show("verdict", "Limit", lambda row: row["verdict"] or "none"),
            Show(
                "value",
                "Batches tested",
                lambda row: f"{with_unit(row['value'], '%')}" if row["repeat"] else "not tested",
            ),
            Show("repeat", "Results", lambda row: str(row["repeat"])),
            Show("date", "Last", lambda row: row["date"] or "never"),
        ],
    )


def _outside(tests: Sequence[Row]) -> TableView:
    rows = [row for row in tests if row["verdict"] in ("outside", "cannot tell")][::-1]
    return _results("outside", "Outside the limit, or cannot tell", rows)


def _all(tests: Sequence[Row]) -> TableView:
    caption, newest_first = newest("All results", tests, "data/tests.csv")
    return _results("all-results", caption, newest_first, filterable=True)


def _results(id_: str, caption: str, rows: Sequence[Row], *, filterable: bool = False) -> TableView:
    return table_view(
        TESTS,
        id_,
        caption,
        rows,
        [
            Show("subject", "Batch", plain("subject"), href=lambda row: batch_link(row["subject"])),
            Show("date", "Date", plain("date")),
            Show(
                "property",
                "Property",
                lambda row: f"{row['property']}{', repeated' if row['repeat'] > 1 else ''}",
            ),
            Show("value", "Result", plain("written")),
            Show("limit", "Limit", lambda row: row["limit"] or "none"),
            Show("verdict", "Against the limit", plain("verdict")),
            Show("method", "Method", plain("method")),
            Show("laboratory", "Where", lambda row: "laboratory" if row["laboratory"] == "yes" else "bench"),
        ],
        filterable=filterable,
    )
