"""One batch as a story: figures in the margin, what was written, its run through the columns, its results."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.compute.results import Results, Written
from generator.pages.parts import Row, Show, batch_link, figure, figures, plain, table_view
from generator.pages.view import Entry, Figure, Page, TableView
from generator.pages.words import UNKNOWN, Shown, number, shown, significant, soap_text, with_unit
from generator.tables import BATCHES, COSTS, RUNS, TESTS

ROOT = "../"
# a run that leaves more than this share of its oil in the columns filled a fresh bed
FRESH_SHARE = 0.05


@dataclass(frozen=True, slots=True)
class Rows:
    """The rows of every table by batch, grouped once for all pages."""

    costs: Mapping[str, Row]
    runs: Mapping[str, list[Row]]
    tests: Mapping[str, list[Row]]


def pages(results: Results, problems: Mapping[str, list[str]]) -> Iterator[Page]:
    """The page of every batch; `problems` are the told warnings by batch, empty for the shared site."""
    rows = results.rows("batches")
    view = shown(results)
    grouped = Rows(
        {row["batch"]: row for row in results.rows("costs")},
        _by(results, "runs", "batch"),
        _by(results, "tests", "subject"),
    )
    for place, row in enumerate(rows):
        before = rows[place - 1]["batch"] if place else None
        behind = rows[place + 1]["batch"] if place + 1 < len(rows) else None
        yield _page(results, row, grouped, view, (before, behind), problems.get(row["batch"], []))


def _by(results: Results, table: str, key: str) -> dict[str, list[Row]]:
    out: dict[str, list[Row]] = {}
    for row in results.rows(table):
        out.setdefault(row[key], []).append(row)
    return out


def _page(
    results: Results, row: Row, rows: Rows, view: Shown, around: tuple[Any, Any], problems: list[str]
) -> Page:
    name = row["batch"]
    cost = rows.costs.get(name)
    groups = {"Oil and dose": _dose(row, view), "Yield": _yield(row, view), "Soap": _soap(row, view)}
    if cost is not None:
        groups["Cost"] = _cost(cost, view)
    runs, tests = rows.runs.get(name, []), rows.tests.get(name, [])
    return Page(
        path=batch_link(name),
        title=f"Batch {name}",
        template="batch.html",
        section="batches",
        finding=finding(row, cost, view),
        content={
            "figures": groups,
            "entries": [_entry(item, results.audience) for item in results.written.get(name, [])],
            "soap_bars": _soap_bars(row),
            "cost_bars": _cost_bars(cost, view) if cost is not None else [],
            "tables": [
                *([_runs(runs, view, results.audience)] if runs else []),
                *([_tests(tests)] if tests else []),
            ],
            "note": row["note"] or "",
            "public_note": row["public_note"] or "",
            "previous": _link(around[0]),
            "next": _link(around[1]),
            "problems": problems,
            "assumed": row["assumed_temperatures"] or "",
        },
    )


def finding(row: Row, cost: Row | None, view: Shown) -> str:
    """The batch in one sentence."""
    parts = [f"Made on {row['date']} from {view.volume(row['oil_l'])} of oil"]
    parts.append(f"{view.volume(row['fuel_l'])} of fuel" if row["fuel_l"] is not None else "not finished yet")
    if row["yield_volume_pct"] is not None:
        parts.append(f"{with_unit(row['yield_volume_pct'], '%', 1)} by volume")
    if row["heel_l"] is not None and row["oil_l"] is not None and row["heel_l"] > row["oil_l"] * FRESH_SHARE:
        parts.append(f"{view.volume(row['heel_l'])} held back by a fresh bed")
    if row["soap_product_detected"] is not None:
        parts.append(f"soap in the product {soap_text(row, 'product')}")
    if cost is not None and cost["with_media_per_l"] is not None:
        parts.append(f"{view.per_volume(cost['with_media_per_l'], 2)} with media")
    return f"{', '.join(parts)}."


def _link(batch: object) -> tuple[str, str] | None:
    return (str(batch), f"{batch}.html") if batch is not None else None


def _entry(item: Written, audience: str) -> Entry:
    href = ""
    if item.names and audience == "workshop":
        href = f"{ROOT}tanks.html" if item.section == "Fuel" else f"{ROOT}oil.html#lot-{item.names}"
    text = f"{item.text} ({item.names})" if item.names and item.names != item.text else item.text
    return Entry(item.section, item.label, text, href)


def _dose(row: Row, view: Shown) -> list[Figure]:
    named = row["catalyst_of"] or "catalyst"
    return [
        figure(
            BATCHES,
            row,
            "oil_kg",
            "Oil",
            f"{view.mass(row['oil_kg'])}, {view.volume(row['oil_l'])}",
            view.basis,
        ),
        figure(
            BATCHES,
            row,
            "acid_value_mg_koh_per_g",
            "Acid value",
            with_unit(row["acid_value_mg_koh_per_g"], "mg KOH/g", 2),
        ),
        figure(
            BATCHES, row, "ffa_pct", "Free fatty acid", with_unit(row["ffa_pct"], "%", 2), "as oleic acid"
        ),
        figure(
            BATCHES,
            row,
            "dose_neutralising_g",
            "Dose: to neutralise",
            view.weighed(row["dose_neutralising_g"]),
            f"{named} as weighed",
        ),
        figure(
            BATCHES,
            row,
            "dose_base_g",
            "Dose: base rate",
            view.weighed(row["dose_base_g"]),
            "the maker's own rule",
        ),
        figure(
            BATCHES, row, "catalyst_g", "Weighed, all stages", view.weighed(row["catalyst_g"]), _against(row)
        ),
        figure(
            BATCHES,
            row,
            "methanol_pct_v_v",
            "Methanol",
            with_unit(row["methanol_pct_v_v"], "% of the oil's volume", 1),
            _ratio(row),
        ),
    ]


def _against(row: Row) -> str:
    difference = row["dose_difference_pct"]
    return (
        f"first stage {difference:+.0f} % against the rule".replace("-", "\u2212")
        if difference is not None
        else ""
    )


def _ratio(row: Row) -> str:
    return (
        f"{number(row['methanol_molar_ratio'], 1)} mol per mol of oil"
        if row["methanol_molar_ratio"] is not None
        else ""
    )


def _yield(row: Row, view: Shown) -> list[Figure]:
    return [
        figure(BATCHES, row, "fuel_l", "Finished fuel", view.volume(row["fuel_l"]), view.basis),
        figure(
            BATCHES,
            row,
            "yield_volume_pct",
            "By volume of oil",
            with_unit(row["yield_volume_pct"], "%", 1),
            view.basis,
        ),
        figure(
            BATCHES,
            row,
            "yield_mass_pct",
            "By mass of oil",
            with_unit(row["yield_mass_pct"], "%", 1),
            "before the columns",
        ),
        figure(
            BATCHES,
            row,
            "yield_theory_pct",
            "Against theory",
            with_unit(row["yield_theory_pct"], "%", 1),
            f"ester in theory {view.mass(row['ester_theory_kg'])}",
        ),
        figure(
            BATCHES,
            row,
            "heel_l",
            "Left in the columns",
            view.volume(row["heel_l"], 1) if row["heel_l"] is not None else UNKNOWN,
            "below zero: released",
        ),
        figure(
            BATCHES,
            row,
            "closure_pct",
            "Mass closure",
            with_unit(row["closure_pct"], "%", 1),
            "mass out over mass in",
        ),
    ]


def _soap(row: Row, view: Shown) -> list[Figure]:
    labels = {"feed": "Feed", "between": "Between the columns", "product": "Product"}
    out = [
        figure(BATCHES, row, f"soap_{point}_mg_per_kg", label, soap_text(row, point))
        for point, label in labels.items()
    ]
    rise = with_unit(row["acid_rise_mg_koh_per_g"], "mg KOH/g", 3)
    basis = "soap the resin exchanged frees its acid"
    out.append(
        figure(BATCHES, row, "acid_rise_mg_koh_per_g", "Acid rise over the resin, at most", rise, basis)
    )
    return out


def _cost(cost: Row, view: Shown) -> list[Figure]:
    estimated = "an estimate while a bed is in service" if cost["media_estimated"] == "yes" else ""
    return [
        figure(
            COSTS,
            cost,
            "cash_per_l",
            "Cash",
            view.per_volume(cost["cash_per_l"]),
            "oil, methanol, catalyst, energy, other",
        ),
        figure(
            COSTS,
            cost,
            "with_media_per_l",
            "With media",
            view.per_volume(cost["with_media_per_l"]),
            estimated,
        ),
        figure(COSTS, cost, "with_labour_per_l", "With labour", view.per_volume(cost["with_labour_per_l"])),
        figure(
            COSTS,
            cost,
            "per_diesel_l",
            "Per litre of diesel equivalent",
            with_unit(cost["per_diesel_l"], f"{view.currency}/L", 3),
            "with media, by net heat",
        ),
    ]


def _soap_bars(row: Row) -> list[dict[str, Any]]:
    """Bars on a scale whose full length is the feed, or the largest of the three."""
    points = {"Feed": "feed", "Between": "between", "Product": "product"}
    known = [row[f"soap_{point}_mg_per_kg"] or 0.0 for point in points.values()]
    most = max(known)
    if most <= 0:
        return []
    return [
        {
            "label": label,
            "text": soap_text(row, point),
            "censored": row[f"soap_{point}_detected"] == "no",
            "share": round(100 * (row[f"soap_{point}_mg_per_kg"] or 0.0) / most, 1),
        }
        for label, point in points.items()
    ]


def _cost_bars(cost: Row, view: Shown) -> list[dict[str, Any]]:
    parts = ("oil", "methanol", "catalyst", "energy", "other", "media", "labour")
    known = {part: cost[f"{part}_per_l"] for part in parts}
    most = max((value for value in known.values() if value is not None), default=0.0)
    if most <= 0:
        return []
    return [
        {
            "label": part.capitalize(),
            "text": view.per_volume(value),
            "censored": False,
            "share": round(100 * (value or 0.0) / most, 1),
        }
        for part, value in known.items()
        if value is None or value > 0
    ]


def _charge_link(row: Row) -> str:
    return f"{ROOT}columns.html#charge-{row['charge']}"


def _runs(rows: Sequence[Row], view: Shown, audience: str) -> TableView:
    return table_view(
        RUNS,
        "runs",
        "Through the columns",
        rows,
        [
            Show("vessel", "Vessel", lambda row: f"{row['vessel']}, {row['position']}"),
            Show("charge", "Charge", plain("charge"), href=_charge_link),
            Show("bed_volumes_per_h", "Flow", figures("bed_volumes_per_h", 1), "bed volumes/h"),
            Show("contact_min", "Contact", figures("contact_min"), "min"),
            Show(
                "inlet_kpa",
                "Inlet, highest",
                lambda row: number(view.pressure_number(row["inlet_kpa"]), 2),
                view.display["pressure"],
            ),
            Show(
                "soap_high_g",
                "Soap taken up",
                lambda row: interval(row["soap_low_g"], row["soap_high_g"]),
                "g",
            ),
            Show(
                "load_share_pct",
                "Of capacity, after",
                lambda row: significant(row["load_share_pct"], "", 2),
                "%",
            ),
        ],
    )


def interval(low: float | None, high: float | None) -> str:
    """Two ends, or one number where they are the same when written."""
    if high is None:
        return UNKNOWN if low is None else f"{number(low)} or more"
    first, last = number(low), number(high)
    return last if first == last else f"{first} to {last}"


def _tests(rows: Sequence[Row]) -> TableView:
    return table_view(
        TESTS,
        "tests",
        "Results",
        rows,
        [
            Show(
                "property",
                "Property",
                lambda row: f"{row['property']}{', repeated' if row['repeat'] > 1 else ''}",
            ),
            Show("date", "Date", plain("date")),
            Show("value", "Result", plain("written")),
            Show("limit", "Limit", lambda row: row["limit"] or "none"),
            Show("verdict", "Against the limit", plain("verdict")),
            Show("method", "Method", plain("method")),
            Show("laboratory", "Where", lambda row: "laboratory" if row["laboratory"] == "yes" else "bench"),
        ],
    )
