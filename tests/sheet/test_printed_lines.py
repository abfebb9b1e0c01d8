"""The calculation done again from its print: every number read off the page.

Of each written check the lines are parsed with their units, the equation of NDS 2018
(or steel) is worked out from them, and the use must come out to its printed digits.
"""

from __future__ import annotations

import html
import math
import re

import pytest
from loadfall.solver.basis.protocol import Check
from loadfall.solver.brief import read_brief
from loadfall.solver.sheet import LETTER
from loadfall.solver.sheet.calculation import calculation_html
from loadfall.solver.solve import solve
from loadfall.solver.trace.wording import check_word
from loadfall.solver.units import FOOT, INCH, POUND, PSI

from ..report.briefs import PLATED, RIDGE_BEAM
from ..report.test_calculation import again
from .test_sheet import SMALL

UNITS = {
    "psi": PSI, "lb": POUND, "lb-ft": POUND * FOOT, "in": INCH, "in²": INCH**2,
    "in³": INCH**3, "plf": POUND / FOOT, "°": math.radians(1), "": 1.0, "N": 1.0,
    "MPa": 1e6, "N m": 1.0, "mm": 1e-3, "mm²": 1e-6, "mm³": 1e-9,
}  # fmt: skip
ROOFS = {"cottage": SMALL, "plated": PLATED, "ridge beam": RIDGE_BEAM}
CHECKS = {check_word(check.value): check for check in Check}
ROUNDED = 4e-4  # five figures a line, and a handful of lines


def plain(markup):
    """Text of markup, subscripts as ``_x``."""
    text = re.sub(r"<sub>(.*?)</sub>", r"_\1", markup)
    return html.unescape(re.sub(r"<[^>]+>", "", text)).strip()


def number(text):
    """A printed value in SI."""
    if text == "no limit":
        return math.inf
    match = re.fullmatch(r"(-?[\d,]*\.?\d+) ?(.*)", text)
    return float(match[1].replace(",", "")) * UNITS[match[2]]


def records(page):
    """Head, and tables as (caption, rows of symbol and value), of each check."""
    section = re.search(r'<section id="checks">(.*?)</section>', page, re.S)[1]
    for part in section.split("<h3>")[1:]:
        tables = []
        for table in re.findall(r"<table.*?</table>", part, re.S):
            caption = re.search(r"<caption>(.*?)</caption>", table, re.S)
            rows = re.findall(
                r'<tr><th scope="row"[^>]*>(.*?)</th><td[^>]*>(.*?)</td>', table, re.S
            )
            tables.append((plain(caption[1]) if caption else "", rows))
        yield plain(part.split("</h3>")[0]), tables


def values(tables):
    """Symbol to value, and the products of design values multiplied out."""
    out, products = {}, {}
    for caption, rows in tables:
        own = {plain(a): number(plain(b)) for a, b in rows}
        if "is the product of" in caption:
            symbol, terms = caption.split(" is the product of ")
            products[symbol] = math.prod(own[t] for t in terms.split(", "))
        out |= {k: v for k, v in own.items() if k not in out}
    return out, products


@pytest.mark.parametrize("name", ROOFS)
def test_every_printed_check_comes_out_again(name):
    page = calculation_html(solve(read_brief(ROOFS[name])), None, LETTER)
    done = 0
    for head, tables in records(page):
        word, use = re.search(r": ([^:]+), use ([\d.]+)$", head).groups()
        found, products = values(tables)
        ours = again(CHECKS[word], found, products, rel=ROUNDED)
        printed = found["use"]
        assert ours == pytest.approx(printed, rel=ROUNDED, abs=6e-5), head
        assert float(use) == pytest.approx(printed, abs=0.0051), head
        done += 1
    assert done >= 4


def test_a_wrong_figure_on_the_page_is_noticed():
    page = calculation_html(solve(read_brief(SMALL)), None, LETTER)
    head, tables = next(records(page))
    found, products = values(tables)
    check = CHECKS[re.search(r": ([^:]+), use", head)[1]]
    found["M"] *= 1.01
    with pytest.raises(AssertionError):  # M over S is not the stress that is printed
        again(check, found, products, rel=ROUNDED)
