"""Charts of results through time: soap at the three points, one property beside the limits of its day."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from generator.charts.marks import RESULTS
from generator.language import said, say, term
from generator.pages.batches import CHARTED
from generator.pages.contents import soap_text
from generator.pages.parts import Row, Show, batch_link, plain, table_view
from generator.pages.results import results_table
from generator.pages.view import Chart
from generator.pages.words import capital, count, limit_names, listed
from generator.tables import BATCHES

POINTS = {"feed": term("feed"), "between": term("between"), "product": term("product")}
VERDICTS = (term("within"), term("outside"), term("cannot tell"))


def soap_chart(rows: Sequence[Row]) -> Chart:
    """Soap at the three points through time, censored results marked."""
    recent = list(rows)[-CHARTED:]
    values: list[dict[str, Any]] = [
        {
            "date": row["date"],
            "batch": row["batch"],
            "point": say(label),
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
    below = sum(value["point"] == say(POINTS["product"]) and not value["detected"] for value in values)
    sentence = say(
        "Of {batch}, {feed} have a feed sample, {between} one between the columns and {product} one of the product; in {below} of the product samples no soap was detected, and their mark stands at the detection limit.",
        batch=count(len(recent), "batch", "batches"),
        feed=counts["feed"],
        between=counts["between"],
        product=counts["product"],
        below=below,
    )
    if not any(counts.values()):
        sentence = say("No soap was titrated yet: what passes the columns is not known.")
    if bounded:
        sentence += say(
            " In the table alone: {result} known only by bounds.", result=count(bounded, "result", "results")
        )
    shows = [
        Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
        Show("date", say("Date"), plain("date")),
    ]
    shows += [
        Show(
            f"soap_{point}_mg_per_kg",
            say(label).capitalize(),
            _soap_at(point),
            "mg/kg",
        )
        for point, label in POINTS.items()
    ]
    return Chart(
        "soap",
        say("Soap through the columns"),
        sentence,
        "soap_points",
        tuple(values),
        table_view(BATCHES, "soap-table", say("Soap by batch"), recent, shows),
    )


def _soap_at(point: str) -> Callable[[Row], str]:
    return lambda row: soap_text(row, point)


def property_chart(name: str, tests: Sequence[Row]) -> Chart | None:
    """One property through time with the limit that held for each batch; None where it was never tested."""
    rows = [row for row in tests if row["property"] == name and row["value"] is not None][-CHARTED:]
    if not rows:
        return None
    values = tuple(
        {
            "date": row["date"],
            "batch": row["subject"],
            "value": row["value"],
            "mark": say(_mark(row)),
            "low": row["limit_low"],
            "high": row["limit_high"],
        }
        for row in rows
    )
    laboratory = [row for row in rows if row["laboratory"] == "yes"]
    sentence = say(
        "{result} of {name}, {laboratory} by a laboratory{against}.",
        result=count(len(rows), "result", "results"),
        name=say(name),
        laboratory=len(laboratory),
        against=_against(laboratory, rows[-1]),
    )
    params = {
        "property": name,
        "unit": rows[0]["unit"],
        "marks": [say(mark) for mark in RESULTS if any(_mark(row) == mark for row in rows)],
        "low": rows[-1]["limit_low"],
        "high": rows[-1]["limit_high"],
        **limit_names(rows[-1]["edition"] if rows[-1]["limit"] else ""),
    }
    id_ = name.replace(" ", "-")
    view = results_table(f"{id_}-table", say("Results of {name}", name=say(name)), rows)
    return Chart(id_, capital(say(name)), sentence, "property_limit", values, view, params)


def _mark(row: Row) -> str:
    """What a result is: a bound, or who found it."""
    bench, laboratory, less, more = RESULTS
    if row["qualifier"]:
        return less if row["qualifier"] == "<" else more
    return laboratory if row["laboratory"] == "yes" else bench


def _against(laboratory: Sequence[Row], last: Row) -> str:
    """How the laboratory's results lie to their limits; the bench is only named."""
    if not last["limit"]:
        return ""
    told = [f"{sum(row['verdict'] == word for row in laboratory)} {say(word)}" for word in VERDICTS]
    return (
        say(
            ": {told}, against the limit of its day ({limit} now)",
            told=listed(told),
            limit=said(last["limit"]),
        )
        if laboratory
        else say("; the limit is {limit}", limit=said(last["limit"]))
    )
