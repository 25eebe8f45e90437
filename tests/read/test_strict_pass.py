"""Whether a text can hold what is read otherwise than it stands there is asked of patterns; they pass over no such text."""

from __future__ import annotations

import itertools
import re

from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from generator.read.strict import OPEN, is_suspect, slip
from generator.read.syntax import is_well_formed

BITS = (
    *"ab1?-|>[]{} \t",
    *('"', "'", "\\", '\\"', '""', "''", '"x y"', "'x'"),
    *("\n", "\n  ", "\n    ", "\n\n", ": ", "- ", "key: ", "# c", " #", "#", ", ", ",", "|\n"),
)


@settings(max_examples=3000, deadline=None)
@given(st.lists(st.sampled_from(BITS), min_size=1, max_size=14).map("".join))
@example("| #\n  \n# c")
def test_what_is_passed_over_holds_nothing(text: str) -> None:
    assume(is_well_formed(text))
    if slip(text) is not None:
        assert is_suspect(text)


def test_an_apostrophe_in_a_sentence_is_not_looked_at_again() -> None:
    assert not is_suspect("note: nobody's fault, and it didn't hurt\nbatch: 2026-001\n")


def test_a_hyphen_for_a_key_is_told() -> None:
    for text in ("-: 1", "{-: 1}", "a:\n  -: b\n"):
        assert is_suspect(text)
        found = slip(text)
        assert found is not None
        assert found.message == "a hyphen for a value"


def test_brackets_over_several_lines_are_found_by_the_last_one_that_opens() -> None:
    """From every bracket to the end of its line would take time that grows with the square of their number; it finds the same."""
    plainly = re.compile(r"[\[{][^\]}\n]*$", re.MULTILINE)
    for length in range(1, 7):
        for signs in itertools.product("[]{}x\n", repeat=length):
            text = "".join(signs)
            assert bool(OPEN.search(text)) == bool(plainly.search(text)), text
