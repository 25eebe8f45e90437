"""Tables as files for other programs: CSV, JSON, and the dictionary of what each column means."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from types import NoneType
from typing import Any

from generator.tables import Column, Table

# Signs that make a spreadsheet read a cell as a formula, and their full-width forms.
STARTS = frozenset("=+-@|%\t\r\n\0" + "\uff1d\uff0b\uff0d\uff20\uff5c\uff05" + "\u2212")
# What a spreadsheet may skip before it looks at the first sign: blanks, quotes, byte order mark.
SKIPPED = " \u00a0\u202f\u3000\"'\ufeff\u200b"
FIRST, SEAM = "[\n  ", ",\n  "  # before the first row of JSON, between two
AT_ONCE = 5000  # rows encoded together

Columns = Mapping[str, Sequence[Any]]  # plain values by the name of their column, None for unknown


def guarded(text: str) -> str:
    """Text that no spreadsheet takes for a formula: an apostrophe before it where it could be one."""
    if text[:1].isalnum():
        return text
    left = text.lstrip(SKIPPED)
    return f"'{text}" if left and left[0] in STARTS else text


def _csv_column(values: Sequence[Any]) -> Sequence[Any]:
    """What the writer of the library makes the cells from: numbers as they are, None as nothing; what is alike looked at once."""
    kinds = set(map(type, values))
    if kinds <= {str, NoneType}:
        known = {value: _csv_cell(value) for value in set(values)}
        return [known[value] for value in values]
    if kinds <= {int, float} and all(map(math.isfinite, values)):
        return values
    return list(map(_csv_cell, values))


def _csv_cell(value: Any) -> Any:
    if isinstance(value, str):
        return guarded(value)
    if isinstance(value, float):
        return None if math.isnan(value) else value
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if value is None or isinstance(value, int | Decimal) else guarded(str(value))


def csv_bytes(table: Table, columns: Columns) -> bytes:
    """RFC 4180, UTF-8 without byte order mark, numbers unrounded, an unknown one empty."""
    out = io.BytesIO()
    with io.TextIOWrapper(out, "utf-8", newline="") as text:
        writer = csv.writer(text, lineterminator="\r\n")
        writer.writerow(table.names)
        writer.writerows(zip(*(_csv_column(columns[name]) for name in table.names), strict=True))
        text.flush()
        return out.getvalue()


def _described(column: Column) -> dict[str, Any]:
    return {"name": column.name, "unit": column.unit, "meaning": column.meaning}


def _json(content: Any) -> bytes:
    return (json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1) + "\n").encode("utf-8")


def _json_column(values: Sequence[Any]) -> Sequence[Any]:
    """The values of a column, with nothing for a number that JSON has not."""
    if set(map(type, values)) <= {str, NoneType, int, bool}:
        return values
    return [None if isinstance(value, float) and not math.isfinite(value) else value for value in values]


def _json_other(value: Any) -> float | str:
    return float(value) if isinstance(value, Decimal) else str(value)


def json_bytes(table: Table, columns: Columns) -> bytes:
    """A table with the meaning of its columns, one row a line; an unknown figure is null."""
    head = {
        "table": table.name,
        "row": table.row,
        "columns": [_described(column) for column in table.columns],
        "rows": [],
    }
    opened, closed = _json(head).rsplit(b"[]", 1)
    picked = [_json_column(columns[name]) for name in table.names]
    out = io.BytesIO()
    out.write(opened)
    for place in range(0, len(picked[0]), AT_ONCE):
        lines = zip(*(values[place : place + AT_ONCE] for values in picked), strict=True)
        out.write(f"{SEAM if place else FIRST}{_json_lines(table.names, lines)}".encode())
    out.write((b"\n ]" if picked[0] else b"[]") + closed)
    return out.getvalue()


def _json_lines(names: Sequence[str], lines: Iterable[Sequence[Any]]) -> str:
    """Rows as lines of JSON with a comma between; encoded together, which takes a third of the time."""
    encode = json.JSONEncoder(
        ensure_ascii=False, allow_nan=False, check_circular=False, default=_json_other
    ).encode
    text = encode([dict(zip(names, line, strict=True)) for line in lines])
    # inside a text each quotation mark has a backslash before it, and no name of a column follows one that ends a text
    begins = f"{{{json.dumps(names[0])}: "
    return text[1:-1].replace(f"}}, {begins}", f"}}{SEAM}{begins}")


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
