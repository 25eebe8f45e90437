"""The files beside the pages: style sheet, scripts, icon, the vendored libraries with their licences."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from generator.compute.results import Results
from generator.render.face import colours_css, edges_css
from generator.render.scripts import script_text, spoken_script
from generator.render.site import template_dir

# What every page needs, in one file; later sheets may set aside what earlier ones say. Before them stand the colours.
COMMON = ("page", "tables", "figures", "words", "seek")
# A file each, named by the templates that need it.
OWN = ("batch", "charts", "find", "flow", "home", "methods", "offer", "paper", "weigh")
SCRIPTS = ("address", "charts", "compare", "filter", "offer", "print", "search", "seek", "sort")
MARKS = ("mark", "name-mark")
CHARTING = ("vega.js", "LICENCES.txt")
COMMENT = re.compile(rb"[ ]*/\*.*?\*/", re.DOTALL)  # of our own sheets, in which no text holds one
SEARCHING = ("minisearch.js", "LICENCE.txt")


def assets(
    specs: Mapping[str, Mapping[str, Any]], results: Results, templates: Path | None = None
) -> dict[str, bytes]:
    """All asset files by their path in the site; `specs` are chart specifications by chart id."""
    folder = templates or template_dir()
    sheets = {path.stem: COMMENT.sub(b"", path.read_bytes()) for path in (folder / "css").iterdir()}
    style = [colours_css(results.theme).encode(), *(sheets[name] for name in COMMON)]
    files = {"assets/style.css": b"\n".join(style)}
    files |= {f"assets/{name}.css": sheets[name] for name in OWN}
    files["assets/print.css"] = sheets["print"] + edges_css(results).encode()
    files |= {
        f"assets/{name}.js": spoken_script((folder / "js" / f"{name}.js").read_text(encoding="utf-8"))
        for name in SCRIPTS
    }
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
