"""The files beside the pages: style sheet, scripts, icon, the vendored libraries with their licences."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from generator.render.scripts import script_text
from generator.render.site import template_dir

# Order matters: later sheets may set aside what earlier ones say.
SHEETS = (
    "colours",
    "page",
    "tables",
    "figures",
    "charts",
    "batch",
    "methods",
    "find",
    "words",
    "print",
    "weigh",
)
SCRIPTS = ("address", "charts", "compare", "filter", "print", "search", "sort")
CHARTING = ("vega.js", "LICENCES.txt")
SEARCHING = ("minisearch.js", "LICENCE.txt")


def assets(specs: Mapping[str, Mapping[str, Any]], templates: Path | None = None) -> dict[str, bytes]:
    """All asset files by their path in the site; `specs` are chart specifications by chart id."""
    folder = templates or template_dir()
    files = {"assets/style.css": b"\n".join((folder / "css" / f"{name}.css").read_bytes() for name in SHEETS)}
    files |= {f"assets/{name}.js": (folder / "js" / f"{name}.js").read_bytes() for name in SCRIPTS}
    files["assets/mark.svg"] = (folder / "mark.svg").read_bytes()
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
