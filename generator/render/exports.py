"""Tables as files for other programs: CSV, JSON, and the dictionary of what each column means."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from generator.tables import Column, Table

# Signs that make a spreadsheet read a cell as a formula, and their full-width forms.
STARTS = frozenset("=+-@|%\t\r\n\0" + "\uff1d\uff0b\uff0d\uff20\uff5c\uff05" + "\u2212")
# What a spreadsheet may skip before it looks at the first sign: blanks, quotes, byte order mark.
SKIPPED = " \u00a0\u202f\u3000\"'\ufeff\u200b"
AT_ONCE = 1000  # rows encoded together


def guarded(text: str) -> str:
    """Text that no spreadsheet takes for a formula: an apostrophe before it where it could be one."""
    if text[:1].isalnum():
        return text
    left = text.lstrip(SKIPPED)
    return f"'{text}" if left and left[0] in STARTS else text


def _csv_cell(value: Any) -> Any:
    """What the writer of the library makes the cell from: a number as `repr` has it, None as nothing."""
    if isinstance(value, str):
        return guarded(value)
    if isinstance(value, float):
        return None if math.isnan(value) else value
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if value is None or isinstance(value, int | Decimal) else guarded(str(value))


def csv_bytes(table: Table, rows: Iterable[Mapping[str, Any]]) -> bytes:
    """RFC 4180, UTF-8 without byte order mark, numbers unrounded, an unknown one empty."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    names = table.names
    writer.writerow(names)
    writer.writerows([_csv_cell(row[name]) for name in names] for row in rows)
    return out.getvalue().encode("utf-8")


def _json_value(value: Any) -> Any:
    return None if isinstance(value, float) and not math.isfinite(value) else value


def _json_other(value: Any) -> float | str:
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
    listed, names = list(rows), table.names
    parts = [_json_lines(names, listed[place : place + AT_ONCE]) for place in range(0, len(listed), AT_ONCE)]
    text = "[\n  " + ",\n  ".join(parts) + "\n ]" if parts else "[]"
    return f"{opened}{text}{closed}".encode()


def _json_lines(names: Sequence[str], rows: Iterable[Mapping[str, Any]]) -> str:
    """Rows as lines of JSON with a comma between; encoded together, which takes a third of the time."""
    encode = json.JSONEncoder(
        ensure_ascii=False, allow_nan=False, check_circular=False, default=_json_other
    ).encode
    picked = [{name: row[name] for name in names} for row in rows]
    try:
        text = encode(picked)
    except ValueError:  # a number that JSON has not
        text = encode([{name: _json_value(value) for name, value in row.items()} for row in picked])
    # inside a text each quotation mark has a backslash before it, and no name of a column follows one that ends a text
    begins = f"{{{json.dumps(names[0])}: "
    return text[1:-1].replace(f"}}, {begins}", f"}},\n  {begins}")


def package_bytes(title: str, resources: Sequence[Mapping[str, Any]]) -> bytes:
    """The same as a Data Package, with a Table Schema (v1) of every .csv: what reads such packages can check the files."""
    return _json(
        {"profile": "tabular-data-package", "name": "tables", "title": title, "resources": resources}
    )


def resource(table: Table, rows: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """What a Data Package says of one table."""
    return {
        "profile": "tabular-data-resource",
        "name": table.name.replace("_", "-"),
        "path": f"{table.name}.csv",
        "description": table.row,
        "encoding": "utf-8",
        "schema": {"fields": [_field(column, rows) for column in table.columns], "missingValues": [""]},
    }


def _field(column: Column, rows: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """A column as Table Schema has it: a number or a text."""
    type_ = "number" if is_numeric(column, [row[column.name] for row in rows]) else "string"
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
