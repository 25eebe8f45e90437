"""Answers that are not a file yet: kept beside the logbook after each one, taken up again the next time."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import quote

import click

from generator.cli.saving import put, stop

MOST_OF_A_NAME = 60  # characters of each part of a draft's name


@dataclass(slots=True)
class Draft:
    """The answers to one command, by dotted key, in a hidden file that is no part of the logbook."""

    path: Path
    answers: dict[str, str] = field(default_factory=dict)

    def keep(self) -> None:
        """Write the answers in one step."""
        put(self.path, (json.dumps(self.answers, ensure_ascii=False, indent=1) + "\n").encode(), new=False)

    def forget(self) -> None:
        """Take the file away, where there is one; exits with 3 where it cannot be."""
        try:
            self.path.unlink(missing_ok=True)
        except OSError as error:
            if os.path.lexists(self.path):  # a disk that is read-only says so of what is not there too
                hint = "let your user write there; until it is away its answers are taken up again"
                raise stop(f"{self.path} cannot be taken away: {error.strerror}", hint, 3) from None

    def keep_what_fits(self, kind: str, context: Mapping[str, str]) -> None:
        """Write the answers that fit a record or an entry of this kind, and say where they are and how they come back.

        One that has no place there, or was refused, would bring the same error the next time, whatever is said then.
        """
        from generator.writing.questions import fitting

        self.answers = fitting(kind, self.answers, context)
        if not self.answers:
            self.forget()
            return
        self.keep()
        click.echo(
            f"Your answers are kept in {self.path}; the same command takes them up again, --fresh forgets them.",
            err=True,
        )


def draft_of(root: Path, about: Sequence[str], given: Mapping[str, str], fresh: bool) -> Draft:
    """The draft of a command, named by what it is about; empty where there is none, or where one is to be forgotten.

    What is `given` now takes the place of what was said then; what is taken up beside it is told with its values.
    """
    from generator.problems import visible

    name = "-".join(quote(part, safe="")[:MOST_OF_A_NAME] for part in about if part)
    draft = Draft(root / f".draft-{name}.json")
    if fresh:
        draft.forget()
    elif draft.path.exists():
        try:
            found = json.loads(draft.path.read_text(encoding="utf-8"))
            draft.answers = {str(key): str(value) for key, value in found.items()}
        except (ValueError, AttributeError, OSError):
            raise stop(f"the draft {draft.path} cannot be read", "give --fresh to forget it", 3) from None
        again = [f"{key}={value}" for key, value in draft.answers.items() if not _is_said(key, given)]
        told = visible(", ".join(again)) if again else "nothing but what is said anew"
        click.echo(f"Taking up the draft {draft.path}: {told}; --fresh forgets it.", err=True)
    draft.answers = {key: text for key, text in draft.answers.items() if not _is_said(key, given)} | dict(
        given
    )
    return draft


def _is_said(key: str, given: Mapping[str, str]) -> bool:
    """Whether a place is among those `given`, or lies above or below one: a whole list takes the place of what stood in it."""
    return any(f"{each}.".startswith(f"{key}.") or f"{key}.".startswith(f"{each}.") for each in given)
