"""One data frame per declared table, made from rows and read as rows again."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

import pandas as pd

from generator.tables import Table

Row = Mapping[str, Any]


def frame(table: Table, rows: Iterator[Row] | list[dict[str, Any]]) -> pd.DataFrame:
    """Make a frame with exactly the declared columns; a name that is not declared raises KeyError.

    One row per item, numbers where all values are numbers or unknown (NaN).
    """
    listed = list(rows)
    known = set(table.names)
    for row in listed[:1]:
        if not set(row) <= known:
            raise KeyError(f"{table.name}: {sorted(set(row) - known)}")
    return pd.DataFrame(listed, columns=list(table.names))


def plain_rows(data: pd.DataFrame) -> list[dict[str, Any]]:
    """Rows as plain Python values: NaN and NA become None, numpy numbers become Python's."""
    columns = [_plain(data[name]) for name in data.columns]
    names = list(data.columns)
    return [dict(zip(names, values, strict=True)) for values in zip(*columns, strict=True)]


def _plain(series: pd.Series[Any]) -> list[Any]:
    values = series.tolist()
    return [
        None if value is None or value is pd.NA or (isinstance(value, float) and math.isnan(value)) else value
        for value in values
    ]
