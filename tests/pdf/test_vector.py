"""Drawings on PDF pages: paths, words and marks land where the SVG has them."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import pdfplumber
import pytest
from loadfall.solver import extras
from loadfall.solver.pdf.text import written
from loadfall.solver.pdf.vector import draw, steps
from reportlab.pdfgen.canvas import Canvas

SVG = """<svg viewBox="0 0 100 50">
<path d="M10 20L30 20" stroke="#000000" stroke-width="1"/>
<rect x="40" y="10" width="20" height="30" fill="url(#hatch-over)" stroke="#111"/>
<text x="70" y="25" font-size="8" text-anchor="middle">B&amp;C</text>
<text x="90" y="45" font-size="6" transform="rotate(-90 90 45)">up</text>
<use href="#mark-over" x="4" y="4" width="6" height="6"/></svg>"""


@pytest.fixture(scope="module")
def page():
    """The drawing at twice its size, its corner 10 from the left, 20 from the top."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(300, 200))
    draw(canvas, ElementTree.fromstring(SVG), 10, 180, 2.0)
    canvas.showPage()
    canvas.save()
    with pdfplumber.open(out) as opened:
        yield opened.pages[0]


def test_a_line_is_where_it_was_drawn(page):
    line = next(x for x in page.lines if abs(x["width"] - 40) < 1e-6)
    assert (line["x0"], line["top"]) == pytest.approx((10 + 20, 20 + 40))


def test_an_outline_is_where_it_was_drawn(page):
    box = next(x for x in page.rects if abs(x["width"] - 40) < 1e-6)
    assert (box["x0"], box["top"], box["height"]) == pytest.approx((90, 40, 60))


def test_words_are_centred_and_upright(page):
    word = next(w for w in page.extract_words() if w["text"] == "B&C")
    assert (word["x0"] + word["x1"]) / 2 == pytest.approx(10 + 140, abs=0.2)
    assert word["bottom"] == pytest.approx(20 + 50, abs=4)


def test_turned_words_are_there(page):
    assert {c["text"] for c in page.chars if not c["upright"]} == {"u", "p"}


@pytest.mark.parametrize(
    ("d", "found"),
    [
        ("M1 2L3 4Z", [("M", 1, 2), ("L", 3, 4), ("Z", 1, 2)]),
        ("M1 2l3 4", [("M", 1, 2), ("L", 4, 6)]),
        ("M0 0h5v-2H1V9", [("M", 0, 0), ("L", 5, 0), ("L", 5, -2), ("L", 1, -2),
                           ("L", 1, 9)]),
        ("M3 3l6 6M9 3l-6 6", [("M", 3, 3), ("L", 9, 9), ("M", 9, 3), ("L", 3, 9)]),
        ("M.5 .5h11v11h-11z", [("M", 0.5, 0.5), ("L", 11.5, 0.5), ("L", 11.5, 11.5),
                               ("L", 0.5, 11.5), ("Z", 0.5, 0.5)]),
    ],
)  # fmt: skip
def test_paths_are_read(d, found):
    assert list(steps(d)) == found


def test_a_curve_is_refused():
    with pytest.raises(ValueError, match="'C'"):
        list(steps("M0 0C1 1 2 2 3 3"))


def test_letters_that_the_fonts_lack_are_written_another_way():
    assert written("3 ≤ 4 ★ Ł x² 45° Ω") == "3 <= 4 * ? x² 45° ?"
    assert written("Dvořák") == "Dvorák"


def test_a_missing_library_is_named_with_its_remedy(monkeypatch):
    monkeypatch.setattr(extras, "find_spec", lambda name: None)
    with pytest.raises(extras.ExtraError, match="pip install reportlab"):
        extras.extra("reportlab.pdfgen")
