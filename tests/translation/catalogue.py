"""`python -m tests.translation.catalogue` brings every catalogue up to the texts of the program; new texts wait for a translator."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

from generator.data import rows
from generator.explaining import FIX, explained
from generator.language import ENGLISH, LANGUAGES, TOLD
from generator.methods import CONFIDENCE, methods
from generator.pages.glossary import words
from generator.pages.parts import plain_name
from generator.properties import properties
from generator.tables import ALL

ROOT = Path(__file__).resolve().parents[2]
CATALOGUES = ROOT / "generator" / "data" / "translations"
KEYWORDS = {"say": None, "term": None, "tell": None, "count": (2, 3)}
# where texts of the site stand: in code behind `say`, `term`, `tell` and `count`, in templates and scripts behind `say`
PLACES = (
    ("generator/charts", "*.py", "python"),
    ("generator/compute", "*.py", "python"),
    ("generator/ledger", "*.py", "python"),
    ("generator/pages", "*.py", "python"),
    ("generator/render", "*.py", "python"),
    ("generator", "specifications.py", "python"),
    ("site_templates", "*.html", "jinja2"),
    ("site_templates/js", "*.js", "javascript"),
)
DATED = re.compile(r'^"(?:POT-|PO-|Last-|Language-Team|Generated-By|Report-).*\n', re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Text:
    """A text with the file it stands in; one that a table holds is `told`."""

    file: str
    text: str | tuple[str, str]
    told: bool = False


def found() -> Iterator[Text]:
    """Every text of the site."""
    for folder, pattern, method in PLACES:
        for path in sorted((ROOT / folder).rglob(pattern)):
            for keyword, places in KEYWORDS.items():
                taken = extract(
                    method,
                    io.BytesIO(path.read_bytes()),
                    {keyword: places},
                    options={"trimmed": "false", "silent": "false"},
                )
                file = str(path.relative_to(ROOT))
                yield from (Text(file, text, keyword == "tell") for _, text, _, _ in taken)  # type: ignore[arg-type]
    for file, texts in OF_DATA.items():
        yield from (Text(file, text) for text in texts() if text)


def _of_methods() -> Iterator[str]:
    for entry in methods():
        yield from (entry.title, entry.text)
        for each in entry.functions:
            yield from (each.summary, each.text, each.range, each.units, each.source, each.confidence)
            for symbol in each.symbols:
                yield from (symbol.meaning, symbol.unit)
    yield from CONFIDENCE


def _of_tables() -> Iterator[str]:
    for table in ALL:
        yield table.row.removeprefix("one ")
        for column in table.columns:
            yield from (column.meaning, column.unit)
            yield from (plain_name(need).replace("_", " ") for need in column.needs)


def _of_glossary() -> Iterator[str]:
    for word in words():
        yield from (
            word.topic,
            word.term,
            word.text,
            *word.heads,
            word.unit,
            word.basis,
            ", ".join(word.also),
        )


def _of_problems() -> Iterator[str]:
    for each in explained().values():
        yield from (each.area, each.rule.level, each.rule.meaning, each.why, each.rule.remedy)
    yield FIX


def _of_limits() -> Iterator[str]:
    for path in sorted((ROOT / "generator" / "data" / "specs").rglob("*.yaml")):
        edition = rows(str(path.relative_to(ROOT / "generator" / "data").with_suffix("")))
        yield rows("sources")[edition["source"]]["title"]
        for limit in edition["limits"]:
            yield from (limit.get("condition", ""), limit.get("note", ""), *limit.get("words", ()))
    for each in properties().values():
        yield from (each.name, each.meaning, *each.words)


def _of_instruments() -> Iterator[str]:
    for group in rows("instruments").values():
        for row in group.values():
            yield from (row["what"], row["source"], row["confidence"])


def _of_precision() -> Iterator[str]:
    for by_method in rows("precision").values():
        for row in by_method.values():
            yield from (row["source"], row["confidence"])


# texts that stand in data: said where a page shows them
OF_DATA: Mapping[str, Callable[[], Iterator[str]]] = {
    "generator/data/cautions.yaml": lambda: iter(rows("cautions")),
    "generator/data/explained.yaml": _of_problems,
    "generator/data/glossary.yaml": _of_glossary,
    "generator/data/instruments.yaml": _of_instruments,
    "generator/data/methods.yaml": _of_methods,
    "generator/data/precision.yaml": _of_precision,
    "generator/data/series.yaml": lambda: iter(rows("series")),
    "generator/data/specs": _of_limits,
    "generator/tables.py": _of_tables,
}


def template() -> Catalog:
    """The texts of the program as a catalogue without translations."""
    out = Catalog(charset="utf-8")
    for each in found():
        out.add(each.text, locations=[(each.file, 0)], auto_comments=[TOLD] if each.told else [])
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
    kept, texts = catalogue(code), template()
    forms = [each for each in kept if each.context and texts.get(each.id) is not None]
    kept.update(texts, no_fuzzy_matching=True, update_header_comment=False)
    kept.obsolete.clear()
    for each in forms:  # the language's own: English has none to update them by
        kept.add(each.id, each.string, context=each.context)
    return written(kept)


def main() -> None:
    """Write each catalogue anew."""
    for code in LANGUAGES:
        if code != ENGLISH:
            (CATALOGUES / f"{code}.po").write_text(renewed(code), encoding="utf-8")


if __name__ == "__main__":
    main()
