"""Notes: words and lists come through; scripts, images and other schemes do not."""

from __future__ import annotations

import time

import pytest

from generator.render.markdown import LONGEST, link_allowed, note_html

from .outline import Outline


@pytest.mark.parametrize(
    "address", ["http://example.org/a", "https://example.org", "mailto:a@example.org", "HTTPS://example.org"]
)
def test_web_and_mail_are_linked(address: str) -> None:
    assert link_allowed(address)
    assert len(Outline(note_html(f"[here]({address})")).values("a", "href")) == 1


@pytest.mark.parametrize(
    "address",
    [
        "javascript:alert(1)",
        "JaVaScRiPt:alert(1)",
        "java\tscript:alert(1)",
        "\x01javascript:alert(1)",
        "java%0ascript:alert(1)",
        "&#106;avascript:alert(1)",
        "vbscript:x",
        "data:text/html,<script>",
        "data:image/png;base64,AA",
        "file:///etc/passwd",
        "//example.org",
        "../index.html",
        "http:",
        "ftp://example.org",
    ],
)
def test_other_addresses_stay_text(address: str) -> None:
    assert not link_allowed(address)
    for text in (
        f"[here]({address})",
        f"[here](<{address}>)",
        f"<{address}>",
        f"[here][1]\n\n[1]: {address}",
    ):
        assert Outline(note_html(text)).values("a", "href") == [], text


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "a <img src=x onerror=alert(1)> b",
        "<!-- x -->",
        "<a href='javascript:1'>x</a>",
        "`<b>`",
        "    <i>",
    ],
)
def test_html_in_a_note_is_shown_as_text(text: str) -> None:
    found = Outline(note_html(text))
    assert {tag for tag, _ in found.elements} <= {"p", "code", "pre"}
    assert text.strip().strip("`") in "".join(found.texts)


def test_no_image_is_ever_loaded() -> None:
    found = Outline(note_html("![gauge](https://example.org/x.png)"))
    assert "img" not in [tag for tag, _ in found.elements]


def test_bare_addresses_become_links_that_tell_nothing_of_this_page() -> None:
    found = Outline(note_html("see https://example.org/a?b=1&c=2 for it"))
    assert found.values("a", "href") == ["https://example.org/a?b=1&c=2"]
    assert found.values("a", "rel") == ["noopener noreferrer"]


def test_headings_go_below_those_of_the_page() -> None:
    tags = [tag for tag, _ in Outline(note_html("# one\n\n## two\n\n###### six\n\nseven\n=====")).elements]
    assert tags == ["h3", "h4", "h5", "h3"]  # none is skipped
    assert [tag for tag, _ in Outline(note_html("# one", 2)).elements] == ["h2"]
    assert [tag for tag, _ in Outline(note_html("## one\n\n### two\n\n## three")).elements] == [
        "h3",
        "h4",
        "h3",
    ]


def test_lists_and_tables_come_through() -> None:
    tags = {tag for tag, _ in Outline(note_html("- a\n- **b**\n\n| a | b |\n|---|---|\n| 1 | 2 |")).elements}
    assert {"ul", "li", "strong", "table"} <= tags


def test_a_long_note_is_cut_in_good_time_and_says_so() -> None:
    started = time.process_time()
    html = note_html("[" * (3 * LONGEST))
    assert time.process_time() - started < 5.0
    assert f"longer than {LONGEST} characters" in html
    assert html.count("[") == LONGEST
    assert "left out" not in note_html("x" * LONGEST)


def test_ids_become_links_but_in_no_link_and_in_no_code_and_stay_text_beside_them() -> None:
    names = {"oil-014": "oil.html#lot-oil-014"}
    html = note_html(
        "See oil-014 & <b>, `oil-014`, [oil-014](https://example.org), oil-0145.", names=names, root="../"
    )
    found = Outline(html)
    assert found.values("a", "href") == ["../oil.html#lot-oil-014", "https://example.org"]
    assert found.faults == [] and "b" not in [tag for tag, _ in found.elements]
    assert "&amp;" in html and "<code>oil-014</code>" in html
