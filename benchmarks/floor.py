"""The least that any build could do: read every file, have its YAML parsed in C, write the bytes of a site. No meaning at all.

python -m benchmarks.floor LOGBOOK SITE OUT
"""

from __future__ import annotations

import sys
from pathlib import Path

from ruamel.yaml.cyaml import CParser  # type: ignore[attr-defined]
from ruamel.yaml.events import StreamEndEvent


def events(text: str) -> int:
    """How many events a parser in C finds in a file."""
    parser, count = CParser(text), 1
    while not isinstance(parser.get_event(), StreamEndEvent):
        count += 1
    return count


def floor(logbook: Path, site: Path, out: Path) -> None:
    """Parse all of `logbook`, and write every file of `site` below `out`."""
    assert sum(events(path.read_text(encoding="utf-8")) for path in logbook.rglob("*.yaml"))
    for path in site.rglob("*"):
        to = out / path.relative_to(site)
        if path.is_dir():
            to.mkdir(parents=True, exist_ok=True)
        else:
            to.parent.mkdir(parents=True, exist_ok=True)
            to.write_bytes(path.read_bytes())


if __name__ == "__main__":
    floor(*map(Path, sys.argv[1:]))
