"""Rows that people add to: units, substances, oils, properties, specifications. No code but the loader."""

from __future__ import annotations

from importlib import resources
from typing import Any


def rows(name: str) -> Any:
    """Load `generator/data/NAME.yaml`, one of the tool's own trusted tables."""
    from ruamel.yaml import YAML  # noqa: PLC0415 - keeps `--help` fast

    return YAML(typ="safe").load(text(f"{name}.yaml"))


def text(name: str) -> str:
    """Read a file below `generator/data/` as it is."""
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


def folder(name: str) -> list[str]:
    """Name the tables below `generator/data/NAME/`, in folders below it too, without suffix, in order."""
    found: list[str] = []
    for child in resources.files(__package__).joinpath(name).iterdir():
        if child.is_dir():
            found += folder(f"{name}/{child.name}")
        elif child.name.endswith(".yaml"):
            found.append(f"{name}/{child.name.removesuffix('.yaml')}")
    return sorted(found)
