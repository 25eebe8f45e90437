"""One spelling of a record, and its digest: what a reader can hold a copy against.

JSON as RFC 8785 writes it: keys in order, no blanks, one way to write a number. The digest is SHA-256 (FIPS 180-4).
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from typing import Any


def canonical(value: Any) -> bytes:
    """JSON by RFC 8785, as UTF-8; ValueError for what JSON cannot say, such as NaN."""
    import rfc8785  # noqa: PLC0415 - only where something is published or checked

    return rfc8785.dumps(value)


def digest(content: bytes) -> str:
    """SHA-256 in hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def digests(content: bytes) -> set[str]:
    """The digest of the bytes as they are and, of JSON, that of its one spelling, however a program has laid it out since."""
    found = {digest(content)}
    with contextlib.suppress(ValueError, RecursionError):  # no JSON, or none that has one spelling
        found.add(digest(canonical(json.loads(content))))
    return found
