"""What a site is made by, in one short name: this program's files, the libraries beside it, the language, the time zones."""

from __future__ import annotations

import os
import sys
import zoneinfo
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from generator.kept import NOTHING, Gathered, Kept, digest

MADE = ("__pycache__",)  # by the language, from files that count themselves
RELEASES = (".dist-info", ".egg-info")
FEW = 16  # dear figures that are not worth writing all of them again


@cache
def program() -> str:
    """A name that is another one as soon as anything differs that may change a byte of a site.

    Whatever else is installed beside the program counts too: better one build too many than a library forgotten.
    """
    package = Path(__file__).resolve().parent
    templates = [folder for folder in (package.parent / "site_templates",) if folder.is_dir()]
    code = (part for folder in (package, *templates) for part in _content(folder))
    return digest(sys.version, *_installed(), *_zones(), *code)


def figures_before(kept: Kept, logbook: Path, audience: str, processes: int = 1) -> Gathered:
    """The dear figures of a logbook as an earlier run of this program left them; those that lack several `processes` make."""
    if kept.folder is None:
        return Gathered(NOTHING, processes=processes)
    return Gathered(kept, "figures", program(), str(logbook.absolute()), audience, processes=processes)


def _content(folder: Path) -> Iterator[str | bytes]:
    for above, folders, files in os.walk(folder):
        folders[:] = sorted(set(folders).difference(MADE))
        for name in sorted(files):
            path = Path(above, name)
            yield path.relative_to(folder).as_posix()
            yield path.read_bytes()


def _installed() -> Iterator[str]:
    """The names of the folders that say which release of a library is installed."""
    for place in map(Path, sys.path):
        if place.is_dir():
            yield from sorted(path.name for path in place.iterdir() if path.suffix in RELEASES)


def _zones() -> Iterator[str]:
    """When the machine's own time zones were last written."""
    for place in map(Path, zoneinfo.TZPATH):
        if place.is_dir():
            yield str(place.stat().st_mtime_ns)
