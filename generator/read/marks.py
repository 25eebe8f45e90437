"""Where the values of one file stand: four numbers each, and no path before one is asked for, which in few files is."""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any, NamedTuple

Path = tuple[str | int, ...]


class Mark(NamedTuple):
    """Where a key and its value stand; for a list item and the root the two are the same."""

    key_line: int
    key_column: int
    line: int
    column: int


class Marks(Mapping[Path, Mark]):
    """The marks of the values of a document, its groups among them, in the order in which they stand."""

    def __init__(self, data: Any, numbers: array[int]) -> None:
        """`numbers` are the marks one behind the other."""
        self._data, self.numbers = data, numbers

    @cached_property
    def _at(self) -> dict[Path, int]:
        """Where the numbers of each path begin."""
        paths: list[Path] = []
        _lay(self._data, (), paths)
        # of a file without any value there are no numbers, nor of what was laid into the data since it was read
        return dict(zip(paths, range(0, len(self.numbers), 4), strict=False))

    def __getitem__(self, path: Path) -> Mark:
        """The mark of a path that is there."""
        at = self._at[path]
        return Mark(*self.numbers[at : at + 4])

    def __iter__(self) -> Iterator[Path]:
        """The paths in the order of their marks."""
        return iter(self._at)

    def __len__(self) -> int:
        """How many values there are."""
        return len(self.numbers) // 4


NOWHERE = Marks(None, array("I"))  # of what was read from no file


def _lay(data: Any, path: Path, paths: list[Path]) -> None:
    """Add the paths of a document in the order in which they were read."""
    paths.append(path)
    if isinstance(data, dict):
        for key, value in data.items():
            _lay(value, (*path, key), paths)
    elif isinstance(data, list):
        for number, value in enumerate(data):
            _lay(value, (*path, number), paths)
