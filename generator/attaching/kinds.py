"""What kinds of report there are, by what their names say and by what their first bytes say."""

from __future__ import annotations

from pathlib import PurePosixPath

MAX_BYTES = 10 * 1024 * 1024
_BY_SUFFIX = {".pdf": "PDF", ".png": "PNG", ".jpg": "JPEG", ".jpeg": "JPEG"}
_BY_BYTES = {b"%PDF-": "PDF", b"\x89PNG\r\n\x1a\n": "PNG", b"\xff\xd8\xff": "JPEG"}


class Refused(Exception):
    """Why a report is not taken: the code of a problem, what was found, what to do."""

    def __init__(self, code: str, message: str, hint: str) -> None:
        """Take the parts of a problem; where it stands is not known here."""
        super().__init__(message)
        self.code, self.message, self.hint = code, message, hint


def said_by(name: str) -> str | None:
    """The kind that a file's name says; None for a name of another kind."""
    return _BY_SUFFIX.get(PurePosixPath(name).suffix.lower())


def kind_of(raw: bytes) -> str | None:
    """The kind that the first bytes say."""
    return next((kind for begin, kind in _BY_BYTES.items() if raw.startswith(begin)), None)
