"""The language of a site: its texts in one catalogue, numbers as its locale writes them.

English stands at the place of use, as the argument of `say`; a catalogue `data/translations/CODE.po` gives the other
languages. The language in use is set around the making of one site, and is English everywhere else.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from functools import cache, lru_cache
from importlib.resources import files
from string import Formatter
from typing import TYPE_CHECKING, Self

from generator.locales import ENGLISH_SIGNS, Signs, months, signs

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
_CATALOGUES = files("generator.data") / "translations"
# English, and every language that has a file there
LANGUAGES = (ENGLISH, *sorted(file.name[:-3] for file in _CATALOGUES.iterdir() if file.name.endswith(".po")))


@dataclass(frozen=True, slots=True, eq=False)
class Language:
    """One language: code, how numbers are written, names of months, texts by their English one, plural forms by the English one, its plural and the name of the form, such as a case.

    `told` are the texts of tables that have places, as patterns of the English ones, those with the most words of their own first.
    """

    code: str = ENGLISH
    signs: Signs = ENGLISH_SIGNS
    months: tuple[str, ...] = MONTHS
    texts: Mapping[str, str] = field(default_factory=dict)
    plurals: Mapping[tuple[str, str, str], tuple[str, ...]] = field(default_factory=dict)
    told: tuple[tuple[re.Pattern[str], str], ...] = ()
    form: Callable[[int], int] = lambda number: int(number != 1)


_ENGLISH = Language()  # its signs as CLDR has them, so that nothing is loaded for them
_SPOKEN: ContextVar[Language] = ContextVar("spoken")


def spoken() -> Language:
    """The language in use."""
    return _SPOKEN.get(_ENGLISH)


@contextmanager
def speaking(locale: str) -> Iterator[Language]:
    """Use a locale until the end of the block, its texts in the language nearest to it."""
    found = language(locale)
    token = _SPOKEN.set(found)
    try:
        yield found
    finally:
        _SPOKEN.reset(token)


@contextmanager
def numbering(locale: str) -> Iterator[Language]:
    """Write numbers as a locale does until the end of the block, and texts in English, as commands do."""
    token = _SPOKEN.set(_in_english(locale))
    try:
        yield spoken()
    finally:
        _SPOKEN.reset(token)


def say(text: str, /, **values: object) -> str:
    """A text in the language in use, its named places filled; the English one where the catalogue has none."""
    said = spoken().texts.get(text, text)
    return said.format(**values) if values else said


class _Counted(str):
    """A count with its noun; where a text has the place `{runs:dative}`, the noun stands in the form of that name."""

    _value: int
    _nouns: tuple[str, str]

    def __new__(cls, value: int, one: str, many: str) -> Self:
        """The noun as it stands by itself."""
        made = super().__new__(cls, _counted(value, one, many, ""))
        made._value, made._nouns = value, (one, many)
        return made

    def __format__(self, form: str) -> str:
        return _counted(self._value, *self._nouns, form) if form else str(self)


def count(value: int, one: str, many: str) -> str:
    """A count with its noun, in the form that the language has for so many; a translation may ask for other forms of it."""
    return _Counted(value, one, many)


def _counted(value: int, one: str, many: str, form: str) -> str:
    said = spoken()
    forms = said.plurals.get((one, many, form)) or said.plurals.get((one, many, ""), (one, many))
    return f"{value} {forms[said.form(value)]}"


def tell(text: str, /, **values: object) -> str:
    """A text that a table holds: English, its places filled; a page says it through `said`."""
    return text.format(**values) if values else text


def said(text: str) -> str:
    """A text of a table in the language in use; what no catalogue knows stands as it is.

    One with places is found again by the words between them, and what fills them is said in turn; so are the parts of a list.
    """
    here = spoken()
    return text if here.code == ENGLISH and here.signs.decimal == "." else _best(text, here).text


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
    as_it_is = text.replace(".", language.signs.decimal, 1) if _MEASURED.fullmatch(text) else text
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


def has_texts(locale: str) -> bool:
    """Whether the texts for a locale are in its own language."""
    return locale.partition("-")[0] in LANGUAGES


def text_language(locale: str) -> str:
    """The language of the texts for a locale: its own where there is a catalogue, and English otherwise."""
    return locale.partition("-")[0] if has_texts(locale) else ENGLISH


@cache
def language(locale: str) -> Language:
    """The texts nearest to a locale, and how it writes numbers; an error of Babel where there is no such locale."""
    code = text_language(locale)
    if code == ENGLISH:
        return _in_english(locale)
    # slow to import, and not needed where English is spoken
    from babel.messages.pofile import read_po  # noqa: PLC0415

    with (_CATALOGUES / f"{code}.po").open("rb") as source:
        return of_catalogue(locale, read_po(source, locale=code))


@cache
def _in_english(locale: str) -> Language:
    """English texts, and numbers as a locale writes them; the day of a month as it stands there where that is English too."""
    if locale == ENGLISH:
        return _ENGLISH
    found = signs(locale)
    own = locale.startswith(f"{ENGLISH}-")
    return Language(signs=found if own else replace(found, day=ENGLISH_SIGNS.day))


def of_catalogue(locale: str, catalogue: Catalog) -> Language:
    """A language as its catalogue has it, with the signs and months that CLDR has for a locale of it."""
    # slow to import, and not needed where English is spoken
    from gettext import c2py  # noqa: PLC0415

    texts: dict[str, str] = {}
    told: list[str] = []
    plurals: dict[tuple[str, str, str], tuple[str, ...]] = {}
    for message in catalogue:
        if isinstance(message.id, str):
            texts[message.id] = str(message.string)
            if TOLD in message.auto_comments and _NAMED.search(message.id) and message.string:
                told.append(message.id)
        else:
            one, many = message.id
            plurals[one, many, message.context or ""] = forms = tuple(message.string or ())
            if not message.context:
                texts.setdefault(one, "".join(forms[:1]))  # it stands in no other entry of a catalogue
    texts.pop("", None)  # what heads the catalogue
    return Language(
        text_language(locale),
        signs(locale),
        months(locale),
        {english: text for english, text in texts.items() if text},
        plurals,
        tuple((_pattern(template), template) for template in sorted(told, key=_words_of, reverse=True)),
        c2py(catalogue.plural_expr),
    )


def grouped(digits: str) -> str:
    """Digits before the decimal sign, with the sign between groups, as the locale in use has them."""
    here = spoken().signs
    if len(digits) <= here.grouping[0]:
        return digits
    sizes, parts = iter(here.grouping), []
    size = next(sizes)
    while len(digits) > size:
        digits, last = digits[:-size], digits[-size:]
        parts.append(last)
        size = next(sizes, size)
    return here.group.join((digits, *reversed(parts)))
