"""The language of a site: its texts in one catalogue, its signs in numbers.

English stands at the place of use, as the argument of `say`; a catalogue `data/translations/CODE.po` gives the other
languages. The language in use is set around the making of one site, and is English everywhere else.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cache, lru_cache
from importlib.resources import files
from string import Formatter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel.messages.catalog import Catalog

ENGLISH = "en"
TOLD = "in a table"  # marks a text of `told` in a catalogue
_NAMED = re.compile(r"(?<!\{)\{\w")  # a place with a name
_MEASURED = re.compile(r"[<>−-]?\s?\d+\.\d+([^\d.].*)?")  # a number of a table, with its unit
_BETWEEN = re.compile(r"; |, | \+ ")  # the parts of a list
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
LANGUAGES = (ENGLISH, "de")  # English, and every language that has a catalogue


@dataclass(frozen=True, slots=True, eq=False)
class Language:
    """One language: code, signs of decimals and of thousands, names of months, texts by their English one, plural forms by the English one and its plural.

    `told` are the texts of tables that have places, as patterns of the English ones, those with the most words of their own first.
    """

    code: str = ENGLISH
    decimal: str = "."
    group: str = ","
    months: tuple[str, ...] = MONTHS
    texts: Mapping[str, str] = field(default_factory=dict)
    plurals: Mapping[tuple[str, str], tuple[str, ...]] = field(default_factory=dict)
    told: tuple[tuple[re.Pattern[str], str], ...] = ()
    form: Callable[[int], int] = lambda number: int(number != 1)


_ENGLISH = Language()  # its signs as CLDR has them, so that nothing is loaded for them
_SPOKEN: ContextVar[Language] = ContextVar("spoken")


def spoken() -> Language:
    """The language in use."""
    return _SPOKEN.get(_ENGLISH)


@contextmanager
def speaking(code: str) -> Iterator[Language]:
    """Use a language until the end of the block; KeyError for one without a catalogue."""
    found = language(code)
    token = _SPOKEN.set(found)
    try:
        yield found
    finally:
        _SPOKEN.reset(token)


@contextmanager
def numbering(code: str) -> Iterator[Language]:
    """Write numbers in the signs of a language until the end of the block, and texts in English, as commands do."""
    signs = language(code)
    token = _SPOKEN.set(Language(decimal=signs.decimal, group=signs.group))
    try:
        yield spoken()
    finally:
        _SPOKEN.reset(token)


def say(text: str, /, **values: object) -> str:
    """A text in the language in use, its named places filled; the English one where the catalogue has none."""
    said = spoken().texts.get(text, text)
    return said.format(**values) if values else said


def count(value: int, one: str, many: str) -> str:
    """A count with its noun, in the form that the language has for so many."""
    said = spoken()
    forms = said.plurals.get((one, many), (one, many))
    return f"{value} {forms[said.form(value)]}"


def tell(text: str, /, **values: object) -> str:
    """A text that a table holds: English, its places filled; a page says it through `said`."""
    return text.format(**values) if values else text


def said(text: str) -> str:
    """A text of a table in the language in use; what no catalogue knows stands as it is.

    One with places is found again by the words between them, and what fills them is said in turn; so are the parts of a list.
    """
    return text if spoken().code == ENGLISH else _best(text, spoken()).text


@dataclass(frozen=True, slots=True)
class _Said:
    """A text as said, and how many letters of it no catalogue knows."""

    text: str
    unsaid: int


@lru_cache(maxsize=10_000)
def _best(text: str, language: Language) -> _Said:
    """Of all ways to take a text apart the one that leaves least of it unsaid."""
    if (found := language.texts.get(text)) is not None:
        return _Said(found, 0)
    ways = [
        _filled(match, template, language)
        for pattern, template in language.told
        if (match := pattern.fullmatch(text))
    ]
    for sign in _BETWEEN.finditer(text):
        head, rest = _best(text[: sign.start()], language), _best(text[sign.end() :], language)
        ways.append(_Said(f"{head.text}{sign[0]}{rest.text}", head.unsaid + rest.unsaid))
    as_it_is = text.replace(".", language.decimal, 1) if _MEASURED.fullmatch(text) else text
    ways.append(_Said(as_it_is, sum(map(str.isalpha, text))))
    return min(ways, key=lambda way: way.unsaid)


def _filled(match: re.Match[str], template: str, language: Language) -> _Said:
    parts = {name: _best(part, language) for name, part in match.groupdict().items()}
    said = language.texts[template].format(**{name: part.text for name, part in parts.items()})
    return _Said(said, sum(part.unsaid for part in parts.values()))


def _pattern(template: str) -> re.Pattern[str]:
    """What a text looks like that was made of a template."""
    parts = [
        re.escape(words) + (f"(?P<{name}>.+?)" if name is not None else "")
        for words, name, _, _ in Formatter().parse(template)
    ]
    return re.compile("".join(parts))


def _words_of(template: str) -> int:
    """How much of a template is text of its own, beside its places."""
    return sum(len(words) for words, *_ in Formatter().parse(template))


def term(text: str) -> str:
    """Mark a text that is said later, where the language is known."""
    return text


@cache
def language(code: str) -> Language:
    """A language with its catalogue; KeyError where there is none."""
    if code == ENGLISH:
        return _ENGLISH
    if code not in LANGUAGES:
        raise KeyError(code)
    # slow to import, and not needed where English is spoken
    from babel.messages.pofile import read_po  # noqa: PLC0415

    with files("generator.data").joinpath("translations", f"{code}.po").open("rb") as source:
        return of_catalogue(code, read_po(source, locale=code))


def of_catalogue(code: str, catalogue: Catalog) -> Language:
    """A language as its catalogue has it, with the signs and months that CLDR has for it."""
    # slow to import, and not needed where English is spoken
    from gettext import c2py  # noqa: PLC0415

    from babel import Locale  # noqa: PLC0415

    locale = Locale.parse(code)
    texts: dict[str, str] = {}
    told: list[str] = []
    plurals: dict[tuple[str, str], tuple[str, ...]] = {}
    for message in catalogue:
        if isinstance(message.id, str):
            texts[message.id] = str(message.string)
            if TOLD in message.auto_comments and _NAMED.search(message.id) and message.string:
                told.append(message.id)
        else:
            one, many = message.id
            plurals[one, many] = forms = tuple(message.string or ())
            texts.setdefault(one, "".join(forms[:1]))  # it stands in no other entry of a catalogue
    texts.pop("", None)  # what heads the catalogue
    return Language(
        code,
        locale.number_symbols["latn"]["decimal"],
        locale.number_symbols["latn"]["group"],
        tuple(str(locale.months["stand-alone"]["wide"][month]) for month in range(1, 13)),
        {english: text for english, text in texts.items() if text},
        plurals,
        tuple((_pattern(template), template) for template in sorted(told, key=_words_of, reverse=True)),
        c2py(catalogue.plural_expr),
    )
