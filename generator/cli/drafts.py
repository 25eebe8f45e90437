"""Answers that are not a file yet: kept beside the logbook after each one, taken up again the next time."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path

import click

from generator.cli.saving import put, stop


@dataclass(slots=True)
class Draft:
    """The answers to one command, by dotted key, in a hidden file that is no part of the logbook."""

    path: Path
    answers: dict[str, str] = field(default_factory=dict)

    def keep(self) -> None:
        """Write the answers in one step."""
        put(self.path, (json.dumps(self.answers, ensure_ascii=False, indent=1) + "\n").encode(), new=False)

    def tell(self) -> None:
        """Say where the answers are, and how they come back."""
        if self.answers and self.path.exists():
            click.echo(
                f"Your answers are kept in {self.path}; the same command takes them up again, --fresh forgets them.",
                err=True,
            )


def draft_of(root: Path, kind: str, name: str, fresh: bool) -> Draft:
    """The draft of a command; empty where there is none, or where one is to be forgotten."""
    path = root / f".draft-{'-'.join(part for part in (kind, name) if part)}.json"
    draft = Draft(path)
    if fresh:
        path.unlink(missing_ok=True)
    elif path.exists():
        try:
            found = json.loads(path.read_text(encoding="utf-8"))
            draft.answers = {str(key): str(value) for key, value in found.items()}
        except (ValueError, AttributeError, OSError):
            raise stop(f"the draft {path} cannot be read", "give --fresh to forget it", 3) from None
        click.echo(f"Taking up the draft {path}: {', '.join(draft.answers)}.", err=True)
    return draft
