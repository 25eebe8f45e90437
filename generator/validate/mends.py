"""Which refusals of the grammar can be mended without guessing: those whose new text the grammar itself takes."""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ValidationError

from generator.mending import same_word, written_anew
from generator.problems import Mend
from generator.read.document import Document

Loc = tuple[int | str, ...]


@dataclass(frozen=True, slots=True)
class _Try:
    """A key or a value written anew: pydantic's location and the one it will have, the way in the file, both texts."""

    loc: Loc
    after: Loc
    path: Loc
    found: str
    text: str

    @property
    def is_key(self) -> bool:
        return self.loc != self.after


def mends(
    model: type[BaseModel],
    document: Document,
    errors: Sequence[Any],
    context: Mapping[str, Any],
    keys: Callable[[Loc], Sequence[str]],
    path_of: Callable[[Loc], Loc],
) -> Mapping[Loc, Mend]:
    """The mend of each refusal that has one, by pydantic's location.

    `keys` names the keys known to the record at a location, `path_of` finds a location in the file. All are tried at
    once on a copy; one that is refused again is no mend.
    """
    tries = [each for item in errors if (each := _try(item, document, keys, path_of)) is not None]
    if not tries:
        return {}
    again = _refused(model, _changed(document.data, tries), context)
    out: dict[Loc, Mend] = {}
    for each in tries:
        if any(loc[: len(each.after)] == each.after for loc in again):
            continue
        place = document.place(*each.path, key=each.is_key)
        mend = document.mend(place, each.found, each.text)
        if mend is not None:
            out[each.loc] = mend
    return out


def _try(
    item: Any, document: Document, keys: Callable[[Loc], Sequence[str]], path_of: Callable[[Loc], Loc]
) -> _Try | None:
    loc, kind = item["loc"], item["type"]
    path = path_of(loc)
    if kind == "extra_forbidden":
        found = str(loc[-1])
        text = same_word(found, keys(loc[:-1]))
        beside = _at(document.data, path[:-1])
        return _Try(loc, (*loc[:-1], text), path, found, text) if text and text not in beside else None
    if kind == "union_tag_invalid":
        path = (*path, str(item["ctx"]["discriminator"]).strip("'"))
        found = str(item["ctx"]["tag"])
        text = same_word(found, str(item["ctx"]["expected_tags"]).replace("'", "").split(", "))
    elif kind == "esterday" and isinstance(item["input"], str):
        found = item["input"]
        text = item["ctx"]["instead"] or written_anew(item["ctx"]["code"], found)
    else:
        return None
    return _Try(loc, loc, path, found, text) if text and _at(document.data, path) == found else None


def _at(data: Any, path: Loc) -> Any:
    for part in path:
        data = data[part]
    return data


def _changed(data: Any, tries: Sequence[_Try]) -> Any:
    """A copy with everything written anew: values first, then keys from the innermost out."""
    data = copy.deepcopy(data)
    for each in sorted(tries, key=lambda each: (each.is_key, -len(each.path))):
        group = _at(data, each.path[:-1])
        if not each.is_key:
            group[each.path[-1]] = each.text
        elif each.text not in group:
            group[each.text] = group.pop(each.path[-1])
    return data


def _refused(model: type[BaseModel], data: Any, context: Mapping[str, Any]) -> list[Loc]:
    try:
        model.model_validate(data, context=dict(context))
    except ValidationError as error:
        return [item["loc"] for item in error.errors(include_url=False)]
    return []
