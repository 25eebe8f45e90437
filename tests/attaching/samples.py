"""Reports as scanners, browsers and office programs leave them, with a word in every place that nobody looks at."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
from PIL import Image, PngImagePlugin

CANARY = "harbour-kitchen-7731"
LATITUDE = b"\x00\x02"


def photo(*, turned: bool = False) -> bytes:
    """A JPEG as a telephone writes it: place, camera, comment, and something behind its end."""
    exif = Image.Exif()
    exif[0x010E] = CANARY  # description
    exif[0x010F] = CANARY  # maker
    exif[0x0112] = 6 if turned else 1
    exif.get_ifd(0x8825)[2] = (52.0, 30.0, 7.731)  # latitude
    out = io.BytesIO()
    _gradient().save(out, "JPEG", exif=exif, comment=CANARY.encode(), xmp=_xmp())
    return out.getvalue() + CANARY.encode()


def png() -> bytes:
    """A PNG with texts, a place and something behind its end."""
    told = PngImagePlugin.PngInfo()
    told.add_text("Author", CANARY)
    told.add_itxt("XML:com.adobe.xmp", _xmp().decode())
    out = io.BytesIO()
    _gradient().save(out, "PNG", pnginfo=told)
    return out.getvalue() + CANARY.encode()


def pdf(*, picture: bool = True) -> bytes:
    """A PDF with a page, who made it, a link, and a photograph that knows its place."""
    made = pikepdf.new()
    page = made.add_blank_page(page_size=(200, 200))
    with made.open_metadata() as told:
        told["dc:creator"] = [CANARY]
    made.docinfo["/Author"] = CANARY
    made.Root["/PieceInfo"] = pikepdf.Dictionary(Editor=pikepdf.Dictionary(Private=CANARY))
    page.obj["/Annots"] = pikepdf.Array(
        [
            pikepdf.Dictionary(
                Type=pikepdf.Name("/Annot"),
                Subtype=pikepdf.Name("/Link"),
                Rect=[0, 0, 9, 9],
                T=CANARY,
                A=pikepdf.Dictionary(S=pikepdf.Name("/URI"), URI=f"https://{CANARY}.example/"),
            )
        ]
    )
    if picture:
        facts = pikepdf.Dictionary(
            Type=pikepdf.Name("/XObject"),
            Subtype=pikepdf.Name("/Image"),
            Width=40,
            Height=20,
            ColorSpace=pikepdf.Name("/DeviceRGB"),
            BitsPerComponent=8,
            Filter=pikepdf.Name("/DCTDecode"),
        )
        image = pikepdf.Stream(made, photo(), facts)
        page.obj["/Resources"] = pikepdf.Dictionary(XObject=pikepdf.Dictionary(P=image))
        page.obj["/Contents"] = pikepdf.Stream(made, b"q 160 0 0 80 20 60 cm /P Do Q")
    out = io.BytesIO()
    made.save(out, compress_streams=False)
    return out.getvalue()


def with_root(key: str, value: object, raw: bytes | None = None) -> bytes:
    """A PDF whose catalogue has one more entry."""
    with pikepdf.open(io.BytesIO(raw or pdf(picture=False))) as made:
        made.Root[key] = value
        out = io.BytesIO()
        made.save(out)
        return out.getvalue()


def attach(root: Path, name: str, raw: bytes, *, public: bool = False) -> None:
    """Put a report into a logbook, and name it in the one result of its second batch."""
    folder = root / "attachments"
    folder.mkdir(exist_ok=True)
    (folder / name).write_bytes(raw)
    path = root / "batches" / "b2.yaml"
    said = f"report: {{file: {name}{', public: true' if public else ''}}}"
    text = path.read_text(encoding="utf-8")
    path.write_text(
        text.replace("method: water test kit}", f"method: water test kit, {said}}}"), encoding="utf-8"
    )


def _gradient() -> Image.Image:
    picture = Image.new("RGB", (40, 20), "white")
    picture.paste("black", (0, 0, 20, 20))
    return picture


def _xmp() -> bytes:
    return f'<x:xmpmeta xmlns:x="adobe:ns:meta/"><a>{CANARY}</a></x:xmpmeta>'.encode()
