"""Why a litre cost more or less than before: the parts of the difference as a sentence, a chart and a table."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.language import said, say, term
from generator.pages.parts import Row, Show, table_view
from generator.pages.view import Chart
from generator.pages.words import Shown, count, listed, number, shown_change
from generator.tables import BRIDGE

TITLES = {"last": term("Why it moved: the last batches"), "year": term("Why it moved: the year")}
TOLD, LEAST_SHARE = 2, 0.5  # parts named in a sentence, and how much of the first one a further one has to be
# what chance alone makes more often than that is not told as a change; common practice, no source
CHANCE = 0.05
SHOWN = 0.0005  # less than half a thousandth of a litre's price is no bar


def scattered(rows: Sequence[Row]) -> bool:
    """Whether batches scatter as much by themselves as the two periods lie apart, or no test could be made of it."""
    chance = rows[0]["by_chance"]
    return chance is None or chance >= CHANCE


def change_told(rows: Sequence[Row], view: Shown) -> str:
    """What may be said of the last batches against those before, as the rest of a sentence."""
    if not rows:
        return say("; there are too few before them to compare")
    if scattered(rows):
        return say(
            "; no change from {period} can be told from the scatter of the batches",
            period=_period(rows[0], "before"),
        )
    return f", {moved(rows, view)}"


def moved(rows: Sequence[Row], view: Shown) -> str:
    """How far the cost moved and what explains most of it."""
    change = sum(row["change_per_l"] for row in rows)
    before = _period(rows[0], "before")
    way = term("{change} more than in {before}") if change > 0 else term("{change} less than in {before}")
    text = say(way, change=view.per_volume(abs(change), 2), before=before)
    same = sorted((row for row in rows if row["change_per_l"] * change > 0), key=_size)
    told = [row for row in same[:TOLD] if _size(row) <= LEAST_SHARE * _size(same[0])]
    if not told:
        return text
    parts = listed(
        [
            say(
                "{change} by {part}",
                change=view.per_volume(abs(row["change_per_l"]), 2),
                part=said(row["part"]),
            )
            for row in told
        ]
    )
    against = [row for row in sorted(rows, key=_size)[:TOLD] if row["change_per_l"] * change < 0]
    other = (
        say(
            ", against {change} the other way by {part}",
            change=view.per_volume(abs(against[0]["change_per_l"]), 2),
            part=said(against[0]["part"]),
        )
        if against
        else ""
    )
    return f"{text}: {parts}{other}"


def _size(row: Row) -> float:
    """The largest first."""
    return -abs(float(row["change_per_l"]))


def chart(rows: Sequence[Row], view: Shown) -> Chart | None:
    """The way from one cost to the other, part by part; the largest first."""
    if not rows:
        return None
    first, ordered = rows[0], sorted(rows, key=_size)
    name = first["bridge"]
    steps: list[dict[str, Any]] = [_total(_period(first, "before"), first["before_per_l"], view)]
    at = first["before_per_l"]
    for row in ordered:
        start, at = at, at + row["change_per_l"]
        if abs(row["change_per_l"]) < SHOWN:
            continue
        steps.append(
            {
                "step": said(row["part"]),
                "start": view.per_volume_number(start),
                "end": view.per_volume_number(at),
                "way": say("more") if row["change_per_l"] > 0 else say("less"),
                "told": shown_change(view.per_volume_number(row["change_per_l"]), 3),
            }
        )
    steps.append(_total(_period(first, "after"), first["after_per_l"], view))
    table = table_view(
        BRIDGE,
        f"bridge-{name}-table",
        say("{title}, by part", title=say(TITLES[name])),
        ordered,
        [
            Show("part", say("Part"), lambda row: said(row["part"])),
            Show(
                "change_per_l",
                say("Change"),
                lambda row: shown_change(view.per_volume_number(row["change_per_l"]), 3),
                view.per_unit,
            ),
        ],
    )
    sentence = say(
        "With media, {batch} from {after_from} to {after_until} cost {moved}.",
        batch=count(first["after_batches"], "batch", "batches"),
        after_from=first["after_from"],
        after_until=first["after_until"],
        moved=moved(rows, view),
    )
    if scattered(rows):
        sentence += say(" Batches scatter as much by themselves, so no change can be told from it.")
    left_out = sum(abs(row["change_per_l"]) < SHOWN for row in rows)
    if left_out:
        sentence += say(
            " {part} of less than {shown} moved nothing to speak of.",
            part=count(left_out, "part", "parts"),
            shown=number(SHOWN, 4),
        )
    params = {"currency": view.per_unit}
    return Chart(f"bridge-{name}", say(TITLES[name]), sentence, "cost_bridge", tuple(steps), table, params)


def _period(row: Row, side: str) -> str:
    if row["bridge"] == "year":
        return str(row[f"{side}_from"][:4])
    return say("the ten before") if side == "before" else say("the last ten")


def _total(step: str, per_l: float, view: Shown) -> dict[str, Any]:
    value = view.per_volume_number(per_l)
    return {"step": step, "start": None, "end": value, "way": None, "told": number(value, 3)}
