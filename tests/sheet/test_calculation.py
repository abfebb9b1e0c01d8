"""The calculation: every governing check in it can be redone; every page is legible."""

from __future__ import annotations

import io
import re
from functools import cache
from itertools import pairwise

import pdfplumber
import pypdf
import pytest
from loadfall.solver.report.cautions import CAUTION, CAUTIONS, NOT_CHECKED
from loadfall.solver.report.show import use
from loadfall.solver.sheet import A4, LETTER, choose
from loadfall.solver.sheet.calculation import calculation_html
from loadfall.solver.sheet.printed import calculation_pdf
from loadfall.solver.sheet.stated import changed_rows, stated_rows
from loadfall.solver.trace.wording import check_word, role_word

from ..report.reading import read
from .test_sheet import found_of, words

HEADS = (
    "What was stated",
    "Loads and load combinations",
    "The way of the load",
    "Hand method beside frame analysis",
    "The engineer's own review",
    "Signature",
)
ROOFS = ("cottage", "ridge", "untied")


@cache
def pdf_of(name, paper=LETTER):
    found = found_of(name)
    return calculation_pdf(found.before, choose(found), paper)


@cache
def text_of(name):
    pages = pypdf.PdfReader(io.BytesIO(pdf_of(name))).pages
    return words(" ".join(page.extract_text() for page in pages))


def kinds(solution):
    """The use of the most used member of each role, size and governing check."""
    out = {}
    for m in solution.members.values():
        if m.governing_check:
            key = (m.role, m.size, m.plies, m.governing_check)
            out[key] = max(out.get(key, 0.0), m.utilisation)
    return out


@pytest.mark.parametrize("name", ROOFS)
def test_every_governing_check_is_written_out(name):
    found = found_of(name)
    one = choose(found)
    for solution in (found.before, *([one.solution] if one else [])):
        for (role, _, _, check), most in kinds(solution).items():
            head = f"{role_word(role)}: {check_word(check)}, use {use(most)}"
            assert head in text_of(name)


def test_a_check_can_be_redone_from_the_page_alone():
    """NDS 2018 3.9.1, bending and tension: by hand from what the page prints.

    The reader has breadth, depth, moment, pull, the reference values and the factors
    of the page (875 and 450 psi: NDS 2018 Supplement Table 4A, SPF No. 2).
    """
    found = found_of("cottage")
    page = words(read(calculation_html(found.before, choose(found), A4)).text)
    part = page.split("ceiling joist: bending and pull together, use ")[1]
    part = part.split("Together")[0]

    def value(symbol, unit=""):
        number = re.search(rf" {re.escape(symbol)} ([\d,.]+) {unit}", part).group(1)
        return float(number.replace(",", ""))

    b, d = value("b", "in"), value("d", "in")
    f_t = value("P", "lb") / (b * d)
    f_b = value("M", "lb-ft") * 12 / (b * d**2 / 6)
    assert value("Fb", "psi") == 875
    assert value("Ft", "psi") == 450
    factors = value("CD") * value("CF")
    most = f_t / (450 * factors) + f_b / (875 * factors * value("Cr"))
    assert found.before.worst.utilisation == pytest.approx(most, rel=2e-4)


@pytest.mark.parametrize("name", ROOFS)
def test_nothing_is_left_off(name):
    text = text_of(name)
    for said in (*CAUTIONS, *NOT_CHECKED):
        assert said in text
    for head in HEADS:
        assert head in text


@pytest.mark.parametrize("paper", [LETTER, A4])
@pytest.mark.parametrize("name", ROOFS)
def test_pages_are_legible(name, paper):
    """Numbered pages with the caution; no word beyond the margins or over another."""
    with pdfplumber.open(io.BytesIO(pdf_of(name, paper))) as file:
        for number, page in enumerate(file.pages, 1):
            text = page.extract_text()
            assert CAUTION in text
            assert f"page {number}" in text
            low = paper.margin / 25.4 * 72 - 1.5
            assert all(low < c["x0"] and c["x1"] < page.width - low for c in page.chars)
            assert all(c["bottom"] < page.height - low + 3 for c in page.chars)
            assert overlapping(page.dedupe_chars().extract_words()) == []


def overlapping(found):
    """Pairs of words of one line whose letters lie over each other."""
    out, lines = [], {}
    for word in found:
        lines.setdefault(round(word["top"]), []).append(word)
    for row in lines.values():
        row.sort(key=lambda w: w["x0"])
        out += [
            (a["text"], b["text"]) for a, b in pairwise(row) if a["x1"] > b["x0"] + 1.0
        ]
    return out


@pytest.mark.parametrize("name", ROOFS)
def test_the_html_is_sound(name):
    found = found_of(name)
    page = read(calculation_html(found.before, choose(found), LETTER))
    assert page.faults == []
    assert page.outside == []


def test_what_is_stated_otherwise_names_what_changed():
    found = found_of("cottage")
    after = choose(found, "plies").brief
    rows = changed_rows(found.before.brief, after)
    assert rows
    assert any("plies" in str(row[0]) or "plies" in str(row[2]) for row in rows)
    assert changed_rows(after, after) == []


def test_alike_items_share_a_row():
    found = found_of("cottage")
    rows = stated_rows(choose(found, "posts-footing").brief)
    posts = [row for row in rows if "foot footing" in row[2]]
    assert len(posts) == 1
    assert posts[0][1] == "S1, S2, S3, N1, N2, N3"
    assert posts[0][2].count("at ") == 6
