"""The sheet to hand over: one page, every figure the solution's own, cautions on it."""

from __future__ import annotations

import io
import re
from functools import cache

import numpy as np
import pdfplumber
import pypdf
import pytest
from loadfall.solver import cli
from loadfall.solver.brief import load_brief, read_brief
from loadfall.solver.errors import FieldError
from loadfall.solver.framing.model import Role
from loadfall.solver.remedy import remedies
from loadfall.solver.report.cautions import CAUTIONS
from loadfall.solver.report.show import use
from loadfall.solver.sheet import (
    A4,
    LETTER,
    choose,
    content,
    paper_for,
    sheet_html,
    sheet_pdf,
    write,
    write_sheet,
)
from loadfall.solver.sheet.picture import choose_slice, slice_beside
from loadfall.solver.units import System

from ..cases.running import HERE
from ..cli.test_command_line import SMALL
from ..report.briefs import RIDGE_BEAM, UNTIED
from ..report.reading import read

ROOFS = {"cottage": SMALL, "ridge": RIDGE_BEAM, "untied": UNTIED}


@cache
def found_of(name):
    """The remedies of a brief."""
    if name == "hip":
        return remedies(load_brief(HERE / "briefs" / "h07-hip.json"))
    return remedies(read_brief(ROOFS[name]))


@cache
def sheet(name):
    found = found_of(name)
    return content(found, choose(found))


def words(text):
    return re.sub(r"\s+", " ", text)


@pytest.mark.parametrize("paper", [LETTER, A4])
@pytest.mark.parametrize("name", [*ROOFS, "hip"])
def test_the_pdf_is_one_page_of_its_paper(name, paper):
    """Sizes of paper: ANSI/ASME Y14.1 size A (8.5 x 11 in), ISO 216 A4 (210 x 297)."""
    file = pypdf.PdfReader(io.BytesIO(sheet_pdf(sheet(name), paper)))
    assert len(file.pages) == 1
    box = file.pages[0].mediabox
    size = {"letter": (612, 792), "a4": (595.28, 841.89)}[paper.name]
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)


@pytest.mark.parametrize("name", [*ROOFS, "hip"])
def test_nothing_on_the_pdf_leaves_its_margins(name):
    data = io.BytesIO(sheet_pdf(sheet(name), LETTER))
    with pdfplumber.open(data) as opened:
        page = opened.pages[0]
        low = LETTER.margin / 25.4 * 72 - 1.5
        for letter in page.chars:
            assert low < letter["x0"]
            assert letter["x1"] < page.width - low
            assert low < letter["top"]
            assert letter["bottom"] < page.height - low


@pytest.mark.parametrize("name", [*ROOFS, "hip"])
def test_page_and_pdf_say_the_same(name):
    told, found = sheet(name), found_of(name)
    file = pypdf.PdfReader(io.BytesIO(sheet_pdf(told, LETTER)))
    printed = words(file.pages[0].extract_text())
    page = read(sheet_html(told, LETTER))
    assert page.faults == []
    assert page.outside == []
    for text in (printed, words(page.text)):
        assert found.before.overall.value in text
        for caution in CAUTIONS:
            assert caution in text
        assert "Not checked: lateral load and racking" in text
        assert words(told.plain.do) in text
        for section in told.sections.split("; "):
            assert section in text
        for row in told.rows:
            assert row[0] in text


def test_the_figures_are_those_of_the_solution():
    found = found_of("cottage")
    one = choose(found)
    assert one.solves
    told = sheet("cottage")
    assert told.rows[0][1] == use(found.before.worst.utilisation)
    assert told.rows[told.chosen][1] == use(one.solution.worst.utilisation)
    over = sum(m.analysis_passes is False for m in found.before.members.values())
    most = found.before.worst.utilisation
    said = f"{over} ceiling joists are asked for up to {most:.1f} times"
    assert said in told.plain.means
    assert "6 roof braces stand on 6 ceiling joists" in told.plain.seen
    assert "IRC 2018 R802.4.5" in told.sections


@pytest.mark.parametrize("name", [*ROOFS, "hip"])
def test_a_homeowner_reads_no_key_and_no_clause(name):
    """No member key, clause or load combination in the three plain sentences."""
    plain = " ".join(text for _, text in sheet(name).plain.rows)
    assert re.search(r"\b(CJ|ST|HP|RT|R)-|D\+|NDS|IRC|\bsafe", plain) is None


def test_both_pictures_have_one_scale():
    before, after = sheet("cottage").pictures
    boxes = [
        re.search(r'viewBox="([^"]+)"', p.svg.text).group(1) for p in (before, after)
    ]
    assert boxes[0] == boxes[1]
    assert "url(#hatch-over)" in before.svg.text
    assert "url(#hatch-over)" not in after.svg.text


def test_a_picture_file_takes_the_place_of_a_drawing(tmp_path):
    from PIL import Image

    file = tmp_path / "before.png"
    Image.new("RGB", (64, 40), "#808080").save(file)
    found = found_of("cottage")
    told = content(found, choose(found), (str(file),))
    page = sheet_html(told, A4)
    assert page.count("data:image/png;base64,") == 1
    file = pypdf.PdfReader(io.BytesIO(sheet_pdf(told, A4)))
    assert len(file.pages[0].images) == 1


def test_a_named_remedy_is_drawn():
    found = found_of("cottage")
    told = content(found, choose(found, "posts-footing"))
    assert told.pictures[1].head.startswith("Posts under the feet")
    assert told.rows[told.chosen][0].startswith("Posts under the feet")


def test_an_unknown_remedy_is_told_the_known_ones():
    with pytest.raises(FieldError, match=r"--remedy: 'magic'.*bearing-wall"):
        choose(found_of("cottage"), "magic")


def test_paper_follows_the_units_and_refuses_others():
    assert paper_for(System.IMPERIAL) is LETTER
    assert paper_for(System.METRIC) is A4
    with pytest.raises(FieldError, match=r"--paper: 'a5'.*letter or a4"):
        paper_for(System.METRIC, "a5")


def test_without_the_library_there_is_the_page_alone(tmp_path, monkeypatch):
    monkeypatch.setattr(write, "has_extra", lambda name: False)
    files = write_sheet(found_of("cottage"), tmp_path)
    assert [f.name for f in files] == ["sheet.html", "calculation.html"]


def test_the_command_line_refuses_a_paper_before_it_searches(tmp_path, capsys):
    status = cli.main(["sheet", str(tmp_path / "none.json"), "--paper", "legal"])
    assert status == 2
    assert "letter or a4" in capsys.readouterr().err


@pytest.mark.parametrize("name", [*ROOFS, "hip"])
def test_words_stay_within_their_picture(name):
    """Letters reckoned at less than half their size, as a book face has them."""
    for one in sheet(name).pictures:
        wide = float(re.search(r'viewBox="0 0 ([\d.]+)', one.svg.text).group(1))
        for attributes, text in re.findall(
            r"<text([^>]*)>([^<]*)</text>", one.svg.text
        ):
            x = float(re.search(r' x="([-\d.]+)"', attributes).group(1))
            long = 0.42 * 15 * len(text)
            anchor = re.search(r'text-anchor="(\w+)"', attributes).group(1)
            start = x - {"start": 0.0, "middle": long / 2, "end": long}[anchor]
            assert start > -1
            assert start + long < wide + 1


def test_what_is_new_is_in_the_picture():
    """Trusses stand at other joists than the struts did: the slice goes there."""
    found = found_of("cottage")
    one = choose(found, "trusses-at-struts")
    cut = choose_slice(found.before, one.solution)
    moved, off = slice_beside(cut, found.before, one.solution)
    webs = [m.key for m in one.solution.framing.of_role(Role.WEB)]
    deep = np.array([np.mean(one.solution.framing.ends(k), axis=0) for k in webs])
    assert np.abs(cut.view.at(deep)[:, 2]).min() == pytest.approx(off, abs=1e-9)
    assert np.abs(moved.view.at(deep)[:, 2]).min() < 1e-9
    assert off > cut.half


def test_a_choice_that_needs_no_engineer_comes_first():
    found = found_of("cottage")
    assert not choose(found).engineer
    assert any(r.unbeaten and r.engineer for r in found.remedies)
