"""The two ways in which a file's scalars are read: all as text, as this tool does, and by the YAML core schema, as editors do."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

# Source: YAML 1.2.2, section 10.3.2 Tag resolution (core schema), the table of plain scalars; published.
_NULL = re.compile(r"null|Null|NULL|~|")
_BOOL = re.compile(r"true|True|TRUE|false|False|FALSE")
_INT = re.compile(r"[-+]?[0-9]+")
_OCTAL, _HEX = re.compile(r"0o[0-7]+"), re.compile(r"0x[0-9a-fA-F]+")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")


def composed(text: str) -> Node | None:
    """The nodes of a text."""
    return YAML(typ="rt", pure=True).compose(text)  # type: ignore[no-any-return]


def by_core_schema(node: Node | None) -> Any:
    """The data as an editor sees it."""
    if node is None:
        return None
    if isinstance(node, MappingNode):
        return {str(key.value): by_core_schema(value) for key, value in node.value}
    if isinstance(node, SequenceNode):
        return [by_core_schema(value) for value in node.value]
    assert isinstance(node, ScalarNode)
    return _plain(node.value) if not node.style else node.value


def _plain(text: str) -> Any:
    if _NULL.fullmatch(text):
        return None
    if _BOOL.fullmatch(text):
        return text.lower() == "true"
    if _INT.fullmatch(text):
        return int(text)
    if _OCTAL.fullmatch(text):
        return int(text, 8)
    if _HEX.fullmatch(text):
        return int(text, 16)
    return float(text) if _FLOAT.fullmatch(text) else text


def head_of(path: Path) -> str:
    """The text of a record, or the head of a page."""
    text = path.read_text(encoding="utf-8")
    return text.split("---\n")[1] if path.suffix == ".md" else text
