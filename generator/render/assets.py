"""The files beside the pages: style sheet, scripts, icon, the vendored libraries with their licences."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from rcssmin import cssmin
from rjsmin import jsmin

from generator.compute.results import Results
from generator.render.face import colours_css, edges_css
from generator.render.scripts import script_text, spoken_script
from generator.render.site import template_dir

ASSETS = "assets/"
SPECIFICATIONS = "assets/specs.js"
# What every page needs, in one file; later sheets may set aside what earlier ones say. Before them stand the colours.
COMMON = ("page", "tables", "figures", "words", "seek")
# A file each, named by the templates that need it.
OWN = (
    "batch",
    "charts",
    "downloads",
    "filter",
    "find",
    "flow",
    "hits",
    "home",
    "methods",
    "offer",
    "paper",
    "problems",
    "weigh",
)
SCRIPTS = ("address", "charts", "compare", "filter", "offer", "print", "search", "seek", "sort", "words")
MARKS = ("mark", "name-mark")
CHARTING = ("vega.js", "LICENCES.txt")
SEARCHING = ("minisearch.js", "LICENCE.txt")


def assets(
    specs: Mapping[str, Mapping[str, Any]], results: Results, templates: Path | None = None
) -> dict[str, bytes]:
    """All asset files by their path in the site; `specs` are chart specifications by chart id."""
    folder = templates or template_dir()
    sheets = {path.stem: path.read_text(encoding="utf-8") for path in (folder / "css").iterdir()}
    style = "\n".join((colours_css(results.theme), *(sheets[name] for name in COMMON)))
    styles = {name: sheets[name] for name in OWN} | {
        "style": style,
        "print": sheets["print"] + edges_css(results),
    }
    scripts = {name: (folder / "js" / f"{name}.js").read_text(encoding="utf-8") for name in SCRIPTS}
    files = {f"assets/{name}.css": _small(cssmin, text) for name, text in styles.items()}
    files |= {f"assets/{name}.js": _small(jsmin, spoken_script(text)) for name, text in scripts.items()}
    files |= {f"assets/{name}.svg": (folder / f"{name}.svg").read_bytes() for name in MARKS}
    files |= {
        f"assets/minisearch/{name}": (folder / "vendor" / "minisearch" / name).read_bytes()
        for name in SEARCHING
    }
    if specs:
        files[SPECIFICATIONS] = f"window.chartSpecs = {script_text(dict(specs))};\n".encode()
        files |= {
            f"assets/vega/{name}": (folder / "vendor" / "vega" / name).read_bytes() for name in CHARTING
        }
    return files


def _small(without: Callable[[str], str], text: str) -> bytes:
    """A sheet or script of ours without the comments and blanks that only its writers need."""
    return f"{without(text)}\n".encode()
