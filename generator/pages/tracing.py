"""Tracing: of which batches and oils each lot of a tank is, where an oil went, and totals by place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from generator.charts.flow import Flow, flow
from generator.compute.results import Results
from generator.language import said, say, term
from generator.ledger.blends import EARLIER, ELSEWHERE, UNWRITTEN
from generator.ledger.rolling import ALONE
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    figures,
    grouped,
    lot_link,
    newest,
    plain,
    table_view,
    tank_link,
    volumes,
)
from generator.pages.places import placed
from generator.pages.view import Figure, Page, TableView
from generator.pages.words import Shown, count, listed, number, shown, unknown
from generator.tables import BLENDS, ROLLING, TANK_LOTS, TRACES

LEAST_PCT = 1  # of a part that has a line of its own
SMALL = term("smaller parts")


def page(results: Results) -> Page:
    """The page of tracing."""
    view = shown(results)
    lots, parts, traces = results.rows("tank_lots"), results.passing("blends"), results.passing("traces")
    of_lot = grouped(parts, "tank_lot")
    oils = grouped(results.rows("flows"), "tank")
    batches = {row["batch"] for row in results.rows("batches")}
    return placed(
        "tracing",
        finding=finding(lots, traces),
        content={
            "figures": {name: _now(rows[-1], of_lot, view) for name, rows in grouped(lots, "tank").items()},
            "flows": {
                say("Into {name} and out of it", name=name): _flow(rows[-1], of_lot, oils.get(name, []), view)
                for name, rows in grouped(lots, "tank").items()
            },
            "tables": [
                _lots(lots, view),
                _parts(parts, batches, view),
                _traces(traces, view),
                _rolling(results.rows("rolling"), view),
            ],
            "intro": say(
                "Each fill makes a new lot of a tank. It counts as mixed through, so a draw takes of every part its share; the first litres of a batch were those that stood in the columns. Filter by an oil lot to see every lot of a tank that holds any of it, and who drew from it; by a lot of a tank to see what it is made of."
            ),
            "cautions": [
                say(
                    "The totals of twelve months are sums of what is written and no verdict. Which line holds, for whom and what counts is for the tax, environmental and fire authorities named by your local law; ask them."
                )
            ],
        },
    )


def finding(lots: Sequence[Row], traces: Sequence[Row]) -> str:
    """How much can be traced."""
    if not lots:
        return say("No fuel was pumped into a tank yet.")
    oils = len({row["oil_lot"] for row in traces})
    tanks = len({row["tank"] for row in lots})
    return say(
        "{lot} of {tank}, with fuel of {lot_2}.",
        lot=count(len(lots), "lot", "lots"),
        tank=count(tanks, "tank", "tanks"),
        lot_2=count(oils, "oil lot", "oil lots"),
    )


def _now(lot: Row, parts: Mapping[str, Sequence[Row]], view: Shown) -> list[Figure]:
    own = parts.get(lot["tank_lot"], [])
    told = [
        f"{said_part(row['part'])} {number(row['share_pct'])} %"
        for row in own
        if row["share_pct"] >= LEAST_PCT
    ]
    return [
        Figure(say("Lot"), lot["tank_lot"], say("since the fill by {by}", by=lot["by"])),
        Figure(say("Left of it"), view.volume(lot["left_l"]), say("by the book, {basis}", basis=view.basis)),
        Figure(say("Parts"), listed(told) or unknown(), say("shares of 1 % and more")),
        Figure(say("Cloud point"), *_cloud(lot, view), "blend-cloud-point"),
    ]


def _flow(lot: Row, parts: Mapping[str, Sequence[Row]], oils: Sequence[Row], view: Shown) -> Flow:
    """Oil lots, the batches made of them, the lot of the tank, and what became of it; small parts together."""
    own = parts.get(lot["tank_lot"], [])
    named = {row["part"] for row in own if row["share_pct"] >= LEAST_PCT}
    into: dict[str, float] = {}
    for row in own:
        name = row["part"] if row["part"] in named else SMALL
        into[name] = into.get(name, 0.0) + row["volume_l"]
    brought: dict[tuple[str, str], float] = {}
    for row in oils:
        if row["batch"] in named:
            pair = (row["oil_lot"], row["batch"])
            brought[pair] = brought.get(pair, 0.0) + row["volume_l"]
    lots = dict.fromkeys(oil for oil, _ in brought)
    out = {name: lot[f"{name}_l"] for name in (term("drawn"), term("left")) if lot[f"{name}_l"]}
    columns = [
        {f"oil {oil}": str(oil) for oil in lots},
        {f"part {name}": f"{said_part(name)}, {view.volume(litres)}" for name, litres in into.items()},
        {"tank": str(lot["tank_lot"])},
        {f"out {name}": f"{say(name)}, {view.volume(litres)}" for name, litres in out.items()},
    ]
    amounts = {
        **{(f"oil {oil}", f"part {name}"): litres for (oil, name), litres in brought.items()},
        **{(f"part {name}", "tank"): litres for name, litres in into.items()},
        **{("tank", f"out {name}"): litres for name, litres in out.items()},
    }
    told = say(
        "From left to right: {lot}, {batch} of them with 1 % or more of it, {tank_lot} with {content}, and what was drawn and is left of it. As high as the litres; the tables say the same.",
        lot=count(len(lots), "oil lot", "oil lots"),
        batch=count(len(named), "batch", "batches"),
        tank_lot=lot["tank_lot"],
        content=view.volume(lot["content_l"]),
    )
    return flow(columns, amounts, told)


def said_part(name: str) -> str:
    """A batch by its name; what is no batch in the words of the program."""
    return say(name) if name in (SMALL, EARLIER, ELSEWHERE, UNWRITTEN) else name


def _cloud(lot: Row, view: Shown) -> tuple[str, str]:
    """The estimate with the span of its parts, or why there is none."""
    if lot["cloud_point_c"] is None:
        return unknown(), say("measured of {cloud_known} % of it", cloud_known=number(lot["cloud_known_pct"]))
    low, high = number(view.temperature_number(lot["cloud_low_c"])), view.temperature(lot["cloud_high_c"])
    span = say("{low} to {high} in its parts", low=low, high=high)
    return say("about {degrees}", degrees=view.temperature(lot["cloud_point_c"])), say(
        "estimate; {span}", span=span
    )


def _lots(rows: Sequence[Row], view: Shown) -> TableView:
    caption, ordered = newest(say("Lots of the tanks"), rows, "data/tank_lots.csv")
    unit = view.display["volume"]
    return table_view(
        TANK_LOTS,
        "tank-lots",
        caption,
        ordered,
        [
            Show("tank_lot", say("Tank lot"), plain("tank_lot")),
            Show("filled", say("Filled"), plain("filled")),
            Show("by", say("Filled by"), lambda row: said_part(row["by"])),
            Show("before_l", say("In it before"), volumes(view, "before_l"), unit),
            Show("content_l", say("Content"), volumes(view, "content_l"), unit),
            Show("drawn_l", say("Drawn"), volumes(view, "drawn_l"), unit),
            Show(
                "cloud_point_c",
                say("Cloud point, about"),
                lambda row: number(view.temperature_number(row["cloud_point_c"])),
                view.display["temperature"],
            ),
        ],
        filterable=True,
    )


def _parts(rows: Sequence[Row], batches: set[str], view: Shown) -> TableView:
    caption, ordered = newest(say("Batches in each lot of a tank"), rows, "data/blends.csv")
    return table_view(
        BLENDS,
        "blends",
        caption,
        ordered,
        [
            Show("tank_lot", say("Tank lot"), plain("tank_lot")),
            Show("tank", say("Tank"), plain("tank"), href=lambda row: tank_link(row["tank"])),
            Show(
                "part",
                say("Part"),
                lambda row: said_part(row["part"]),
                href=lambda row: batch_link(row["part"]) if row["part"] in batches else "",
            ),
            Show("volume_l", say("Amount"), volumes(view, "volume_l"), view.display["volume"]),
            Show("share_pct", say("Share"), figures("share_pct", 1), "%"),
        ],
        filterable=True,
    )


def _traces(rows: Sequence[Row], view: Shown) -> TableView:
    caption, ordered = newest(say("Oil in each lot of a tank, and who drew from it"), rows, "data/traces.csv")
    if early := earlier(rows[: len(rows) - len(ordered)]):
        caption = say("{caption}; below them one line for each oil in earlier lots of tanks", caption=caption)
    unit = view.display["volume"]
    return table_view(
        TRACES,
        "traces",
        caption,
        [*ordered, *early],
        [
            Show("oil_lot", say("Oil lot"), plain("oil_lot"), href=lambda row: lot_link(row["oil_lot"])),
            Show("batches", say("Through batches"), plain("batches")),
            Show("tank_lot", say("Tank lot"), plain("tank_lot")),
            Show("share_pct", say("Share"), figures("share_pct", 1), "%"),
            Show("volume_l", say("Fuel of it"), volumes(view, "volume_l", 1), unit),
            Show("drawn_l", say("Drawn of that"), volumes(view, "drawn_l", 1), unit),
            Show("to", say("To"), plain("to")),
        ],
        filterable=True,
    )


def earlier(rows: Sequence[Row]) -> list[Row]:
    """One row for each oil lot of these: its batches, in how many lots of tanks, what was drawn and by whom.

    Its share and its fuel stay unknown: the same fuel stands in one lot of a tank after another.
    """
    out: list[Row] = []
    for lot, found in grouped(rows, "oil_lot").items():
        spoken_for = count(len(found), "lot of tanks", "lots of tanks")
        told = say("{lots} until {day}", lots=spoken_for, day=max(row["filled"] for row in found))
        drawn = [row["drawn_l"] for row in found]
        out.append(
            {
                **found[-1],
                "oil_lot": lot,
                "batches": _every(row["batches"] for row in found),
                "tank_lot": told,
                "share_pct": None,
                "volume_l": None,
                "drawn_l": None if None in drawn else sum(drawn),
                "to": _every(row["to"] for row in found),
            }
        )
    return out[::-1]


def _every(texts: Iterable[str | None]) -> str | None:
    """Every name of several lists of names, once."""
    names = dict.fromkeys(name for text in texts if text for name in text.split(", "))
    return ", ".join(names) or None


def _rolling(rows: Sequence[Row], view: Shown) -> TableView:
    caption, ordered = newest(say("Twelve months up to each month's end"), rows, "data/rolling.csv")
    unit = view.display["volume"]
    return table_view(
        ROLLING,
        "rolling",
        caption,
        ordered,
        [
            Show(
                "premises",
                say("Place"),
                lambda row: said(row["premises"]) if row["premises"] == ALONE else str(row["premises"]),
            ),
            Show("month", say("Month"), plain("month")),
            Show("made_l", say("Made"), volumes(view, "made_l"), unit),
            Show("not_known", say("Batches without a volume"), figures("not_known")),
            Show("drawn_l", say("Drawn"), volumes(view, "drawn_l"), unit),
        ],
    )
