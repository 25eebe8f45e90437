"""What the setting `public` opens: the private keys that the named columns are made from, and what of the workshop these are.

`data/opened.yaml` lists them. What is not opened is gone before a ledger is folded, as it is without the setting.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from generator.data import rows

Keys = Mapping[str, frozenset[str]]


@functools.cache
def public_keys() -> Keys:
    """The keys that may pass, by the name of their record."""
    return {name: frozenset(keys) for name, keys in rows("public").items()}


@functools.cache
def _listed() -> Mapping[str, Any]:
    return rows("opened")  # type: ignore[no-any-return]


def groups(column: str) -> tuple[str, ...]:
    """The groups of keys that a column, as `table.column`, is made from; those of its table where it has no row."""
    of = _listed()["columns"]
    return tuple(of[column] if column in of else of[column.partition(".")[0]])


def keys_for(widened: Sequence[str]) -> Keys:
    """The public keys and those that the columns are made from."""
    found = dict(public_keys())
    for group in _all(widened):
        for kind, keys in _listed()["keys"][group]["of"].items():
            found[kind] = found.get(kind, frozenset()) | frozenset(keys)
    return found


def told(widened: Sequence[str]) -> Iterator[str]:
    """One line for each column: what of the workshop its values follow from, or that nothing private is in them."""
    for column in widened:
        says = "; ".join(_listed()["keys"][group]["says"] for group in groups(column))
        yield f"{column}: {says or 'made from what is public'}"


def _all(widened: Sequence[str]) -> list[str]:
    return list(dict.fromkeys(group for column in widened for group in groups(column)))
