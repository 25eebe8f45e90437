"""No tank holds more than its shell or less than nothing, and no dip lies outside it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from generator.ledger.ledgers import Ledgers
from generator.ledger.tanks import TankBook
from generator.problems import Place, Problem

MARGIN = Decimal("0.02")


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Walk every tank's movements."""
    log = ledgers.log
    for name, book in ledgers.tanks.items():
        entry = log.tanks[name]
        yield from _contents(book)
        outside = []
        for number, event in enumerate(entry.record.history):
            if event.dip is not None and not book.shell.holds(event.dip.value):
                outside.append(entry.at("history", number, "dip"))
                yield Problem(
                    "dip-outside",
                    outside[-1],
                    f"a dip of {event.dip.text} lies outside the tank, which is known from {book.shell.lowest_cm:g} to {book.shell.highest_cm:g} cm",
                    "check the unit and the shape; beyond the ends of a table of dips nothing is known",
                    (entry.at("shape"),),
                )
        yield from _dips(book, outside)
        outlet = entry.record.outlet
        if outlet is not None and not book.shell.holds(outlet.value):
            yield Problem(
                "dip-outside",
                entry.at("outlet"),
                f"an outlet at {outlet.text} lies outside the tank, which is known from {book.shell.lowest_cm:g} to {book.shell.highest_cm:g} cm",
                "write its height above the lowest point",
                (entry.at("shape"),),
            )


def _contents(book: TankBook) -> Iterator[Problem]:
    slack = book.capacity * MARGIN
    for move in book.movements:
        if move.event == "fill" and move.content > book.capacity:
            by = f" by batch {move.batch}" if move.batch else ""
            yield Problem(
                "tank-overfilled",
                move.place,
                f"{book.tank} is filled{by} to {move.content:.0f} L, and its shell holds {book.capacity:.0f} L",
                "check the volume and the tank; a draw may not be written",
            )
            return
        if move.event == "draw" and move.content < -slack:
            yield Problem(
                "tank-overdrawn",
                move.place,
                f"{book.tank} is drawn {-move.content:.0f} L below empty",
                "check the volume and the tank; a fill may not be written",
            )
            return


def _dips(book: TankBook, outside: list[Place]) -> Iterator[Problem]:
    for move in book.movements:
        if move.dipped is None or move.place in outside:
            continue
        if move.difference is not None and abs(move.difference) > book.capacity * Decimal("0.05"):
            yield Problem(
                "dip-differs",
                move.place,
                f"the dip says {move.dipped:.0f} L, the book {move.dipped - move.difference:.0f} L",
                "look for a fill or a draw that was not written, or read the dip again; 'settle: true' beside the dip sets the book to it",
            )
