"""The questions of `esterday new --ask`: each answer is checked as it is typed, and kept before the next."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from generator.cli.drafts import Draft
from generator.cli.saving import Opened

if TYPE_CHECKING:
    from generator.writing.batch import Proposal

# what decides what the rest begins with is asked first: of a lot its material, then whether it is a vat
PARTS = {"": (slice(0, 1), slice(1, None)), "lot": (slice(0, 1), slice(1, 2), slice(2, None))}


def is_open(book: Opened, key: str, kind: str, name: str, found: Proposal) -> bool:
    """Whether a question is one for the maker: not the id that was given, and only oil is poured into a vat."""
    if key == "vat":
        material = book.log.materials.get(str(found.data.get("material", "")))
        return material is None or material.record.kind == "oil"
    return key != kind or not name


def ask_for(book: Opened, kind: str, asked: list[Any], draft: Draft, dry_run: bool) -> None:
    """Ask what is not answered yet, until it fits; every answer is kept before the next question."""
    from generator.validate.answer import Fault
    from generator.validate.logbook import context_of
    from generator.writing.questions import answered, choices, known_id

    assert book.folder.workshop is not None
    context = context_of(book.folder.workshop)
    for question in asked:
        while question.key not in draft.answers:
            usual = f" [{question.usual}]" if question.usual else ""
            if known := choices(book.log, question.key):
                click.echo(f"    one of: {', '.join(known)}", err=True)
            text = click.prompt(question.text + usual, default="", show_default=False, err=True).strip()
            if not text and question.is_needed:
                click.echo("    this one is needed; what is said so far is kept", err=True)
                continue
            if not text:
                break
            unknown = known_id(book.log, question.key, text)
            kept = unknown or answered(kind, question.key, text, draft.answers, context)
            if isinstance(kept, Fault):
                click.echo(f"    {kept.message}{f'; {kept.hint}' if kept.hint else ''}", err=True)
                continue
            draft.answers[question.key] = kept
            if not dry_run:
                draft.keep()
