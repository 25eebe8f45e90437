"""What a maker calls the things of the logbook; apart from the results, for a weigh sheet needs no tables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Names:
    """What the maker calls things, by id; what has no name, or none for this audience, is missing."""

    materials: Mapping[str, str] = field(default_factory=dict)
    tanks: Mapping[str, str] = field(default_factory=dict)
    purifiers: Mapping[str, str] = field(default_factory=dict)
