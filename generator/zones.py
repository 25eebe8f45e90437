"""Time zones by name: whether there is one, and all there are."""

from __future__ import annotations

import functools
import re
import zoneinfo

# zones that can be asked for by their name; to list every zone takes longer than to read a logbook of a year
_AREA = re.compile(r"(?:Africa|America|Asia|Atlantic|Australia|Europe|Indian|Pacific)(?:/[A-Z][A-Za-z_-]+)+")


def is_zone(name: str) -> bool:
    """Whether a zone has this name, letter by letter."""
    return (_AREA.fullmatch(name) is not None and _loads(name)) or name in zones()


@functools.cache
def zones() -> frozenset[str]:
    """The names of all zones."""
    return frozenset(zoneinfo.available_timezones())


def _loads(name: str) -> bool:
    try:
        return zoneinfo.ZoneInfo(name).key == name
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        return False
