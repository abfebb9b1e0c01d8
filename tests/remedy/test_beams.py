"""Beams that take the struts: strong by hand, stiff enough for the ceiling."""

from __future__ import annotations

import math

import numpy as np
import pytest
from loadfall.solver.ageing import age_roof
from loadfall.solver.brief import read_brief
from loadfall.solver.brief.model import BeamPlace
from loadfall.solver.framing import frame_roof
from loadfall.solver.framing.model import Role
from loadfall.solver.framing.solids import member_solid
from loadfall.solver.remedy import remedies
from loadfall.solver.remedy.pieces import pieces
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, INCH, POUND, POUND_FOOT, PSI

from ..solve.houses import changed
from .test_remedies import SMALL

# Cross walls 12 ft apart, so that a beam along the feet spans 12 ft between walls.
ROOM = changed(
    SMALL,
    footprint={"length": "12 ft", "width": "24 ft"},
    walls=[{"name": "spine", "start": ["0 ft", "12 ft"], "end": ["12 ft", "12 ft"]}],
)
FLUSH = {
    "name": "hung", "start": ["0 ft", "6 ft"], "end": ["12 ft", "6 ft"],
    "size": "1.75x9.25", "species": "LVL", "grade": "2.0E-2600Fb", "plies": 2,
    "place": "flush",
}  # fmt: skip


@pytest.fixture(scope="module")
def found():
    return {r.key: r for r in remedies(read_brief(ROOM)).remedies}


def _strut_loads(solution, name, combination):
    """What struts bring to a beam: (place along it, N down)."""
    row = solution.combinations.row(combination)
    beam = next(b for b in solution.brief.beams if b.name == name)
    out = []
    for strut in solution.framing.of_role(Role.STRUT):
        x, y, _ = solution.framing.points[strut.nodes[0]]
        if abs(y - beam.start[1]) < 0.1:
            element = solution.model.rows_of(strut.key).start
            out.append((x, solution.frame.end_force_global[row, element, 0, 2]))
    return out


def test_a_beam_above_the_joists_is_the_least_by_statics(found):
    """M of point loads on a simple span, against F_b' = F_b C_D C_F of two 2x plies.

    NDS 2018 3.3.1, Supplement 4A: SPF No.2 F_b = 875 psi, C_F 1.2 for 2x8, 1.3 for
    2x6; unbraced 2x sawn of d/b over 2 is held here by no more than its ends, so C_L
    lowers it further: the hand value is a lower bound.
    """
    one = found["beam-above-sawn"]
    assert one.solves
    after = one.solution
    name = after.brief.beams[0].name
    span = 12 * FOOT
    loads = _strut_loads(after, name, "D+Lr")
    assert loads
    assert sum(p for _, p in loads) > 0
    left = sum(p * (span - x) / span for x, p in loads)
    moment = max(
        left * a - sum(p * (a - x) for x, p in loads if x < a) for a, _ in loads
    )
    beam = after.framing.members[f"B-{name}"].section
    use = moment / beam.section_modulus / (875 * PSI * 1.25 * 1.2)
    ours = after.members[f"B-{name}"].by_check["bending"]
    assert use <= ours <= use * 1.35  # self-weight and C_L are in ours
    assert one.smaller, "a size below was solved and is not enough"


def test_a_flush_beam_takes_half_of_both_joists_and_hangs_them():
    """w = half of a 6 ft and half of a 6 ft joist, 5 + 10 psf and weights: statics."""
    house = changed(ROOM, struts=[], purlins=[], beams=[FLUSH],
                    loads={"self_weight": False, "roof_dead": "15 psf",
                           "roof_live": "25 psf", "attic_live": "10 psf"})  # fmt: skip
    solved = solve(read_brief(house))
    beam = solved.members["B-hung"]
    w = (5 + 10) * 6.0  # lb/ft: 3 ft from either side
    by_hand = w * 12**2 / 8
    assert beam.moment / POUND_FOOT == pytest.approx(by_hand, rel=0.03)
    joists = [m for m in solved.framing.of_role(Role.CEILING_JOIST) if m.station == 3]
    assert len(joists) == 3, "cut at the beam and lapped over the spine wall"
    near = member_solid(solved.brief, solved.framing, joists[0].key).vertices
    face = 6 * FOOT - 1.75 * INCH
    assert near[:, 1].max() == pytest.approx(face, abs=1e-6), "it stops at its face"


def test_a_beam_above_carries_hung_joists_uncut():
    house = changed(ROOM, struts=[], purlins=[], beams=[FLUSH | {"place": "above"}])
    framing = frame_roof(read_brief(house))
    joists = [m for m in framing.of_role(Role.CEILING_JOIST) if m.station == 3]
    assert len(joists) == 2, "lapped over the spine wall alone"
    beam = framing.members["B-hung"]
    assert beam.offset[2] - beam.section.depth / 2 == pytest.approx(5.5 * INCH)
    assert any(c.lower == "B-hung" for c in framing.contacts)


def test_what_hangs_in_a_chosen_beam_keeps_the_ceiling_whole(found):
    """Angular distortion 1/300 between neighbours (Skempton and MacDonald 1956)."""
    flush = [r for k, r in found.items() if k.startswith("beam-flush") and r.solves]
    assert flush
    for one in flush:
        beams = {f"B-{b.name}" for b in one.brief.beams}
        hung = {c.upper for c in one.solution.framing.contacts if c.lower in beams}
        aged = age_roof(one.solution)
        at = aged.names.index("10 years")
        for pair in aged.neighbours:
            if {pair.first, pair.second} & (hung | beams):
                assert pair.growth[at] <= pair.apart / 300 + 1e-9


def test_beams_beside_joists_stand_clear_of_the_ceiling(found):
    one = found["beams-across-lvl"]
    framing = one.solution.framing
    beams = framing.of_role(Role.BEAM)
    assert len(beams) == len(framing.of_role(Role.STRUT))
    for beam in beams:
        assert beam.clear
        low = member_solid(one.brief, framing, beam.key).vertices[:, 2].min()
        assert low == pytest.approx(0.75 * INCH)
        assert one.solution.members[beam.key].sag_long_term <= 0.75 * INCH
        joists = [
            member_solid(one.brief, framing, j.key).vertices
            for j in framing.of_role(Role.CEILING_JOIST)
        ]
        box = member_solid(one.brief, framing, beam.key).vertices
        x = box[:, 0].min(), box[:, 0].max()
        for joist in joists:
            overlap = min(x[1], joist[:, 0].max()) - max(x[0], joist[:, 0].min())
            assert overlap <= 1e-6, "it stands beside every joist"


def test_a_beam_end_under_the_roof_is_checked_as_it_is_cut(found):
    """Room at the plate: plumb rafter less seat and packing; NDS 2018 3.4.3.2(e)."""
    one = found["beams-across-lvl"]
    brief = one.brief
    beam = one.solution.framing.of_role(Role.BEAM)[0]
    room = 5.5 * math.hypot(1, brief.roof.pitch) - 1.25 + 1.75 * brief.roof.pitch - 0.75
    assert beam.section.depth / INCH > room
    assert "notched_shear" in one.solution.members[beam.key].by_check


def test_joists_cut_in_their_place_are_no_new_lumber(found):
    one = found["beam-flush-lvl"]
    added = pieces(solve(read_brief(ROOM)), one.solution).added
    assert all(lot.size != "2x6" for lot in added)
    assert any(lot.species == "LVL" for lot in added)


def test_the_chosen_beam_is_the_beam_of_the_brief(found):
    one = found["beam-flush-lvl"]
    again = solve(one.brief)
    assert {b.place for b in one.brief.beams} == {BeamPlace.FLUSH}
    assert again.worst.utilisation == pytest.approx(one.measures.utilisation, rel=1e-9)
    strut = one.solution.framing.of_role(Role.STRUT)[0]
    top = float(np.ptp(one.solution.framing.points[list(strut.nodes), 1]))
    assert top == pytest.approx(0.0, abs=1e-9), "struts stay plumb"
    assert one.measures.foundations, "its ends bring load to walls"
    assert max(one.measures.foundations.values()) > 100 * POUND


def test_hangers_hold_what_the_joists_bring(found):
    """Half of a joist of 6 ft at 24 in: (5 + 10) psf x 2 ft x 3 ft = 90 lb and weight.

    A joist cut at a flush beam has two ends there, which share one place.
    """
    one = found["beam-flush-lvl"]
    assert {h.beam for h in one.hanging} == {f"B-{b.name}" for b in one.brief.beams}
    for hanging in one.hanging:
        assert 2 * 90 * POUND < hanging.each < 2 * 90 * 1.35 * POUND
        assert hanging.pull >= 0
        assert hanging.joists == len(one.solution.framing.joist_stations)
    assert not found["beam-above-lvl"].hanging


def test_a_truss_tells_the_nails_of_its_joints(found):
    one = found["trusses"]
    assert {j.key.split()[1] for j in one.gussets} == {"foot", "peak", "top", "chord"}
    assert len({j.key.split("-")[1] for j in one.gussets}) == 1
    assert all(j.needed >= 2 for j in one.gussets)
