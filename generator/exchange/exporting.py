"""Records -> the cells of a map's columns: the way back, and what a record says where a row is held against it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal, localcontext
from typing import Any, TypeAlias

from generator.exchange.finding import found
from generator.exchange.headings import cells_of_id, fields_of, is_id
from generator.exchange.mapping import MARKS, Fed, Map
from generator.exchange.places import ID_KEYS, Path, other_amount
from generator.exchange.rows import result_of
from generator.exchange.sheet import plain
from generator.exchange.values import PARTS, kinds_at
from generator.units import NotAQuantity, Quantity, price, quantity, units

Shown: TypeAlias = "str | Decimal | date | datetime | None"

_DIGITS = 15


def cells(mapping: Map, data: Mapping[str, Any], gallon: str) -> dict[str, Shown]:
    """What a record says in the columns of a map, by heading. `gallon` is what a bare gal means in the logbook."""
    records, rule = mapping.records, mapping.settings.id
    name = str(data.get(ID_KEYS[records], ""))
    out: dict[str, Shown] = {
        key: text for key, text in cells_of_id(rule, name).items() if key in fields_of(rule)
    }
    for fed in mapping.columns:
        if is_id(fed, records):
            out.setdefault(fed.heading, name)
        elif out.get(fed.heading) is None:
            out[fed.heading] = _cell(mapping, fed, data, gallon)
    return out


def headings(mapping: Map) -> list[str]:
    """The headings in the order of the sheet, where the map knows it, those among them that nothing feeds too; the others behind.

    Where it does not, those that only the id is made of come before those of the map.
    """
    own = [fed.heading for fed in mapping.columns]
    ids = [
        name
        for name in fields_of(mapping.settings.id)
        if name not in own and name not in ("year", "month", "day")
    ]
    return list(dict.fromkeys([*mapping.settings.order, *ids, *own]))


def _cell(mapping: Map, fed: Fed, data: Mapping[str, Any], gallon: str) -> Shown:
    if fed.place.path == ("note",):
        return noted(data, fed.heading) if fed.place.behind else _own_note(data, mapping)
    texts = found(data, fed.place.path, mapping)
    if texts:
        shown = [_shown(mapping, fed, data, text, gallon) for text in texts]
        return _together([each for each in shown if each is not None], fed, mapping)
    other = other_amount(fed.place.path)
    texts = found(data, other, mapping) if other and not fed.place.behind else []
    if texts:  # by mass, where the column counts volumes
        return "; ".join(texts).replace(".", MARKS[mapping.settings.decimal])
    return noted(data, fed.heading)


def _together(shown: Sequence[Shown], fed: Fed, mapping: Map) -> Shown:
    """One value as it is; several as a text, with the sign of the column between them, or a semicolon."""
    if not fed.place.is_list and len(shown) < 2:
        return next(iter(shown), None)
    parts = fed.written.parts or ";"
    sign = PARTS.get(parts, "; " if parts == ";" else f" {parts[0]} ")
    return sign.join(typed(each, mapping) for each in shown)


def typed(shown: Shown, mapping: Map) -> str:
    """A cell as text, with the decimal mark of the map."""
    if shown is None:
        return ""
    if isinstance(shown, Decimal):
        return plain(shown).replace(".", MARKS[mapping.settings.decimal])
    return f"{shown:%Y-%m-%d %H:%M}" if isinstance(shown, datetime) else str(shown)


def _shown(mapping: Map, fed: Fed, data: Mapping[str, Any], text: str, gallon: str) -> Shown:
    place, unit = fed.place, fed.written.unit or ""
    if place.behind == "at":
        at = text.partition(" at ")[2]
        return _number(at, unit, ("temperature",), mapping, gallon) if at else None
    if place.behind == "time":
        return text[11:16] or None
    if place.sort in ("date", "moment"):
        return _day(text, mapping, place.path)
    if place.sort == "yes":
        return {"true": "yes", "false": "no"}.get(text, text)
    always = {each.path: said for each, said in mapping.always}
    kinds = kinds_at(place.kinds, result_of(place, always))
    if place.sort == "price":
        return _price(text, unit, mapping, gallon)
    return _number(text, unit, kinds, mapping, gallon) if kinds or place.sort == "number" else text


def _day(text: str, mapping: Map, path: Path) -> Shown:
    apart = any(fed.place.path == path and fed.place.behind == "time" for fed in mapping.columns)
    try:
        return date.fromisoformat(text[:10]) if apart or len(text) == 10 else datetime.fromisoformat(text)
    except ValueError:
        return text


def _number(text: str, unit: str, kinds: tuple[str, ...], mapping: Map, gallon: str) -> Shown:
    """The number in the unit of the column; the text with its own unit where that cannot be."""
    if not kinds:
        return _decimal(text)
    try:
        found = quantity(text, kinds, gallon)
    except NotAQuantity:
        return text
    number = _in_unit(found, unit)
    if number is None:
        return text.partition(" at ")[0].replace(".", MARKS[mapping.settings.decimal])
    return f"{found.sign} {typed(number, mapping)}" if found.sign else number


def _in_unit(found: Quantity, symbol: str) -> Decimal | None:
    unit = units(found.kind).get(symbol)
    if unit is None or found.unit == unit:
        return found.number if unit is not None else None
    with localcontext() as context:
        context.prec = _DIGITS
        number = (found.exact - unit.offset) / unit.factor
        return number.normalize() if number else Decimal(0)


def _price(text: str, unit: str, mapping: Map, gallon: str) -> Shown:
    try:
        found = price(text, gallon)
    except NotAQuantity:
        return text
    same = text.partition(" ")[2].strip() == unit
    return found.amount if same else text.replace(".", MARKS[mapping.settings.decimal])


def _decimal(text: str) -> Shown:
    try:
        return Decimal(text)
    except ArithmeticError:
        return text


def noted(data: Mapping[str, Any], heading: str) -> str | None:
    """What a line of the note holds that begins with a heading."""
    for line in str(data.get("note", "")).split("\n"):
        if line.startswith(f"{heading}: "):
            return line[len(heading) + 2 :].strip()
    return None


def _own_note(data: Mapping[str, Any], mapping: Map) -> str | None:
    """The note without the lines that other columns gave it."""
    heads = tuple(f"{fed.heading}: " for fed in mapping.columns if fed.place.key != "note")
    lines = [line for line in str(data.get("note", "")).strip().split("\n") if not line.startswith(heads)]
    return "\n".join(lines).strip() or None
