"""Tanks: what is in each, by the book and by the dip."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.results import Results
from generator.language import said, say, term
from generator.pages.batches import CHARTED
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    figures,
    grouped,
    newest,
    plain,
    table_view,
    tank_link,
    trace_link,
    volumes,
    worded,
)
from generator.pages.places import placed
from generator.pages.view import Chart, Figure, Page, TableView
from generator.pages.words import Shown, count, listed, shown
from generator.tables import DIPS, TANKS


def page(results: Results) -> Page:
    """The page of tanks."""
    rows, view = results.rows("tanks"), shown(results)
    names = list(dict.fromkeys(row["tank"] for row in rows))
    by_tank: dict[str, list[Row]] = {name: [row for row in rows if row["tank"] == name] for name in names}
    oils, dips = grouped(results.passing("traces"), "tank"), grouped(results.rows("dips"), "tank")
    return placed(
        "tanks",
        finding=finding(by_tank, view),
        content={
            "figures": {
                view.tank(name): [*_figures(moves, view, oils.get(name, [])), _shape(dips[name])]
                for name, moves in by_tank.items()
            },
            "anchors": {view.tank(name): f"tank-{name}" for name in by_tank},
            "charts": [_chart(rows, view)] if rows else [],
            "tables": [_table(rows, view), _dips(results.rows("dips"), view)],
            "intro": say(
                "A tank is a new lot each time a batch is pumped in. Contents are by the book: fills, minus draws; a dip stands beside them, and sets the book only where it says settle."
            ),
            "cautions": [
                say(
                    "Storage, transport and use of fuel are for the fire, tax and road authorities named by your local law; ask them."
                )
            ],
        },
    )


def finding(by_tank: dict[str, list[Row]], view: Shown) -> str:
    """What each tank holds."""
    if not by_tank:
        return say("No tank has a history yet.")
    held = [
        say(
            "{name} holds {content} of {capacity}",
            name=name,
            content=view.volume(moves[-1]["content_l"]),
            capacity=view.volume(moves[-1]["capacity_l"]),
        )
        for name, moves in by_tank.items()
    ]
    apart = [text for name, moves in by_tank.items() if (text := _apart(name, moves, view))]
    return say("By the book, {held}{apart}.", held=listed(held), apart=f"; {listed(apart)}" if apart else "")


def set_the_book(dip: Row) -> bool:
    """Whether the book says what the dip does since, so that nothing is apart any more."""
    return bool(dip["content_l"] == dip["dipped_l"])


def last_dip(dip: Row, view: Shown) -> Figure:
    """What the last dip found, and how far that was from the book, or moved it."""
    away = dip["difference_l"]
    told = (
        term("on {date}, {difference} against the book")
        if not set_the_book(dip) or not away
        else term("on {date}; it set the book to it, {difference} higher")
        if away > 0
        else term("on {date}; it set the book to it, {difference} lower")
    )
    by = view.volume(abs(away) if set_the_book(dip) else away)
    dipped = view.volume(dip["dipped_l"], 0, dip["u_dipped_l"])
    return Figure(say("Last dip"), dipped, say(told, date=dip["date"], difference=by), "dip")


def _apart(name: str, moves: Sequence[Row], view: Shown) -> str:
    """How far the last dip lies from the book, where that is more than twice what the stick may be off."""
    last = next((row for row in reversed(moves) if row["event"] == "dip"), None)
    if last is None or last["difference_l"] is None or last["u_dipped_l"] is None or set_the_book(last):
        return ""
    away = last["difference_l"]
    if abs(away) <= 2 * last["u_dipped_l"]:
        return ""
    told = (
        term("the last dip of {name} says {away} more")
        if away > 0
        else term("the last dip of {name} says {away} less")
    )
    return say(told, name=name, away=view.volume(abs(away)))


def _figures(moves: Sequence[Row], view: Shown, oils: Sequence[Row]) -> list[Figure]:
    last, dips = moves[-1], [row for row in moves if row["event"] == "dip"]
    out = [
        Figure(say("Content"), view.volume(last["content_l"]), say("by the book, {basis}", basis=view.basis)),
        Figure(
            say("Room"),
            view.volume(last["capacity_l"] - last["content_l"]),
            say("to the brim of the shell; fill no tank to the brim"),
        ),
    ]
    if dips:
        out.append(last_dip(dips[-1], view))
    if last["heel_l"] is not None:
        out.append(
            Figure(say("Heel"), view.volume(last["heel_l"]), say("below the outlet, so it stays in"), "dip")
        )
    fills = [row["batch"] for row in moves if row["event"] == "fill" and row["batch"]]
    out.append(Figure(say("Last batches in it"), listed(fills[-3:]) or say("none")))
    if oils:
        lot = oils[-1]["tank_lot"]
        held = count(sum(row["tank_lot"] == lot for row in oils), "oil lot", "oil lots")
        out.append(Figure(say("Fuel of"), held, say("in {lot}", lot=lot), "tank-blend", href=trace_link(lot)))
    return out


def _shape(dips: Sequence[Row]) -> Figure:
    """The shape that a dip is read with; the dips themselves stand in a table below."""
    return Figure(
        say("Shape"),
        said(dips[0]["shape"]),
        say("inner measures as written; a dip counts from the lowest point inside"),
        "dip",
        href="#dips",
    )


def _dips(rows: Sequence[Row], view: Shown) -> TableView:
    """What each dip means, tank by tank; filtered by a tank it is a sheet to hang up beside it."""
    shows = [
        Show("tank", say("Tank"), plain("tank"), href=lambda row: tank_link(row["tank"])),
        Show("dip", say("Dip"), worded("dip")),
        Show("below_l", say("Below it"), volumes(view, "below_l"), view.display["volume"]),
        Show("share_pct", say("Of the shell"), figures("share_pct"), "%"),
    ]
    return table_view(DIPS, "dips", say("What a dip means"), rows, shows, filterable=True)


def _chart(rows: Sequence[Row], view: Shown) -> Chart:
    recent = list(rows)[-4 * CHARTED :]
    values = tuple(
        {
            "date": row["date"],
            "tank": row["tank"],
            "content_l": view.volume_number(row["content_l"]),
            "capacity_l": view.volume_number(row["capacity_l"]),
            "event": said(row["event"]),
            "dipped_l": view.volume_number(row["dipped_l"]),
        }
        for row in recent
    )
    dips = [abs(row["difference_l"]) for row in recent if row["difference_l"] is not None]
    told = (
        say(
            "of {dip} the one farthest off is {dips} from the book",
            dip=count(len(dips), "dip", "dips"),
            dips=view.volume(max(dips)),
        )
        if dips
        else say("no dip is written")
    )
    sentence = say("Content of each tank by the book, {basis}; {told}.", basis=view.basis, told=told)
    return Chart(
        "tank-content",
        say("Content"),
        sentence,
        "tank_content",
        values,
        _table(recent, view, "tank-chart-table"),
        {"unit": view.display["volume"]},
    )


def _table(rows: Sequence[Row], view: Shown, id_: str = "tank-events") -> TableView:
    caption, newest_first = newest(say("Fills, draws and dips"), rows, "data/tanks.csv")
    return table_view(
        TANKS,
        id_,
        caption,
        newest_first,
        [
            Show("date", say("Date"), plain("date")),
            Show("tank", say("Tank"), plain("tank"), href=lambda row: tank_link(row["tank"])),
            Show("event", say("Event"), worded("event")),
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show(
                "volume_l",
                say("Amount"),
                volumes(view, "volume_l"),
                view.display["volume"],
            ),
            Show(
                "content_l",
                say("Content"),
                volumes(view, "content_l"),
                view.display["volume"],
            ),
            Show(
                "dipped_l",
                say("Dip"),
                volumes(view, "dipped_l"),
                view.display["volume"],
            ),
            Show("to", say("To"), plain("to")),
            Show("use", say("Use"), plain("use")),
        ],
        filterable=id_ == "tank-events",
    )
