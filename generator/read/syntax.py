"""What the YAML parser stumbled over, told so that a person finds it."""

from __future__ import annotations

from ruamel.yaml.cyaml import CParser  # type: ignore[attr-defined]
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from generator.mending import without_tabs
from generator.problems import Mend, Place, Problem
from generator.read.strict import is_suspect, slip

# the parser's words -> what that looks like to a person, what to write
_SEEN = (
    (
        "mapping values are not allowed",
        "a second ': ' in one line, or a line indented too far",
        "a value that holds ': ' needs quotes, or this line is indented too far",
    ),
    (
        "could not find expected ':'",
        "a line without ': ' where a key is wanted",
        "write 'key: value', with a blank behind the colon",
    ),
    ("tab character", "a tab before the first word of a line", "indent with blanks, not with tabs"),
    (
        "cannot start any token",
        "a character with which no value can begin",
        "quote a value that starts with @ ` or %",
    ),
    (
        "did not find expected key",
        "a line that belongs to no group",
        "this line's indentation does not match the lines around it",
    ),
    (
        "did not find expected '-'",
        "a line that is no entry of the list",
        "this line's indentation does not match the lines around it",
    ),
    (
        "found unexpected ':'",
        "a colon between braces or brackets, without quotes",
        'between braces a value or key with a colon needs quotes: "2026-03-14T09:10", "18:1"',
    ),
    (
        "unexpected end of stream",
        "a quote that is never closed",
        "close it with the quote it begins with; inside single quotes write '' for one",
    ),
    (
        "did not find expected ',' or",
        "a bracket or brace that is not closed, or a missing comma",
        "close it with ] or }, or write the comma that is missing",
    ),
)
# what git lays around each of two changes of one place
_MERGED = ("<<<<<<< ", "=======", ">>>>>>> ")
# these are noticed later than where they stand
_UNCLOSED = ("could not find expected ':'", "end of stream", "did not find expected ',' or")


def syntax_problem(file: str, text: str, error: MarkedYAMLError, offset: int) -> Problem:
    """The problem of a text that is no YAML, placed where it begins, with what most likely happened."""
    rows = text.split("\n")
    if (line := _unmerged(rows)) is not None:
        return Problem(
            "yaml-syntax",
            Place(file, line + 1 + offset, 1),
            "not well-formed YAML: two changes of one place that git could not bring together",
            "keep the lines of one change, or bring both together by hand, and take away those with <<<<<<<, ======= and >>>>>>>",
        )
    mark = error.problem_mark or error.context_mark
    found = str(error.problem or error.context)
    context = error.context_mark
    unclosed = context is not None and any(words in found for words in _UNCLOSED)
    if unclosed:
        mark, context = context, mark
    usual = (found, "check indentation, colons and quotes")
    seen, hint = next(((seen, hint) for words, seen, hint in _SEEN if words in found), usual)
    if mark is None:
        return Problem("yaml-syntax", Place(file, 1 + offset, 1), seen, hint)
    line = min(mark.line, len(rows) - 1)
    tabs = rows[line].startswith("\t")
    if tabs:
        seen, hint = next((seen, hint) for words, seen, hint in _SEEN if words == "tab character")
        hint += _waiting(text, offset)
    column = mark.column if line == mark.line else len(rows[line])
    since = (
        f", {'noticed in' if unclosed else 'in what begins in'} line {context.line + 1 + offset}"
        if context and context.line != mark.line
        else ""
    )
    return Problem(
        "yaml-syntax",
        Place(file, line + 1 + offset, column + 1),
        f"not well-formed YAML: {seen}{since}",
        hint,
        mend=_mend(rows, text, offset) if tabs else None,
    )


def _unmerged(rows: list[str]) -> int | None:
    """The first line of two changes that git left for a person to choose from; None where there are none."""
    found = [
        next((number for number, row in enumerate(rows) if row.startswith(sign)), None) for sign in _MERGED
    ]
    return found[0] if None not in found else None


def strict_problem(file: str, text: str, offset: int) -> Problem | None:
    """The problem of a text that the parser takes and that is no YAML all the same; None where it is."""
    found = slip(text) if is_suspect(text) else None
    if found is None:
        return None
    line = text.count("\n", 0, found.index)
    column = found.index - (text.rfind("\n", 0, found.index) + 1)
    place = Place(file, line + 1 + offset, column + 1)
    return Problem("yaml-syntax", place, f"not well-formed YAML: {found.message}", found.hint)


def _mend(rows: list[str], text: str, offset: int) -> Mend | None:
    """The whole text with blanks for its tabs, where that is well-formed."""
    anew = without_tabs(text)
    return Mend(1 + offset, 1, len(rows) + offset, len(rows[-1]) + 1, anew) if is_well_formed(anew) else None


def _waiting(text: str, offset: int) -> str:
    """What the tabs of a text wait for: a mistake in a line without one, over which the parser would stumble next."""
    anew = without_tabs(text)
    error = _stumbled(anew) if anew else None
    if not isinstance(error, MarkedYAMLError):
        return ""
    line = syntax_problem("", anew, error, 0).place.line
    tabbed = text.split("\n")[line - 1].startswith("\t")
    return "" if tabbed else f"; 'fix' does it once line {line + offset} is mended"


def _stumbled(text: str) -> YAMLError | None:
    """What the parser stumbles over first."""
    parser = CParser(text)
    try:
        while parser.check_event():
            parser.get_event()
    except YAMLError as error:
        return error
    return None


def is_well_formed(text: str) -> bool:
    """Whether the parser takes a text that is not empty."""
    return bool(text) and _stumbled(text) is None
