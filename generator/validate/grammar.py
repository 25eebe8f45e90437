"""Documents -> records by the grammar, and what does not fit it as problems with place and remedy."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError

from generator.fields import Date, Id, Moment, Zone
from generator.mending import same_word
from generator.pricing import AnyPrice, Currency
from generator.problems import Mend, Place, Problem, did_you_mean, nearest
from generator.read.document import Document
from generator.units import base_symbol
from generator.validate.answer import keys_that_take
from generator.validate.mends import mends
from generator.validate.shape import at, bare, field_of, fields_of, keys_of

# what a missing key takes, by the reader of its type
_SAMPLES = {
    get_args(kind)[1].func: sample
    for kind, sample in (
        (Date, "2026-03-14"),
        (Moment, "2026-03-14T09:10"),
        (Currency, "EUR"),
        (Zone, "Europe/Lisbon"),
        (Id, "<id>"),
        (AnyPrice, "... EUR"),
    )
}

MOST_KEYS = 12  # of a group, that a hint lists

M = TypeVar("M", bound=BaseModel)

_SHAPES = {
    "model_type": (
        "not-a-group",
        "a group of keys is wanted here",
        "write 'key: value' lines, or {key: value}",
    ),
    "model_attributes_type": (
        "not-a-group",
        "a group of keys is wanted here",
        "write 'key: value' lines, or {key: value}",
    ),
    "dict_type": (
        "not-a-group",
        "a group of keys is wanted here",
        "write 'key: value' lines, or {key: value}",
    ),
    "tuple_type": ("not-a-list", "a list is wanted here", "begin each entry with '- ', or write [one, two]"),
    "list_type": ("not-a-list", "a list is wanted here", "begin each entry with '- ', or write [one, two]"),
}


def record_of(
    model: type[M], document: Document, context: Mapping[str, Any]
) -> tuple[M | None, list[Problem]]:
    """Read a document as one record; None and the problems where it is not one."""
    try:
        return model.model_validate(document.data, context=dict(context)), []
    except ValidationError as error:
        return None, list(_problems(model, document, error, context))


def _problems(
    model: type[BaseModel], document: Document, error: ValidationError, context: Mapping[str, Any]
) -> Iterator[Problem]:
    found = error.errors(include_url=False, include_input=True)
    guessed = {_misspelt(model, item["loc"]) for item in found if item["type"] == "extra_forbidden"}
    keys, path_of = functools.partial(keys_of, model), functools.partial(_path, document)
    mended = mends(model, document, found, context, keys, path_of)
    for item in found:
        path = _path(document, item["loc"])
        kind = item["type"]
        mend = mended.get(item["loc"])
        if kind == "missing":
            if item["loc"] not in guessed:
                yield _missing(model, document, path, item["loc"], str(context.get("currency", "")))
        elif kind == "extra_forbidden":
            yield _unknown(model, document, path, item["loc"], mend)
        elif kind == "esterday":
            told = item["ctx"]
            yield Problem(told["code"], document.place(*path), told["message"], told["hint"], mend=mend)
        elif kind in ("union_tag_not_found", "union_tag_invalid", "literal_error"):
            yield _tag(model, document, path, item, mend)
        else:
            code, message, hint = _SHAPES[kind]
            known = keys(item["loc"]) if code == "not-a-group" else []
            if 0 < len(known) <= MOST_KEYS:
                text = item["input"] if isinstance(item["input"], str) else ""
                fit = keys_that_take(model, item["loc"], known, text, context)
                meant = " or ".join(f"{{{key}: {text}}}" for key in fit[:2]) or "'key: value' lines"
                hint = f"write {meant}; its keys are {', '.join(known)}"
            yield Problem(code, document.place(*path), message, hint)


def _path(document: Document, loc: tuple[int | str, ...]) -> tuple[str | int, ...]:
    """Drop from pydantic's location what is not in the file: names of union branches, absent keys."""
    path: tuple[str | int, ...] = ()
    for part in loc:
        if (*path, part) in document.marks:
            path = (*path, part)
    return path


def _missing(
    model: type[BaseModel],
    document: Document,
    path: tuple[str | int, ...],
    loc: tuple[int | str, ...],
    currency: str,
) -> Problem:
    name = str(loc[-1])
    value = f"{name}: {_sample(model, loc, currency)}"
    return Problem("missing-key", document.place(*path), f"'{name}' is missing", f"add '{value}' here")


def _sample(model: type[BaseModel], loc: tuple[int | str, ...], currency: str) -> str:
    """What a missing key takes, with dots for what only its writer knows: its words, its unit, its own keys."""
    field = field_of(at(model, loc[:-1]), loc[-1])
    for read in (getattr(data, "func", None) for data in (field.metadata if field is not None else ())):
        words, kinds = getattr(read, "words", ()), getattr(read, "kinds", ())
        if 0 < len(words) <= 4:
            return " or ".join(words)
        if kinds:
            return f"... {getattr(read, 'usual', '') or base_symbol(kinds[0])}"
        if read in _SAMPLES:
            return _SAMPLES[read].replace("EUR", currency or "EUR")
    inner = bare(field.annotation) if field is not None else None
    keys = [each.alias or name for name, each in fields_of(inner).items() if each.is_required()]
    return f"{{{', '.join(f'{key}: ...' for key in keys)}}}" if keys else "..."


def _unknown(
    model: type[BaseModel],
    document: Document,
    path: tuple[str | int, ...],
    loc: tuple[int | str, ...],
    mend: Mend | None,
) -> Problem:
    place = document.place(*path, key=True)
    known = keys_of(model, loc[:-1])
    return Problem(
        "unknown-key",
        place,
        f"'{str(loc[-1])[:64]}' is not a key known here",
        did_you_mean(str(loc[-1]), known) or f"known here: {', '.join(sorted(known))}",
        mend=mend,
    )


def _misspelt(model: type[BaseModel], loc: tuple[int | str, ...]) -> tuple[int | str, ...]:
    return (*loc[:-1], nearest(str(loc[-1]), keys_of(model, loc[:-1])) or "")


def _tags(model: type[BaseModel], loc: tuple[int | str, ...], name: str) -> list[str]:
    """The words that name the branches of the union at a location."""
    here = at(model, loc)
    branches = here if isinstance(here, tuple) else ()
    return [word for branch in branches for word in get_args(fields_of(branch)[name].annotation)]


def _tag(
    model: type[BaseModel], document: Document, path: tuple[str | int, ...], item: Any, mend: Mend | None
) -> Problem:
    context = item.get("ctx") or {}
    name = str(context.get("discriminator", "")).strip("'")
    wanted = str(context.get("expected_tags") or context.get("expected") or "").replace("'", "")
    if item["type"] == "union_tag_not_found":
        written = same_word(name, item["input"])
        if written:
            place = document.place(*path, written, key=True)
            return Problem(
                "unknown-key",
                place,
                f"'{written}' is not a key known here",
                f"did you mean '{name}'?",
                mend=document.mend(place, written, name),
            )
        words = " or ".join(_tags(model, item["loc"], name))
        hint = f"add '{name}: {words}' here"
        return Problem("missing-key", document.place(*path), f"'{name}' is missing", hint)
    where: Place = document.place(*path, name) if name else document.place(*path)
    found = str(context.get("tag") or item.get("input"))[:40]
    return Problem(
        "not-a-choice",
        where,
        f"'{found}' is not one of the words known here",
        did_you_mean(found, wanted.split(", ")) or f"write one of: {wanted}",
        mend=mend,
    )
