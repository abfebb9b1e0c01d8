"""Reads a report as a strict reader would: balanced tags, text, ids, references."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"meta", "br", "col", "img", "input", "link", "hr", "source", "wbr"}

INLINE = {"span", "sub", "b", "i", "small"}


@dataclass
class Page:
    """What a page holds.

    Attributes:
        text: all text outside style, in order.
        ids: every id.
        uses: every id that something refers to.
        outside: every reference that leaves the page.
        tags: names of all elements.
        sections: text of each section by its id.
        faults: tags that do not match.
    """

    text: str = ""
    ids: list[str] = field(default_factory=list)
    uses: set[str] = field(default_factory=set)
    outside: list[str] = field(default_factory=list)
    tags: set[str] = field(default_factory=set)
    sections: dict[str, str] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.page, self.stack, self.section = Page(), [], ""

    def handle_starttag(self, tag, attrs):
        self._seen(tag, dict(attrs))
        if tag not in VOID:
            self.stack.append(tag)

    def handle_startendtag(self, tag, attrs):
        self._seen(tag, dict(attrs))

    def _seen(self, tag, attrs):
        page = self.page
        page.tags.add(tag)
        if "id" in attrs:
            page.ids.append(attrs["id"])
            if tag == "section":
                self.section = attrs["id"]
        for name, value in attrs.items():
            value = value or ""
            if name in ("href", "src", "xlink:href", "action", "data"):
                if value.startswith("#"):
                    page.uses.add(value[1:])
                else:
                    page.outside.append(value)
            page.uses |= set(re.findall(r"url\(#([^)]+)\)", value))
            if re.search(r"url\((?!#)", value):
                page.outside.append(value)

    def handle_endtag(self, tag):
        if not self.stack or self.stack.pop() != tag:
            self.page.faults.append(f"</{tag}> at {self.getpos()}")
        if tag not in INLINE:
            self._write("\n")
        if tag == "section":
            self.section = ""

    def handle_data(self, data):
        if self.stack and self.stack[-1] == "style":
            if re.search(r"url\(|@import|https?:", data):
                self.page.outside.append(data[:80])
            return
        self._write(data)

    def _write(self, words):
        self.page.text += words
        if self.section:
            known = self.page.sections.get(self.section, "")
            self.page.sections[self.section] = known + words


def read(html: str) -> Page:
    """Return what a page holds; its faults list every tag that does not match."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    reader.page.faults += [f"<{tag}> is never closed" for tag in reader.stack]
    return reader.page
