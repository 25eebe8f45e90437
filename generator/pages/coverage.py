"""Coverage: what was tested, what is due, how old stored fuel is, how bench and laboratory agree."""

from __future__ import annotations

from generator.compute.results import Results
from generator.pages.parts import Row, Show, batch_link, figures, plain, table_view, tank_link
from generator.pages.view import TableView
from generator.pages.words import number, shown, significant, with_unit
from generator.tables import AGREEMENT, COVERAGE, DUE, STORED


def coverage(results: Results) -> TableView:
    """Which property was tested in what share of the batches; those never tested are listed too."""
    return table_view(
        COVERAGE,
        "coverage",
        "What was tested, in how many batches",
        results.rows("coverage"),
        [
            Show("property", "Property", plain("property")),
            Show("limit", "Limit", lambda row: row["limit"] or "none"),
            Show("laboratory_pct", "By a laboratory", lambda row: _share(row, "laboratory")),
            Show("last_laboratory", "Last", lambda row: row["last_laboratory"] or "never"),
            Show("since_laboratory", "Batches since", _since),
            Show("bench_pct", "On the bench", lambda row: _share(row, "bench")),
            Show("last_bench", "Last", lambda row: row["last_bench"] or "never"),
        ],
    )


def _share(row: Row, key: str) -> str:
    return f"{with_unit(row[f'{key}_pct'], '%')} ({row[key]})" if row[key] else "not tested"


def _since(row: Row) -> str:
    return number(row["since_laboratory"]) if row["since_laboratory"] is not None else "all"


def due(results: Results) -> TableView:
    """What the rhythm of the logbook asks for; what is due comes first."""
    rows = sorted(results.rows("due"), key=lambda row: row["due"] is None)
    return table_view(
        DUE,
        "due",
        "Tests by the rhythm of the logbook, what is due first",
        rows,
        [
            Show("property", "Property", plain("property")),
            Show("rule", "Asked for", plain("rule")),
            Show("due", "Due", lambda row: row["due"] or "no"),
            Show("last", "Last batch", _last, href=lambda row: batch_link(row["last"])),
            Show("last_day", "On", plain("last_day")),
            Show("done", "Done", lambda row: f"{row['done']} of {row['asked']}"),
        ],
    )


def _last(row: Row) -> str:
    return row["last"] or "never"


def stored(results: Results) -> TableView:
    """How old the fuel in the tanks is, and what was tested of it since."""
    view = shown(results)
    return table_view(
        STORED,
        "stored",
        "Fuel in tanks by age, counted first in, first out: a tank mixes, so some is older",
        sorted(results.rows("stored"), key=lambda row: -row["age_days"]),
        [
            Show("tank", "Tank", plain("tank"), href=lambda row: tank_link(row["tank"])),
            Show("batch", "Batch", plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("filled", "Filled in", plain("filled")),
            Show("age_days", "Age", figures("age_days"), "d"),
            Show("volume_l", "Left", lambda row: view.volume(row["volume_l"])),
            Show("acid_value", "Last acid value", plain("acid_value")),
            Show("acid_day", "On", plain("acid_day")),
            Show("stability", "Oxidation stability", plain("stability")),
            Show("retests", "Results since", figures("retests")),
        ],
    )


def agreement(results: Results) -> TableView:
    """How the bench lies to the laboratory on the same batches."""
    return table_view(
        AGREEMENT,
        "agreement",
        "Bench less laboratory, on the same batch",
        results.rows("agreement"),
        [
            Show("property", "Property", plain("property")),
            Show("pairs", "Pairs", figures("pairs")),
            Show("median", "Middle difference", lambda row: _signed(row["median"], row["unit"])),
            Show("low", "It lies between, 95 %", _ends),
            Show("least", "Smallest", lambda row: _signed(row["least"])),
            Show("most", "Largest", lambda row: _signed(row["most"])),
            Show("above", "Bench above; below", lambda row: f"{row['above']}; {row['below']}"),
            Show("by_chance", "By chance", lambda row: significant(row["by_chance"], "", 2)),
            Show(
                "bounds", "Of bounds, contradicted", lambda row: f"{row['contradicted']} of {row['bounds']}"
            ),
        ],
    )


def _signed(value: float | None, unit: str = "") -> str:
    text = significant(value, unit, 2)
    return f"+{text}" if value is not None and value > 0 else text


def _ends(row: Row) -> str:
    if row["low"] is None:
        return "not known under six pairs"
    return f"{_signed(row['low'])} to {_signed(row['high'])}"
