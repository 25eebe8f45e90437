"""Every page of the demo, of its shared site and of the small logbook, by two validators that know nothing of each other.

Sources: the Nu Html Checker, npm package `vnu-jar` 26.9.27 (MIT), which also reads the style sheet and the icon; html-validate,
npm package `html-validate` 9.7.1 (MIT), its standard rules. Neither is part of this project: `npm install --prefix .corpora
--ignore-scripts vnu-jar@26.9.27 html-validate@9.7.1` fetches both; the first needs Java.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

from tests.site.browsing import wanting

MODULES = Path(__file__).parents[2] / ".corpora" / "node_modules"
NU = MODULES / "vnu-jar" / "build" / "dist" / "vnu.jar"
HTML_VALIDATE = MODULES / "html-validate" / "bin" / "html-validate.mjs"

# The checker knows the first from SVG only; CSS Fill and Stroke Module 3 has it for text, and CSS Anchor Positioning 1 has
# the others, which stand where a browser says that it knows them; both are W3C working drafts.
UNKNOWN = [
    f"CSS: “{name}”: Property “{name}” doesn't exist."
    for name in ("paint-order", "position-area", "position-try-fallbacks")
]


def _nu(*places: Path) -> list[dict[str, Any]]:
    if not NU.is_file() or shutil.which("java") is None:
        wanting("the Nu Html Checker or Java is not installed", "fetch them as this module says")
    command = ["java", "-jar", str(NU), "--format", "json", "--also-check-css", "--also-check-svg"]
    done = subprocess.run([*command, *map(str, places)], capture_output=True, text=True, check=False)
    messages: list[dict[str, Any]] = json.loads(done.stderr)["messages"]
    return messages


def _html_validate(folder: Path, *places: Path) -> list[str]:
    node = shutil.which("node")
    if not HTML_VALIDATE.is_file() or node is None:
        wanting("html-validate or Node.js is not installed", "fetch them as this module says")
    rules = folder / "rules.json"
    rules.write_text(json.dumps({"root": True, "extends": ["html-validate:standard"]}), encoding="utf-8")
    command = [str(node), str(HTML_VALIDATE), "-c", str(rules), "-f", "json"]
    done = subprocess.run([*command, *map(str, places)], capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr
    return [
        f"{Path(page['filePath']).name}: {each['message']}"
        for page in json.loads(done.stdout)
        for each in page["messages"]
    ]


def _html(*sites: Path) -> list[Path]:
    return [path for site in sites for path in sorted(site.rglob("*.html"))]


def test_the_nu_checker_finds_no_error(demo: Path, shared_demo: Path, gallons: Path) -> None:
    sites = (demo, shared_demo, gallons)
    assert len(_html(*sites)) > 250
    places = [
        path
        for site in sites
        for path in (
            *_html(site),
            *sorted((site / "assets").glob("*.css")),
            *sorted((site / "assets").glob("*.svg")),
        )
    ]
    errors = [each for each in _nu(*places) if each["type"] == "error"]
    assert {each["message"] for each in errors} == set(
        UNKNOWN
    )  # those are seen, so the style sheets have been read


def test_the_other_finds_none_either(tmp_path: Path, demo: Path, shared_demo: Path, gallons: Path) -> None:
    assert _html_validate(tmp_path, *_html(demo, shared_demo, gallons)) == []


def test_both_find_faults(tmp_path: Path) -> None:
    faults = "<figure><ul><p>One</p></ul></figure><p id='a'>x<p id='a'>y<table><div>x</div></table>"
    page = tmp_path / "page.html"
    page.write_text(
        f"<!doctype html>\n<html lang='en'><head><title>A page</title></head><body>{faults}</body></html>\n"
    )
    assert len([each for each in _nu(page) if each["type"] == "error"]) >= 3
    assert len(_html_validate(tmp_path, page)) >= 3
