"""No tank holds more than its shell or less than nothing, and no dip lies outside it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from generator.ledger.ledgers import Ledgers
from generator.ledger.spoken import lengths, volume
from generator.ledger.tanks import TankBook
from generator.log import Log
from generator.problems import Place, Problem

MARGIN = Decimal("0.02")


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Walk every tank's movements."""
    log = ledgers.log
    for name, book in ledgers.tanks.items():
        entry = log.tanks[name]
        yield from _contents(log, book)
        outside = []
        for number, event in enumerate(entry.record.history):
            if event.dip is not None and not book.shell.holds(event.dip.value):
                outside.append(entry.at("history", number, "dip"))
                yield Problem(
                    "dip-outside",
                    outside[-1],
                    f"a dip of {event.dip.text} lies outside the tank, which is known from {lengths(*book.shell.known_cm, event.dip.unit)}",
                    "check the unit and the shape; beyond the ends of a table of dips nothing is known",
                    (entry.at("shape"),),
                )
        yield from _dips(log, book, outside)
        outlet = entry.record.outlet
        if outlet is not None and not book.shell.holds(outlet.value):
            yield Problem(
                "dip-outside",
                entry.at("outlet"),
                f"an outlet at {outlet.text} lies outside the tank, which is known from {lengths(*book.shell.known_cm, outlet.unit)}",
                "write its height above the lowest point",
                (entry.at("shape"),),
            )


def _contents(log: Log, book: TankBook) -> Iterator[Problem]:
    slack = book.capacity * MARGIN
    for move in book.movements:
        if move.event == "fill" and move.content > book.capacity:
            by = f" by batch {move.batch}" if move.batch else ""
            yield Problem(
                "tank-overfilled",
                move.place,
                f"{book.tank} is filled{by} to {volume(log, move.content)}, and its shell holds {volume(log, book.capacity)}",
                "check the volume and the tank; a draw may not be written",
            )
            return
        if move.event == "draw" and move.content < -slack:
            yield Problem(
                "tank-overdrawn",
                move.place,
                f"{book.tank} is drawn {volume(log, -move.content)} below empty",
                "check the volume and the tank; a fill may not be written",
            )
            return


def _dips(log: Log, book: TankBook, outside: list[Place]) -> Iterator[Problem]:
    for move in book.movements:
        if move.dipped is None or move.place in outside:
            continue
        if move.difference is not None and abs(move.difference) > book.capacity * Decimal("0.05"):
            yield Problem(
                "dip-differs",
                move.place,
                f"the dip says {volume(log, move.dipped)}, the book {volume(log, move.dipped - move.difference)}",
                "the dip holds from here; look for a fill or a draw that was not written"
                if move.settles
                else "look for a fill or a draw that was not written, or read the dip again; 'settle: true' beside the dip sets the book to it",
            )
