"""The report: well made, complete in itself, in the brief's units, with cautions."""

from __future__ import annotations

import re

import pytest
from loadfall.solver.brief import parse_brief, read_brief, save_text
from loadfall.solver.report.cautions import CAUTIONS, NOT_CHECKED
from loadfall.solver.report.html import report_html
from loadfall.solver.report.results import results
from loadfall.solver.solve import solve
from loadfall.solver.trace.wording import CAUTION

from .briefs import ALL, RIDGE_BEAM, UNTIED, changed, solved, solved_metric
from .reading import read

SECTIONS = ("words", "drawings", "over", "beside", "thrust", "loads", "supports",
            "calculation", "rules", "members", "balance", "limits",
            "brief")  # fmt: skip


@pytest.fixture(scope="module", params=list(ALL))
def name(request):
    return request.param


@pytest.fixture(scope="module")
def page(name):
    return read(report_html(solved(name)))


def test_tags_balance_and_ids_are_single(page):
    assert page.faults == []
    assert len(page.ids) == len(set(page.ids))


def test_nothing_leaves_the_page(page):
    assert page.outside == []
    assert page.uses <= set(page.ids)
    assert page.tags.isdisjoint({"script", "img", "link", "iframe", "object", "form"})


def test_the_reader_finds_faults():
    bad = read('<p><b>x</p><a href="http://a.b"></a><svg><use href="#n"/></svg>')
    assert bad.faults
    assert bad.outside == ["http://a.b"]
    assert bad.uses - set(bad.ids) == {"n"}


def test_every_section_is_there(page):
    assert set(SECTIONS) <= set(page.sections)


def test_cautions_and_gaps_are_on_the_page(page):
    for words in (*CAUTIONS, *NOT_CHECKED):
        assert words in page.text
    assert page.text.index(CAUTION) < page.text.index(page.sections["words"][60:200])


def test_the_word_that_nobody_can_stand_behind_is_nowhere(page):
    assert not re.search(r"\bsafe(ly|ty)?\b", page.text, re.IGNORECASE)


def test_one_unit_system_on_a_page(name):
    metric = read(report_html(solved_metric(name))).sections
    imperial = read(report_html(solve(read_brief(changed(ALL[name], units="imperial"))))
                    ).sections  # fmt: skip
    # Rules are quoted as the code states them; the brief as it was written.
    for key in set(SECTIONS) - {"brief", "rules", "words", "limits"}:
        assert not re.search(r"\d (lb|psf|psi|plf|lb-ft|in)\b", metric[key]), key
        assert not re.search(r"\d (kN|kPa|MPa|mm|N)\b", imperial[key]), key
    assert re.search(r"\d kN\b", metric["supports"])
    assert re.search(r"\d lb\b", imperial["supports"])


def test_rule_and_analysis_are_two_columns(page):
    for key in ("over", "members"):
        text = page.sections[key]
        if "No member that can be rated" not in text:
            assert text.index("by the rule") < text.index("by analysis")


def test_no_load_path_stands_before_every_number():
    page = read(report_html(solved("untied")))
    assert next(iter(page.sections)) == "lost"
    assert "These come before every number" in page.sections["lost"]
    assert "R-N-05 to R-N-09" in page.sections["lost"]
    assert "R-S-05 to R-S-09" in page.sections["lost"]
    assert not re.search(r"\d (lb|psi|in)\b", page.sections["lost"])


def test_over_its_limit_is_said_in_words_and_shape(name):
    html = report_html(solved(name))
    failing = [m for m in solved(name).members.values() if m.analysis_passes is False]
    over = read(html).sections["over"]
    assert ("over its limit" in over) == bool(failing)
    assert ('href="#mark-over"' in html) == bool(failing)


def test_user_text_is_escaped():
    brief = changed(
        RIDGE_BEAM,
        name="<script>alert(1)</script> & \"q\" 'r'",
        units="imperial",
    )
    html = report_html(solve(read_brief(brief)))
    assert "<script" not in html
    assert "&lt;script&gt;alert(1)" in html
    assert "<i>" not in html
    assert "a&lt;i&gt;" in html
    page = read(html)
    assert page.faults == []
    assert "wall a<i>" in page.text
    assert "wall b&c" in page.text


def test_the_brief_stands_in_full(name):
    solution = solved(name)
    text = read(report_html(solution)).sections["brief"]
    again = text[text.index("{") : text.rindex("}") + 1]
    assert save_text(parse_brief(again)) == save_text(solution.brief)


def test_a_roof_without_analysis_has_a_report():
    nothing = changed(UNTIED, overrides=[], rafter_ties=None)
    solution = solve(read_brief(nothing))
    assert solution.frame is None
    page = read(report_html(solution))
    assert page.faults == []
    assert solution.refusal in page.text
    assert "R-S-00 to R-S-12" in page.sections["lost"]
    assert "calculation" not in page.sections


def test_the_two_force_columns_of_struts_are_the_solutions(name):
    solution = solved(name)
    text = read(report_html(solution)).sections.get("struts", "")
    assert bool(text) == bool(solution.hand.struts)
    for key, strut in results(solution)["struts"].items():
        at = text.index(f"\n{key}\n")
        row = text[at : at + 220]
        assert f"{_force(strut['hand_axial'], solution)}\n" in row
        if strut["frame_axial"] is not None:
            assert f"{_force(strut['frame_axial'], solution)}\n" in row


def _force(pounds, solution):
    assert solution.brief.units == "imperial"
    return f"{pounds if abs(pounds) > 0.12 else 0:,.0f} lb"
