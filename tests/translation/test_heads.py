"""Every head of every table of the demo in German, against the head that stands there in English."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from pathlib import Path

import pytest
from selectolax.lexbor import LexborHTMLParser

from generator.build import build_site
from tests.translation.catalogue import catalogue

ROOT = Path(__file__).resolve().parents[2]
AUDIENCES = ("workshop", "shared")
PLACE = re.compile(r"\\\{\w+\\\}")


@pytest.fixture(scope="module", params=AUDIENCES)
def heads(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Counter[tuple[str, str]]:
    """How often each English head has each German one."""
    folder = tmp_path_factory.mktemp("heads")
    shutil.copytree(ROOT / "logbook", folder / "logbook")
    settings = folder / "logbook" / "logbook.yaml"
    english = settings.read_text(encoding="utf-8")
    build_site(folder / "logbook", folder / "en", request.param)
    settings.write_text(english.replace("locale: en\n", "locale: de\n"), encoding="utf-8")
    build_site(folder / "logbook", folder / "de", request.param)
    found: Counter[tuple[str, str]] = Counter()
    for page in sorted((folder / "en").rglob("*.html")):
        pair = [_heads(page), _heads(folder / "de" / page.relative_to(folder / "en"))]
        found.update(zip(*pair, strict=True))
    return found


def _heads(page: Path) -> list[str]:
    """What the heads of the tables of a page say: each label, and the unit behind it."""
    tree = LexborHTMLParser(page.read_text(encoding="utf-8"))
    texts = [node.text(deep=False) for node in tree.css("thead th, thead th > .unit")]
    return [" ".join(text.split()) for text in texts if text.strip()]


def test_every_head_is_said_once(heads: Counter[tuple[str, str]]) -> None:
    texts = {message.id: message.string for message in catalogue("de") if isinstance(message.id, str)}
    filled = [re.compile(PLACE.sub(".+", re.escape(english))) for english in texts if "{" in english]
    wrong = {
        pair: times
        for pair, times in heads.items()
        if texts.get(pair[0], pair[0]) != pair[1] and not any(text.fullmatch(pair[0]) for text in filled)
    }
    assert len(heads) > 60 and heads["Batch", "Charge"] > 10
    assert not wrong
