"""Joints nearer than an inch on one stick are one joint.

A stub between them would be so stiff that rounding decides the answer: a purlin a
millimetre from a tie once took a whole sound roof's load path away.
"""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing import frame_roof
from loadfall.solver.framing.settle import Lines
from loadfall.solver.units import INCH, Quantity, parse_quantity

from ..solve import houses
from ..solve.houses import BUNGALOW, changed, solved

STEPS = ("0.000001 m", "1 mm", "15/16 in")
SHORT = {
    "footprint": {"length": "16 ft"},
    "walls": [{"name": "spine", "start": ["0 ft", "13 ft"], "end": ["16 ft", "13 ft"]}],
}
COTTAGE = changed(houses.COTTAGE, **SHORT)


def metres(text):
    return parse_quantity(text, Quantity.LENGTH)


def sound(solution):
    assert not solution.refusal
    assert not solution.path.faults
    assert solution.shares().error < 1e-9
    assert solution.flow().ground_imbalance < 1e-9


def shortest(solution):
    frame = solution.model.frame
    ends = frame.xyz[frame.ends]
    return float(((ends[:, 1] - ends[:, 0]) ** 2).sum(axis=1).min() ** 0.5)


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("sign", ["", "-"])
def test_a_purlin_beside_a_tie(step, sign):
    """The tie stands at 3 ft 3 in of plan; the purlin a step to one side of it."""
    away = metres("3 ft 3 in") + (-1 if sign else 1) * metres(step)
    place = f"{away!r} m"
    purlins = [p | {"from_plate": place, "size": "2x10"} for p in COTTAGE["purlins"]]
    ties = {"size": "2x6", "height_ratio": 0.25, "spacing": "4 ft"}
    solution = solved(COTTAGE, purlins=purlins, rafter_ties=ties)
    sound(solution)
    assert shortest(solution) > 0.99 * INCH


@pytest.mark.parametrize("step", STEPS)
def test_a_strut_foot_beside_a_wall(step):
    foot = {"on": "ceiling_joist", "from_plate": f"13 ft {step}"}
    struts = [g | {"foot": foot} for g in COTTAGE["struts"]]
    solution = solved(COTTAGE, struts=struts)
    sound(solution)
    assert shortest(solution) > 0.99 * INCH


@pytest.mark.parametrize("step", STEPS)
def test_struts_beside_rafters(step):
    struts = [
        g | {"start": f"4 ft {step}", "foot": {"on": "point"}}
        for g in COTTAGE["struts"]
    ]
    solution = solved(COTTAGE, struts=struts)
    sound(solution)
    assert shortest(solution) > 0.99 * INCH


@pytest.mark.parametrize("step", STEPS[::2])
def test_posts_beside_joists(step):
    posts = [{"name": "A", "at": [f"22 ft {step}", f"15 ft {step}"]}]
    solution = solved(BUNGALOW, posts=posts)
    sound(solution)
    assert shortest(solution) > 0.99 * INCH
    assert solution.members["PO-A"].axial < -1000


@pytest.mark.parametrize("step", STEPS[::2])
def test_beam_ends_beside_joists(step):
    beam = BUNGALOW["beams"][0] | {"start": [f"14 ft {step}", "15 ft"]}
    gap = [{"start": f"14 ft {step}", "end": "30 ft"}]
    solution = solved(
        BUNGALOW, beams=[beam], walls=[BUNGALOW["walls"][0] | {"openings": gap}]
    )
    sound(solution)
    assert shortest(solution) > 0.99 * INCH


@pytest.mark.parametrize("step", STEPS)
def test_the_edge_of_a_drift_beside_a_purlin(step):
    snow = {"ground": "30 psf", "unbalanced": True}
    loads = COTTAGE["loads"] | {"snow": snow}
    free = solved(COTTAGE, loads=loads)
    run, edge = 13 * 12 * INCH, free.loads.pressures.snow.unbalanced.surcharge_width
    assert 0 < edge < run
    place = f"{run - edge + metres(step)!r} m"
    purlins = [p | {"from_plate": place} for p in COTTAGE["purlins"]]
    solution = solved(COTTAGE, loads=loads, purlins=purlins)
    sound(solution)
    assert shortest(solution) > 0.99 * INCH


def test_a_hair_of_overhang_is_none():
    solution = solved(COTTAGE, roof={"overhang": "1 mm"})
    sound(solution)
    assert shortest(solution) > 0.99 * INCH


def test_two_joists_never_stand_in_one_place():
    """Both the last mark and the end wall's joist are beside the last rafter."""
    house = changed(
        COTTAGE,
        footprint={"length": "152 in", "width": "26 ft"},
        walls=None,
        ceiling_joists={"spacing": "30 in"},
    )
    framing = frame_roof(read_brief(house))
    marks = framing.joist_stations
    assert (marks[1:] - marks[:-1]).min() > 1 * INCH
    solution = solved(house)
    assert solution.hand.joists["CJ-05-1"].width > 0


def test_what_stands_an_inch_apart_stays_apart():
    lines = Lines()
    assert lines.settle(1.0) == 1.0
    assert lines.settle(1.0 + INCH) == 1.0 + INCH
    assert lines.settle(1.0 + 0.99 * INCH) == 1.0 + INCH
    assert lines.settle(1.0 + 0.4 * INCH) == 1.0
    assert lines.known == [1.0, 1.0 + INCH]


def test_ties_move_to_the_purlin_and_the_purlin_stays():
    place = 3.25 * 12 * INCH + 0.5 * INCH
    purlins = [p | {"from_plate": f"{place!r} m"} for p in COTTAGE["purlins"]]
    ties = {"size": "2x6", "height_ratio": 0.25, "spacing": "4 ft"}
    framing = frame_roof(
        read_brief(changed(COTTAGE, purlins=purlins, rafter_ties=ties))
    )
    assert framing.ends("P-S")[0][1] == pytest.approx(place, abs=1e-12)
    assert framing.ends("RT-00")[0][1] == pytest.approx(place, abs=1e-12)


def test_a_joist_an_inch_beyond_a_beam_is_not_on_it():
    """Once its joint was put beyond the beam's end and the beam ran back on itself."""
    wall = {
        "name": "spine", "start": ["0 in", "15 ft"], "end": ["44 ft", "15 ft"],
        "openings": [{"start": "1 in", "end": "84 in"}],
    }  # fmt: skip
    beam = BUNGALOW["beams"][0] | {
        "start": ["1 in", "15 ft"],
        "end": ["84 in", "15 ft"],
    }
    framing = solved(BUNGALOW, walls=[wall], beams=[beam]).framing
    x = framing.points[list(framing.members["B-living"].nodes)][:, 0]
    assert (x[1:] > x[:-1]).all()
    assert x[0] == pytest.approx(INCH)


def test_struts_stay_on_their_purlin():
    """A joist just beyond the end of a purlin once drew its strut and purlin along."""
    purlin = COTTAGE["purlins"][0] | {"start": "6 ft 6 in", "end": "11 ft 6 in"}
    struts = [{"purlin": "S", "spacing": "2 ft", "start": "6 ft 6 in",
               "foot": {"on": "ceiling_joist"}}]  # fmt: skip
    framing = solved(COTTAGE, purlins=[purlin], struts=struts).framing
    x = framing.points[list(framing.members["P-S"].nodes)][:, 0] / (12 * INCH)
    np.testing.assert_allclose(x, [6.5, 8, 10, 11.5])
    foot, top = framing.ends("ST-S-01")
    assert foot[0] / (12 * INCH) == pytest.approx(6)
    assert top[0] / (12 * INCH) == pytest.approx(6.5)
