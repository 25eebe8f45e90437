"""A PDF written anew: its pages alone. Who wrote it, when and with what, earlier versions and thumbnails are left out.

What a page could do, carry or hide is refused: scripts, programs, embedded files, forms, passwords.
"""

from __future__ import annotations

import io
import re
import zlib
from collections.abc import Iterator
from typing import Any

import pikepdf
from pikepdf import Name

from generator.attaching.kinds import Refused
from generator.attaching.only_pages import keep_pages, refused

_REFUSED = {
    "/JS": "a script",
    "/JavaScript": "a script",
    "/AA": "actions that run by themselves",
    "/EmbeddedFile": "another file",
    "/EmbeddedFiles": "another file",
    "/EF": "another file",
    "/RichMedia": "film or sound",
    "/XFA": "a form",
    "/AcroForm": "a form",
    "/Collection": "a collection of files",
}
_ACTIONS = {
    "/JavaScript",
    "/Launch",
    "/SubmitForm",
    "/ImportData",
    "/GoToE",
    "/GoToR",
    "/Rendition",
    "/Movie",
    "/Sound",
}
_DROPPED = (
    "/Metadata",
    "/PieceInfo",
    "/LastModified",
    "/Thumb",
    "/OpenAction",
    "/SpiderInfo",
    "/Perms",
    "/LastKnownHost",
    "/OC",
    "/Properties",
    "/StructParent",
    "/StructParents",
)
_SCAN_END = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]", re.DOTALL)  # a marker that is no part of a scan
_KEPT_SEGMENTS = {0xE0, 0xE2, 0xEE}  # how a JPEG is to be shown: JFIF, colour profile, colour transform


MOST_UNPACKED = 200 * 1024 * 1024
_STREAM = re.compile(rb"stream\r?\n")
_PIECE = 64 * 1024


def document(raw: bytes) -> bytes:
    """The document without its metadata; Refused where it is damaged, locked, or holds more than pages."""
    _weigh(raw)
    try:
        # repaired, a document that was cut short would come out with less on its pages than was sent
        with pikepdf.open(io.BytesIO(raw), attempt_recovery=False, suppress_warnings=True) as pdf:
            if pdf.is_encrypted:
                raise refused(
                    "is locked with a password", "ask for it without one, or print it into a new PDF"
                )
            if not len(pdf.pages):
                raise refused("has no page", "save it anew")
            for each in _groups(
                pdf
            ):  # all of it before anything is taken out, which could be what is looked for
                _look(each)
            keep_pages(pdf)
            for each in _groups(pdf):
                _strip(each)
            _strip(pdf.trailer)
            if "/Info" in pdf.trailer:
                del pdf.trailer["/Info"]
            out = io.BytesIO()
            pdf.save(out, deterministic_id=True, fix_metadata_version=False)
            return out.getvalue()
    except pikepdf.PasswordError as error:
        raise refused(
            "is locked with a password", "ask for it without one, or print it into a new PDF"
        ) from error
    except (pikepdf.PdfError, ValueError, TypeError, RecursionError, OSError) as error:
        raise refused("is damaged and cannot be read", "save it anew, or print it into a new PDF") from error


def _weigh(raw: bytes) -> None:
    """Refused where its streams unpack to more than any report; before they are unpacked as a whole to be read.

    A stream that is packed twice, or spelt out before it is packed, is not seen through.
    """
    left = MOST_UNPACKED
    for match in _STREAM.finditer(raw):
        unpacking, at = zlib.decompressobj(), match.end()
        try:
            while not unpacking.eof and at < len(raw):
                left -= len(unpacking.decompress(raw[at : at + _PIECE], left + 1))
                if left < 0:
                    raise Refused(
                        "attachment-too-large",
                        f"this PDF unpacks to more than {MOST_UNPACKED // 1024**2} MiB",
                        "print it into a new PDF, in fewer colours or points",
                    )
                at += _PIECE
        except zlib.error:
            continue  # another packing, or none


def _groups(pdf: pikepdf.Pdf) -> Iterator[Any]:
    """Every dictionary and stream of the document, in the objects and inside them."""
    waiting: list[Any] = list(pdf.objects)
    while waiting:
        each = waiting.pop()
        if isinstance(each, pikepdf.Array):
            waiting += [item for item in each if _inside(item)]
        elif isinstance(each, pikepdf.Dictionary | pikepdf.Stream):
            yield each
            waiting += [value for _, value in each.items() if _inside(value)]


def _inside(value: Any) -> bool:
    """Whether a value is a group or list that is no object of its own; those come by themselves."""
    return isinstance(value, pikepdf.Array | pikepdf.Dictionary) and not value.is_indirect


def _look(each: Any) -> None:
    for key, what in _REFUSED.items():
        if key in each and not (key == "/AcroForm" and not len(each[key].get("/Fields", []))):
            raise refused(f"holds {what}")
    names = {str(each.get(key)) for key in ("/S", "/Subtype", "/Type") if isinstance(each.get(key), Name)}
    if not names.isdisjoint(_ACTIONS | {"/FileAttachment", "/EmbeddedFile", "/Screen", "/3D"}):
        raise refused("holds something that runs or opens")


def _strip(each: Any) -> None:
    for key in _DROPPED:
        if key in each:
            del each[key]
    if isinstance(each, pikepdf.Stream) and each.get("/Filter") in (Name("/DCTDecode"), [Name("/DCTDecode")]):
        parms = each.get("/DecodeParms")
        each.write(without_segments(each.read_raw_bytes()), filter=Name("/DCTDecode"))
        if parms is not None:
            each["/DecodeParms"] = parms


def without_segments(jpeg: bytes) -> bytes:
    """A JPEG without comments, what cameras add and what hangs behind its end, its picture untouched; Refused where it is none."""
    out, at = [b"\xff\xd8"], 2
    while jpeg[:2] == b"\xff\xd8" and at + 2 <= len(jpeg) and jpeg[at] == 0xFF:
        marker = jpeg[at + 1]
        if marker == 0xD9:
            return b"".join([*out, b"\xff\xd9"])
        if marker == 0xFF:  # a filling byte
            at += 1
            continue
        end = at + 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
        if marker == 0xDA:
            scan = _SCAN_END.search(jpeg, end)
            end = scan.start() if scan is not None else len(jpeg)
        if not (0xE0 <= marker <= 0xEF or marker == 0xFE) or marker in _KEPT_SEGMENTS:
            out.append(jpeg[at:end])
        at = end
    raise refused("holds a damaged picture", "save it anew, or print it into a new PDF")
