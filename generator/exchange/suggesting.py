"""A sheet -> the text of a map for it: each guess with its reason and the first values, what is open as "?"."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.exchange import evidence
from generator.exchange.delimited import Form
from generator.exchange.evidence import Finding
from generator.exchange.guessing import Guess, guesses, needs, required
from generator.exchange.headings import headings_of
from generator.exchange.mapping import OPEN
from generator.exchange.places import ID_KEYS, MODELS, Place, place_of
from generator.exchange.sheet import Cell, NotASheetError, Sheet, short
from generator.exchange.spelling import is_unit
from generator.units import GALLON_OF
from generator.writing.scalars import flow, scalar

_LOOKED_AT = 15  # rows among which the headings are looked for


@dataclass(frozen=True, slots=True)
class Found:
    """Where the table stands in a sheet, what it lists, and what its columns are taken for."""

    records: str
    header: tuple[int, ...]
    first: int
    headings: list[str]
    guesses: list[Guess]

    @property
    def known(self) -> int:
        """How much is understood: two for a column with all it needs, one where something is open."""
        return sum(2 - (OPEN in (guess.key, guess.unit)) for guess in self.guesses if guess.key)


@dataclass(frozen=True, slots=True)
class Known:
    """What the logbook says: its currency, the ids that a map may name by the last words of a key, what a bare gallon is."""

    currency: str
    ids: Mapping[str, Sequence[str]]
    gallon: str = "none"


def found_in(sheet: Sheet, currency: str) -> Found:
    """The table that the most columns of can be understood; the first row with several texts where none can."""
    tries = [
        _tried(sheet, records, rows, currency)
        for row in range(1, min(_LOOKED_AT, len(sheet.rows)) + 1)
        for rows in _headers(sheet, row)
        for records in MODELS
        if sum(isinstance(cell.value, str) for cell in sheet.rows[row - 1]) > 1
        or len(sheet.rows[row - 1]) == 1
    ]
    best = max(tries, key=lambda found: (found.known, -found.header[-1], -len(found.header)), default=None)
    return best or _tried(sheet, "batches", (1,), currency)


def _headers(sheet: Sheet, row: int) -> Iterator[tuple[int, ...]]:
    yield (row,)
    if row > 1 and sum(isinstance(cell.value, str) for cell in sheet.rows[row - 2]) > 1:
        yield (row - 1, row)


def _tried(sheet: Sheet, records: str, rows: tuple[int, ...], currency: str) -> Found:
    headings = headings_of(sheet, rows)
    below = [sheet.cell(rows[-1] + 1, column).text for column in range(1, sheet.width + 1)]
    filled = [text for text in below if text]
    in_units = sum(is_unit(text, currency) for text in filled)
    has_units = 2 * in_units > len(filled) and not any(sign.isdigit() for text in filled for sign in text)
    given = [text.strip("()[] ") if has_units else "" for text in below]
    first = rows[-1] + (2 if has_units else 1)
    return Found(records, rows, first, headings, guesses(records, headings, given, currency))


def suggestion(name: str, sheet: Sheet, form: Form | None, known: Known, *, values: bool) -> str:
    """The text of a map; without the values of the cells where others may read it. Raises NotASheetError."""
    if not sheet.rows:
        raise NotASheetError("nothing stands in it", "give the file or sheet with the records")
    found = found_in(sheet, known.currency)
    found = replace(found, guesses=[_of_gallon(guess, known.gallon) for guess in found.guesses])
    cells = [evidence.column_of(sheet, number, found.first) for number in range(1, len(found.headings) + 1)]
    lines = [
        f"# What each column of {short(name, 60)} is, as far as it can be told. Read it through, change what is wrong, write",
        '# something where a "?" stands (or take the line away), then: esterday import FILE --map THIS-FILE',
        *(f"# {short(remark, 200)}" for remark in sheet.remarks),
        f"import: {found.records}  # or {'lots' if found.records == 'batches' else 'batches'}",
        *_form(sheet, form),
        *_table(sheet, found, cells),
        *_id(found, cells),
        f"order: {flow(found.headings)}  # as they stand in the sheet, for an export to it",
        "columns:",
        *_columns(found, cells, values),
        *_lacking(found),
        *_unplaced(found, cells, values),
        *_always(found, known),
    ]
    return "\n".join(lines) + "\n"


def _of_gallon(guess: Guess, gallon: str) -> Guess:
    """A guess with the gallon that the logbook means where none is named; which one is a question where it means none."""
    unit = GALLON_OF.get(gallon, "")
    if not unit or not guess.asks_gallon:
        return guess
    return replace(guess, unit=unit, why=f"{guess.why.partition(';')[0]}; a gallon is {unit} by logbook.yaml")


def _setting(key: str, value: str, why: str) -> str:
    quoted = json.dumps(OPEN) if value == OPEN else value
    return f"{key}: {quoted}  # {short(why, 160)}" if why else f"{key}: {quoted}"


def _form(sheet: Sheet, form: Form | None) -> Iterator[str]:
    if form is None:
        yield f"sheet: {scalar(sheet.name, flow=False)}"
    else:
        yield _setting("encoding", form.encoding, form.why_encoding)
        yield _setting("delimiter", form.delimiter, form.why_delimiter)


def _table(sheet: Sheet, found: Found, cells: Sequence[Sequence[Cell]]) -> Iterator[str]:
    """Where the table stands, how its numbers and days are written, which rows and cells say nothing."""
    rows = found.header
    yield f"header: {'-'.join(map(str, rows))}  # row of the headings"
    below = "; a row of units stands between" if found.first > rows[-1] + 1 else ""
    yield f"first: {found.first}  # first row that is a record{below}"
    for key, each in _findings(sheet, found, cells).items():
        if each.value:
            yield _setting(key, each.value, each.why)
    sums = evidence.sums_in(sheet, found.first)
    if sums:
        words = ", ".join(scalar(text, flow=True) for text, _ in sums)
        places = ", ".join(place for _, place in sums[:6])
        yield f"skip: [{words}]  # a row with such a cell is no record; seen in {places}"
    unknown = evidence.unknown_in([cell for column in cells for cell in column])
    if unknown:
        words = ", ".join(json.dumps(text, ensure_ascii=False) for text in unknown)
        yield f"unknown: [{words}]  # cells that say this say nothing"


def _findings(sheet: Sheet, found: Found, cells: Sequence[Sequence[Cell]]) -> dict[str, Finding]:
    """What the cells speak for, by the setting of the map; those of days apart from the others."""
    apart: dict[bool, list[Cell]] = {True: [], False: []}
    for guess, column in zip(found.guesses, cells, strict=True):
        apart[_is_day(found, guess)] += column
    days, others = apart[True], apart[False]
    decimal = evidence.decimal_of(others)
    counted = evidence.counts_days(days) if not sheet.epoch else ""
    return {
        "decimal": decimal,
        "thousands": evidence.thousands_of(others, decimal.value),
        "dates": evidence.order_of(days),
        "year": _of_text("the year of dates without one, such as", evidence.lacks_years(days)),
        "serial": _of_text("1900 or 1904: from when days are counted, as in", counted),
    }


def _of_text(why: str, text: str) -> Finding:
    return Finding(OPEN, f"{why} {text}") if text else Finding("")


def _place(found: Found, guess: Guess) -> Place | None:
    place = place_of(found.records, guess.key) if guess.key and guess.key != OPEN else None
    return place if isinstance(place, Place) else None


def _is_day(found: Found, guess: Guess) -> bool:
    place = _place(found, guess)
    return place is not None and place.sort in ("date", "moment")


def _id(found: Found, cells: Sequence[Sequence[Cell]]) -> Iterator[str]:
    """The rule of the ids: the column of numbers; with the year where they begin again each year."""
    key = ID_KEYS[found.records]
    own = next((number for number, guess in enumerate(found.guesses) if guess.key == key), None)
    if own is None:
        some = "{year}-{month}-{day}" if found.records == "batches" else "{A heading}"
        yield _setting("id", OPEN, f"how ids are made of headings in braces, such as '{some}'")
        return
    heading = found.headings[own]
    texts = [cell.text for cell in cells[own] if not cell.is_empty]
    short_numbers = bool(texts) and all(re.fullmatch(r"[0-9]{1,3}", text, re.ASCII) for text in texts)
    by_year = f"{{year}}-{{{heading}:3}}"
    if short_numbers and len(set(texts)) < len(texts):
        yield f"id: {json.dumps(by_year, ensure_ascii=False)}  # the numbers come again, so the year stands before them"
        return
    other = f"; or {json.dumps(by_year, ensure_ascii=False)}" if short_numbers else ""
    yield f"id: {json.dumps('{' + heading + '}', ensure_ascii=False)}  # what is no letter or digit becomes a hyphen{other}"


def _columns(found: Found, cells: Sequence[Sequence[Cell]], values: bool) -> Iterator[str]:
    for guess, column in zip(found.guesses, cells, strict=True):
        if not guess.key:
            continue
        place, key, unit = _place(found, guess), guess.key, guess.unit
        parts = evidence.parts_of(column) if key.startswith("titration.readings.") else ""
        key = "titration.readings" if parts else key
        if unit == OPEN and evidence.carry_units(column):
            unit = ""
        entry = {"column": guess.heading, "key": key, "unit": unit, "parts": parts}
        if unit == OPEN and place is not None and not guess.asks_gallon:
            kinds = "temperature" if place.behind == "at" else " or ".join(place.kinds)
            why = f"{guess.why}; write the {'price, such as EUR/L or EUR' if place.sort == 'price' else kinds} unit"
        else:
            why = guess.why
        yield f"  - {_flow(entry)}"
        yield f"    # {short(why, 150)}{_first(column, values)}"


def _lacked(found: Found) -> dict[str, str]:
    """The keys without which no row makes a record, and which no column feeds, with what to do."""
    fed = [guess.key for guess in found.guesses]
    return {
        key: why
        for key, why in required(found.records).items()
        if not any(_same(key, re.sub(r"^oil\.\d+", "oil.0", each)) for each in fed)
    }


def _lacking(found: Found) -> Iterator[str]:
    """A column to be named for each of these keys."""
    for key, why in _lacked(found).items():
        place = place_of(found.records, key)
        unit = OPEN if isinstance(place, Place) and place.kinds else ""
        yield f"  - {_flow({'column': OPEN, 'key': key, 'unit': unit})}"
        yield f"    # {why}"


def _flow(entry: Mapping[str, str]) -> str:
    pairs = (
        f"{key}: {json.dumps(OPEN) if text == OPEN else scalar(text, flow=True)}"
        for key, text in entry.items()
        if text
    )
    return "{" + ", ".join(pairs) + "}"


def _first(column: Sequence[Cell], values: bool) -> str:
    first = evidence.first_values(column)
    if not values:
        return ""
    return f"; first values: {first}" if first else "; its cells are empty"


def _unplaced(found: Found, cells: Sequence[Sequence[Cell]], values: bool) -> Iterator[str]:
    """What could not be placed, ready to be kept in the note."""
    left = [(guess, column) for guess, column in zip(found.guesses, cells, strict=True) if not guess.key]
    left = [(guess, column) for guess, column in left if any(not cell.is_empty for cell in column)]
    if not left:
        return
    yield "  # These columns could not be placed, and are left out. Without its '#' a line keeps one in the note of each record;"
    yield "  # or write another key. Keys are those of the files: esterday schema " + found.records
    for guess, column in left:
        yield f"  # - {_flow({'column': guess.heading, 'key': 'note.line'})}{_first(column, values).replace(';', '  #', 1)}"


def _always(found: Found, known: Known) -> Iterator[str]:
    """What the grammar wants beside what the columns say."""
    fed = [guess.key for guess in found.guesses if guess.key and guess.key != OPEN] + [*_lacked(found)]
    lines = []
    for guess in found.guesses:
        if guess.test:
            lines.append(f"  {guess.key.rsplit('.', 1)[0]}.property: {guess.test}")
    for pattern, wanted in needs().items():
        for group in _groups(pattern, fed, found.records):
            for key, what in wanted.items():
                whole = f"{group}.{key}" if group else key
                if not any(_same(whole, each) for each in fed):
                    lines.append(_wanted(whole, what, known))
    if lines:
        yield "always:  # what no column says; it joins each record that has something of its group"
        yield from lines


def _groups(pattern: str, fed: Sequence[str], records: str) -> list[str]:
    """The groups of this pattern that a column feeds."""
    if pattern == "material":
        return [""] if records == "lots" else []
    match = re.compile(re.escape(pattern).replace(r"\#", "[0-9]+") + r"(?=\.)")
    return list(dict.fromkeys(found[0] for key in fed if (found := match.match(key))))


def _same(key: str, other: str) -> bool:
    """Whether two keys are one, or two amounts of the same."""
    return key == other or re.sub(r"\.(volume|mass)$", "", key) == re.sub(r"\.(volume|mass)$", "", other)


def _wanted(key: str, what: str, known: Known) -> str:
    if what in ("feed", "product"):
        return f"  {key}: {what}"
    words = [part for part in key.split(".") if not part.isdigit()]
    ids = known.ids.get(".".join(words[-2:]), known.ids.get(words[-1], ()))
    there = f"; here are {', '.join(ids[:8])}{' ...' if len(ids) > 8 else ''}" if ids else ""
    return f'  {key}: "?"  # {what}{there}'
