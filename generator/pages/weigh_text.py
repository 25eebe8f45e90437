"""A weigh sheet as plain text for a printer: no line longer than 80 signs."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from generator.pages.weigh import RULE, Sheet
from generator.pages.weigh_words import Row, Section
from generator.pages.words import NARROW

WIDTH = 80
LABEL, AMOUNT = 36, 14
RIGHT = WIDTH - 4 - LABEL - AMOUNT - 4


def sheet_text(sheet: Sheet, title: str) -> str:
    """The sheet as text, with a line to fill in where something is weighed."""
    lines = [
        *textwrap.wrap(f"Batch {sheet.batch}, {sheet.state}", WIDTH),
        *textwrap.wrap(title, WIDTH),
        *textwrap.wrap(RULE, WIDTH),
    ]
    for section in sheet.sections:
        lines += ["", *_section(section)]
    if sheet.missing:
        lines += [
            "",
            "UNKNOWN FOR WANT OF",
            *(line for text in sheet.missing for line in _wrapped(text, "- ")),
        ]
    lines += ["", "CAUTIONS", *(line for text in sheet.cautions for line in _wrapped(text, "! "))]
    lines += ["", "Weighed by ____________________  checked by ____________________  on __________"]
    return "\n".join(line.rstrip() for line in lines).replace(NARROW, " ") + "\n"


def _section(section: Section) -> Iterator[str]:
    head, colon, rest = section.title.partition(":")
    yield from textwrap.wrap(f"{head.upper()}{colon}{rest}".replace(NARROW, " "), WIDTH)
    for row in section.rows:
        yield from _row(row)
    for note in section.notes:
        yield from _wrapped(note, "    ")


def _row(row: Row) -> Iterator[str]:
    box = "[ ] " if row.tick else "    "
    label = row.label.replace(NARROW, " ")
    labels = textwrap.wrap(label, LABEL, drop_whitespace=True) or [""]
    if label.startswith("  "):
        labels = [f"  {labels[0].strip()}", *labels[1:]]
    amount, detail = row.amount.replace(NARROW, " "), row.detail.replace(NARROW, " ")
    details = textwrap.wrap(detail, RIGHT) or [""]
    if len(amount) > AMOUNT:  # too long for its column, so it takes that of the detail too
        details = textwrap.wrap(f"{amount}  {detail}", RIGHT) or [""]
        amount = ""
    for place in range(max(len(labels), len(details))):
        left = labels[place] if place < len(labels) else ""
        right = details[place] if place < len(details) else ""
        middle = amount if place == 0 else ""
        yield f"{box if place == 0 else '    '}{left:<{LABEL}}{middle:>{AMOUNT}}    {right}"


def _wrapped(text: str, first: str) -> list[str]:
    return textwrap.wrap(
        text.replace(NARROW, " "), WIDTH, initial_indent=first, subsequent_indent=" " * len(first)
    )
