"""A site as it stands, in one short name, so that the next build can tell whether anybody has touched it."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.publish.errors import told_of
from generator.publish.inventory import MANIFEST, name_of, site_in
from generator.publish.site import Published
from generator.publish.target import target


@dataclass(frozen=True, slots=True)
class Standing:
    """A whole site: its `name_of`, and what a build that changes nothing would tell."""

    name: str
    published: Published


def standing(out: Path, protected: Sequence[Path]) -> Standing | None:
    """The site that stands; None where there is none, or where a build that was killed left something beside it.

    CannotPublish as `publish` raises it.
    """
    place = target(out, protected)
    with told_of(out):
        if any(os.path.lexists(left) for left in (place.staged, place.aside)):
            return None
        site = site_in(place.folder, place.shown)
        if MANIFEST not in site.files:
            return None
        return Standing(name_of(site), Published((), tuple(sorted(site.digests)), tuple(site.foreign_files)))
