"""The page of a planned batch: on the workshop site alone, every amount, boxes to tick, cautions; told on home and batches."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

from generator.compute.audience import shared
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.ledger.sheet import to_weigh
from generator.log import Log
from generator.pages.site import Pages, Told
from generator.pages.weigh import ALWAYS, WITH_ACID, cautions, settings_view, sheet
from generator.pages.weigh_text import sheet_text
from generator.render.tree import rendered
from tests.ledger.test_dose import B3, FULL, log_with
from tests.ledger.test_pretreatment import PLANNED, RULE, SOUR

PAGE = "batches/b3.html"


def site(log: Log, audience: str = "workshop") -> dict[str, str]:
    """The pages of a log, rendered in memory."""
    results = shared(log) if audience == "shared" else tally(Ledgers(log))
    files = rendered(results, Pages(results, Told([], {}, {}), ()), (), 0)
    return {path: text.decode("utf-8") for path, text in files if path.endswith(".html")}


def plain(text: str) -> str:
    """What a reader sees, in one line."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", text)).replace("\u202f", " ").split())


@pytest.fixture
def log(tmp_path: Path) -> Log:
    return log_with(tmp_path, f"{B3}  stages: [80 %, 20 %]\nnote: Bring the *small* scale.\n", FULL)


def test_the_sheet_has_every_amount_with_a_box_to_tick(log: Log) -> None:
    text = site(log)[PAGE]
    seen = plain(text)
    for words in (
        "to neutralise the oil's acid 278 g",
        "base rate 778 g 7 g/L of KOH",
        "to weigh, all stages 1,056 g",
        "Stage 1: 80 % of the dose",
        "catalyst, koh-1 844 g",
        "Stage 2: 20 % of the dose",
        "catalyst, koh-1 211 g",
        "22.0 % of the oil's volume",
        "Arithmetic on the workshop's own rule",
        "esterday dose b3",
        "planned for 2026-01-24",
    ):
        assert words in seen, words
    assert text.count('type="checkbox"') == 1 + 2 * 2
    assert "<em>small</em>" in text


def test_cautions_stand_beside_it(log: Log) -> None:
    seen = plain(site(log)[PAGE])
    for text in cautions(acid=False):
        assert text in seen
    assert not any(text in seen for text in cautions(acid=True)[len(ALWAYS) :] if text.startswith(WITH_ACID))


def test_each_caution_that_is_wanted_is_there() -> None:
    assert len(cautions(acid=True)) == len(ALWAYS) + len(WITH_ACID)
    assert len(cautions(acid=False)) == len(ALWAYS)


def test_page_and_paper_say_the_same(log: Log) -> None:
    found = sheet(to_weigh(log, log.planned["b3"]), settings_view(log.settings))
    paper = sheet_text(found, "Garden shed")
    seen = plain(site(log)[PAGE])
    for section in found.sections:
        for row in section.rows:
            assert plain(row.amount) in seen
            assert plain(row.amount) in paper


def test_home_and_the_list_of_batches_name_it(log: Log) -> None:
    tree = site(log)
    assert 'href="batches/b3.html">Batch b3, planned for 2026-01-24: weigh out' in tree["index.html"]
    batches = tree["batches.html"]
    assert batches.index('href="batches/b3.html"') < batches.index("<table")


def test_the_shared_site_knows_of_no_plan(log: Log) -> None:
    tree = site(log, "shared")
    assert PAGE not in tree
    assert not [path for path, text in tree.items() if "b3" in text]


def test_a_pretreatment_stands_on_the_sheet(tmp_path: Path) -> None:
    seen = plain(site(log_with(tmp_path, PLANNED, RULE))[PAGE])
    for words in (
        "Pre-treatment, before the reaction",
        "to neutralise mineral acid",
        "water it makes",
        "Acid goes into methanol",
    ):
        assert words in seen, words


def test_what_is_unknown_is_said_to_be(tmp_path: Path) -> None:
    seen = plain(site(log_with(tmp_path, f"{SOUR}  pretreatment: yes\n", RULE))[PAGE])
    assert "to weigh, all stages unknown" in seen
    assert "Unknown for want of" in seen
    assert "the acid value after pre-treatment" in seen
    assert "what to weigh is not all known, for want of" in seen


def test_links_lead_to_entries_of_the_methods_page(log: Log) -> None:
    tree = site(log)
    wanted = set(re.findall(r'href="\.\./methods\.html#([\w-]+)"', tree[PAGE]))
    assert {"dose", "methanol-ratio", "acid-value"} <= wanted
    assert all(f'id="{name}"' in tree["methods.html"] for name in wanted)
