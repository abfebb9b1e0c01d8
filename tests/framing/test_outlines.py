"""Drawn outlines as a framer checks them: rafters in plane, nothing left out."""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.framing.planes import area_of
from loadfall.solver.loads import member_loads
from loadfall.solver.loads.cases import CASES, ROOFS, Case
from loadfall.solver.units import INCH

from ..outlines import CORNERS, GABLES, RECTANGLES, outline, rectangle

SLOPING = (Role.RAFTER, Role.JACK_RAFTER)
CASES_HERE = [(name, False) for name in CORNERS] + [
    (name, True) for name in CORNERS if GABLES[name]
]
CASES_HERE += [(name, False) for name in RECTANGLES]


@pytest.fixture(
    scope="module", params=CASES_HERE, ids=lambda p: f"{p[0]}{' gabled' * p[1]}"
)
def roof(request):
    name, gabled = request.param
    stated = rectangle(name) if name in RECTANGLES else outline(name, gabled)
    brief = read_brief(stated)
    return brief, frame_roof(brief)


def away_from(line, point):
    """Distance of a point from a segment, m."""
    way = line[1] - line[0]
    part = np.clip((point - line[0]) @ way / (way @ way), 0, 1)
    return np.linalg.norm(line[0] + part * way - point)


def test_every_rafter_lies_in_its_plane_and_runs_up_it(roof):
    """A rafter may be an inch off, where it ends on a joint that is there already."""
    _, framing = roof
    for member in framing.of_role(*SLOPING):
        plane = framing.plan.plane(member.slope)
        points = framing.points[list(member.nodes)]
        heights = plane.height(points[:, 0], points[:, 1])
        assert np.abs(points[:, 2] - heights).max() < INCH
        way = (points[-1] - points[0])[:2]
        aside = abs(way[0] * plane.uphill[1] - way[1] * plane.uphill[0])
        assert aside < INCH
        assert way @ plane.uphill > 0


def test_every_rafter_ends_on_a_joint_of_what_holds_it(roof):
    """Its foot on a plate or a valley, its top on a ridge, a hip or a gable wall."""
    _, framing = roof
    seats = {s.node for s in framing.supports}
    for member in framing.of_role(*SLOPING):
        if len(seats & set(member.nodes)) > 1:
            continue  # on two walls, its tails past both
        others = {
            role: {
                framing.members[key].role
                for key in framing.by_node[node]
                if key != member.key
            }
            for role, node in (("top", member.nodes[-1]), ("low", member.nodes[0]))
        }
        above = {
            Role.RIDGE_BOARD,
            Role.HIP_RAFTER,
            Role.VALLEY_RAFTER,
            Role.CURB,
            Role.LEDGER,
        }
        assert others["top"] & above or member.nodes[-1] in seats, member.key
        feet = [n for n in member.nodes if n in seats]
        assert feet or {Role.VALLEY_RAFTER, Role.CURB} & others["low"], member.key


def test_rafters_stand_no_farther_apart_than_the_layout(roof):
    brief, framing = roof
    for marks in framing.plan.marks:
        assert np.diff(marks).max() <= brief.rafters.spacing + 2 * INCH
        assert np.diff(marks).min() >= INCH


def test_areas_add_to_the_planes_with_their_overhangs(roof):
    brief, framing = roof
    loads = member_loads(brief, framing)
    on = np.array([s in ROOFS for s in loads.surface])
    planes = sum(area_of(p.overhang3[:, :2]) for p in framing.form.planes)
    assert loads.plan_area[on].sum() == pytest.approx(planes, rel=1e-12)


def test_the_roof_live_load_is_its_pressure_on_the_plan(roof):
    brief, framing = roof
    loads = member_loads(brief, framing)
    ends = framing.points[loads.nodes]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    live = -(loads.load[CASES.index(Case.ROOF_LIVE), :, 2] * length).sum()
    planes = sum(area_of(p.overhang3[:, :2]) for p in framing.form.planes)
    assert live == pytest.approx(brief.loads.roof_live * planes, rel=1e-12)


def test_no_joint_stands_nearer_than_an_inch_to_the_next(roof):
    _, framing = roof
    for key, member in framing.members.items():
        gaps = np.linalg.norm(
            np.diff(framing.points[list(member.nodes)], axis=0), axis=1
        )
        assert gaps.min() > 0.9 * INCH, key


def test_plates_go_all_round_and_share_their_corners(roof):
    _, framing = roof
    plates = [m for m in framing.of_role(Role.PLATE) if m.counted]
    assert len(plates) == len(framing.plan.edges)
    assert {p.nodes[0] for p in plates} == {p.nodes[-1] for p in plates}


def test_keys_survive_another_pitch_and_other_lumber():
    keys = set(frame_roof(read_brief(outline("T"))).members)
    other = outline("T", roof={"pitch": "8:12", "overhang": "12 in"})
    other["rafters"] = {"size": "2x10", "spacing": "24 in"}
    assert set(frame_roof(read_brief(other)).members) == keys


@pytest.mark.parametrize(
    ("field", "parts"),
    [
        ("purlins[0].start", {"purlins": [{"name": "S", "slope": "south",
                                           "size": "2x6", "from_plate": "6 ft",
                                           "start": "2 ft"}]}),
        ("purlins[0].from_plate", {"purlins": [{"name": "S", "slope": "all",
                                                "size": "2x6"}]}),
        ("struts[0].purlin", {"struts": [{"purlin": "S", "foot": {"on": "point"}}]}),
        ("hip_braces[0].under", {"hip_braces": [{"foot": {"on": "point"}}]}),
        ("walls[0].end", {"walls": [{"name": "out", "start": ["2 ft", "12 ft"],
                                     "end": ["2 ft", "40 ft"]}]}),
        ("roof.end_pitch", {"roof": {"pitch": "6:12", "end_pitch": "8:12"}}),
        ("collar_ties.height_ratio", {"collar_ties": {"height_ratio": 0.1}}),
    ],
)  # fmt: skip
def test_what_is_not_framed_over_an_outline_is_refused_by_its_field(field, parts):
    with pytest.raises(BriefError) as error:
        read_brief(outline("L", **parts))
    assert error.value.field == field


@pytest.mark.parametrize(
    ("field", "points"),
    [
        ("footprint.outline", [(1, 0), (20, 0), (20, 20), (1, 20)]),
        ("footprint.outline", [(0, 0), (20, 0)]),
        ("footprint.outline", [(0, 0), (3, 0), (3, 3), (0, 3)]),
    ],
)
def test_an_outline_out_of_place_is_refused_as_it_is_read(field, points):
    brief = outline("L")
    at = [{"at": [f"{x} ft", f"{y} ft"]} for x, y in points]
    with pytest.raises(BriefError) as error:
        read_brief(brief | {"footprint": {"outline": at}})
    assert error.value.field == field


def test_a_crossed_outline_is_refused_by_its_corner():
    points = [(0, 0), (20, 20), (20, 0), (0, 20)]
    at = [{"at": [f"{x} ft", f"{y} ft"]} for x, y in points]
    brief = read_brief(outline("L") | {"footprint": {"outline": at}})
    with pytest.raises(BriefError) as error:
        frame_roof(brief)
    assert error.value.field.startswith("footprint.outline[")


def test_a_gable_beside_an_inside_corner_is_refused_with_the_reason():
    brief = outline("L")
    brief["footprint"]["outline"][3]["edge"] = "gable"
    with pytest.raises(BriefError) as error:
        frame_roof(read_brief(brief))
    assert error.value.field == "footprint.outline[3].edge"


def test_a_brace_under_a_line_that_is_not_there_names_those_that_are():
    braces = [{"under": "VL-1", "foot": {"on": "point"}}]
    with pytest.raises(BriefError) as error:
        frame_roof(read_brief(outline("L", hip_braces=braces)))
    assert "VL-5" in error.value.allowed


def test_a_wall_that_hardly_turns_keeps_its_one_plate_and_its_hip():
    """A sixth of an inch in 40 ft makes a crease in the roof, and no corner below."""
    points = [(0, 0.015), (20, 0), (40, 0.015), (40, 26), (0, 26)]
    corners = [{"at": [f"{x} ft", f"{y} ft"]} for x, y in points]
    framing = frame_roof(read_brief(outline("L", footprint={"outline": corners})))
    assert len(framing.plan.edges) == 4
    middle = 20 * 12 * INCH
    (crease,) = (m for m in framing.of_role(Role.HIP_RAFTER)
                 if abs(framing.ends(m.key)[0][0] - middle) < INCH)  # fmt: skip
    assert "PL-S1" in framing.by_node[crease.nodes[1]]  # its tail ends at the first
