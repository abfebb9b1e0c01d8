"""Cross-members on joists: shares by springs, contact on one side, and the remedy."""

from __future__ import annotations

import json

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing.model import Role
from loadfall.solver.remedy import remedies
from loadfall.solver.remedy.spread import spreads
from loadfall.solver.report.remedy_results import remedy_results
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, POUND, PSI

from ..solve.houses import changed
from .test_remedies import SMALL

# Three joists alone carry a spreader with one strut on the middle one; no other load.
THREE = changed(
    SMALL,
    footprint={"length": "4 ft", "width": "24 ft"},
    walls=[{"name": "spine", "start": ["0 ft", "12 ft"], "end": ["4 ft", "12 ft"]}],
    purlins=[{"name": "S", "slope": "south", "size": "2x6", "from_plate": "6 ft"}],
    struts=[{"purlin": "S", "spacing": "4 ft", "start": "2 ft",
             "foot": {"on": "beam", "name": "sp"}}],
    beams=[{"name": "sp", "start": ["0 ft", "6 ft"], "end": ["4 ft", "6 ft"],
            "size": "2x6", "place": "on_joists", "carries_joists": False}],
    loads={"self_weight": False, "roof_dead": "15 psf", "roof_live": "25 psf",
           "ceiling_dead": "0 psf", "attic_live": "0 psf"},
)  # fmt: skip


def taken(solution, combination="D+Lr"):
    """What the spreader puts on each joist, N."""
    row = solution.combinations.row(combination)
    return [
        float(solution.frame.link_force[row, solution.model.contact_links[n][0]])
        for n, c in enumerate(solution.model.contacts)
        if solution.framing.contacts[c].upper == "B-sp"
    ]


def test_shares_of_three_joists_by_hand():
    """Ends R = P / (3 + k s^3 / (3 E I)): three springs under a beam, statics.

    k = 48 E I / L^3 of a simple joist 12 ft long loaded at its middle, all of 2x6 SPF
    No.2 (E = 1,400,000 psi), s = 2 ft; so k s^3 / (3 E I) = 16 (2/12)^3 = 2/27.
    """
    solution = solve(read_brief(THREE))
    west, middle, east = taken(solution)
    P = west + middle + east
    assert P > 100 * POUND
    by_hand = P / (3 + 16 * (2 / 12) ** 3)
    assert west == pytest.approx(by_hand, rel=2e-3)
    assert east == pytest.approx(by_hand, rel=2e-3)
    joist = solution.framing.members["CJ-01-1"]
    assert 48 * 1.4e6 * PSI * joist.section.I_strong / (12 * FOOT) ** 3 > 0


def test_a_floppy_spreader_leaves_the_load_where_it_lands():
    """With k s^3 / (3 E I) large R falls: a 2x6 laid flat is 1/13.4 as stiff."""
    flat = {**THREE["beams"][0], "size": "0.5x5.5"}  # b 1/3: EI a third
    solution = solve(read_brief(changed(THREE, beams=[flat])))
    west, middle, east = taken(solution)
    P = west + middle + east
    assert west == pytest.approx(P / (3 + 3 * 16 * (2 / 12) ** 3), rel=2e-3)
    assert middle > P / 3


def test_it_only_pushes():
    """Loaded over its last joist it lies on that one alone and lifts off the others.

    A stiff piece on three equal springs loaded at its end would put 5/6, 1/3 and -1/6
    of the load on them (statics); where it cannot pull, the last joist takes all.
    """
    end = changed(
        THREE,
        struts=[THREE["struts"][0] | {"start": "4 ft"}],
        beams=[THREE["beams"][0] | {"size": "2x12", "plies": 3}],
        loads=THREE["loads"] | {"ceiling_dead": "10 psf"},  # it holds the joists down
    )
    solution = solve(read_brief(end))
    forces = taken(solution)
    assert min(forces) >= -1e-6
    found = spreads(solution)[0]
    assert sum(f for _, f in found.joists) == pytest.approx(found.brought, rel=3e-3)
    assert "CJ-00-1" in found.lifted
    assert found.largest_share == pytest.approx(1.0, rel=3e-3)


def test_joists_bolted_over_a_piece_may_be_pulled():
    below = changed(
        THREE,
        struts=[{"purlin": "S", "spacing": "4 ft", "start": "2 ft",
                 "foot": {"on": "ceiling_joist"}}],
        beams=[THREE["beams"][0] | {"place": "below_joists"}],
    )  # fmt: skip
    solution = solve(read_brief(below))
    assert not solution.path.faults
    row = solution.combinations.row("D+Lr")
    force = {
        solution.framing.contacts[c].upper: float(
            solution.frame.link_force[row, solution.model.contact_links[n][0]]
        )
        for n, c in enumerate(solution.model.contacts)
        if solution.framing.contacts[c].lower == "B-sp"
    }
    assert force["CJ-01-1"] > 0
    assert force["CJ-00-1"] < 0
    assert sum(force.values()) == pytest.approx(0.0, abs=1e-3 * force["CJ-01-1"])


def test_a_spreader_needs_joists_that_stand():
    gone = changed(THREE, walls=[], overrides=[
        {"member": f"CJ-{n:02d}-1", "removed": True} for n in range(3)
    ])  # fmt: skip
    solution = solve(read_brief(gone))
    assert "B-sp" in solution.path.faults
    strut = solution.framing.of_role(Role.STRUT)[0]
    assert strut.key in solution.path.faults


def test_the_remedy_tells_shares_and_why_it_is_not_enough():
    found = {r.key: r for r in remedies(read_brief(SMALL)).remedies}
    one = found["spreader"]
    assert one.spread
    for spread in one.spread:
        total = sum(force for _, force in spread.joists)
        assert total >= spread.brought * (1 - 1e-6)
        assert 0 < spread.largest_share < 0.5
    assert one.solves or one.why_not
    told = remedy_results(remedies(read_brief(THREE)))
    json.dumps(told, allow_nan=False)
    alone = taken(solve(read_brief(THREE)))
    assert np.all(np.array(alone) > 0)
