"""JSON that can stand inside a page's script element or in a script file: no byte of it ends the element."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from typing import Any

from markupsafe import Markup

from generator.language import say

ESCAPES = {sign: f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"}


_SAID = re.compile(r'say\(("[^"\\]*")\)')  # a text of a script, as a string without escapes


def spoken_script(text: str) -> str:
    """A script with its texts in the language in use: each `say("...")` becomes a plain string."""
    return _SAID.sub(lambda found: script_text(say(json.loads(found[1]))), text)


def script_text(value: Any) -> str:
    r"""JSON with < > & U+2028 U+2029 written as \u escapes; ValueError for NaN and infinity."""
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    for sign, escape in ESCAPES.items():  # by far faster than `translate`, for a text holds few of them
        text = text.replace(sign, escape)
    return text


def in_columns(rows: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """Rows of a chart with the names of their columns said once, and numbers to the six digits that a chart could show."""
    names = list(dict.fromkeys(name for row in rows for name in row))
    return {"columns": names, "rows": [[_six(row.get(name)) for name in names] for row in rows]}


def _six(value: Any) -> Any:
    return float(f"{value:.6g}") if isinstance(value, float) else value


def script_json(value: Any) -> Markup:
    """The same for a template, marked as needing no further escaping."""
    return Markup(script_text(value))  # every sign that HTML gives a meaning to is escaped above
