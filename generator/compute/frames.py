"""One data frame per declared table, made from rows and read as rows again."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, overload

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


def plain_columns(data: pd.DataFrame) -> dict[str, list[Any]]:
    """Columns as plain Python values: NaN and NA become None, numpy numbers become Python's."""
    return {name: _plain(data[name]) for name in data.columns}


def plain_rows(data: pd.DataFrame) -> list[dict[str, Any]]:
    """Rows as plain Python values, as `plain_columns` has them."""
    return list(Passing(plain_columns(data)))


def grouped_rows(data: pd.DataFrame, column: str) -> Mapping[Any, list[dict[str, Any]]]:
    """Rows as plain Python values by what stands in a column, made when they are looked at."""
    return Passing(plain_columns(data)).grouped(column)


def _plain(series: pd.Series[Any]) -> list[Any]:
    values: list[Any] = series.tolist()
    if not series.hasnans:
        return values
    return [
        None if value is None or value is pd.NA or (isinstance(value, float) and math.isnan(value)) else value
        for value in values
    ]


class Passing(Sequence[dict[str, Any]]):
    """Rows of which only the columns are held: each row is made when it is looked at, and is whose it was made for."""

    def __init__(self, columns: Mapping[str, list[Any]]) -> None:
        """`columns` by name, all of one length."""
        self.columns = columns

    def __len__(self) -> int:
        """How many rows there are."""
        return len(next(iter(self.columns.values()), ()))

    @overload
    def __getitem__(self, place: int) -> dict[str, Any]: ...

    @overload
    def __getitem__(self, place: slice) -> Passing: ...

    def __getitem__(self, place: int | slice) -> dict[str, Any] | Passing:
        """The row at a place, or those of a part."""
        found = {name: values[place] for name, values in self.columns.items()}
        return Passing(found) if isinstance(place, slice) else found

    def __iter__(self) -> Iterator[dict[str, Any]]:
        """Row by row."""
        for values in zip(*self.columns.values(), strict=True):
            yield dict(zip(self.columns, values, strict=True))

    def grouped(self, column: str) -> Mapping[Any, list[dict[str, Any]]]:
        """The rows by what stands in a column, made when they are looked at; those with nothing there are left out."""
        return _Grouped(self, column)


class _Grouped(Mapping[Any, list[dict[str, Any]]]):
    def __init__(self, rows: Passing, column: str) -> None:
        self._rows = rows
        self._places: dict[Any, list[int]] = {}
        for place, value in enumerate(rows.columns[column]):
            if value is not None:
                self._places.setdefault(value, []).append(place)

    def __getitem__(self, value: Any) -> list[dict[str, Any]]:
        return [self._rows[place] for place in self._places[value]]

    def __iter__(self) -> Iterator[Any]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)

    def __contains__(self, value: object) -> bool:
        return value in self._places
