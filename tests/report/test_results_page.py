"""docs/results.md and results.json name the same keys."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from loadfall.solver.report.results import RESULTS_VERSION, results

from .briefs import ALL, solved

PAGE = Path(__file__).resolve().parents[2] / "docs" / "results.md"


def paths(value, at=()):
    """Every path to a value; empty lists, empty groups and null are no evidence."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from paths(inner, (*at, key))
    elif isinstance(value, list):
        for inner in value:
            yield from paths(inner, (*at, "[]"))
    else:
        yield at


def documented():
    text = PAGE.read_text("utf-8")
    return [tuple(k.split(".")) for k in re.findall(r"^\| `([^`]+)` \|", text, re.M)]


def fits(pattern, path):
    if pattern[-1] == "**":
        return path[: len(pattern) - 1] == pattern[:-1]
    return len(pattern) == len(path) and all(
        p == "*" or p == q for p, q in zip(pattern, path, strict=True)
    )


@pytest.fixture(scope="module")
def found():
    return {path: value for name in ALL for path, value in _named(name)}


def _named(name):
    content = json.loads(json.dumps(results(solved(name)), allow_nan=False))
    for path in paths(content):
        yield path, _get(content, path)


def _get(content, path):
    for key in path:
        if key == "[]":
            return "list"
        content = content[key]
    return content


def test_every_key_is_on_the_page(found):
    pages = documented()
    # null stands where a group may be: `stands_on`, `frame_axial_by_combination`
    missing = {
        ".".join(path)
        for path, value in found.items()
        if not any(fits(p, path) for p in pages)
        and not (value is None and any(p[: len(path)] and _begins(p, path)
                                       for p in pages))
    }  # fmt: skip
    assert missing == set()


def _begins(pattern, path):
    return len(pattern) > len(path) and all(
        p == "*" or p == q for p, q in zip(pattern[: len(path)], path, strict=True)
    )


def test_every_key_of_the_page_is_written(found):
    unused = {
        ".".join(pattern)
        for pattern in documented()
        if not any(fits(pattern, path) for path in found)
    }
    assert unused == set()


def test_no_key_is_named_twice():
    pages = documented()
    assert len(pages) == len(set(pages)) > 100


def test_the_page_names_every_unit_that_the_file_names():
    units = results(solved("cottage"))["units"]
    text = PAGE.read_text("utf-8")
    for kind, unit in units.items():
        assert f"`{kind}` {unit}" in text
    assert RESULTS_VERSION == 1
