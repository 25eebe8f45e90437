"""A language that no one speaks: every letter of a translated text is a wide one, so a plain letter on a page is a text that nobody translated, or data.

The free texts of a logbook are widened likewise; what then is left in plain letters are ids, units and names.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from string import ascii_letters

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from generator.language import Language, of_catalogue
from tests.translation.catalogue import template

WIDE = {ord(letter): ord(letter) + 0xFEE0 for letter in ascii_letters}
TWICE = "‼"  # stands before a text that is said again once it was said
# what stays in a text: its places, code, where a link leads, names of entities
KEPT = re.compile(r"\{\{|\}\}|\{\w*(?:![rsa])?(?::[^{}]*)?\}|`[^`]*`|\]\([^)]*\)|&\w+;|</?[a-z][^>]*>")
# keys of a logbook whose value is a free text
FREE = ("title", "notice", "name", "source", "confidence", "reason", "note", "public_note")


def widened(text: str) -> str:
    """A text in wide letters, its places kept."""
    out, at = [], 0
    for kept in KEPT.finditer(text):
        out += [text[at : kept.start()].translate(WIDE), kept[0]]
        at = kept.end()
    return "".join((*out, text[at:].translate(WIDE)))


def pseudo() -> Language:
    """The language, from the catalogue of all texts; with signs and months of German."""
    texts = template()
    texts.locale = "de"
    for message in texts:
        message.string = (
            widened(message.id)
            if isinstance(message.id, str)
            else tuple(widened(form) for form in message.id)
        )
    made = of_catalogue("de", texts)
    again = {text: f"{TWICE}{text}" for text in made.texts.values()}
    return replace(made, months=tuple(map(widened, made.months)), texts={**again, **made.texts})


def _scalars(node: Node, key: str = "") -> Iterator[tuple[str, ScalarNode]]:
    """Every scalar of a file with the key it stands under."""
    if isinstance(node, MappingNode):
        for name, value in node.value:
            yield "key", name
            yield from _scalars(value, name.value)
    elif isinstance(node, SequenceNode):
        for value in node.value:
            yield from _scalars(value, key)
    elif isinstance(node, ScalarNode):
        yield key, node


def scalars(path: Path) -> list[tuple[str, ScalarNode]]:
    """Every scalar of a file with the key it stands under."""
    root = YAML().compose(path)
    return [] if root is None else list(_scalars(root))


def widen_logbook(logbook: Path) -> None:
    """Write the free texts of a logbook in wide letters."""
    for path in sorted(logbook.rglob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        for key, node in reversed(scalars(path)):
            if key in FREE:
                start, end = node.start_mark.index, node.end_mark.index
                text = text[:start] + widened(text[start:end]) + text[end:]
        path.write_text(text, encoding="utf-8")
    for path in sorted(logbook.glob("pages/*.md")):
        _, head, text = path.read_text(encoding="utf-8").split("---\n", 2)
        title = re.sub(r"(?<=title: ).*", lambda found: widened(found[0]), head)
        path.write_text(f"---\n{title}---\n{widened(text)}", encoding="utf-8")
