"""`python -m tests.translation.catalogue` brings every catalogue up to the texts of the program; new texts wait for a translator."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

from generator.language import ENGLISH, LANGUAGES

ROOT = Path(__file__).resolve().parents[2]
CATALOGUES = ROOT / "generator" / "data" / "translations"
KEYWORDS = {"say": None, "term": None, "told": None, "count": (2, 3)}
# where texts of the site stand: in code behind `say`, `term` and `count`, in templates behind `say`
PLACES = tuple((f"generator/{name}", "*.py", "python") for name in ("compute", "pages", "render"))
DATED = re.compile(r'^"(?:POT-|PO-|Last-|Language-Team|Generated-By|Report-).*\n', re.MULTILINE)
TEMPLATES = ("site_templates", "*.html", "jinja2")


def found() -> Iterator[tuple[str, str | tuple[str, str]]]:
    """Every text of the site with the file it stands in."""
    for folder, pattern, method in (*PLACES, TEMPLATES):
        for path in sorted((ROOT / folder).rglob(pattern)):
            taken = extract(
                method,
                io.BytesIO(path.read_bytes()),
                KEYWORDS,
                options={"trimmed": "false", "silent": "false"},
            )
            for _, text, _, _ in taken:
                yield str(path.relative_to(ROOT)), text  # type: ignore[misc]


def template() -> Catalog:
    """The texts of the program as a catalogue without translations."""
    out = Catalog(charset="utf-8")
    for file, text in found():
        out.add(text, locations=[(file, 0)])
    return out


def catalogue(code: str) -> Catalog:
    """The catalogue of a language as it stands."""
    path = CATALOGUES / f"{code}.po"
    with path.open("rb") as source:
        return read_po(source, locale=code)


def written(texts: Catalog) -> str:
    """A catalogue as its file, without days and names."""
    out = io.BytesIO()
    write_po(out, texts, sort_output=True, no_location=True, width=0)
    return DATED.sub("", out.getvalue().decode())


def renewed(code: str) -> str:
    """A catalogue with the texts of the program as they are: translations kept, texts that are gone dropped."""
    kept = catalogue(code)
    kept.update(template(), no_fuzzy_matching=True, update_header_comment=False)
    kept.obsolete.clear()
    return written(kept)


def main() -> None:
    """Write each catalogue anew."""
    for code in LANGUAGES:
        if code != ENGLISH:
            (CATALOGUES / f"{code}.po").write_text(renewed(code), encoding="utf-8")


if __name__ == "__main__":
    main()
