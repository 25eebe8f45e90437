"""Bytes of a file -> text, strictly: UTF-8 only, and no character that is not what it seems."""

from __future__ import annotations

import re

from generator.problems import Mend, Place, Problem

# characters that let a text look like something else, or that break lines in some programs and not in others
_REFUSED = {
    **dict.fromkeys([*range(9), 11, 12, *range(14, 32), 127, *range(128, 160)], "a control character"),
    **dict.fromkeys([*range(8234, 8239), *range(8294, 8298), 8206, 8207], "a bidirectional mark"),
    **dict.fromkeys((8203, 8204, 8205, 8288, 65279, 8232, 8233, 65534, 65535), "an invisible character"),
}
_ODD = re.compile(f"[{''.join(map(re.escape, map(chr, sorted(_REFUSED))))}]")
# those that show nothing and part nothing: without them the text is the one that is seen
_WIDTHLESS = (8203, 8288, 65279)
# the end of a line in very old programs: the parser counts it as one, an editor of today may not
_LONE_RETURN = re.compile(r"\r(?!\n)")

MOST_TOLD = 20
_LOOKED_AT = 512  # bytes


def is_utf16(raw: bytes) -> bool:
    """Whether bytes are text in two bytes a letter: by their mark, or by zeros in every other place."""
    head = raw[:_LOOKED_AT]
    few, many = sorted((head[0::2].count(0), head[1::2].count(0)))
    return raw.startswith((b"\xff\xfe", b"\xfe\xff")) or (many > len(head) / 4 and few < many / 8)


def odd_character(text: str) -> str | None:
    """Name the first refused character of a text, as one may come of an escape between quotes; None where none is."""
    if text.isprintable():
        return None
    return next((f"{_REFUSED[ord(char)]} U+{ord(char):04X}" for char in text if ord(char) in _REFUSED), None)


def decoded(file: str, raw: bytes) -> tuple[str, list[Problem]]:
    """Decode strictly as UTF-8 and refuse characters that are not what they seem."""
    if is_utf16(raw):
        message = "this file is UTF-16 text, two bytes a letter"
        return "", [Problem("not-utf8", Place(file, 1, 1), message, "save it as UTF-8")]
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        problem = Problem(
            "not-utf8", Place(file, line, column), "this file is not UTF-8 text", "save it as UTF-8"
        )
        return "", [problem]
    refused = _refused_characters(file, text) if _ODD.search(text) else []
    lone = _LONE_RETURN.search(text)
    return text, [*refused, _lone_return(file, text, lone.start())] if lone is not None else refused


def _lone_return(file: str, text: str, first: int) -> Problem:
    """The first of the returns without a line feed; one mend for all of them."""
    rows = text.split("\n")
    before = text[:first].split("\n")
    anew = _LONE_RETURN.sub("\n", text)
    return Problem(
        "odd-character",
        Place(file, len(before), len(before[-1]) + 1),
        "a control character U+000D ends this line, as very old programs do",
        "save the file with the line ends of today",
        mend=Mend(1, 1, len(rows), len(rows[-1]) + 1, anew),
    )


def _refused_characters(file: str, text: str) -> list[Problem]:
    out: list[Problem] = []
    for number, line in enumerate(text.split("\n"), 1):
        for column, char in enumerate(line.removesuffix("\r"), 1):
            if len(out) == MOST_TOLD:
                return out
            if ord(char) in _REFUSED:
                what = f"{_REFUSED[ord(char)]} U+{ord(char):04X}"
                mend = Mend(number, column, number, column + 1, "") if ord(char) in _WIDTHLESS else None
                out.append(
                    Problem(
                        "odd-character",
                        Place(file, number, column),
                        f"{what} stands here",
                        "delete it and type the text again",
                        mend=mend,
                    )
                )
    return out
