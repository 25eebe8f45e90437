"""A table as a Parquet file, where pyarrow is installed (`esterday[parquet]`)."""

from __future__ import annotations

import io
from collections.abc import Sequence
from types import NoneType
from typing import Any

from generator.render.exports import Columns, is_numeric
from generator.tables import Table


def parquet_bytes(table: Table, columns: Columns) -> bytes:
    """Numbers as 64-bit floats, all else as text, an unknown value as null; unit and meaning stand in each field's metadata."""
    import pyarrow  # noqa: PLC0415 - an extra
    import pyarrow.parquet  # noqa: PLC0415

    fields, arrays = [], []
    for column in table.columns:
        values = columns[column.name]
        type_ = pyarrow.float64() if is_numeric(column, values) else pyarrow.string()
        told = {"unit": column.unit, "meaning": column.meaning}
        fields.append(pyarrow.field(column.name, type_, metadata=told))
        arrays.append(pyarrow.array(_plain(values, type_ == pyarrow.float64()), type_))
    out = io.BytesIO()
    pyarrow.parquet.write_table(pyarrow.table(arrays, schema=pyarrow.schema(fields)), out)
    return out.getvalue()


def _plain(values: Sequence[Any], numeric: bool) -> Sequence[Any]:
    kind = float if numeric else str
    if set(map(type, values)) <= {kind, NoneType}:
        return values
    return [None if value is None else kind(value) for value in values]
