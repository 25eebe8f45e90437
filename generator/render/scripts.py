"""JSON that can stand inside a page's script element or in a script file: no byte of it ends the element."""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup

ESCAPES = {ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"}


def script_text(value: Any) -> str:
    r"""JSON with < > & U+2028 U+2029 written as \u escapes; ValueError for NaN and infinity."""
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.translate(ESCAPES)


def script_json(value: Any) -> Markup:
    """The same for a template, marked as needing no further escaping."""
    return Markup(script_text(value))  # every sign that HTML gives a meaning to is escaped above
