"""`esterday import`: records from a spreadsheet, by a map that it helps to write."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.cli.saving import Opened, opened, put, stop
from generator.cli.telling import LOGBOOK, command, count, is_read_by_others, tell, tell_troubles

if TYPE_CHECKING:
    from generator.exchange.importing import Existing, Plan, Written
    from generator.exchange.mapping import Map
    from generator.exchange.suggesting import Known
    from generator.read.folder import Folder

_EXAMPLES = (
    "esterday import batches.csv --suggest > map.yaml",
    "esterday import batches.csv --map map.yaml",
    "esterday import batches.csv --map map.yaml --write",
)
_HELP = """Write records of LOGBOOK (default: `logbook`, or the one you stand in) from the rows of FILE, a .csv or .xlsx.

First `--suggest` prints a map of its columns: read it, and fill in what it asks. Then `--map` shows which files would be written and why a row cannot be; `--write` writes them. No file is ever written over: a row whose record is there and says the same is passed over, one that says something else is told. So it can be run again as the sheet grows.
"""


@command(*_EXAMPLES, name="import", short="Write records from a spreadsheet.", text=_HELP)
@click.argument("file", type=click.Path(path_type=Path))
@LOGBOOK
@click.option("--suggest", is_flag=True, help="Print a map of the columns, as far as they can be told.")
@click.option("--sheet", default="", metavar="NAME", help="With --suggest: which sheet of a workbook.")
@click.option("--map", "map_file", type=click.Path(path_type=Path), help="The map to read FILE by.")
@click.option("--write", "write_files", is_flag=True, help="Write the files; without it nothing is.")
@click.option("--quiet", "-q", is_flag=True, help="With --write: tell unused rows and errors alone.")
def import_(
    file: Path,
    logbook: Path,
    suggest: bool,
    sheet: str,
    map_file: Path | None,
    write_files: bool,
    quiet: bool,
) -> None:
    """Write records from a spreadsheet; the help text stands in the decorator."""
    from generator.exchange.sheet import NotASheetError

    if suggest == (map_file is not None):
        raise click.UsageError("give one of --suggest and --map; begin with --suggest")
    if suggest and write_files:
        raise click.UsageError("--write goes with --map; a proposal is printed")
    if quiet and not write_files:
        raise click.UsageError("--quiet goes with --write; what would be written is there to be read")
    try:
        if map_file is None:
            _suggest(file, logbook, sheet)
        else:
            _import(file, logbook, map_file, write_files, quiet)
    except NotASheetError as error:
        raise stop(f"{file}: {error.message}", error.hint) from None


def _suggest(file: Path, logbook: Path, name: str) -> None:
    from generator.exchange.files import best_sheet
    from generator.exchange.suggesting import suggestion

    known = _known(logbook)
    sheet, form = best_sheet(file.name, _bytes(file), name, known.currency)
    click.echo(suggestion(file.name, sheet, form, known, values=not is_read_by_others()), nl=False)
    click.echo(
        'Nothing was written. Fill in every "?" of the map, then: esterday import FILE --map MAP', err=True
    )


def _known(logbook: Path) -> Known:
    """What the logbook says of currency and ids; nothing where there is none yet."""
    from generator.exchange.suggesting import Known
    from generator.validate.logbook import checked_folder

    log = checked_folder(logbook)[1].log

    def kind_of(lot: str) -> str:
        material = log.material_of(lot) if log is not None else None
        return material.record.kind if material is not None else ""

    if log is None:
        click.echo(f"{logbook} cannot be read, so the map is made without its currency and ids.", err=True)
        return Known("", {})
    kinds = {"oil": "oil", "catalyst": "catalyst", "methanol": "alcohol"}
    ids = {
        f"{what}.lot": [name for name in log.lots if kind_of(name) == kind] for what, kind in kinds.items()
    }
    ids |= {
        "purifier": [*log.purifiers],
        "tank": [*log.tanks],
        "material": [*log.materials],
    }
    return Known(log.settings.currency, ids, log.settings.gallon)


def _import(file: Path, logbook: Path, map_file: Path, write_files: bool, quiet: bool) -> None:
    from generator.exchange.files import read_sheet
    from generator.exchange.importing import planned, together

    book = opened(logbook)
    mapping = map_of(map_file, book)
    sheet = read_sheet(file.name, _bytes(file), mapping.settings)
    plan = planned(sheet, mapping, _existing(book.folder, mapping.records), context(book))
    tell_troubles(str(file), together(plan.troubles))
    if not quiet:
        _tell_plan(plan, logbook)
    if write_files:
        _write(plan.written, logbook)
    errors = _tell_checks(book, plan.written, quiet)
    if not quiet:
        _summary(plan, write_files)
    if errors:
        told = "stands" if errors == 1 else "stand"
        click.echo(
            f"{count(errors, 'error')} of the check {told} above; no site is built of these files until they are mended.",
            err=True,
        )
    raise SystemExit(1 if plan.troubles or errors else 0)


def context(book: Opened) -> dict[str, str]:
    """What the reading of values depends on."""
    from generator.validate.logbook import context_of

    assert book.folder.workshop is not None
    return context_of(book.folder.workshop)


def map_of(path: Path, book: Opened) -> Map:
    """Read a map; exits with 1 and every reason where it cannot be used."""
    from generator.exchange.mapping import read_map
    from generator.read.folder import Folder

    raw = _bytes(path, "print one with --suggest, and fill it in")
    found, problems, troubles = read_map(str(path), raw, context(book))
    if problems:
        lines = raw.decode("utf-8", "replace").split("\n")
        tell(Folder(path.parent), path, problems, {str(path): lines})
    tell_troubles("", troubles)
    if found is None:
        click.echo("Nothing was written: mend the map first.", err=True)
        raise SystemExit(1)
    return found


def _bytes(path: Path, hint: str = "give a .csv or .xlsx") -> bytes:
    """The bytes of a plain file that is not too large; exits with 2 or 3 where it cannot be read."""
    from generator.exchange.sheet import MAX_BYTES

    try:
        if not path.is_file():
            raise stop(f"{path} is no file", hint)
        if path.stat().st_size > MAX_BYTES:
            raise stop(
                f"{path} is larger than {MAX_BYTES} bytes", "keep the one table in it, or split it by year"
            )
        return path.read_bytes()
    except OSError as error:
        raise stop(f"{path} cannot be read: {error.strerror}", code=3) from None


def _existing(folder: Folder, records: str) -> Existing:
    from generator.exchange.importing import Existing
    from generator.exchange.places import ID_KEYS

    key = ID_KEYS[records]
    there = {}
    for document in folder.documents[records]:
        if isinstance(document.data, dict) and isinstance(document.data.get(key), str):
            there[document.data[key].casefold()] = (document.file, document.data)
    files = (folder.root / records).rglob("*")
    names = frozenset(path.relative_to(folder.root).as_posix().casefold() for path in files)
    return Existing(there, names)


def _tell_plan(plan: Plan, logbook: Path) -> None:
    """Which files, and the first of them in full; what is told beside."""
    if is_read_by_others():
        return
    for remark in plan.remarks:
        click.echo(f"note: {remark}", err=True)
    for number, written in enumerate(plan.written):
        click.echo(f"row {written.row} -> {logbook / written.file}")
        if not number:
            click.echo("".join(f"    {line}\n" for line in written.text.splitlines()), nl=False)


def _write(files: list[Written], logbook: Path) -> None:
    from generator.schema import editor_line

    for written in files:
        put(logbook / written.file, (editor_line(logbook, written.file) + written.text).encode(), new=True)


def _tell_checks(book: Opened, files: list[Written], quiet: bool) -> int:
    """What `check` says of the new files, as they are or would be; how many errors it finds."""
    from generator.writing.trial import brought

    found = brought(book.folder, book.checked, {written.file: written.text for written in files})
    errors = [problem for problem in found if problem.is_error]
    tell(book.folder, book.root, errors, {written.file: written.text.split("\n") for written in files})
    warnings = len(found) - len(errors)
    if warnings and not quiet:
        click.echo(
            f"And {count(warnings, 'warning')}, which 'esterday check' tells once they are written.", err=True
        )
    return len(errors)


def _summary(plan: Plan, write_files: bool) -> None:
    rows = {trouble.where.split(",")[0] for trouble in plan.troubles}
    done = "written" if write_files else "to write, and nothing was written yet (--write does it)"
    click.echo(
        f"{count(len(plan.written), 'file')} {done}; {count(len(plan.same), 'row')} there already and the same; "
        f"{count(len(rows), 'row')} not used.",
        err=True,
    )
    if any("column" in trouble.where for trouble in plan.troubles):
        click.echo(
            "'otherwise: note' for a column of the map puts what cannot be read there into the note.",
            err=True,
        )
