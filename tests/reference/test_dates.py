"""Dates against cases of the JSON Schema Test Suite for `format: date`, by the reader and by the pattern of the schema.

Source: JSON Schema Test Suite, draft2020-12, optional/format/date.json at commit b5253b2, all strings among its cases with their
verdicts; published. `ALSO_INVALID` and one old date are not in that version: written by the grammar of `full-date` in
RFC 3339 (derived). The reader also refuses years before 1980 and after 2199, as nothing in a logbook is so old: those
dates that are in the calendar stand apart below.
"""

from __future__ import annotations

import re

import pytest
from pydantic import TypeAdapter, ValidationError

from generator.fields import Date
from generator.schema import schema_of

VALID = (
    "2020-01-31 2021-02-28 2020-03-31 2020-04-30 2020-05-31 2020-06-30 2020-07-31 2020-08-31 2020-09-30 "
    "2020-10-31 2020-11-30 2020-12-31 2020-02-29"
)
TOO_OLD = "1963-06-19 0000-02-29 0400-02-29"
INVALID = (
    "2020-01-32 2020-02-30 2020-03-32 2020-04-31 2020-05-32 2020-06-31 2020-07-32 2020-08-32 2020-09-31 "
    "2020-10-32 2020-11-31 2020-12-32 2020-13-01 06/19/1963 2013-350 1998-1-20 1998-01-1 1998-13-01 1998-04-31 "
    "2021-02-29 1963-06-1\u09ea 20230328 2023-W01 2023-W13-2 2022W527 2020-11-28T23:55:45Z 0100-02-29 "
    "2100-02-29 2024-00-15 2024-01-00"
)
BLANKS = [" 2024-01-15", "2024-01-15 "]
ALSO_TOO_OLD = "0001-01-01"
ALSO_INVALID = [
    *[
        "2020-0৪-01",
        "2020-01-01X",
        "2020-01-01Z",
        "20-01-01",
        "998-01-01",
        "12020-01-01",
        "+2020-01-01",
        "-2020-01-01",
        "২020-01-01",
        "YYYY-01-01",
        "2020-001-01",
        "2020-MM-01",
        "2020-01-001",
        "2020-01-DD",
        "2020:01:01",
        "2020.01.01",
        "2020-01/01",
        "2020--01-01",
        "2020-01--01",
    ],
    "",
    "2020 -01-01",
    "2020-01-01 00:00:00Z",
    "2020 01 01",
]
READER: TypeAdapter[object] = TypeAdapter(Date)
PATTERN = schema_of("batches")["properties"]["date"]["pattern"]


def taken(text: str) -> bool:
    try:
        READER.validate_python(text)
    except ValidationError:
        return False
    return True


def test_the_cases_are_all_there() -> None:
    """48 different strings in that version of the suite."""
    assert [len(each) for each in (VALID.split(), TOO_OLD.split(), INVALID.split(), BLANKS)] == [13, 3, 30, 2]


@pytest.mark.parametrize("text", VALID.split())
def test_a_valid_date_is_read(text: str) -> None:
    assert taken(text) and re.search(PATTERN, text)


@pytest.mark.parametrize("text", [*INVALID.split(), *BLANKS, *ALSO_INVALID])
def test_an_invalid_date_is_refused(text: str) -> None:
    assert not taken(text) and not re.search(PATTERN, text)


@pytest.mark.parametrize("text", [*TOO_OLD.split(), ALSO_TOO_OLD])
def test_a_date_of_another_time_is_refused_though_it_is_in_the_calendar(text: str) -> None:
    assert not taken(text) and not re.search(PATTERN, text)


def test_the_pattern_knows_every_day_the_reader_knows() -> None:
    """Independent of both: Python's calendar, every day of 1980 to 2199 and the days beside each month."""
    from calendar import monthrange

    for year in (1979, *range(1980, 2200), 2200):
        for month in range(14):
            last = monthrange(year, month)[1] if 1 <= month <= 12 else 0
            for day in (0, 1, 28, 29, 30, 31, 32):
                wanted = 1980 <= year <= 2199 and 1 <= day <= last
                assert bool(re.search(PATTERN, f"{year}-{month:02}-{day:02}")) == wanted
