"""Every page of a built site: links lead somewhere, nothing comes from outside, the policy stands, words are told."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from tests.site.browsing import KINDS as KINDS_OF_PAGES

CLASS = re.compile(r"\.([a-z][a-z0-9-]*)")
BLOCK = re.compile(r"\{[^{}]*\}")
KINDS = (
    "index",
    "batches",
    "quality",
    "drift",
    "costs",
    "oil",
    "columns",
    "tanks",
    "methods",
    "problems",
    "downloads",
)
PRIVATE_KINDS = ("drift", "costs", "oil", "tanks", "problems")


class Seen(HTMLParser):
    """What a page links to, which ids it has, which attributes could run something."""

    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.sources: list[str] = []
        self.ids: list[str] = []
        self.unwanted: list[str] = []
        self.texts: list[str] = []
        self.figures = self.pictures = self.tables = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        if named.get("id"):
            self.ids.append(str(named["id"]))
        if tag == "a" and named.get("href"):
            self.links.append(str(named["href"]))
        if tag in ("script", "img", "link") and (named.get("src") or named.get("href")):
            self.sources.append(str(named.get("src") or named.get("href")))
        self.unwanted += [f"{tag} {name}" for name in named if name.startswith("on") or name == "style"]
        if tag == "script" and not named.get("src") and named.get("type") != "application/json":
            self.unwanted.append("inline script")
        self.figures += tag == "figure"
        self.pictures += tag == "svg"
        self.tables += tag == "table"

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def seen(path: Path) -> Seen:
    parser = Seen()
    parser.feed(path.read_text(encoding="utf-8"))
    return parser


def pages(site: Path) -> list[Path]:
    return sorted(site.rglob("*.html"))


def test_every_kind_of_page_is_there(demo: Path) -> None:
    for kind in KINDS:
        assert (demo / f"{kind}.html").is_file(), kind
    assert len(list((demo / "batches").glob("*.html"))) >= 60


def test_every_link_leads_to_a_page_and_an_id(demo: Path, shared_demo: Path, gallons: Path) -> None:
    for site in (demo, shared_demo, gallons):
        found = {path.relative_to(site).as_posix(): seen(path) for path in pages(site)}
        assert not list(_broken(site, found))


def _broken(site: Path, found: dict[str, Seen]) -> Iterator[str]:
    for name, page in found.items():
        for link in [*page.links, *page.sources]:
            parts = urlsplit(link)
            if parts.scheme in ("http", "https", "mailto"):
                continue
            target = ((site / name).parent / unquote(parts.path)).resolve() if parts.path else site / name
            if not target.is_file() or (
                parts.fragment
                and "=" not in parts.fragment  # what a page is to show, and no place on it
                and parts.fragment
                not in found[target.relative_to(site.resolve()).as_posix() if parts.path else name].ids
            ):
                yield f"{name}: {link}"


def test_no_id_stands_twice_on_a_page(demo: Path, gallons: Path) -> None:
    for path in [*pages(demo), *pages(gallons)]:
        ids = seen(path).ids
        assert len(ids) == len(set(ids)), (path.name, sorted({name for name in ids if ids.count(name) > 1}))


def test_nothing_runs_and_nothing_is_asked_of_other_places(demo: Path, shared_demo: Path) -> None:
    for path in [*pages(demo), *pages(shared_demo)]:
        page = seen(path)
        assert not page.unwanted, path.name
        assert not [source for source in page.sources if "//" in source], path.name


def test_the_policy_follows_the_charset_and_is_strict(demo: Path) -> None:
    for path in pages(demo):
        head = path.read_text(encoding="utf-8").split("<title>")[0]
        assert re.search(r'<meta charset="utf-8">\s*<meta http-equiv="Content-Security-Policy"', head), (
            path.name
        )
        policy = re.search(r'Content-Security-Policy" content="([^"]*)"', head)
        assert policy is not None and policy[1].startswith("default-src 'none'") and "unsafe" not in policy[1]


def test_the_workshop_site_says_that_it_is_private_and_the_shared_one_is_not(
    demo: Path, shared_demo: Path
) -> None:
    for path in pages(demo):
        text = path.read_text(encoding="utf-8")
        assert 'name="robots" content="noindex"' in text and "Private: workshop copy" in text, path.name
    for path in pages(shared_demo):
        assert "Private: workshop copy" not in path.read_text(encoding="utf-8"), path.name


def test_the_demo_says_on_every_page_that_it_is_invented(demo: Path, shared_demo: Path) -> None:
    for path in [*pages(demo), *pages(shared_demo)]:
        assert "Invented data" in path.read_text(encoding="utf-8"), path.name


def test_eight_kinds_of_charts_stand_with_picture_sentence_and_table(demo: Path) -> None:
    kinds = set()
    for kind in KINDS:
        text = (demo / f"{kind}.html").read_text(encoding="utf-8")
        for figure in re.findall(r'<figure class="chart" id="chart-([^"]+)".*?</figure>', text, re.DOTALL):
            kinds.add(figure)
        for body in re.findall(r'<figure class="chart".*?</figure>', text, re.DOTALL):
            assert "<svg" in body and "<figcaption" in body and "<table" in body
            assert (
                len(
                    re.sub(
                        r"<[^>]+>", "", re.findall(r"<figcaption[^>]*>(.*?)</figcaption>", body, re.DOTALL)[0]
                    ).strip()
                )
                > 20
            )
    assert len(kinds) >= 8, kinds


def test_figures_link_to_their_method(demo: Path) -> None:
    methods = set(seen(demo / "methods.html").ids)
    links = {
        link.partition("#")[2] for path in pages(demo) for link in seen(path).links if "methods.html#" in link
    }
    assert len(links) >= 15
    assert links <= methods


def test_no_word_of_a_verdict_the_tool_cannot_give(demo: Path, shared_demo: Path) -> None:
    for path in [*pages(demo), *pages(shared_demo)]:
        words = " ".join(seen(path).texts).casefold()
        for word in ("certified", "compliant", " is safe", "meets the", "meets en", "guarantee"):
            assert word not in words, (path.name, word)


def test_no_batch_page_weighs_more_than_sixty_kilobytes(demo: Path, shared_demo: Path) -> None:
    """With the sheets, scripts and marks that all pages share. Batch pages have no charts, so none of their scripts."""
    for path in sorted(file for site in (demo, shared_demo) for file in (site / "batches").glob("*.html")):
        parts = [(path.parent / source).resolve() for source in seen(path).sources]
        assert {part.suffix for part in parts} - {".xml"} == {".css", ".js", ".svg"}
        parts = [part for part in parts if part.suffix != ".xml"]  # the feed is linked and not loaded
        assert not [part for part in parts if "vega" in part.parts or part.stem in ("charts", "specs")]
        assert sum(part.stat().st_size for part in (path, *set(parts))) <= 60_000, path.name


def test_a_page_has_the_sheets_that_it_needs_and_the_one_of_paper_is_the_last(demo: Path) -> None:
    """Every class of a page that any sheet has a rule for has it in a sheet that the page loads."""
    files = {path.stem: path.read_text(encoding="utf-8") for path in (demo / "assets").glob("*.css")}
    rules = {name: set(CLASS.findall(BLOCK.sub("{}", text))) for name, text in files.items()}
    for page in KINDS_OF_PAGES.values():
        text = (demo / page).read_text(encoding="utf-8")
        used = {name for names in re.findall(r'class="([^"]*)"', text) for name in names.split()}
        loaded = re.findall(r'href="(?:\.\./)*assets/([a-z]+)\.css"', text)
        assert (loaded[0], loaded[-1]) == ("style", "print")
        ruled = used & set.union(*rules.values())
        assert ruled <= set.union(*(rules[name] for name in loaded)), page
        assert all(rules[name] & used for name in loaded), page


@pytest.mark.parametrize("kind", PRIVATE_KINDS)
def test_the_shared_site_has_no_private_page(shared_demo: Path, kind: str) -> None:
    assert not (shared_demo / f"{kind}.html").exists()
