"""The few pieces of HTML that the report is made of; all text is escaped here."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from ..trace.told import Weight
from ..verdict.model import Verdict

_SHAPES = {
    Verdict.NO_LOAD_PATH: "none",
    Verdict.OVER_LIMIT: "over",
    Verdict.KEEPS_RULE_FAILS: "keeps",
    Verdict.BREAKS_RULE: "breaks",
    Verdict.PASSES: "passes",
    Verdict.NOT_COUNTED: "idle",
    Weight.BREAKS_RULE: "breaks",
}


@dataclass(frozen=True)
class Raw:
    """Markup that is ready as it is."""

    text: str


Content = str | Raw


def html(content: Content) -> str:
    """Return content as markup: text escaped, markup as it is."""
    return content.text if isinstance(content, Raw) else escape(content)


def join(parts: Iterable[Content], between: str = "") -> Raw:
    """Return contents in a row as markup."""
    return Raw(between.join(html(part) for part in parts))


def tag(name: str, content: Content, **attributes: str) -> Raw:
    """Return an element; a trailing underscore of an attribute's name is dropped."""
    listed = "".join(
        f' {key.rstrip("_")}="{escape(value)}"' for key, value in attributes.items()
    )
    return Raw(f"<{name}{listed}>{html(content)}</{name}>")


def unbroken(text: str) -> Raw:
    """Return a text that breaks at its spaces alone, never at a hyphen."""
    words = text.split(" ")
    return join(
        (tag("span", w, class_="k") if "-" in w else Raw(escape(w)) for w in words), " "
    )


def symbol(text: str) -> Raw:
    """Return a text with its underscores as subscripts and ``^2`` as a square."""
    marked = re.sub(r"([A-Za-z])_([A-Za-z0-9]+)", r"\1<sub>\2</sub>", escape(text))
    return Raw(marked.replace("^2", "²"))


def paragraphs(texts: Iterable[Content], class_: str = "") -> Raw:
    """Return each text as a paragraph."""
    extra = {"class_": class_} if class_ else {}
    return join(tag("p", text, **extra) for text in texts)


def bullets(texts: Iterable[Content]) -> Raw:
    """Return texts as a list."""
    return tag("ul", join(tag("li", text) for text in texts))


def section(title: str, *content: Content, key: str, lead: str = "") -> Raw:
    """Return a section of the report.

    Args:
        title: heading.
        content: what stands under it.
        key: anchor.
        lead: one sentence that says how to read it, or "".
    """
    head = tag("h2", title)
    said = tag("p", lead, class_="lead") if lead else Raw("")
    return tag("section", join([head, said, *content]), id=key)


def table(
    heads: Sequence[Content],
    rows: Iterable[Sequence[Content]],
    caption: Content = "",
    numeric: Iterable[int] = (),
    class_: str = "",
) -> Raw:
    """Return a table whose first column names its rows.

    Args:
        heads: of the columns.
        rows: cells; all as long as ``heads``.
        caption: above the table, or "".
        numeric: columns that are set to the right.
        class_: of the table.
    """
    right = set(numeric)

    def row(cells: Sequence[Content]) -> Raw:
        out: list[Raw] = []
        for n, cell in enumerate(cells):
            name = "td" if n else "th"
            extra = {"scope": "row"} if not n else {}
            if n in right:
                extra["class_"] = "n"
            out.append(tag(name, cell, **extra))
        return tag("tr", join(out))

    said = tag("caption", caption) if html(caption) else Raw("")
    top = [
        tag("th", head, scope="col", **({"class_": "n"} if n in right else {}))
        for n, head in enumerate(heads)
    ]
    body = join(row(cells) for cells in rows)
    extra = {"class_": class_} if class_ else {}
    parts = [said, tag("thead", tag("tr", join(top))), tag("tbody", body)]
    return tag("table", join(parts), **extra)


def mark(verdict: Verdict | Weight, words: bool = True) -> Raw:
    """Return a verdict as a shape and its words; never a colour alone."""
    key = Verdict(verdict.value) if verdict is not Weight.BREAKS_RULE else verdict
    shape = _SHAPES[key]
    drawn = (
        '<svg class="mark" width="12" height="12" aria-hidden="true">'
        f'<use href="#mark-{shape}"/></svg>'
    )
    said = f" {escape(verdict.value)}" if words else ""
    return Raw(f'<span class="verdict v-{shape}">{drawn}{said}</span>')


def bar(value: float | None) -> Raw:
    """Return a use as a small bar with a stroke at the limit; hatched above it."""
    if value is None:
        return Raw("")
    width, limit = 72.0, 36.0
    inside, over = min(value, 1.0) * limit, min(max(value - 1.0, 0.0), 1.0) * limit
    more = (
        f'<rect x="{limit}" y="2" width="{over:.1f}" height="8" '
        'fill="url(#hatch-over)" stroke="currentColor" stroke-width="0.6"/>'
        if over > 0
        else ""
    )
    tip = (
        f'<path d="M{width - 1} 2l4 4-4 4z" fill="currentColor"/>' if value > 2 else ""
    )
    return Raw(
        f'<svg class="bar" width="{width + 4:.0f}" height="12" role="img" '
        f'aria-label="{value:.2f} of 1">'
        f'<rect x="0" y="3" width="{inside:.1f}" height="6" class="fill"/>{more}{tip}'
        f'<path d="M{limit} 0v12" stroke="currentColor" stroke-width="1"/></svg>'
    )


DEFINITIONS = """
<svg width="0" height="0" style="position:absolute" aria-hidden="true"><defs>
<pattern id="hatch-over" width="4" height="4" patternUnits="userSpaceOnUse"
 patternTransform="rotate(45)"><path d="M0 0v4" stroke="#8a2f14" stroke-width="2.2"/>
</pattern>
<pattern id="hatch-legal" width="7" height="7" patternUnits="userSpaceOnUse"
 patternTransform="rotate(-45)"><path d="M0 0v7" stroke="#5d7f78" stroke-width="1"/>
</pattern>
<symbol id="mark-none" viewBox="0 0 12 12"><path d="M.5 .5h11v11h-11z" fill="#1b1b1b"/>
<path d="M3 3l6 6M9 3l-6 6" stroke="#fff" stroke-width="1.6"/></symbol>
<symbol id="mark-over" viewBox="0 0 12 12"><path d="M6 .5L11.7 11.4H.3z"
 fill="#8a2f14"/></symbol>
<symbol id="mark-keeps" viewBox="0 0 12 12"><path d="M6 1L11.2 11H.8z" fill="none"
 stroke="#8a2f14" stroke-width="1.4"/><path d="M6 1L11.2 11H6z"
 fill="#8a2f14"/></symbol>
<symbol id="mark-breaks" viewBox="0 0 12 12"><path d="M6 .8L11.2 6 6 11.2 .8 6z"
 fill="none" stroke="#8a6a14" stroke-width="1.6"/></symbol>
<symbol id="mark-passes" viewBox="0 0 12 12"><circle cx="6" cy="6" r="4.6" fill="none"
 stroke="#2f5d54" stroke-width="1.6"/></symbol>
<symbol id="mark-idle" viewBox="0 0 12 12"><path d="M2 6h8" stroke="#777"
 stroke-width="1.4"/></symbol>
</defs></svg>
"""
