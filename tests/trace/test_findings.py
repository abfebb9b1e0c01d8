"""Findings in words: the heaviest first, rule and analysis apart, none forgotten."""

from __future__ import annotations

import pytest
from loadfall.solver.audit.model import FindingKind
from loadfall.solver.brief import read_brief
from loadfall.solver.brief.io import OUTLINE_EXAMPLE
from loadfall.solver.solve import solve
from loadfall.solver.trace.findings import main_findings
from loadfall.solver.trace.told import Weight
from loadfall.solver.units import POUND

from ..report.briefs import ALL, UNTIED, changed, solved

SHED = {
    "name": "Small shed",
    "footprint": {"length": "12 ft", "width": "10 ft"},
    "roof": {"pitch": "6:12"},
    "rafters": {"size": "2x6", "spacing": "16 in"},
    "ceiling_joists": {"size": "2x6", "spacing": "16 in"},
}


@pytest.mark.parametrize("name", list(ALL))
def test_the_heaviest_come_first(name):
    ranks = [one.weight.rank for one in main_findings(solved(name))]
    assert ranks == sorted(ranks)


@pytest.mark.parametrize("name", list(ALL))
def test_no_failing_member_is_forgotten(name):
    solution = solved(name)
    told = main_findings(solution)
    over = {k for one in told if one.weight is Weight.OVER_LIMIT for k in one.members}
    lost = {k for one in told if one.weight is Weight.NO_LOAD_PATH for k in one.members}
    for key, m in solution.members.items():
        if m.analysis_passes is False:
            assert key in over
    assert lost == set(solution.path.faults)


@pytest.mark.parametrize("name", list(ALL))
def test_every_broken_rule_is_told_with_its_section(name):
    solution = solved(name)
    sections = {one.section for one in main_findings(solution)}
    for f in solution.findings:
        stands = f.rule == "brace_foot" and set(f.members) & set(solution.path.faults)
        if f.kind is FindingKind.RULE and f.passed is False and not stands:
            assert f.section in sections


@pytest.mark.parametrize("name", list(ALL))
def test_what_is_said_is_three_sentences_without_promise(name):
    for one in main_findings(solved(name)):
        for words in (one.seen, one.means, one.do):
            assert words.strip().endswith(".")
            assert "safe" not in words.lower()
            assert "_" not in words


def test_struts_on_joists_give_both_forces_and_the_worst_joist():
    solution = solved("cottage")
    one = main_findings(solution)[0]
    assert one.weight is Weight.OVER_LIMIT
    hand = max(float(s.axial.max()) for s in solution.hand.struts.values()) / POUND
    frame = max(
        -m.axial for m in solution.members.values() if m.role == "strut"
    ) / POUND  # fmt: skip
    worst = max(
        (m for m in solution.members.values() if m.strut_load > 0 and m.role != "strut"
         and m.role == "ceiling_joist"),
        key=lambda m: m.utilisation,
    )  # fmt: skip
    assert f"{hand:,.0f} lb by hand" in one.means
    assert f"{frame:,.0f} lb by the frame analysis" in one.means
    assert f"{worst.utilisation:.2f} times its limit" in one.means
    assert "16 struts (braces)" in one.seen
    assert one.section.startswith("IRC 2018")


def test_untied_rafters_are_named_and_shored():
    one = main_findings(solved("untied"))[0]
    assert one.weight is Weight.NO_LOAD_PATH
    assert "R-N-05 to R-N-09 and R-S-05 to R-S-09" in one.seen
    assert "Tie the rafters" in one.do
    assert "Shore first" in one.do


def test_few_nails_at_the_heel_are_told():
    solution = solved("opened")
    told = next(t for t in main_findings(solution) if "nails" in t.head)
    assert f"needs {solution.hand.thrust.nails_needed} of" in told.means
    enough = {"nail": "16d common", "count": solution.hand.thrust.nails_needed}
    again = solve(read_brief(changed(ALL["opened"], heel_joint=enough)))
    assert not any("nails" in t.head for t in main_findings(again))


def test_a_roof_without_fault_says_what_that_means():
    solution = solve(read_brief(SHED))
    told = main_findings(solution)
    assert [one.weight for one in told] == [Weight.PASSES]
    assert "for nothing else" in told[0].means


def test_a_roof_without_analysis_is_told_first():
    solution = solve(read_brief(changed(UNTIED, overrides=[], rafter_ties=None)))
    told = main_findings(solution)
    assert told[0].weight is Weight.NO_LOAD_PATH
    assert any(solution.refusal.rstrip(".") in one.seen for one in told)


def test_what_is_to_be_done_suits_the_roof_and_the_check():
    """Ends that crush want longer seats; where no purlin is, none is spoken of."""
    solution = solve(read_brief(OUTLINE_EXAMPLE))
    rafters = [m for m in solution.members.values() if m.role == "rafter"]
    over = [m for m in rafters if m.analysis_passes is False]
    assert over
    assert {m.governing_check for m in over} == {"bearing"}
    told = [t for t in main_findings(solution) if over[0].key in t.members]
    do = next(t.do for t in told if t.weight is Weight.OVER_LIMIT)
    assert "longer seats" in do
    assert "purlin" not in do
