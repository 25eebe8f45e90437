"""A page as a reader's parser sees it: elements with their attributes' names, texts, and the text inside scripts."""

from __future__ import annotations

from html.parser import HTMLParser

OF_LENGTH = {("class", "t"), ("class", "said")}  # what a long text alone has, so that it is laid out well


class Outline(HTMLParser):
    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, tuple[str, ...]]] = []
        self.attributes: list[tuple[str, str, str]] = []
        self.texts: list[str] = []
        self.open: list[str] = []
        self.faults: list[str] = []
        self.feed(html)
        self.close()

    VOID = frozenset({"meta", "link", "input", "br", "hr", "img"})

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, tuple(name for name, value in attrs if (name, value) not in OF_LENGTH)))
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in self.VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(tag)

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    def handle_decl(self, decl: str) -> None:
        self.elements.append((f"!{decl}", ()))

    def handle_comment(self, data: str) -> None:
        self.elements.append(("!--", (data,)))

    def values(self, tag: str, name: str) -> list[str]:
        return [value for found, attribute, value in self.attributes if (found, attribute) == (tag, name)]
