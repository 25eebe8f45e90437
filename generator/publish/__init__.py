"""From bytes to a folder: the whole site in one step, or the last one stays. Knows nothing of what it writes.

The new site is built in a hidden folder beside the old one, the two change places in one call of the kernel,
and the old one is cleared. What a run that was killed left beside is cleared by the next. A file in the site
says which files are the tool's own; all others are carried over and never deleted.
"""

from __future__ import annotations

from generator.publish.errors import CannotPublish
from generator.publish.site import Published, publish
from generator.publish.standing import standing

__all__ = ["CannotPublish", "Published", "publish", "standing"]
