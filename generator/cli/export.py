"""`esterday export`: records back into the columns of a spreadsheet."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.import_ import context, map_of
from generator.cli.saving import opened, put, stop
from generator.cli.telling import LOGBOOK, command, count

_EXAMPLES = (
    "esterday export --map map.yaml --out batches.csv",
    "esterday export my-logbook --map map.yaml --out batches.xlsx",
)
_HELP = """Write the records of LOGBOOK (default: `logbook`, or the one you stand in) into a new .csv or .xlsx with the columns of a map, as `esterday import --suggest` proposes one.

Values are given in the units of the columns. What the records say beyond the columns is not in it; where a record has several entries for one column, they stand in its cell, parted by semicolons. A file that is there is not written over. It holds what its columns hold, private or not.
"""


@command(*_EXAMPLES, short="Write records into the columns of a spreadsheet.", text=_HELP)
@LOGBOOK
@click.option(
    "--map", "map_file", type=click.Path(path_type=Path), required=True, help="The map of the columns."
)
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The .csv or .xlsx to write.")
def export(logbook: Path, map_file: Path, out: Path) -> None:
    """Write records into a spreadsheet; the help text stands in the decorator."""
    from generator.exchange.files import written_sheet
    from generator.exchange.headings import DAY_KEYS
    from generator.exchange.laying import laid
    from generator.exchange.sheet import NotASheetError

    book = opened(logbook)
    mapping = map_of(map_file, book)
    if out.exists():
        raise stop(
            f"{out} is there already, and nothing is written over", "give another name, or move it away"
        )
    found = [*book.log.tables[mapping.records].values()]
    found += book.log.planned.values() if mapping.records == "batches" else ()
    day = DAY_KEYS[mapping.records]
    entries = sorted(found, key=lambda entry: (getattr(entry.record, day), entry.id))
    rows = laid(mapping, [entry.document.data for entry in entries], context(book)["gallon"])
    try:
        content = written_sheet(out.name, mapping, rows)
    except NotASheetError as error:
        raise stop(f"{out}: {error.message}", error.hint) from None
    put(out, content, new=True)
    click.echo(f"{count(len(entries), 'row')} in {out}.", err=True)
    unread = len(book.folder.documents[mapping.records]) - len(entries)
    if unread:
        click.echo(f"{count(unread, 'file')} with errors left out; see 'esterday check'.", err=True)
