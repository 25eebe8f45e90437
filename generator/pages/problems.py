"""Problems: the warnings of the check that this site was built from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from generator.language import say
from generator.pages import explain
from generator.pages.places import placed
from generator.pages.view import Page
from generator.pages.words import count
from generator.problems import Problem, excerpt


def page(found: Sequence[Problem], lines: Mapping[str, list[str] | None]) -> Page:
    """The warnings of the last check, grouped by file."""
    groups: dict[str, list[dict[str, Any]]] = {}
    for problem in found:
        shown = "\n".join(line.removeprefix("    ") for line in excerpt(problem.place, lines.get))
        groups.setdefault(problem.place.file, []).append(
            {
                "place": str(problem.place),
                "level": problem.level,
                "message": problem.message,
                "hint": problem.hint,
                "code": problem.code,
                "explained": f"{explain.PATH}#{problem.code}",
                "excerpt": shown,
            }
        )
    finding = (
        say(
            "{warning} in {file}; none of them keeps the site from being built.",
            warning=count(len(found), "warning", "warnings"),
            file=count(len(groups), "file", "files"),
        )
        if found
        else say("Nothing to mend.")
    )
    return placed(
        "problems",
        finding=finding,
        content={
            "explained": explain.PATH,
            "groups": [{"file": file, "problems": items} for file, items in groups.items()],
        },
    )
