"""One cell -> the text of a value, as it is written into a record: number with unit, day, word."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime, time
from decimal import Decimal

from generator.exchange.mapping import Fed, SheetMap
from generator.exchange.numbers import clock_of, day_of, number_in
from generator.exchange.sheet import Cell, short
from generator.mending import yes_or_no
from generator.properties import properties
from generator.read.text import odd_character
from generator.units import units
from generator.validate.answer import Fault

PARTS: Mapping[str, str] = {"blank": " ", "line": "\n"}
_ONLY_NUMBER = re.compile(r"(?:[<>] )?-?[0-9]+(?:\.[0-9]+)?", re.ASCII)
_SIGNS = {"EUR": "€", "GBP": "£"}  # a sign that stands for one currency; '$' is taken for any dollar


def is_unknown(cell: Cell, settings: SheetMap) -> bool:
    """Whether a cell says nothing: empty, or one of the signs for what is not known."""
    return cell.is_empty or (not cell.trouble and cell.text in settings.unknown)


def values_of(
    cell: Cell, fed: Fed, kinds: tuple[str, ...], settings: SheetMap, epoch: int | None
) -> list[str] | Fault:
    """The texts that a cell gives to the place it feeds: one, several where it is cut into parts, none where it is empty.

    `kinds` are the kinds of quantity that fit; none where the place takes a word or a text.
    """
    if is_unknown(cell, settings):
        return []
    if cell.trouble:
        return Fault(cell.trouble, "mend the cell")
    odd = odd_character(cell.text)
    if odd is not None:
        return Fault(f"{odd} stands in it", "type the text again")
    sign = fed.written.parts
    if sign is None or not isinstance(cell.value, str):
        found = _value(cell, fed, kinds, settings, epoch)
        return found if isinstance(found, Fault) else [found]
    out = []
    for part in re.split(f"[{re.escape(PARTS.get(sign, sign))}]", cell.value):
        if part.strip() and part.strip() not in settings.unknown:
            found = _value(Cell(part.strip()), fed, kinds, settings, epoch)
            if isinstance(found, Fault):
                return found
            out.append(found)
    return out


def kinds_at(fed_kinds: tuple[str, ...], test: str | None) -> tuple[str, ...]:
    """The kinds of quantity that a place takes; those of the property where it is the result of a test."""
    if test is None:
        return fed_kinds
    row = properties().get(test)
    return row.kinds if row is not None else ()


def _value(
    cell: Cell, fed: Fed, kinds: tuple[str, ...], settings: SheetMap, epoch: int | None
) -> str | Fault:
    place, unit = fed.place, fed.written.unit or ""
    if place.behind == "at":
        return _measured(cell, unit, ("temperature",), settings)
    if place.behind == "time":
        found = clock_of(cell.value)
        return found or Fault(f"'{short(cell.text)}' is no time of day", "write it like 09:10")
    if place.sort in ("date", "moment"):
        return _day(cell, place.sort, settings, epoch)
    if kinds or place.sort in ("price", "number"):
        return _measured(cell, unit, kinds, settings)
    if place.sort == "yes":
        return yes_or_no(cell.text) or Fault(f"'{short(cell.text)}' is neither yes nor no", "write yes or no")
    return cell.text


def _day(cell: Cell, sort: str, settings: SheetMap, epoch: int | None) -> str | Fault:
    day = day_of(cell.value, settings, epoch)
    if isinstance(day, Fault):
        return day
    has_time = isinstance(cell.value, datetime) and cell.value.time() != time()
    typed = isinstance(cell.value, str) and re.search(r"[ T][0-9]{1,2}:[0-9]{2}", cell.value) is not None
    clock = clock_of(cell.value) if sort == "moment" and (has_time or typed) else ""
    return f"{day}T{clock}" if clock else str(day)


def _measured(cell: Cell, unit: str, kinds: tuple[str, ...], settings: SheetMap) -> str | Fault:
    """A number with its unit: the one in the cell, else the column's."""
    if isinstance(cell.value, Decimal):
        text: str | Fault = _unsigned(cell.text, unit)
    elif isinstance(cell.value, time):
        text = f"{cell.value.hour * 60 + cell.value.minute} min"
    elif "duration" in kinds and re.fullmatch(r"[0-9]{1,3}:[0-5][0-9]", cell.text, re.ASCII):
        hours, minutes = cell.text.split(":")
        text = f"{int(hours) * 60 + int(minutes)} min"
    else:
        text = number_in(_unsigned(cell.text, unit), settings)
    if isinstance(text, Fault) or not _ONLY_NUMBER.fullmatch(text):
        return text
    if not unit and kinds:
        symbol = next(iter(units(kinds[0])), "")
        return Fault(
            f"'{text}' has no unit", f"write the column's unit into the map, such as 'unit: {symbol}'"
        )
    return f"{text} {unit}" if unit else text


def _unsigned(text: str, unit: str) -> str:
    """A price without the sign that stands for the column's own currency; any other text as it is."""
    if not re.match(r"[A-Z]{3}(?:/|$)", unit):
        return text
    return text.strip(_SIGNS.get(unit[:3], "$" if unit[2] == "D" else "") + " ")
