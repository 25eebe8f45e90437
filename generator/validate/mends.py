"""Which refusals of the grammar can be mended without guessing: those whose new text the grammar itself takes."""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from pydantic import BaseModel, ValidationError

from generator.mending import same_word, written_anew
from generator.problems import Mend
from generator.read.document import Document

Loc = tuple[int | str, ...]
_MOST = 4  # mistakes that one value is looked through for


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
    once on a copy; a value that is refused again is written anew once more, or is no mend. A key is one as soon as it is
    known: what its value is lacking, the next check tells.
    """
    tries = [each for item in errors if (each := _try(item, document, keys, path_of)) is not None]
    tries = [each for each in tries if [other.after for other in tries].count(each.after) == 1]
    for left in range(_MOST, 0, -1):
        again = _refused(model, _changed(document.data, tries), context) if tries else []
        further = [
            next_try for each in tries if (next_try := _further(each, again, last=left == 1)) is not None
        ]
        if further == tries:
            break
        tries = further
    out: dict[Loc, Mend] = {}
    for each in tries:
        place = document.place(*each.path, key=each.is_key)
        mend = document.mend(place, each.found, each.text)
        if mend is not None:
            out[each.loc] = mend
    return out


def _further(each: _Try, again: Sequence[Any], *, last: bool) -> _Try | None:
    """A try that is taken, or the next one in its stead; None where there is no other."""
    refusals = [item for item in again if item["loc"][: len(each.after)] == each.after]
    if each.is_key or not refusals:
        return each
    text = _anew(refusals[0]) if len(refusals) == 1 and not last else ""
    return replace(each, text=text) if text and text != each.text else None


def _anew(item: Any) -> str:
    """What a refused text is to be without doubt; nothing where there is doubt, or where it is no text."""
    if item["type"] != "esterday" or not isinstance(item["input"], str):
        return ""
    return str(item["ctx"]["instead"] or written_anew(item["ctx"]["code"], item["input"]))


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
    else:
        found, text = item["input"], _anew(item)
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


def _refused(model: type[BaseModel], data: Any, context: Mapping[str, Any]) -> list[Any]:
    try:
        model.model_validate(data, context=dict(context))
    except ValidationError as error:
        return list(error.errors(include_url=False))
    return []
