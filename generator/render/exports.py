"""Tables as files for other programs: CSV, JSON, and the dictionary of what each column means."""

from __future__ import annotations

import io
import json
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from json.encoder import encode_basestring
from types import NoneType
from typing import Any

from generator.tables import Column, Table

# Signs that make a spreadsheet read a cell as a formula, and their full-width forms.
STARTS = frozenset("=+-@|%\t\r\n\0" + "\uff1d\uff0b\uff0d\uff20\uff5c\uff05" + "\u2212")
# What a spreadsheet may skip before it looks at the first sign: blanks, quotes, byte order mark.
SKIPPED = " \u00a0\u202f\u3000\"'\ufeff\u200b"
QUOTED = re.compile('[,"\r\n]')  # what a text in a CSV does not hold without quotes around it
NO_SIGN = '""'
SEAM = ",\n  "  # between two rows of JSON
AT_ONCE = 5000  # rows encoded together

Columns = Mapping[str, Sequence[Any]]  # plain values by the name of their column, None for unknown


def guarded(text: str) -> str:
    """Text that no spreadsheet takes for a formula: an apostrophe before it where it could be one."""
    if text[:1].isalnum():
        return text
    left = text.lstrip(SKIPPED)
    return f"'{text}" if left and left[0] in STARTS else text


@dataclass(frozen=True, slots=True)
class _Spelling:
    """How a format writes a value: a text, what is no text, nothing."""

    text: Callable[[str], str]
    other: Callable[[Any], str]
    nothing: str

    def column(self, values: Sequence[Any]) -> list[str]:
        """The values of a column, what is alike written once; all numbers that JSON has are spelt as `repr` has them."""
        kinds = set(map(type, values))
        if kinds <= {str, NoneType}:
            known = {value: self.nothing if value is None else self.text(value) for value in set(values)}
            return [known[value] for value in values]
        if kinds <= {int, float} and all(map(math.isfinite, values)):
            return list(map(repr, values))
        return [self.nothing if value is None else self.value(value) for value in values]

    def value(self, value: Any) -> str:
        """One value that is known."""
        return self.text(value) if isinstance(value, str) else self.other(value)

    def lines(self, table: Table, columns: Columns) -> Iterator[Iterator[tuple[str, ...]]]:
        """The rows of a table cell by cell, some of them at once."""
        picked = [columns[name] for name in table.names]
        for place in range(0, len(picked[0]), AT_ONCE):
            yield zip(*(self.column(values[place : place + AT_ONCE]) for values in picked), strict=True)


def _csv_text(text: str) -> str:
    text = guarded(text)
    return '"{}"'.format(text.replace('"', '""')) if QUOTED.search(text) else text


def _csv_other(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return "" if math.isnan(value) else repr(value)
    return str(value) if isinstance(value, int | Decimal) else _csv_text(str(value))


CSV = _Spelling(_csv_text, _csv_other, "")


def csv_bytes(table: Table, columns: Columns) -> bytes:
    """RFC 4180, UTF-8 without byte order mark, numbers unrounded, an unknown one empty."""
    out = io.BytesIO()
    out.write(f"{','.join(table.names)}\r\n".encode())
    for lines in CSV.lines(table, columns):
        # a line without any sign would be none
        out.write("".join([f"{','.join(line) or NO_SIGN}\r\n" for line in lines]).encode())
    return out.getvalue()


def _described(column: Column) -> dict[str, Any]:
    return {"name": column.name, "unit": column.unit, "meaning": column.meaning}


def _json(content: Any) -> bytes:
    return (json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1) + "\n").encode("utf-8")


def _json_other(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return repr(value)
    if isinstance(value, float | Decimal):
        return repr(float(value)) if math.isfinite(value) else "null"
    return encode_basestring(str(value))


JSON = _Spelling(encode_basestring, _json_other, "null")


def json_bytes(table: Table, columns: Columns) -> bytes:
    """A table with the meaning of its columns, one row a line; an unknown figure is null."""
    head = {
        "table": table.name,
        "row": table.row,
        "columns": [_described(column) for column in table.columns],
        "rows": [],
    }
    opened, closed = _json(head).rsplit(b"[]", 1)
    names = (f"{json.dumps(name)}: ".replace("%", "%%") for name in table.names)
    line = f"{{{', '.join(f'{name}%s' for name in names)}}}"
    out = io.BytesIO()
    out.write(opened)
    before = "[\n  "
    for lines in JSON.lines(table, columns):
        out.write(f"{before}{SEAM.join(map(line.__mod__, lines))}".encode())
        before = SEAM
    out.write((b"[]" if before is not SEAM else b"\n ]") + closed)
    return out.getvalue()


def package_bytes(title: str, resources: Sequence[Mapping[str, Any]]) -> bytes:
    """The same as a Data Package, with a Table Schema (v1) of every .csv: what reads such packages can check the files."""
    return _json(
        {"profile": "tabular-data-package", "name": "tables", "title": title, "resources": resources}
    )


def resource(table: Table, columns: Columns) -> dict[str, Any]:
    """What a Data Package says of one table."""
    return {
        "profile": "tabular-data-resource",
        "name": table.name.replace("_", "-"),
        "path": f"{table.name}.csv",
        "description": table.row,
        "encoding": "utf-8",
        "schema": {"fields": [_field(column, columns) for column in table.columns], "missingValues": [""]},
    }


def _field(column: Column, columns: Columns) -> dict[str, Any]:
    """A column as Table Schema has it: a number or a text."""
    type_ = "number" if is_numeric(column, columns[column.name]) else "string"
    return {"name": column.name, "type": type_, "description": column.meaning, "unit": column.unit}


def is_numeric(column: Column, values: Iterable[Any]) -> bool:
    """Whether a column holds numbers alone; one without any value where it has a unit."""
    kinds = set(map(type, values)) - {type(None)}
    return all(issubclass(kind, int | float | Decimal) and kind is not bool for kind in kinds) and bool(
        kinds or column.unit
    )


def sums_bytes(digests: Mapping[str, str]) -> bytes:
    """The SHA-256 of every file by its path, in the lines that `sha256sum --check` reads."""
    return "".join(f"{digest}  {path}\n" for path, digest in sorted(digests.items())).encode()


def dictionary_bytes(tables: Iterable[Table]) -> bytes:
    """The data dictionary: every column of every table with unit, meaning, method and what it is made from."""
    return _json(
        {
            "tables": [
                {
                    "table": table.name,
                    "row": table.row,
                    "columns": [
                        {**_described(column), "method": column.method, "made_from": list(column.needs)}
                        for column in table.columns
                    ],
                }
                for table in tables
            ],
        }
    )
