"""The comparison page: a chart that says what the measures say, a picture for each."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from loadfall.solver.report.markup import Raw
from loadfall.solver.sheet import chart, comparison_html
from loadfall.solver.sheet.chart import columns, scale_of
from loadfall.solver.units import FOOT, INCH, POUND, System

from ..report.reading import read
from .test_sheet import found_of


def drawing(found):
    """The chart's elements."""
    text = chart.chart(found).text
    return ET.fromstring(re.search(r"<svg.*</svg>", text, re.S).group())


def marks(found):
    """Shape and x of every mark, row by row as they are drawn, column by column."""
    out = []
    for one in drawing(found):
        if one.tag == "circle":
            full = one.get("fill") != chart._PAPER
            out.append(("full" if full else "ring", float(one.get("cx"))))
        elif one.tag == "path":
            way = one.get("d")
            x = float(re.match(r"M([\d.]+)", way).group(1))
            for shape, drawn in (("triangle", "l5 9h-10z"), ("arrow", "l8 4.5-8 4.5z"),
                                 ("diamond", "l5.5 5.5-5.5 5.5-5.5-5.5z")):  # fmt: skip
                if way.endswith(drawn):
                    out.append((shape, x))
    return out


@pytest.mark.parametrize("name", ["cottage", "hip", "untied"])
def test_every_remedy_has_a_mark_in_every_column_where_its_value_is(name):
    """The place of a mark on its scale gives the measure back, to the drawn 0.1 px."""
    found = found_of(name)
    rows = [found.measures, *(r.measures for r in found.remedies)]
    drawn, made = marks(found), columns(found.before.brief.units)
    assert len(drawn) == len(rows) * len(made)
    passing = [r.measures for r in found.remedies if r.solves]
    room = (chart._COLUMN - 2 * chart._INSET) / chart._FAR
    for n, column in enumerate(made):
        end = scale_of(column, rows, passing)
        left = chart._LABEL + n * chart._COLUMN + chart._INSET
        for row, (shape, x) in zip(
            rows, drawn[n * len(rows) : (n + 1) * len(rows)], strict=True
        ):
            value = column.values(row)[0]
            if shape == "arrow":
                assert value > end
            else:
                assert (x - left) / room * end == pytest.approx(value, abs=end / 500)


def test_the_shape_of_a_mark_tells_what_a_remedy_is():
    found = found_of("cottage")
    want = ["diamond"] + [
        "full" if r.unbeaten else "ring" if r.solves else "triangle"
        for r in found.remedies
    ]
    pieces = 4 * len(want)  # the column of pieces, none of which is off its scale
    shapes = [shape for shape, _ in marks(found)[pieces : pieces + len(want)]]
    assert shapes == want
    assert {"full", "ring", "triangle"} <= set(want)
    labels = [e.text for e in drawing(found) if e.get("font-size") == "12"]
    stars = [label.startswith("★ ") for label in labels]
    assert stars == [False, *(r.unbeaten for r in found.remedies)]
    squares = [e for e in drawing(found) if e.tag == "rect"]
    assert len(squares) == sum(bool(r.engineer) for r in found.remedies)


def test_columns_are_in_the_units_of_their_heads():
    found = found_of("cottage")
    m = next(r for r in found.remedies if r.key == "bearing-wall").measures
    by_head = {c.heads[0]: c.values(m)[0] for c in columns(System.IMPERIAL)}
    assert by_head["highest use"] == m.utilisation
    assert by_head["ceiling sag"] == pytest.approx(m.ceiling.ten_years / INCH)
    assert by_head["floor lost"] == pytest.approx(m.floor_lost / FOOT**2)
    assert by_head["load below"] == pytest.approx(m.foundation / POUND)
    metric = {c.heads[0]: c.values(m)[0] for c in columns(System.METRIC)}
    assert metric["floor lost"] == pytest.approx(m.floor_lost)
    assert metric["ceiling sag"] == pytest.approx(m.ceiling.ten_years * 1000)


@pytest.mark.parametrize(
    ("value", "end"), [(0.0, 1.0), (1.0, 1.0), (0.83, 1.0), (5.2, 8.0), (1001.0, 1500)]
)
def test_scales_end_at_round_numbers(value, end):
    assert chart._round_up(value) == pytest.approx(end)


@pytest.mark.parametrize("name", ["cottage", "hip"])
def test_every_remedy_has_its_picture_and_its_reasons(name):
    found = found_of(name)
    page = read(comparison_html(found))
    assert page.faults == []
    assert page.outside == []
    assert page.uses <= set(page.ids)
    text = comparison_html(found)
    for one in found.remedies:
        assert one.key in page.ids
        assert text.count(f"<title>{Raw(one.title).text}</title>") == 2
        for reason in one.engineer:
            assert reason in page.text
