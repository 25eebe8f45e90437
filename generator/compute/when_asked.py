"""Values by name, each made when it is first asked for: a page that is looked at waits for no table but its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import TypeVar

V = TypeVar("V")


class WhenAsked(Mapping[str, V]):
    """A mapping whose values are made once, when asked for; its names are known from the beginning."""

    def __init__(self, make: Mapping[str, Callable[[], V]]) -> None:
        """Nothing is made yet."""
        self._make = dict(make)
        self._made: dict[str, V] = {}

    def __getitem__(self, name: str) -> V:
        """The value of a name; KeyError where there is none."""
        if name not in self._made:
            self._made[name] = self._make[name]()
        return self._made[name]

    def __iter__(self) -> Iterator[str]:
        """The names, nothing made by it."""
        return iter(self._make)

    def __len__(self) -> int:
        """How many names there are."""
        return len(self._make)

    def __contains__(self, name: object) -> bool:
        """Whether there is such a name; nothing made by it."""
        return name in self._make

    def but(self, **make: Callable[[], V]) -> WhenAsked[V]:
        """The same, some of its values made otherwise."""
        return WhenAsked({name: partial(self.__getitem__, name) for name in self} | make)
