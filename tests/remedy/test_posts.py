"""Joists that bear on a new post under a strut's foot, by statics."""

from __future__ import annotations

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing.model import Role
from loadfall.solver.remedy.posts import propose
from loadfall.solver.remedy.spread import spreads
from loadfall.solver.remedy.spreaders import propose as propose_spreaders
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, INCH, PLF, PSF
from loadfall.solver.verdict.bearings import bearing_plan

from ..solve.houses import changed
from .test_remedies import SMALL

LIGHT = changed(
    SMALL,
    purlins=[p | {"from_plate": "6 ft"} for p in SMALL["purlins"]],
    loads={"roof_dead": "15 psf", "roof_live": "25 psf", "self_weight": False},
)


@pytest.fixture(scope="module")
def before():
    return solve(read_brief(LIGHT))


def test_a_post_carries_the_strut_and_five_eighths_of_its_joist(before):
    """Two equal spans of 6 ft under 10 plf: the middle support takes 5/4 w a.

    The joist is hinged over the spine wall at 12 ft, the post stands at 6 ft, where the
    strut presses straight through to it (statics; handbooks of beams).
    """
    ladder = next(x for x in propose(before) if x.key == "posts-joists")
    after = solve(ladder.rungs[3].brief)
    row, w = after.combinations.row("D"), 5 * PSF * 2 * FOOT
    strut = after.framing.of_role(Role.STRUT)[1]
    post = after.framing.of_role(Role.POST)[1]
    down = after.frame.end_force_global[row, after.model.rows_of(strut.key).start, 0, 2]
    held = -after.frame.stations(2).N[row, after.model.rows_of(post.key).start, 0]
    assert w == pytest.approx(10 * PLF)
    assert held - down == pytest.approx(1.25 * w * 6 * FOOT, rel=0.02)
    assert post.counted
    assert not after.path.faults


def test_the_joist_is_checked_where_it_is_squeezed(before):
    """Two 2x4 are 3 in by 3.5 in: joists across lie 3.5 in on them, 1.5 in wide."""
    ladder = next(x for x in propose(before) if x.key == "posts-joists")
    assert ladder.rungs[0].size == "2-2x4"
    after = solve(ladder.rungs[0].brief)
    foot = after.framing.of_role(Role.STRUT)[1].nodes[0]
    joist = next(k for k in after.framing.by_node[foot] if k.startswith("CJ-"))
    plan = bearing_plan(after.framing, after.model)
    mine = plan.member == after.model.members.index(joist)
    here = mine & (abs(plan.station - 6 * FOOT) < INCH)
    sides = list(zip(plan.length[here], plan.breadth[here], strict=True))
    assert any(
        length == pytest.approx(3.5 * INCH) and breadth == pytest.approx(1.5 * INCH)
        for length, breadth in sides
    )


def test_shares_of_a_piece_below_add_up_to_what_struts_bring(before):
    ladder = next(x for x in propose_spreaders(before) if x.key == "spreader-below")
    found = spreads(solve(ladder.rungs[1].brief))
    assert len(found) == 2
    for one in found:
        total = sum(force for _, force in one.joists)
        assert total == pytest.approx(one.brought, rel=1e-6)
        assert 0 < one.pull < one.brought / 4
        assert min(force for _, force in one.joists) > 0
