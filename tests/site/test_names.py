"""What the maker gave a name is called by it on the workshop site, and on the shared one, where names are private, nowhere."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from ruamel.yaml import YAML
from selectolax.lexbor import LexborHTMLParser

from tests.site.building import ROOT

# where a material, tank or purifier is told of; notes and names of charts have words of their own
TOLD = ".finding, .medium, .actions li, .figures dd, .figures + h2, h2, #lots-table td, #charges-table td, #inventory-table th"
READ = (".html", ".js", ".json", ".csv", ".xml")


@pytest.fixture(scope="module")
def named() -> dict[str, str]:
    """Names by id, as the files of the demo have them."""
    found: dict[str, str] = {}
    for path in sorted((ROOT / "logbook" / "materials").glob("*.yaml")):
        listed = YAML(typ="safe").load(path)["materials"]
        found |= {name: row["name"] for name, row in listed.items() if "name" in row}
    for folder, key in (("tanks", "tank"), ("columns", "purifier")):
        for path in sorted((ROOT / "logbook" / folder).glob("*.yaml")):
            row = YAML(typ="safe").load(path)
            found |= {row[key]: row["name"]} if "name" in row else {}
    assert len(found) > 12
    return found


def told(site: Path) -> list[str]:
    """The texts of all places where things are told of."""
    pages = [LexborHTMLParser(page.read_text(encoding="utf-8")) for page in sorted(site.rglob("*.html"))]
    return [" ".join(node.text().split()) for page in pages for node in page.css(TOLD)]


def test_materials_are_called_by_their_names(demo: Path, named: dict[str, str]) -> None:
    texts = told(demo)
    assert len(texts) > 1000
    for name in ("koh-flake", "resin-h", "resin-m", "used-rapeseed", "mixed-kitchen", "methanol-recovered"):
        alone = re.compile(rf"(?<![\w-]){name}(?![\w-])")
        assert not [text for text in texts if alone.search(text)], name
        assert [text for text in texts if named[name] in text], name


def test_tanks_and_purifiers_are_told_with_their_names(demo: Path, named: dict[str, str]) -> None:
    texts = told(demo)
    for name in ("tank-1", "tank-2", "tank-3"):
        assert f"{name}, {named[name]}" in texts
    assert {named["shed"], named["barn"]} <= set(texts)


def test_no_name_is_on_the_shared_site(demo: Path, shared_demo: Path, named: dict[str, str]) -> None:
    for site, there in ((demo, True), (shared_demo, False)):
        whole = "\n".join(
            path.read_text(encoding="utf-8") for path in sorted(site.rglob("*")) if path.suffix in READ
        )
        found = {name for name in named.values() if name in whole}
        assert bool(found) == there
