"""What a report shows stays, what it hides is gone, and what cannot be looked through is refused."""

from __future__ import annotations

import contextlib
import io
import os
import shutil
import subprocess
import zlib
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from generator.attaching import Refused, cleaned
from generator.attaching.documents import MOST_UNPACKED
from generator.attaching.pictures import MOST_PIXELS
from tests.site.browsing import CHROMIUM

from .samples import CANARY, pdf, photo, png, with_root

N = pikepdf.Name
D = pikepdf.Dictionary


def everything(raw: bytes) -> bytes:
    """All bytes of a document, and those of its streams unpacked."""
    with pikepdf.open(io.BytesIO(raw)) as made:
        streams = [each for each in made.objects if isinstance(each, pikepdf.Stream)]
        inside = [each.read_raw_bytes() + _unpacked(each) for each in streams]
        texts = [str(each).encode() for each in made.objects if not isinstance(each, pikepdf.Stream)]
    return b"".join([raw, *inside, *texts])


def _unpacked(stream: pikepdf.Stream) -> bytes:
    try:
        return stream.read_bytes()
    except pikepdf.PdfError:
        return b""


def drawn(raw: bytes) -> Image.Image:
    """The first page as another library draws it."""
    document = pypdfium2.PdfDocument(raw)
    picture: Image.Image = document[0].render(scale=1).to_pil()
    document.close()
    return picture


def test_a_photograph_says_nothing_but_what_it_shows() -> None:
    raw = photo()
    assert CANARY.encode() in raw
    bare = cleaned("a.jpg", raw)
    assert CANARY.encode() not in bare
    with Image.open(io.BytesIO(bare)) as seen:
        assert (seen.format, seen.size, dict(seen.getexif())) == ("JPEG", (40, 20), {})
        grey = seen.convert("L").tobytes()
        assert grey[10 * 40 + 5] < 40 and grey[10 * 40 + 35] > 215


def test_a_photograph_lies_as_it_was_seen() -> None:
    with Image.open(io.BytesIO(cleaned("a.jpeg", photo(turned=True)))) as seen:
        assert seen.size == (20, 40)


def test_a_drawn_picture_says_nothing_but_what_it_shows() -> None:
    bare = cleaned("a.PNG", png())
    assert CANARY.encode() not in bare
    with Image.open(io.BytesIO(bare)) as seen, Image.open(io.BytesIO(png())) as before:
        assert seen.info == {}
        assert seen.tobytes() == before.tobytes()


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_every_kind_of_colour_is_taken(mode: str) -> None:
    out = io.BytesIO()
    Image.new(mode, (9, 9)).save(out, "PNG")
    with Image.open(io.BytesIO(cleaned("a.png", out.getvalue()))) as seen:
        assert seen.size == (9, 9)


def test_a_document_says_nothing_but_what_it_shows() -> None:
    raw = pdf()
    assert everything(raw).count(CANARY.encode()) >= 6
    bare = cleaned("a.pdf", raw)
    assert CANARY.encode() not in everything(bare)
    assert drawn(bare).tobytes() == drawn(raw).tobytes()
    with pikepdf.open(io.BytesIO(bare)) as made:
        assert "/Info" not in made.trailer or not dict(made.docinfo)
        assert "/Metadata" not in made.Root
        assert "/Annots" not in made.pages[0].obj


def _hidden(where: str, made: pikepdf.Pdf) -> None:
    """Put the canary where no page shows it."""
    page = made.pages[0].obj
    root = {
        "bookmarks": D(Type=N("/Outlines"), First=made.make_indirect(D(Title=CANARY)), Count=1),
        "labels": D(Nums=[0, D(P=CANARY)]),
        "names": D(Dests=D(Names=[CANARY, [page, N("/Fit")]])),
        "structure": D(Type=N("/StructTreeRoot"), K=D(S=N("/P"), Alt=CANARY, ActualText=CANARY)),
        "preferences": D(X=CANARY),
        "language": CANARY,
        "base": D(Base=f"https://{CANARY}.example/"),
        "key": CANARY,
    }
    keys = {
        "bookmarks": "/Outlines", "labels": "/PageLabels", "names": "/Names", "structure": "/StructTreeRoot",
        "preferences": "/ViewerPreferences", "language": "/Lang", "base": "/URI", "key": "/X",
    }  # fmt: skip
    if where in root:
        made.Root[keys[where]] = root[where]
    elif where == "page":
        page["/X"] = CANARY
    elif where == "tree":
        made.Root.Pages["/X"] = CANARY
    elif where == "mark":
        made.pages[0].contents_add(
            f"/Span <</ActualText ({CANARY})>> BDC EMC /P <</X ({CANARY})>> DP".encode()
        )
    elif where == "remark":
        made.pages[0].contents_add(f"q Q % {CANARY}\n".encode())
    elif where == "mark by name":
        page.Resources["/Properties"] = D(M=D(Title=CANARY))
        made.pages[0].contents_add(b"/Span /M BDC EMC")
    elif where == "in a form":
        form = pikepdf.Stream(made, f"q /Span <</ActualText ({CANARY})>> BDC EMC Q % {CANARY}\n".encode())
        form["/Type"], form["/Subtype"], form["/BBox"] = N("/XObject"), N("/Form"), [0, 0, 1, 1]
        form["/PieceInfo"] = D(X=CANARY)
        page.Resources.XObject["/F"] = made.make_indirect(form)
        made.pages[0].contents_add(b"/F Do")
    else:
        raise KeyError(where)


HIDDEN = (
    "bookmarks", "labels", "names", "structure", "preferences", "language", "base", "key", "page", "tree", "mark", "remark",
    "mark by name", "in a form",
)  # fmt: skip


@pytest.mark.parametrize("where", HIDDEN)
def test_what_no_page_shows_is_not_in_the_copy(where: str) -> None:
    with pikepdf.open(io.BytesIO(cleaned("a.pdf", pdf()))) as made:
        _hidden(where, made)
        out = io.BytesIO()
        made.save(out, compress_streams=False)
    raw = out.getvalue()
    assert CANARY.encode() in everything(raw)
    bare = cleaned("a.pdf", raw)
    assert CANARY.encode() not in everything(bare)
    assert drawn(bare).tobytes() == drawn(raw).tobytes()


def test_an_earlier_version_is_gone() -> None:
    """A PDF that was added to keeps what it was before; derived: a page text replaced behind the end of the file."""
    raw = pdf(picture=False)
    at = raw.rindex(b"startxref")
    later = (
        raw
        + (
            f"\n9999 0 obj\n({CANARY}-later)\nendobj\nxref\n9999 1\n{len(raw) + 1:010} 00000 n \n"
            f"trailer\n<< /Size 10000 /Prev {int(raw[at:].split()[1])} /Root 1 0 R >>\nstartxref\n"
        ).encode()
    )
    offset = later.rindex(b"\nxref\n") + 1
    later += f"{offset}\n%%EOF\n".encode()
    assert b"-later" in later
    assert CANARY.encode() not in everything(cleaned("a.pdf", later))


def test_the_same_report_gives_the_same_bytes() -> None:
    for name, raw in (("a.pdf", pdf()), ("a.png", png()), ("a.jpg", photo())):
        assert cleaned(name, raw) == cleaned(name, raw)
        assert cleaned(name, cleaned(name, raw)) == cleaned(name, cleaned(name, raw))


def _locked() -> bytes:
    with pikepdf.open(io.BytesIO(pdf(picture=False))) as made:
        out = io.BytesIO()
        made.save(out, encryption=pikepdf.Encryption(owner="a", user="b"))
        return out.getvalue()


def _locked_for_changes() -> bytes:
    with pikepdf.open(io.BytesIO(pdf(picture=False))) as made:
        out = io.BytesIO()
        made.save(out, encryption=pikepdf.Encryption(owner="a", user=""))
        return out.getvalue()


def _with_file() -> bytes:
    with pikepdf.open(io.BytesIO(pdf(picture=False))) as made:
        made.attachments["a.txt"] = pikepdf.AttachedFileSpec(
            made,
            CANARY.encode(),
            description="",
            filename="a.txt",
            mime_type="text/plain",
            creation_date="",
            mod_date="",
        )
        out = io.BytesIO()
        made.save(out)
        return out.getvalue()


def _page_with(key: str, value: object) -> bytes:
    with pikepdf.open(io.BytesIO(pdf(picture=False))) as made:
        made.pages[0].obj[key] = value
        out = io.BytesIO()
        made.save(out)
        return out.getvalue()


def _bomb() -> bytes:
    out = io.BytesIO()
    side = int(MOST_PIXELS**0.5) + 1
    Image.new("1", (side, side)).save(out, "PNG")
    return out.getvalue()


def _packed_bomb() -> bytes:
    """A list of objects that unpacks to more than is taken: found by trying: one of 1 MB took 30 s."""
    packing, blank = zlib.compressobj(9), b" " * 1_000_000
    blanks = (
        b"".join(packing.compress(blank) for _ in range(MOST_UNPACKED // len(blank) + 1)) + packing.flush()
    )
    head = b"%PDF-1.5\n5 0 obj\n<</Type/ObjStm/N 1/First 4/Filter/FlateDecode/Length "
    return head + str(len(blanks)).encode() + b">>\nstream\n" + blanks + b"\nendstream\nendobj\n"


REFUSED: dict[str, tuple[str, str, Callable[[], bytes]]] = {
    "script on opening": (
        "a.pdf", "attachment-refused", lambda: with_root("/OpenAction", D(S=N("/JavaScript"), JS="1")),
    ),
    "script by name": (
        "a.pdf", "attachment-refused", lambda: with_root("/Names", D(JavaScript=D(Names=["a", D(S=N("/JavaScript"))]))),
    ),
    "program": ("a.pdf", "attachment-refused", lambda: with_root("/X", D(S=N("/Launch"), F="a.exe"))),
    "form": ("a.pdf", "attachment-refused", lambda: with_root("/AcroForm", D(Fields=[D(T="a")]))),
    "form of XML": ("a.pdf", "attachment-refused", lambda: with_root("/AcroForm", D(Fields=[], XFA="a"))),
    "actions of a page": ("a.pdf", "attachment-refused", lambda: _page_with("/AA", D(O=D(S=N("/Named"))))),
    "deep in a page": (
        "a.pdf", "attachment-refused", lambda: _page_with("/X", [[D(A=[D(S=N("/ImportData"))])]]),
    ),
    "a note": ("a.pdf", "attachment-refused", lambda: _page_with("/Annots", [D(Subtype=N("/Text"), F=2, Contents="a")])),
    "layers": ("a.pdf", "attachment-refused", lambda: with_root("/OCProperties", D(OCGs=[]))),
    "another file": ("a.pdf", "attachment-refused", _with_file),
    "password": ("a.pdf", "attachment-refused", _locked),
    "password for changes": ("a.pdf", "attachment-refused", _locked_for_changes),
    "nothing behind the head": ("a.pdf", "attachment-refused", lambda: b"%PDF-1.7\n"),
    "half a picture": ("a.png", "attachment-refused", lambda: png()[:60]),
    "half a photograph": ("a.jpg", "attachment-refused", lambda: photo()[:700]),
    "unpacks to more than is taken": ("a.pdf", "attachment-too-large", _packed_bomb),
    "too many points": ("a.png", "attachment-too-large", _bomb),
    "a page called a picture": ("a.png", "attachment-kind", lambda: b"<!doctype html><script>1</script>"),
    "a document called a picture": ("a.jpg", "attachment-kind", pdf),
    "a picture called a document": ("a.pdf", "attachment-kind", png),
    "a page behind a blank": ("a.pdf", "attachment-kind", lambda: b"\n" + pdf()),
    "drawn by code": ("a.svg", "attachment-kind", lambda: b"<svg/>"),
    "nothing": ("a.pdf", "attachment-kind", lambda: b""),
    "no suffix": ("a", "attachment-kind", pdf),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_looked_through_is_refused(name: str) -> None:
    file, code, make = REFUSED[name]
    with pytest.raises(Refused) as refused:
        cleaned(file, make())
    assert refused.value.code == code
    assert refused.value.message and refused.value.hint
    assert CANARY not in refused.value.message + refused.value.hint


@settings(max_examples=150, deadline=None)
@given(which=st.sampled_from(["a.pdf", "a.png", "a.jpg"]), data=st.data())
def test_damage_gives_a_report_or_a_refusal(which: str, data: st.DataObject) -> None:
    """Bytes changed anywhere: no other exception than ours."""
    raw = bytearray({"a.pdf": pdf, "a.png": png, "a.jpg": photo}[which]())
    for at in data.draw(st.lists(st.integers(0, len(raw) - 1), min_size=1, max_size=8)):
        raw[at] = data.draw(st.integers(0, 255))
    del raw[data.draw(st.integers(8, len(raw))) :]
    with contextlib.suppress(Refused):
        assert cleaned(which, bytes(raw))


ENDS = {"a.pdf": b"startxref", "a.jpg": b"\xff\xd9", "a.png": b"IEND"}


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8, 1.0])
@pytest.mark.parametrize("which", ENDS)
def test_a_report_that_was_cut_short_is_refused(which: str, share: float) -> None:
    """A download that broke off: a library that repairs it would give an empty page, and it would be published as the report."""
    raw = {"a.pdf": pdf, "a.jpg": photo, "a.png": png}[which]()
    with pytest.raises(Refused):
        cleaned(which, raw[: int(raw.rindex(ENDS[which]) * share)])


@pytest.mark.skipif(CHROMIUM is None and not os.environ.get("CI"), reason="chromium is not installed")
def test_a_page_printed_by_a_browser(tmp_path: Path) -> None:
    """library: Chromium writes the document, PDFium reads it."""
    page = tmp_path / f"{CANARY}.html"
    page.write_text(f"<title>{CANARY}</title><p>Water: 310 mg/kg</p>", encoding="utf-8")
    made = tmp_path / "made.pdf"
    assert CHROMIUM is not None
    command = [CHROMIUM, "--headless=new", "--no-sandbox", "--no-pdf-header-footer", f"--print-to-pdf={made}"]
    subprocess.run([*command, page.as_uri()], capture_output=True, check=True, timeout=120)
    raw = made.read_bytes()
    assert pypdfium2.PdfDocument(raw).get_metadata_value("Title") == CANARY
    bare = pypdfium2.PdfDocument(cleaned("a.pdf", raw))
    assert set(bare.get_metadata_dict().values()) == {""}
    assert "Water: 310 mg/kg" in bare[0].get_textpage().get_text_range()
    assert CANARY.encode() not in everything(cleaned("a.pdf", raw))


@pytest.mark.skipif(
    not shutil.which("pdfattach") and not os.environ.get("CI"), reason="poppler-utils are not installed"
)
def test_a_file_hung_on_by_another_program_is_refused(tmp_path: Path) -> None:
    """library: poppler."""
    one, two, other = tmp_path / "a.pdf", tmp_path / "b.pdf", tmp_path / "c.txt"
    one.write_bytes(pdf(picture=False))
    other.write_text(CANARY, encoding="utf-8")
    subprocess.run(["pdfattach", one, other, two], check=True, capture_output=True)
    with pytest.raises(Refused):
        cleaned("a.pdf", two.read_bytes())
    told = tmp_path / "bare.pdf"
    told.write_bytes(cleaned("a.pdf", one.read_bytes()))
    info = subprocess.run(["pdfinfo", told], check=True, capture_output=True, text=True).stdout
    assert "Author" not in info and "Metadata Stream: no" in " ".join(info.split())


def test_the_end_of_a_long_name_says_what_it_is() -> None:
    assert cleaned(f"{'report ' * 12}.pdf", pdf(picture=False))
