"""Tables as files for other programs: CSV, JSON, and the dictionary of what each column means."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from generator.digests import digest
from generator.tables import Column, Table

# Signs that make a spreadsheet read a cell as a formula, and their full-width forms.
STARTS = frozenset("=+-@|%\t\r\n\0" + "\uff1d\uff0b\uff0d\uff20\uff5c\uff05" + "\u2212")
# What a spreadsheet may skip before it looks at the first sign: blanks, quotes, byte order mark.
SKIPPED = " \u00a0\u202f\u3000\"'\ufeff\u200b"


def guarded(text: str) -> str:
    """Text that no spreadsheet takes for a formula: an apostrophe before it where it could be one."""
    return f"'{text}" if text.lstrip(SKIPPED)[:1] in STARTS and text.lstrip(SKIPPED) else text


def _csv_cell(value: Any) -> str:
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float | Decimal):
        return str(value) if isinstance(value, Decimal) else repr(value)
    return guarded(str(value))


def csv_bytes(table: Table, rows: Iterable[Mapping[str, Any]]) -> bytes:
    """RFC 4180, UTF-8 without byte order mark, numbers unrounded, an unknown one empty."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(table.names)
    for row in rows:
        writer.writerow([_csv_cell(row[name]) for name in table.names])
    return out.getvalue().encode("utf-8")


def _json_value(value: Any) -> Any:
    if isinstance(value, float) and not math.isfinite(value):
        return None
    if value is None or isinstance(value, str | int | float):
        return value
    return float(value) if isinstance(value, Decimal) else str(value)


def _described(column: Column) -> dict[str, Any]:
    return {"name": column.name, "unit": column.unit, "meaning": column.meaning}


def _json(content: Any) -> bytes:
    return (json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1) + "\n").encode("utf-8")


def json_bytes(table: Table, rows: Iterable[Mapping[str, Any]]) -> bytes:
    """A table with the meaning of its columns, one row a line; an unknown figure is null."""
    head = {
        "table": table.name,
        "row": table.row,
        "columns": [_described(column) for column in table.columns],
        "rows": [],
    }
    opened, closed = _json(head).decode("utf-8").rsplit("[]", 1)
    encode = json.JSONEncoder(ensure_ascii=False, allow_nan=False, check_circular=False).encode
    lines = [encode({name: _json_value(row[name]) for name in table.names}) for row in rows]
    listed = "[\n  " + ",\n  ".join(lines) + "\n ]" if lines else "[]"
    return f"{opened}{listed}{closed}".encode()


def package_bytes(title: str, tables: Iterable[tuple[Table, Sequence[Mapping[str, Any]]]]) -> bytes:
    """The same as a Data Package, with a Table Schema (v1) of every .csv: what reads such packages can check the files."""
    return _json(
        {
            "profile": "tabular-data-package",
            "name": "tables",
            "title": title,
            "resources": [
                {
                    "profile": "tabular-data-resource",
                    "name": table.name.replace("_", "-"),
                    "path": f"{table.name}.csv",
                    "description": table.row,
                    "encoding": "utf-8",
                    "schema": {
                        "fields": [_field(column, rows) for column in table.columns],
                        "missingValues": [""],
                    },
                }
                for table, rows in tables
            ],
        }
    )


def _field(column: Column, rows: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """A column as Table Schema has it: a number or a text."""
    type_ = "number" if is_numeric(column, [row[column.name] for row in rows]) else "string"
    return {"name": column.name, "type": type_, "description": column.meaning, "unit": column.unit}


def is_numeric(column: Column, values: Iterable[Any]) -> bool:
    """Whether a column holds numbers alone; one without any value where it has a unit."""
    known = [value for value in values if value is not None]
    return all(
        isinstance(value, int | float | Decimal) and not isinstance(value, bool) for value in known
    ) and bool(known or column.unit)


def sums_bytes(files: Mapping[str, bytes]) -> bytes:
    """The SHA-256 of every file by its path, in the lines that `sha256sum --check` reads."""
    return "".join(f"{digest(content)}  {path}\n" for path, content in sorted(files.items())).encode()


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
