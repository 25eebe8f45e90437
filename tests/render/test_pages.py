"""Every template: hostile text stays text, the policy stands first, ids are single, links lead to the root."""

from __future__ import annotations

import inspect
import json
import re

import jinja2
import pytest

from generator.pages.view import Figure, Page
from generator.render.pictures import Pictures
from generator.render.site import Renderer, template_dir

from .outline import Outline
from .pages import chart, common, content, page

NAMES = sorted(content("x"))
HOSTILE = '</script><script>alert(1)</script><img src=x onerror=alert(1)> "\' {{ 7*7 }} <!-- & ]]> onclick="x" style="color:red"'
RENDERER = Renderer(Pictures().picture)
EACH = pytest.mark.parametrize("name", NAMES)
SVG_NUMBERS = re.compile(r"<svg role=\"img\".*?</svg>", re.DOTALL)


def outline(name: str, text: str = "plain", audience: str = "workshop") -> Outline:
    return Outline(RENDERER.render(page(name, text), common(text, audience)).decode())


def test_each_template_has_a_sample_and_each_sample_a_template() -> None:
    assert sorted(path.stem for path in (template_dir() / "pages").iterdir()) == NAMES


@EACH
def test_hostile_text_changes_no_element(name: str) -> None:
    harmless = RENDERER.render(page(name, "plain"), common("plain")).decode()
    hostile = RENDERER.render(page(name, HOSTILE), common(HOSTILE)).decode()
    assert Outline(SVG_NUMBERS.sub("", hostile)).elements == Outline(SVG_NUMBERS.sub("", harmless)).elements
    assert HOSTILE in "".join(Outline(hostile).texts) or name == "page"


@EACH
def test_elements_close_in_order_and_ids_are_single(name: str) -> None:
    found = outline(name)
    assert found.faults == [] and found.open == []
    ids = [value for _, attribute, value in found.attributes if attribute == "id"]
    assert len(ids) == len(set(ids))
    for _, attribute, value in found.attributes:
        if attribute == "aria-labelledby":
            assert set(value.split()) <= set(ids)


@EACH
def test_the_policy_comes_first_and_nothing_breaks_it(name: str) -> None:
    found = outline(name, HOSTILE)
    assert [tag for tag, _ in found.elements[:5]] == ["!doctype html", "html", "head", "meta", "meta"]
    policy = found.values("meta", "content")[0]
    assert policy.startswith("default-src 'none';") and "unsafe" not in policy
    assert not [one for one in found.attributes if one[1] == "style" or one[1].startswith("on")]
    assert all(
        value and not value.startswith(("http", "//", "data:", "javascript:"))
        for _, attribute, value in found.attributes
        if attribute in ("src", "href")
    )
    assert "style" not in [tag for tag, _ in found.elements]


@EACH
def test_the_workshop_copy_says_that_it_is_private(name: str) -> None:
    assert "Private: workshop copy" in outline(name).texts
    assert "noindex" in outline(name).values("meta", "content")
    shared = outline(name, audience="shared")
    assert "Private: workshop copy" not in shared.texts and "noindex" not in shared.values("meta", "content")


@EACH
def test_each_page_has_one_heading_a_skip_link_and_the_notice(name: str) -> None:
    found = outline(name, "a notice of invention")
    assert [tag for tag, _ in found.elements].count("h1") == 1
    assert "#main" in found.values("a", "href") and "main" in found.values("main", "id")
    assert "a notice of invention" in found.texts


def test_a_page_in_a_folder_links_to_the_root() -> None:
    found = outline("batch")
    assert "../assets/style.css" in found.values("link", "href")
    assert "../methods.html#yield" in found.values("a", "href")
    assert found.values("a", "aria-current") == ["true"]


def test_chart_scripts_are_loaded_only_where_a_chart_is() -> None:
    assert "quality" in NAMES and any(
        "vega" in source for source in outline("quality").values("script", "src")
    )
    assert not any("vega" in source for source in outline("batch").values("script", "src"))


def test_the_rows_of_a_chart_come_back_from_its_script() -> None:
    hostile = Page("quality.html", "Quality", "quality.html", "", "quality", {"charts": [chart(HOSTILE)]})
    html = RENDERER.render(hostile, common()).decode()
    raw = html.split('<script type="application/json">')[1].split("</script>")[0]
    told = json.loads(raw)
    assert [dict(zip(told["columns"], row, strict=True)) for row in told["rows"]] == list(
        chart(HOSTILE).values
    )
    assert dict(zip(told["columns"], told["rows"][0], strict=True))["batch"] == f"{HOSTILE}0"


def test_a_chart_without_rows_draws_nothing_and_says_so() -> None:
    empty = chart("x")
    bare = type(empty)(empty.id, empty.title, "Nothing is known yet.", empty.kind, (), empty.table)
    found = Outline(
        RENDERER.render(
            Page("quality.html", "Q", "quality.html", "", "quality", {"charts": [bare]}), common()
        ).decode()
    )
    assert "Nothing is known yet." in found.texts
    assert not found.values("figure", "data-chart")


def test_an_unknown_figure_says_what_it_needs() -> None:
    made = Page(
        "oil.html",
        "Oil",
        "oil.html",
        "",
        "oil",
        {"figures": {"Yield": [Figure("Fuel", "unknown", "", "", "needs a finished volume")]}},
    )
    found = Outline(RENDERER.render(made, common()).decode())
    assert "unknown" in found.texts and "needs a finished volume" in found.texts


def test_a_cell_carries_what_it_sorts_by() -> None:
    found = outline("quality")
    assert "99.123" in found.values("td", "data-sort") and "" in found.values("td", "data-sort")


def test_a_name_that_is_not_given_is_an_error() -> None:
    with pytest.raises(jinja2.UndefinedError):
        RENDERER.render(Page("batches.html", "Batches", "batches.html", "", "batches", {}), common())


def test_templates_never_mark_text_as_harmless() -> None:
    for path in template_dir().rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert "| safe" not in text and "|safe" not in text and "autoescape" not in text, path
    assert "autoescape=True" in inspect.getsource(Renderer)


def test_the_same_page_gives_the_same_bytes() -> None:
    first = [RENDERER.render(page(name), common()) for name in NAMES]
    assert (
        first == [Renderer(Pictures().picture).render(page(name), common()) for name in reversed(NAMES)][::-1]
    )
