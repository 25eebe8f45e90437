"""A value is made once, and only when it is asked for."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from generator.compute.when_asked import WhenAsked


def test_names_are_known_before_anything_is_made() -> None:
    made: list[str] = []

    def maker(name: str) -> Callable[[], str]:
        return lambda: made.append(name) or name.upper()  # type: ignore[func-returns-value]

    found = WhenAsked({name: maker(name) for name in ("a", "b", "c")})
    assert (list(found), len(found), "a" in found, "d" in found, made) == (
        ["a", "b", "c"],
        3,
        True,
        False,
        [],
    )
    assert [found["b"], found["b"]] == ["B", "B"]
    assert made == ["b"]
    other = found.but(c=lambda: "other", d=lambda: "new")
    assert (list(other), other["b"], other["c"], other["d"]) == (["a", "b", "c", "d"], "B", "other", "new")
    assert made == ["b"]
    assert (other["a"], found["a"]) == ("A", "A")
    assert made == ["b", "a"]
    with pytest.raises(KeyError):
        found["d"]
