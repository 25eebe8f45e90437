"""Downloads: the tables as files, and what their columns mean."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.util import find_spec

from generator.compute.results import Results
from generator.language import say, term
from generator.pages.places import placed
from generator.pages.view import Cell, Head, Page, TableView
from generator.pages.words import count
from generator.tables import ALL, Table, public_columns

SUMS = "data/sha256.txt"
BLANK = "esterday blank > batch-sheet.html"
FOR_THE_BENCH = term(
    "For the bench, to print and fill in by hand; it asks in the order in which a batch file is written."
)
# one more format, where the library that writes it is installed
WRITES_PARQUET = find_spec("pyarrow") is not None
KINDS = ("csv", "json", *(["parquet"] if WRITES_PARQUET else []))
NO_PARQUET = term(
    "Parquet files are not here: the site was built without pyarrow. Installed as esterday[parquet], they are written too."
)
# sums over batches say less than the workshop's own where it keeps one private; whether it does is private too
WIDENED = term(
    "Some columns are here because the workshop's settings make them public. They are computed as if batches that it keeps private, if there are any, had never been."
)
BESIDE = {
    "data/dictionary.json": term("every column with unit and meaning"),
    "data/datapackage.json": term("the same as a Data Package, with a Table Schema of every .csv"),
    SUMS: term("the SHA-256 of every table here and of each batch's record"),
    "feed.xml": term("the batches as an Atom feed, newest first"),
}


# what prints a SHA-256 where nothing is installed
SUMMING = {
    term("Linux"): "sha256sum batches.csv",
    term("macOS"): "shasum -a 256 batches.csv",
    term("Windows"): "certutil -hashfile batches.csv SHA256",
    term("PowerShell"): "Get-FileHash batches.csv -Algorithm SHA256",
}


def page(results: Results, widened: tuple[str, ...]) -> Page:
    """The tables as files, and what their columns mean."""
    shared = results.audience == "shared"
    names = [(table, public_columns(table, widened) if shared else table.names) for table in ALL]
    kept = [(table, columns) for table, columns in names if columns]
    files = [
        {
            "name": f"{table.name}.{kind}",
            "href": f"data/{table.name}.{kind}",
            "text": say(
                "{rows}, one per {thing}",
                rows=count(len(results.frames[table.name]), "row", "rows"),
                thing=say(table.row.removeprefix("one ")),
            ),
        }
        for table, _ in kept
        for kind in KINDS
    ]
    files += [
        {"name": path.rpartition("/")[2], "href": path, "text": say(text)} for path, text in BESIDE.items()
    ]
    return placed(
        "downloads",
        finding=say(
            "{table} as CSV and JSON{parquet}; numbers are not rounded, unknown is empty or null, a censored result carries its bound.",
            table=count(len(kept), "table", "tables"),
            parquet=say(" and Parquet") if WRITES_PARQUET else "",
        ),
        content={
            "files": files,
            "sums": [(say(where), line) for where, line in SUMMING.items()],
            "blank": None if shared else (say(FOR_THE_BENCH), BLANK),
            "intro": " ".join(_intro(shared and bool(widened))),
            "dictionary": [_dictionary(table, columns) for table, columns in kept],
        },
    )


def _intro(widened: bool) -> Iterator[str]:
    if not WRITES_PARQUET:
        yield say(NO_PARQUET)
    if widened:
        yield say(WIDENED)


def _dictionary(table: Table, columns: Sequence[str]) -> TableView:
    heads = (Head(say("Column")), Head(say("Unit")), Head(say("Meaning")))
    cells = tuple(
        (Cell(name, name), Cell(say(table.column(name).unit) or "–"), Cell(say(table.column(name).meaning)))
        for name in columns
    )
    return TableView(
        f"dictionary-{table.name}",
        say("{table}: one {thing}", table=table.name, thing=say(table.row.removeprefix("one "))),
        heads,
        cells,
    )
