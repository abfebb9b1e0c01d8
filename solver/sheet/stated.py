"""A brief as rows of a table, and what two briefs state differently."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

from ..brief import save_text
from ..brief.model import Brief
from ..report.markup import Content

_ENUM = re.compile(r"[a-z]+(_[a-z]+)+")
_PLACES = ("at", "start", "end")
_LEFT_OUT = {"schema_version", "name"}


def stated_rows(brief: Brief) -> list[list[Content]]:
    """Return section, field and value of everything that a brief states."""
    rows: list[list[Content]] = []
    last = ""
    for where, value in _fields(brief):
        head, _, rest = where.partition(".")
        rows.append([_words(head) if head != last else "", _words(rest), value])
        last = head
    return rows


def changed_rows(before: Brief, after: Brief) -> list[list[Content]]:
    """Return field, value before and value after of all that two briefs differ in."""
    old, new = dict(_fields(before)), dict(_fields(after))
    return [
        [_words(key), old.get(key, "–"), new.get(key, "–")]
        for key in dict.fromkeys([*old, *new])
        if old.get(key) != new.get(key)
    ]


def _fields(brief: Brief) -> Iterator[tuple[str, str]]:
    """Yield path and text of every value, list items by their names."""
    for name, value in json.loads(save_text(brief)).items():
        if name not in _LEFT_OUT:
            yield from _flat(name, value)


def _flat(path: str, value: object) -> Iterator[tuple[str, str]]:
    """Yield the values below a path."""
    if isinstance(value, dict):
        for name, inside in value.items():
            yield from _flat(f"{path}.{name}", inside)
    elif isinstance(value, list) and any(isinstance(v, dict) for v in value):
        yield from _alike(path, [v for v in value if isinstance(v, dict)])
    elif value is None or value in ([], ""):
        yield path, "none"
    else:
        yield path, _one_line(value)


def _alike(path: str, items: list[dict[str, object]]) -> Iterator[tuple[str, str]]:
    """Yield list items, those that differ in their places alone drawn together."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for n, item in enumerate(items, 1):
        where = {k: v for k, v in item.items() if k in _PLACES and v is not None}
        what = {k: v for k, v in item.items() if k not in _PLACES}
        label = str(item.get("name", n))
        groups.setdefault(_one_line(what), []).append((label, _one_line(where)))
    for what, found in groups.items():
        names = ", ".join(label for label, _ in found)
        places = "; ".join(dict.fromkeys(place for _, place in found if place))
        yield f"{path}.{names}", f"{what}; {places}" if places else what


def _one_line(value: object) -> str:
    """Return a value in one line of words."""
    if isinstance(value, dict):
        parts = [
            f"{_words(k)} {_one_line(v)}"
            for k, v in value.items()
            if v not in (None, [], "") and k != "name"
        ]
        return ", ".join(parts)
    if isinstance(value, list):
        return ", ".join(_one_line(v) for v in value) or "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = str(value)
    return text.replace("_", " ") if _ENUM.fullmatch(text) else text


def _words(name: str) -> str:
    """Return the name of a field in words."""
    return name.replace("_", " ").replace(".", ": ")
