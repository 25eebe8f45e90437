"""A PDF cut down to what its pages show: bookmarks, links, structure, names of layers and what is said of marks are left out.

Of the catalogue and the pages only known keys stay. What a program keeps for itself inside a font or a picture is not looked through.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pikepdf
from pikepdf import Name

from generator.attaching.kinds import Refused

PRINTED = "print it into a new PDF, and attach that"
_OF_CATALOGUE = {"/Type", "/Pages", "/Version"}
_OF_PAGES = {
    "/Type",
    "/Parent",
    "/Kids",
    "/Count",
    "/Resources",
    "/MediaBox",
    "/CropBox",
    "/BleedBox",
    "/TrimBox",
    "/ArtBox",
    "/Rotate",
    "/Contents",
    "/UserUnit",
    "/Group",
}
_UNSEEN = {"/Link", "/Popup"}  # of what lies on a page, what it does not show
# a mark with words or a name behind it -> the same mark alone
_MARKS = {"BDC": "BMC", "DP": "MP"}
_TELLING = (b"BDC", b"DP", b"%")  # in a content stream: marks with words, and remarks


def keep_pages(pdf: pikepdf.Pdf) -> None:
    """Leave the pages alone in a document; Refused where they hold notes or layers, of which some may be hidden."""
    if "/OCProperties" in pdf.Root:
        raise refused("has layers, and some may be hidden")
    for page in pdf.pages:
        for note in page.obj.get("/Annots", []):
            if str(note.get("/Subtype")) not in _UNSEEN:
                raise refused("holds notes or stamps, and some may be hidden")
    _keep(pdf.Root, _OF_CATALOGUE)
    for node in _nodes(pdf.Root.Pages, set()):
        _keep(node, _OF_PAGES)
    for page in pdf.pages:
        if _tells(page.obj.get("/Contents")):
            page.contents_coalesce()
            page.obj.Contents = pdf.make_stream(_unmarked(page))
    for each in pdf.objects:
        drawn = isinstance(each, pikepdf.Stream) and (
            each.get("/Subtype") == Name("/Form") or "/PatternType" in each
        )
        if drawn and _tells(each):
            each.write(_unmarked(each))


def refused(what: str, remedy: str = PRINTED) -> Refused:
    """Why a PDF is not taken, and what to do."""
    return Refused("attachment-refused", f"this PDF {what}", remedy)


def _keep(each: Any, known: set[str]) -> None:
    for key in [key for key in each if key not in known]:
        del each[key]


def _nodes(node: Any, seen: set[tuple[int, int]]) -> Iterator[Any]:
    """The nodes of the tree of pages, the pages too."""
    if node.objgen in seen:
        return
    if node.is_indirect:
        seen.add(node.objgen)
    yield node
    for inner in node.get("/Kids", []):
        yield from _nodes(inner, seen)


def _tells(contents: Any) -> bool:
    """Whether a content stream, or one of several, may hold a remark or a mark with words."""
    if contents is None:
        return False
    parts = contents if isinstance(contents, pikepdf.Array) else [contents]
    return any(sign in part.read_bytes() for part in parts for sign in _TELLING)


def _unmarked(drawn: Any) -> bytes:
    """What is drawn, remarks left out and marks without their words."""
    plain: list[Any] = []
    for one in pikepdf.parse_content_stream(drawn):
        mark = _MARKS.get(str(one.operator))
        plain.append(
            pikepdf.ContentStreamInstruction([one.operands[0]], pikepdf.Operator(mark)) if mark else one
        )
    return pikepdf.unparse_content_stream(plain)
