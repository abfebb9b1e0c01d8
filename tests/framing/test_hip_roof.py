"""Hip roofs as a framer checks them: in plane, on the hip, in layout, none crossing."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from loadfall.solver.audit import audit_roof
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.framing.hip_layout import planes_by_side
from loadfall.solver.framing.load_path import find_load_path
from loadfall.solver.framing.planes import area_of
from loadfall.solver.framing.solids import solids
from loadfall.solver.loads import member_loads
from loadfall.solver.loads.cases import CASES, ROOFS, Case
from loadfall.solver.units import FOOT, INCH

from ..hips import HIPS, hip

SLOPING = (Role.RAFTER, Role.JACK_RAFTER)
SAW_KERF = INCH / 8


@pytest.fixture(scope="module", params=HIPS, ids=list(HIPS))
def roof(request):
    brief = read_brief(hip(request.param))
    return brief, frame_roof(brief)


def away_from(line, point):
    """Distance of a point from a segment, m."""
    way = line[1] - line[0]
    part = np.clip((point - line[0]) @ way / (way @ way), 0, 1)
    return np.linalg.norm(line[0] + part * way - point)


def test_every_rafter_lies_in_its_plane_and_runs_up_it(roof):
    _, framing = roof
    planes = planes_by_side(framing.form)
    for member in framing.of_role(*SLOPING):
        plane = framing.form.planes[planes[member.slope]]
        points = framing.points[list(member.nodes)]
        heights = plane.height(points[:, 0], points[:, 1])
        np.testing.assert_allclose(points[:, 2], heights, atol=1e-9)
        way = (points[-1] - points[0])[:2]
        np.testing.assert_allclose(way / np.linalg.norm(way), plane.uphill, atol=1e-9)
        assert np.abs(points[:, 2]).min() == 0, "its foot is a joint at the plate line"


def test_jacks_end_on_a_hip_and_commons_at_the_ridge(roof):
    _, framing = roof
    hips = {m.key: framing.ends(m.key) for m in framing.of_role(Role.HIP_RAFTER)}
    assert set(hips) == {"HP-SW", "HP-SE", "HP-NE", "HP-NW"}
    ridge = framing.ends("RIDGE")
    for member in framing.of_role(*SLOPING):
        top = member.nodes[-1]
        if member.role is Role.RAFTER:
            assert away_from(ridge, framing.points[top]) < 1e-9, member.key
            assert top in framing.members["RIDGE"].nodes
            continue
        on = [k for k, line in hips.items() if away_from(line, framing.points[top])
              < 1e-9]  # fmt: skip
        assert len(on) == 1, member.key
        assert top in framing.members[on[0]].nodes, member.key
        assert member.slope in on[0].split("-")[1]


def test_stations_stand_at_the_spacing_and_end_layouts_from_the_middle(roof):
    brief, framing = roof
    for side, axis in (("S", 0), ("N", 0), ("W", 1), ("E", 1)):
        row = sorted(
            framing.ends(m.key)[1][axis]
            for m in framing.of_role(*SLOPING)
            if m.slope == side
        )
        assert np.diff(row).max() <= brief.rafters.spacing + INCH
        assert np.diff(row).min() > INCH
    for end in "WE":
        (king,) = (m for m in framing.of_role(Role.RAFTER) if m.slope == end)
        assert framing.ends(king.key)[1][1] == pytest.approx(brief.footprint.width / 2)


def test_areas_add_to_the_plan_with_its_overhangs(roof):
    brief, framing = roof
    loads = member_loads(brief, framing)
    on = np.array([s in ROOFS for s in loads.surface])
    size, over = brief.footprint, brief.roof.overhang
    whole = (size.length + 2 * over) * (size.width + 2 * over)
    assert loads.plan_area[on].sum() == pytest.approx(whole, rel=1e-12)
    assert (loads.plan_area[on] > 0).all()
    assert not loads.plan_area[~on & (np.array(loads.surface) == "")].any()


def test_dead_load_on_the_slope_weighs_the_whole_slope(roof):
    brief, framing = roof
    bare = replace(brief, loads=replace(brief.loads, self_weight=False))
    loads = member_loads(bare, framing)
    on = np.array([s in ROOFS for s in loads.surface])
    ends = framing.points[loads.nodes]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    weight = -(loads.load[CASES.index(Case.DEAD), on, 2] * length[on]).sum()
    slope = sum(
        area_of(p.overhang3[:, :2]) * np.hypot(1, p.pitch) for p in framing.form.planes
    )
    assert weight == pytest.approx(brief.loads.roof_dead * slope, rel=1e-12)


def test_a_jack_carries_its_spacing_times_its_length():
    """Between jacks the strip that a hip cuts off slantwise has the jack's length."""
    brief = read_brief(hip())
    framing = frame_roof(brief)
    loads = member_loads(brief, framing)
    area = {}
    for key, part in zip(loads.member, loads.plan_area, strict=True):
        area[key] = area.get(key, 0) + part
    for n in range(2, 7):
        run = n * 2 * FOOT + 16 * INCH
        assert area[f"J-S-{n:02d}"] == pytest.approx(2 * FOOT * run)
        assert area[f"J-W-{n - 1:02d}"] == pytest.approx(2 * FOOT * run)


def test_no_joint_stands_nearer_than_an_inch_to_the_next(roof):
    _, framing = roof
    for key, member in framing.members.items():
        points = framing.points[list(member.nodes)]
        gaps = np.linalg.norm(np.diff(points, axis=0), axis=1)
        assert gaps.min() > 0.999 * INCH, key


def test_a_hip_in_the_mirror_is_the_same_hip():
    framing = frame_roof(read_brief(hip()))
    size = np.array([44 * FOOT, 28 * FOOT, 0])

    def places(move):
        return {
            (m.role, *np.round(move(p), 6).tolist())
            for m in framing.of_role(*SLOPING, Role.HIP_RAFTER, Role.RIDGE_BOARD)
            for p in framing.ends(m.key)
        }

    here = places(lambda p: p)
    assert here == places(lambda p: np.array([size[0] - p[0], p[1], p[2]]) + 0.0)
    assert here == places(lambda p: np.array([p[0], size[1] - p[1], p[2]]) + 0.0)


def test_keys_survive_another_pitch_and_other_lumber():
    keys = set(frame_roof(read_brief(hip())).members)
    roof = {"form": "hip", "pitch": "8:12", "overhang": "12 in"}
    other = hip(roof=roof, hips={"size": "2x12", "plies": 2}, rafters={"size": "2x8"})
    assert set(frame_roof(read_brief(other)).members) == keys


# ---- drawn pieces ---------------------------------------------------------------


def pieces(brief, framing):
    """(key, vertices, face normals, edge ways) of every ply, each a convex block."""
    for key, solid in solids(brief, framing).items():
        for n in range(len(solid.vertices) // 8):
            v = solid.vertices[8 * n : 8 * n + 8]
            normals = []
            for a, b, c, d in solid.faces[:6]:
                normal = np.cross(v[c] - v[a], v[d] - v[b])
                normals.append(normal / np.linalg.norm(normal))
            edges = [v[j] - v[i] for i, j in ((0, 1), (1, 2), (0, 4), (4, 5), (5, 6))]
            yield key, v, normals, [e / np.linalg.norm(e) for e in edges]


def overlap(a, b):
    """How deep two convex blocks are in each other, m; 0 or less: they are apart."""
    axes = [*a[2], *b[2]]
    for first, second in itertools.product(a[3], b[3]):
        across = np.cross(first, second)
        if np.linalg.norm(across) > 1e-9:
            axes.append(across / np.linalg.norm(across))
    axes = np.array(axes).T
    p, q = a[1] @ axes, b[1] @ axes
    depth = np.minimum(p.max(0), q.max(0)) - np.maximum(p.min(0), q.min(0))
    return depth.min()


@pytest.mark.parametrize("name", ["plain", "braced", "posts", "stubs", "steep ends"])
def test_no_piece_crosses_another_by_more_than_a_saw_kerf(name):
    """Rafters over plates are left out: their seat is drawn as if not yet cut."""
    brief = read_brief(hip(name))
    framing = frame_roof(brief)
    found = list(pieces(brief, framing))
    for a, b in itertools.combinations(found, 2):
        roles = {framing.members[k].role for k in (a[0], b[0])}
        if a[0] == b[0] or (Role.PLATE in roles and len(roles) > 1):
            continue
        apart = np.maximum(a[1].min(0), b[1].min(0)) - np.minimum(
            a[1].max(0), b[1].max(0)
        )
        if apart.max() < 0:
            assert overlap(a, b) < SAW_KERF, (a[0], b[0])


@pytest.mark.parametrize("name", ["plain", "steep ends"])
def test_jacks_touch_the_side_of_their_hip(name):
    brief = read_brief(hip(name))
    framing = frame_roof(brief)
    found = {}
    for piece in pieces(brief, framing):
        found.setdefault(piece[0], []).append(piece)
    for jack in framing.of_role(Role.JACK_RAFTER):
        (key,) = (k for k in framing.by_node[jack.nodes[-1]] if k.startswith("HP-"))
        near = max(overlap(a, b) for a in found[jack.key] for b in found[key])
        assert -INCH / 16 < near < INCH / 16, jack.key


# ---- refusals and any size ------------------------------------------------------


@pytest.mark.parametrize(
    ("field", "parts"),
    [
        ("footprint.length",
         {"footprint": {"length": "28 ft", "width": "28 ft"}, "walls": []}),
        ("ridge.kind", {"ridge": {"kind": "beam", "size": "2x10"}}),
        ("hip_braces[0].foot.name",
         {"hip_braces": [{"foot": {"on": "wall", "name": "attic"}}]}),
        ("hip_braces[0].foot.from_plate",
         {"hip_braces": [{"foot": {"on": "point", "from_plate": "2 ft"}}]}),
        ("hips.grade", {"hips": {"size": "2x8", "grade": "No.7"}}),
    ],
)  # fmt: skip
def test_what_cannot_be_framed_is_refused_by_its_field(field, parts):
    with pytest.raises(BriefError) as error:
        read_brief(hip(**parts))
    assert error.value.field == field


def test_hip_braces_under_a_gable_are_left_out_and_said_so():
    brief = read_brief(hip("posts", roof={"pitch": "6:12"}))
    framing = frame_roof(brief)
    assert not [k for k in framing.members if k.startswith("H")]
    found = audit_roof(brief, framing, find_load_path(brief, framing))
    assert "hip_braces_idle" in {f.rule for f in found}


def test_hips_are_a_size_deeper_than_the_rafters_where_nothing_is_stated():
    framing = frame_roof(read_brief(hip(hips=None)))
    assert framing.members["HP-SW"].section.name == "2x8"


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    st.floats(20, 40), st.floats(1.2, 3), st.floats(2, 14), st.floats(4, 14),
    st.floats(0, 24), st.sampled_from([12, 16, 19.2, 24]),
)  # fmt: skip
def test_any_rectangle(width, part, pitch, end_pitch, overhang, spacing):
    length = max(width * part, width * pitch / end_pitch + 2)
    brief = read_brief(
        hip(
            footprint={"length": f"{length!r} ft", "width": f"{width!r} ft"},
            roof={"form": "hip", "pitch": f"{pitch!r}:12",
                  "end_pitch": f"{end_pitch!r}:12", "overhang": f"{overhang!r} in"},
            rafters={"size": "2x6", "spacing": f"{spacing} in"},
            walls=[],
        )
    )  # fmt: skip
    framing = frame_roof(brief)
    loads = member_loads(brief, framing)
    on = np.array([s in ROOFS for s in loads.surface])
    planes = sum(
        0.5 * abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
        for x, y in (p.overhang3[:, :2].T for p in framing.form.planes)
    )
    assert loads.plan_area[on].sum() == pytest.approx(planes, rel=1e-9)
    for key, member in framing.members.items():
        gaps = np.linalg.norm(np.diff(framing.points[list(member.nodes)], axis=0),
                              axis=1)  # fmt: skip
        assert gaps.min() > 0.9 * INCH, key
