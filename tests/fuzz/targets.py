"""What reads bytes from outside, each as a function that raises nothing for any bytes but what shows a mistake of ours.

The own errors of a reader are caught here by name; where a reader promises more than not to fall over, that is asserted too.
"""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from pydantic_core import PydanticCustomError
from selectolax.lexbor import LexborHTMLParser

from generator import fields, pricing
from generator.attaching import Refused, cleaned
from generator.data import rows
from generator.exchange.delimited import form_of, read_csv
from generator.exchange.mapping import read_map
from generator.exchange.sheet import NotASheetError
from generator.exchange.suggesting import Known, suggestion
from generator.exchange.workbook import sheets_of, xlsx_bytes
from generator.fixing import mended
from generator.kept import Kept, digest
from generator.problems import Problem, plain, rules, told
from generator.publish.errors import CannotPublish
from generator.publish.inventory import MANIFEST, site_in
from generator.read.document import parse
from generator.read.text import decoded
from generator.records import KINDS
from generator.render.exports import SKIPPED, STARTS, csv_bytes
from generator.render.linking import linked
from generator.render.markdown import note_html
from generator.tables import LOTS
from generator.units import NotAQuantity, price, quantity
from generator.validate.grammar import record_of
from tests.attaching.samples import pdf, photo, png

CONTEXT = {"gallon": "none", "currency": "EUR", "rates": "USD"}
UNIT_KINDS = tuple(kind for kind, row in rows("units").items() if row["units"])
LINKS = ("http://", "https://", "mailto:")
RUNNING = {
    "script",
    "style",
    "iframe",
    "object",
    "embed",
    "form",
    "img",
    "svg",
    "math",
    "link",
    "meta",
    "base",
}
_FOLDER = TemporaryDirectory(prefix="esterday-fuzz-")


def _told(problems: list[Problem]) -> None:
    for problem in problems:
        assert problem.code in rules() and problem.place.line >= 1 and problem.place.column >= 1, problem
        assert all(line.isprintable() for line in told(problem, lambda _: None, "", plain).split("\n")), (
            problem
        )


def reader(raw: bytes) -> None:
    """A file of the logbook as text and events, and every mend it is offered."""
    text, problems = decoded("a.yaml", raw)
    if not problems:
        reading = parse("a.yaml", text)
        assert reading.document is not None or reading.problems
        problems = reading.problems
    _told(problems)
    mends = [problem.mend for problem in problems if problem.mend is not None]
    if mends:
        mended(raw, mends)[0].decode()


def grammar(raw: bytes) -> None:
    """A file as a record of the kind that its first byte chooses."""
    kinds = sorted(KINDS)
    text, problems = decoded("a.yaml", raw[1:])
    document = parse("a.yaml", text).document if raw and not problems else None
    if document is None:
        return
    model = KINDS[kinds[raw[0] % len(kinds)]].model
    record, problems = record_of(model, document, CONTEXT)
    assert (record is None) == bool(problems)
    _told(problems)
    mends = [problem.mend for problem in problems if problem.mend is not None]
    if mends:
        mended(raw[1:], mends)[0].decode()


def units(raw: bytes) -> None:
    """A quantity, a price."""
    text = raw.decode("utf-8", "replace")
    for kinds in ((kind,) for kind in UNIT_KINDS):
        try:
            found = quantity(text, kinds)
            assert found.kind in kinds and found.value == found.value
        except NotAQuantity as error:
            assert error.code in rules()
    try:
        assert price(text).amount.is_finite()
    except NotAQuantity as error:
        assert error.code in rules()


def scalars(raw: bytes) -> None:
    """A date, a moment, a number, an id, a currency, a zone, a locale, yes or no."""
    text = raw.decode("utf-8", "replace")
    for read in (
        fields._date,
        fields._moment,
        fields._number,
        fields._id,
        pricing._currency,
        fields._zone,
        fields._locale,
        fields._yes,
        fields._free_text,
    ):
        try:
            read(text)
        except PydanticCustomError as error:
            assert error.context is not None and error.context["code"] in rules()


def notes(raw: bytes) -> None:
    """Markdown to HTML: nothing that runs or loads, and links that lead where links may."""
    text = raw.decode("utf-8", "replace")
    for html in (note_html(text), linked(text, {"b-1": "batches/b-1.html", text: "x.html"}, "../")):
        for node in LexborHTMLParser(f"<!doctype html><body>{html}").css("body *"):
            assert node.tag not in RUNNING, html
            assert not [name for name in node.attributes if name.startswith("on") or name == "style"], html
            address = node.attributes.get("href") or ""
            assert (
                node.tag != "a"
                or html.startswith('<a href="../')
                or address.lower().startswith((*LINKS, "../"))
            ), html


def text_sheet(raw: bytes) -> None:
    """A file with delimiters, and the map that is proposed for it, which reads as a map."""
    try:
        form = form_of(raw)
        sheet = read_csv("a.csv", raw, form)
        proposed = suggestion("a.csv", sheet, form, Known("EUR", {}), values=True)
    except NotASheetError:
        return
    _told(read_map("map.yaml", proposed.encode(), CONTEXT)[1])


def workbook(raw: bytes) -> None:
    """A workbook as a whole, and one of which these bytes are a sheet."""
    for each in (raw, _with_sheet(raw)):
        try:
            sheets_of(each)
        except NotASheetError:
            continue


def sheet_map(raw: bytes) -> None:
    """The map of a sheet."""
    found, problems, troubles = read_map("map.yaml", raw, CONTEXT)
    assert found is not None or problems or troubles
    _told(problems)


def cells(raw: bytes) -> None:
    """A text in a table comes back from the csv module as it was, or behind an apostrophe; nothing is a formula."""
    text = raw.decode("utf-8", "replace")
    written = csv_bytes(LOTS, {name: [text if name == "source" else None] for name in LOTS.names}).decode(
        "utf-8"
    )
    (row,) = csv.DictReader(io.StringIO(written, newline=""))
    cell = row["source"]
    assert cell in (text, f"'{text}")
    assert cell.lstrip(SKIPPED)[:1] not in STARTS or not cell.lstrip(SKIPPED) or cell[0] == "'"


def own_files(raw: bytes) -> None:
    """The list of a site's own files, which lies where anyone may change it."""
    folder = Path(_FOLDER.name) / "site"
    folder.mkdir(exist_ok=True)
    (folder / MANIFEST).write_bytes(raw)
    try:
        for path in site_in(folder, folder).digests:
            assert (folder / path).resolve().is_relative_to(folder.resolve())
    except CannotPublish as error:
        assert error.message.isprintable() and error.hint


def report(raw: bytes) -> None:
    """A report that is attached: a PDF, a PNG or a JPEG, as its bytes say."""
    for name in ("a.pdf", "a.png", "a.jpg"):
        try:
            cleaned(name, raw)
        except Refused as refused:
            assert refused.code in rules() and refused.hint


def kept(raw: bytes) -> None:
    """A file of the cache: taken only where it is the text that was kept."""
    folder = Path(_FOLDER.name) / "kept"
    key = digest("a")
    path = folder / key[:2] / key
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(raw)
    assert Kept(folder).text(key, lambda: "made") == "made"


def _with_sheet(raw: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(_BOOK)) as book, zipfile.ZipFile(out, "w") as changed:
        for info in book.infolist():
            content = raw if info.filename == "xl/worksheets/sheet1.xml" else book.read(info)
            changed.writestr(info.filename, content)
    return out.getvalue()


def sheet_xml() -> bytes:
    """The sheet of the workbook that `workbook` changes."""
    with zipfile.ZipFile(io.BytesIO(_BOOK)) as book:
        return book.read("xl/worksheets/sheet1.xml")


_BOOK = xlsx_bytes("batches", [["Batch", "Oil (L)"], ["b-1", "90"]])
TARGETS: Mapping[str, Callable[[bytes], None]] = {
    each.__name__: each
    for each in (
        reader,
        grammar,
        units,
        scalars,
        notes,
        text_sheet,
        workbook,
        sheet_map,
        cells,
        own_files,
        kept,
        report,
    )
}


def seeds(root: Path) -> Mapping[str, list[bytes]]:
    """What the targets are begun with: the files of the demo, and short texts of each kind."""
    files = [path.read_bytes() for path in sorted((root / "logbook").rglob("*.yaml"))]
    values = [
        b"190 L at 22 \xc2\xb0C",
        b"< 50 mg/kg",
        b"0.38 EUR/L",
        b"12.00 USD",
        b"3.5 US gal",
        b"1,5 L",
        b"90 %",
    ]
    days = [
        b"2026-03-14",
        b"2026-03-14T09:10",
        b"1.5",
        b"b-1",
        b"EUR",
        b"Europe/Berlin",
        b"yes",
        b"14.3.2026",
    ]
    texts = [
        b"**a** [b](https://example.org)\n\n- c\n",
        b"| a |\n|---|\n| b |\n",
        b"b-1 <b> &amp; `c`",
        b"=1+1",
    ]
    sheets = [b"Batch;Date;Oil (L)\nb-1;14.03.2026;90,5\n", b"sep=,\na,b\n1,2\n", b"\xff\xfea\x00\t\x00b\x00"]
    maps = [
        b"import: batches\nid: '{Batch}'\ncolumns:\n  - {column: Batch, key: batch}\n  - {column: A, key: '?'}\n"
    ]
    lists = [json.dumps({"format": 1, "files": {"index.html": "0"}}).encode()]
    return {
        "reader": files,
        "grammar": [bytes([number]) + file for number in range(len(KINDS)) for file in files[::7]],
        "units": values,
        "scalars": days,
        "notes": texts,
        "text_sheet": sheets,
        "workbook": [_BOOK, sheet_xml()],
        "sheet_map": maps,
        "cells": texts,
        "own_files": lists,
        "report": [pdf(), pdf(picture=False), png(), photo()],
        "kept": [b"0" * 40 + b"\nmade"],
    }
