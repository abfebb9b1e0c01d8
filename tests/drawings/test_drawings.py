"""Plans and sections: to scale, marked as the schedule, read by other programs."""

from __future__ import annotations

import io
import re
from functools import cache
from itertools import combinations
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pypdf
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.drawings import write
from loadfall.solver.drawings.dxf import dxf_text
from loadfall.solver.drawings.ink import Dimension, Layer, Stroke, Words
from loadfall.solver.drawings.printed import drawings_pdf
from loadfall.solver.drawings.svg import svg_text
from loadfall.solver.drawings.write import draw_all, write_drawings
from loadfall.solver.report.cautions import CAUTION
from loadfall.solver.schedule import cut_pieces, mark_pieces
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, System

from ..hips import hip
from ..outlines import outline
from ..report.briefs import COTTAGE, OPENED, RIDGE_BEAM

ASKEW = {"name": "askew", "start": ["4 ft", "4 ft"], "end": ["12 ft", "10 ft"]}
ROOFS = {
    "askew": COTTAGE | {"walls": [*COTTAGE["walls"], ASKEW]},
    "cottage": COTTAGE, "opened": OPENED, "barn": RIDGE_BEAM, "hip": hip(),
    "L": outline("L", gabled=True), "cross": outline("cross") | {"units": "metric"},
}  # fmt: skip


@cache
def solved(name):
    return solve(read_brief(ROOFS[name]))


@cache
def drawn(name):
    return {d.name: d for d in draw_all(solved(name))}


def of(drawing, kind, layer=None):
    return [
        i
        for i in drawing.items
        if isinstance(i, kind) and (layer is None or i.layer is layer)
    ]


@pytest.mark.parametrize("name", ROOFS)
def test_there_are_two_plans_and_two_sections(name):
    assert list(drawn(name)) == ["roof_plan", "ceiling_plan", "section_a", "section_b"]


@pytest.mark.parametrize("name", ROOFS)
def test_every_sheet_is_whole(name):
    """Cautions, scale and name on each; nothing that is drawn leaves the frame."""
    for drawing in drawn(name).values():
        said = " ".join(w.text for w in of(drawing, Words))
        assert CAUTION in said
        assert "measure on site before cutting" in said
        assert re.search(r"Scale (1/\d+ in = 1 ft|1:\d+)", said)
        wide, tall = drawing.size
        for stroke in of(drawing, Stroke):
            assert stroke.points.min() > 9.9
            assert (stroke.points < (wide - 9.9, tall - 9.9)).all()
        for words in of(drawing, Words):
            assert 10 < words.place[0] < wide - 10
            assert 10 < words.place[1] < tall - 10


def test_the_plan_is_to_scale():
    """32 ft by 26 ft at 1/4 in to the foot is 8 in by 6.5 in of paper, by hand."""
    plan = drawn("cottage")["roof_plan"]
    assert plan.scale == 48
    walls = of(plan, Stroke, Layer.WALLS)[0].points
    assert np.ptp(walls, axis=0) == pytest.approx((8 * 25.4, 6.5 * 25.4))


def test_metric_plans_are_to_a_metric_scale_on_iso_paper():
    plan = drawn("cross")["roof_plan"]
    assert plan.scale == 50
    assert plan.size == (841.0, 594.0)


def test_dimensions_say_what_they_measure():
    """Of every dimension on every sheet the distance drawn is the distance written."""
    for drawing in drawn("cottage").values():
        for item in of(drawing, Dimension):
            (xa, ya), (xb, yb) = item.a, item.b
            real = ((xb - xa) ** 2 + (yb - ya) ** 2) ** 0.5 * drawing.scale / 25.4
            feet, inches, _, n, d = re.fullmatch(
                r"(\d+)' (\d+)( (\d+)/(\d+))?\"", item.text
            ).groups()
            said = 12 * int(feet) + int(inches) + (int(n) / int(d) if n else 0)
            assert said == pytest.approx(real, abs=1 / 32 + 1e-6)


@pytest.mark.parametrize("name", ROOFS)
def test_lines_to_the_words_of_a_section_do_not_cross(name):
    """Of each side of the sheet, from where lines bend to the pieces they lead to."""
    for drawing in draw_all(solved(name))[2:]:
        lines = [
            s.points[1:]
            for s in drawing.items
            if isinstance(s, Stroke) and s.layer is Layer.WORDS and not s.closed
        ]
        assert len(lines) >= 3
        for (a, b), (c, d) in combinations(lines, 2):
            if a[0] == c[0]:
                across = turn(a, b, c) * turn(a, b, d) < 0
                assert not (across and turn(c, d, a) * turn(c, d, b) < 0)


def turn(a, b, p):
    """Above 0 where a-b-p turns to the left."""
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


@pytest.mark.parametrize("name", ROOFS)
def test_members_are_marked_as_in_the_schedule(name):
    solution = solved(name)
    pieces = cut_pieces(solution.brief, solution.framing)
    wanted = {
        mark.name
        for mark in mark_pieces(pieces)
        if mark.first.role.value in ("rafter", "hip_rafter", "valley_rafter", "purlin",
                                     "ridge_board", "ceiling_joist", "beam")
    }  # fmt: skip
    said = " ".join(
        w.text
        for sheet in ("roof_plan", "ceiling_plan")
        for w in of(drawn(name)[sheet], Words)
    )
    found = set(re.findall(r"[A-Z]+\d+[LR]?", said))
    assert wanted <= found


@pytest.mark.parametrize("name", ROOFS)
def test_runs_tell_how_many_there_are(name):
    """Every rafter and joist is told, in a run or alone, as often as it is framed."""
    solution = solved(name)
    for sheet, roles in (
        ("roof_plan", ("rafter", "jack_rafter")),
        ("ceiling_plan", ("ceiling_joist", "stub_joist")),
    ):
        prefixes = ("R", "J") if sheet == "roof_plan" else ("CJ", "SJ")
        told = 0
        for words in of(drawn(name)[sheet], Words):
            mark = re.match(r"([A-Z]+)\d+[LR]?\b", words.text)
            if mark and mark.group(1) in prefixes:
                run = re.search(r", (\d+) at ", words.text)
                told += int(run.group(1)) if run else 1
        framed = sum(m.role.value in roles for m in solution.framing.members.values())
        assert told == framed


@pytest.mark.parametrize("name", ROOFS)
def test_svg_is_sound_and_has_the_size_of_its_paper(name):
    for drawing in drawn(name).values():
        root = ElementTree.fromstring(svg_text(drawing))
        assert root.tag == "{http://www.w3.org/2000/svg}svg"
        wide, tall = drawing.size
        assert (root.get("width"), root.get("height")) == (f"{wide:g}mm", f"{tall:g}mm")
        assert root.get("viewBox") == f"0 0 {wide:g} {tall:g}"


@pytest.mark.parametrize("name", ["cottage", "cross"])
def test_pdf_pages_are_the_papers(name):
    drawings = list(drawn(name).values())
    file = pypdf.PdfReader(io.BytesIO(drawings_pdf(drawings, "x")))
    assert len(file.pages) == len(drawings)
    for page, drawing in zip(file.pages, drawings, strict=True):
        size = float(page.mediabox.width), float(page.mediabox.height)
        assert size == pytest.approx([v / 25.4 * 72 for v in drawing.size], abs=0.01)
        text = page.extract_text()
        assert drawing.title.split(": ")[-1] in text
        assert "engineer" in text


@pytest.mark.parametrize(("name", "unit"), [("cottage", 1), ("L", 1), ("cross", 4)])
def test_dxf_passes_the_audit_of_its_reader(name, unit):
    """Units are inches or millimetres; every line lies on a layer of the trade."""
    for drawing in drawn(name).values():
        document = ezdxf.read(io.StringIO(dxf_text(drawing, solved(name).brief.units)))
        audit = document.audit()
        assert audit.errors == []
        assert audit.fixes == []
        assert document.header["$INSUNITS"] == unit
        layers = {e.dxf.layer for e in document.modelspace()}
        assert layers <= {layer.value for layer in Layer}


def test_dxf_dimensions_measure_the_building():
    """A reader measures 384 in by 312 in between the walls: 32 ft by 26 ft."""
    plan = drawn("cottage")["roof_plan"]
    document = ezdxf.read(io.StringIO(dxf_text(plan, System.IMPERIAL)))
    found = [d.get_measurement() for d in document.modelspace().query("DIMENSION")]
    assert sum(abs(v - 384) < 1e-3 for v in found) == 2
    assert sum(abs(v - 312) < 1e-3 for v in found) == 2


def test_dxf_walls_are_where_they_are_stated():
    sheet = drawn("opened")["ceiling_plan"]
    document = ezdxf.read(io.StringIO(dxf_text(sheet, System.IMPERIAL)))
    lines = document.modelspace().query('LWPOLYLINE[layer=="S-WALL"]')
    long = [max(p[0] for p in e) - min(p[0] for p in e) for e in lines]
    assert any(abs(v - 44 * 12) < 1e-3 for v in long)
    gap = 14 * FOOT / 0.0254
    assert any(abs(v - gap) < 1e-3 for v in long), "the wall west of its opening"


def test_without_the_libraries_there_is_svg_and_a_word(tmp_path, monkeypatch):
    monkeypatch.setattr(write, "has_extra", lambda name: False)
    files, missing = write_drawings(solved("cottage"), tmp_path)
    assert {f.suffix for f in files} == {".svg"}
    assert len(missing) == 2
    assert "pip install ezdxf" in missing[1]
