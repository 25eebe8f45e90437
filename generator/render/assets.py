"""The files beside the pages: style sheet, scripts, icon, the vendored libraries with their licences."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from generator.compute.results import Results
from generator.render.face import colours_css, edges_css
from generator.render.scripts import script_text
from generator.render.site import template_dir

# Order matters: later sheets may set aside what earlier ones say. Before them stand the colours, behind them the edges of paper.
SHEETS = (
    "page",
    "tables",
    "figures",
    "charts",
    "batch",
    "home",
    "methods",
    "offer",
    "find",
    "words",
    "print",
    "weigh",
    "paper",
)
SCRIPTS = ("address", "charts", "compare", "filter", "offer", "print", "search", "sort")
MARKS = ("mark", "name-mark")
CHARTING = ("vega.js", "LICENCES.txt")
COMMENT = re.compile(rb"[ ]*/\*.*?\*/", re.DOTALL)  # of our own sheets, in which no text holds one
SEARCHING = ("minisearch.js", "LICENCE.txt")


def assets(
    specs: Mapping[str, Mapping[str, Any]], results: Results, templates: Path | None = None
) -> dict[str, bytes]:
    """All asset files by their path in the site; `specs` are chart specifications by chart id."""
    folder = templates or template_dir()
    sheets = [COMMENT.sub(b"", (folder / "css" / f"{name}.css").read_bytes()) for name in SHEETS]
    style = [colours_css(results.theme).encode(), *sheets, edges_css(results).encode()]
    files = {"assets/style.css": b"\n".join(style)}
    files |= {f"assets/{name}.js": (folder / "js" / f"{name}.js").read_bytes() for name in SCRIPTS}
    files |= {f"assets/{name}.svg": (folder / f"{name}.svg").read_bytes() for name in MARKS}
    files |= {
        f"assets/minisearch/{name}": (folder / "vendor" / "minisearch" / name).read_bytes()
        for name in SEARCHING
    }
    if specs:
        files["assets/specs.js"] = f"window.chartSpecs = {script_text(dict(specs))};\n".encode()
        files |= {
            f"assets/vega/{name}": (folder / "vendor" / "vega" / name).read_bytes() for name in CHARTING
        }
    return files
