"""Notes in Markdown to HTML: no raw HTML, no images, links to the web or to a mail address only."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, MutableMapping, Sequence
from functools import cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererProtocol
from markdown_it.token import Token
from markdown_it.utils import OptionsDict
from markupsafe import Markup, escape

from generator.language import say
from generator.render.linking import linked

LONGEST = 10_000  # characters; nested brackets take time that grows with the square of the length
CONTROL = re.compile(r"[\x00-\x20\x7f-\x9f]|%(?:[01][0-9a-f]|20|7f)", re.IGNORECASE)
ALLOWED = re.compile(r"(?:https?://|mailto:)[^\s]", re.IGNORECASE)
LOWEST_HEADING = 6


def link_allowed(address: str) -> bool:
    """Whether an address is http, https or mailto once its control characters and blanks are taken out."""
    return ALLOWED.match(CONTROL.sub("", address)) is not None and ALLOWED.match(address) is not None


def _link_open(
    renderer: RendererProtocol,
    tokens: Sequence[Token],
    index: int,
    options: OptionsDict,
    environment: MutableMapping[str, Any],
) -> str:
    tokens[index].attrSet("rel", "noopener noreferrer")
    rendered: str = renderer.renderToken(tokens, index, options, environment)  # type: ignore[attr-defined]
    return rendered


def _cell_open(
    renderer: RendererProtocol,
    tokens: Sequence[Token],
    index: int,
    options: OptionsDict,
    environment: MutableMapping[str, Any],
) -> str:
    return f"<{tokens[index].tag}>"  # without the style that aligns a column: the content policy lets none through


class _Parser(MarkdownIt):
    """The parser with our own rule of what may be linked."""

    def validateLink(self, url: str) -> bool:  # noqa: N802 - the name is the library's
        """Whether an address becomes a link."""
        return link_allowed(url)


@cache
def _parser() -> MarkdownIt:
    parser = _Parser("js-default", {"html": False, "linkify": True, "typographer": False}).disable("image")
    parser.add_render_rule("link_open", _link_open)
    parser.add_render_rule("th_open", _cell_open)
    parser.add_render_rule("td_open", _cell_open)
    return parser


def _leading_somewhere(tokens: Sequence[Token]) -> Iterator[Token]:
    """Without links that have no address, `[here]()`: the parser asks nobody about those. Their words stay."""
    leads = True
    for token in tokens:
        if token.type == "link_open":
            leads = bool(token.attrGet("href"))
        if leads or token.type not in ("link_open", "link_close"):
            yield token


def _outline(tokens: Sequence[Token], heading: int) -> None:
    """Set the levels of headings: the highest is `heading`, and each is at most one below the one before it."""
    highest = min((int(token.tag[1:]) for token in tokens), default=1)
    above = heading - 1
    for token in tokens:
        above = min(int(token.tag[1:]) + heading - highest, above + 1, LOWEST_HEADING)
        token.tag = f"h{above}"


def _with_links(tokens: Sequence[Token], names: Mapping[str, str], root: str) -> Iterator[Token]:
    """With ids among `names` as links, where they stand in no link already."""
    inside = 0
    for token in tokens:
        inside += token.nesting if token.type in ("link_open", "link_close") else 0
        if token.type == "text" and not inside:
            yield Token("html_inline", "", 0, content=str(linked(token.content, names, root)))
        else:
            yield token


def note_html(text: str, heading: int = 3, names: Mapping[str, str] | None = None, root: str = "") -> Markup:
    """HTML of a note; its highest headings become h`heading` and none skips a level, so that the outline stands.

    Ids among `names` become links from `root`.
    """
    parser = _parser()
    cut = len(text) > LONGEST
    tokens = parser.parse(text[:LONGEST])
    for token in tokens:
        if token.children:
            leading = list(_leading_somewhere(token.children))
            token.children = list(_with_links(leading, names or {}, root))
    _outline([token for token in tokens if token.type in ("heading_open", "heading_close")], heading)
    html = parser.renderer.render(tokens, parser.options, {})
    if cut:
        told = say("The rest of this note is left out: it is longer than {most} characters.", most=LONGEST)
        html += f"<p>{escape(told)}</p>\n"
    return Markup(html)  # the parser and `linked` escape all text, raw HTML is off
