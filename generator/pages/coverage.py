"""Coverage: what was tested, what is due, how old stored fuel is, how bench and laboratory agree."""

from __future__ import annotations

from generator.compute.results import Results
from generator.language import said, say
from generator.pages.parts import Row, Show, batch_link, figures, plain, table_view, tank_link, worded
from generator.pages.view import TableView
from generator.pages.words import limit_shown, number, shown, significant, with_unit
from generator.tables import AGREEMENT, COVERAGE, DUE, STORED


def coverage(results: Results) -> TableView:
    """Which property was tested in what share of the batches; those never tested are listed too."""
    rows = results.rows("coverage")
    own = any(row["own_limit"] for row in rows)
    return table_view(
        COVERAGE,
        "coverage",
        say("What was tested, in how many batches"),
        rows,
        [
            Show("property", say("Property"), worded("property")),
            Show("limit", say("Limit"), lambda row: limit_shown(row["limit"])),
            *(
                [Show("own_limit", say("Our own limit"), lambda row: limit_shown(row["own_limit"]))]
                if own
                else []
            ),
            Show("laboratory_pct", say("By a laboratory"), lambda row: _share(row, "laboratory")),
            Show("last_laboratory", say("Last"), lambda row: row["last_laboratory"] or say("never")),
            Show("since_laboratory", say("Batches since"), _since),
            Show("bench_pct", say("On the bench"), lambda row: _share(row, "bench")),
            Show("last_bench", say("Last"), lambda row: row["last_bench"] or say("never")),
        ],
    )


def _share(row: Row, key: str) -> str:
    return f"{with_unit(row[f'{key}_pct'], '%')} ({row[key]})" if row[key] else say("not tested")


def _since(row: Row) -> str:
    return number(row["since_laboratory"]) if row["since_laboratory"] is not None else say("all")


def due(results: Results) -> TableView:
    """What the rhythm of the logbook asks for; what is due comes first."""
    rows = sorted(results.rows("due"), key=lambda row: row["due"] is None)
    return table_view(
        DUE,
        "due",
        say("Tests by the rhythm of the logbook, what is due first"),
        rows,
        [
            Show("property", say("Property"), worded("property")),
            Show("rule", say("Asked for"), worded("rule")),
            Show("due", say("Due"), lambda row: said(row["due"] or "no")),
            Show("last", say("Last batch"), _last, href=lambda row: batch_link(row["last"])),
            Show("last_day", say("On"), plain("last_day")),
            Show(
                "done",
                say("Done"),
                lambda row: say("{done} of {asked}", done=row["done"], asked=row["asked"]),
            ),
        ],
    )


def _last(row: Row) -> str:
    return row["last"] or say("never")


def stored(results: Results) -> TableView:
    """How old the fuel in the tanks is, and what was tested of it since."""
    view = shown(results)
    return table_view(
        STORED,
        "stored",
        say("Fuel in tanks by age, counted first in, first out: a tank mixes, so some is older"),
        sorted(results.rows("stored"), key=lambda row: -row["age_days"]),
        [
            Show("tank", say("Tank"), plain("tank"), href=lambda row: tank_link(row["tank"])),
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("filled", say("Filled in"), plain("filled")),
            Show("age_days", say("Age"), figures("age_days"), "d"),
            Show("volume_l", say("Left"), lambda row: view.volume(row["volume_l"])),
            Show("acid_value", say("Last acid value"), plain("acid_value")),
            Show("acid_day", say("On"), plain("acid_day")),
            Show("stability", say("Oxidation stability"), plain("stability")),
            Show("retests", say("Results since"), figures("retests")),
        ],
    )


def agreement(results: Results) -> TableView:
    """How the bench lies to the laboratory on the same batches."""
    return table_view(
        AGREEMENT,
        "agreement",
        say("Bench less laboratory, on the same batch"),
        results.rows("agreement"),
        [
            Show("property", say("Property"), worded("property")),
            Show("pairs", say("Pairs"), figures("pairs")),
            Show("median", say("Middle difference"), lambda row: _signed(row["median"], row["unit"])),
            Show("low", say("It lies between, 95 %"), _ends),
            Show("least", say("Smallest"), lambda row: _signed(row["least"])),
            Show("most", say("Largest"), lambda row: _signed(row["most"])),
            Show("above", say("Bench above; below"), lambda row: f"{row['above']}; {row['below']}"),
            Show("by_chance", say("By chance"), lambda row: significant(row["by_chance"], "", 2)),
            Show(
                "bounds",
                say("Of bounds, contradicted"),
                lambda row: say(
                    "{contradicted} of {bounds}", contradicted=row["contradicted"], bounds=row["bounds"]
                ),
            ),
        ],
    )


def _signed(value: float | None, unit: str = "") -> str:
    text = significant(value, unit, 2)
    return f"+{text}" if value is not None and value > 0 else text


def _ends(row: Row) -> str:
    if row["low"] is None:
        return say("not known under six pairs")
    return say("{first} to {last}", first=_signed(row["low"]), last=_signed(row["high"]))
