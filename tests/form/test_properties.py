"""What holds of every roof over every outline."""

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from loadfall.solver.errors import BriefError
from loadfall.solver.form import EdgeSpec, LineKind, Tier, roof_from_outline

from .shapes import (
    EAVE,
    GABLE,
    OUTLINES,
    assert_closed,
    distance_to_outline,
    places_within,
    turned,
)

PITCHES = st.sampled_from([0.25, 1 / 3, 0.5, 0.75, 1.0])
MANY = settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow],
)


@st.composite
def stars(draw):
    """Corners in the order of their angle about the origin."""
    count = draw(st.integers(3, 16))
    gaps = draw(st.lists(st.floats(0.05, 1), min_size=count, max_size=count))
    angle = np.cumsum(gaps) / np.sum(gaps) * 2 * np.pi
    reach = draw(st.lists(st.floats(1, 10), min_size=count, max_size=count))
    return np.c_[np.cos(angle), np.sin(angle)] * np.array(reach)[:, None]


@st.composite
def skylines(draw):
    """Bars of whole widths and heights side by side: right angles and many ties."""
    count = draw(st.integers(1, 6))
    sizes = st.lists(st.integers(1, 4), min_size=count, max_size=count)
    right = np.cumsum(draw(sizes))
    left = right - np.diff(right, prepend=0)
    tops, feet = draw(sizes), draw(sizes)
    bars = list(zip(left, right, feet, tops, strict=True))
    walk = [(x, -foot) for west, east, foot, _ in bars for x in (west, east)]
    walk += [(x, top) for west, east, _, top in bars[::-1] for x in (east, west)]
    points = [point for i, point in enumerate(walk) if point != walk[i - 1]]
    turn = draw(st.sampled_from([0, 30, 45, 61.3]))
    return turned(points, turn) * draw(st.sampled_from([0.5, 1.0, 3.048]))


def roof_or_reject(points, specs):
    """The roof, unless the outline itself is refused."""
    try:
        return roof_from_outline(points, specs)
    except BriefError:
        assume(False)


outlines = st.one_of(stars(), skylines())


@MANY
@given(outlines)
def test_equal_pitches(points):
    form = roof_or_reject(points, EAVE)
    assert_closed(form)
    x, y, _ = places_within(form, 200)
    height = form.height_at(x, y)
    reach = distance_to_outline(form.outline.polygon, x, y)
    assert np.all(height > -1e-9)
    assert np.all(height <= 0.5 * reach + 1e-6)  # mitred corners only come earlier


@MANY
@given(outlines, st.data())
def test_each_edge_its_own_pitch(points, data):
    count = len(points)
    pitches = data.draw(st.lists(PITCHES, min_size=count, max_size=count))
    assert_closed(roof_or_reject(points, [EdgeSpec(pitch) for pitch in pitches]))


@MANY
@given(outlines, st.data())
def test_changing_pitches_and_plates(points, data):
    count = len(points)
    tier = st.builds(Tier, st.sampled_from([0.5, 1.0]), st.none() | PITCHES)
    spec = st.builds(
        EdgeSpec,
        PITCHES,
        plate=st.sampled_from([0.0, 0.0, 0.6]),
        above=st.just(()) | st.tuples(tier),
    )
    specs = data.draw(st.lists(spec, min_size=count, max_size=count))
    specs[0] = EdgeSpec(0.5)
    form = roof_or_reject(points, specs)
    assert_closed(form)


@MANY
@given(outlines)
def test_heights_agree_across_every_line(points):
    form = roof_or_reject(points, EAVE)
    for line in form.lines:
        for plane in line.planes:
            for x, y, z in (line.start, line.end, (line.start + line.end) / 2):
                assert form.planes[plane].height(x, y) == pytest.approx(z, abs=1e-6)


@MANY
@given(stars(), st.data())
def test_convex_roof_is_the_lowest_of_its_planes(points, data):
    """Over a convex plan the roof is the least of all planes, whatever the pitches."""
    angle = np.sort(np.arctan2(points[:, 1], points[:, 0]))
    hull = np.c_[5 * np.cos(angle), 3 * np.sin(angle)]
    count = len(hull)
    pitches = data.draw(st.lists(PITCHES, min_size=count, max_size=count))
    form = roof_or_reject(hull, [EdgeSpec(pitch) for pitch in pitches])
    x, y, _ = places_within(form, 300)
    edge = np.roll(form.outline.polygon, -1, axis=0) - form.outline.polygon
    inward = np.c_[-edge[:, 1], edge[:, 0]] / np.hypot(*edge.T)[:, None]
    gap = np.einsum(
        "pei,ei->pe", np.stack([x, y], 1)[:, None] - form.outline.polygon, inward
    )
    pitch = np.array([spec.pitch for spec in form.edges])
    lowest = (gap * pitch).min(axis=1)
    np.testing.assert_allclose(form.height_at(x, y), lowest, atol=1e-6)


@MANY
@given(outlines)
def test_turned_mirrored_and_scaled(points):
    form = roof_or_reject(points, EAVE)
    x, y, _ = places_within(form, 60)
    here = form.height_at(x, y)
    reach = 1e-6 * np.ptp(points, axis=0).max()
    turned_form = roof_from_outline(turned(points, 23.0), EAVE)
    tx, ty = turned(np.c_[x, y], 23.0).T
    assert np.nanmax(np.abs(turned_form.height_at(tx, ty) - here)) < reach
    mirrored = roof_from_outline(points * [-1, 1], EAVE)
    assert np.nanmax(np.abs(mirrored.height_at(-x, y) - here)) < reach
    scaled = roof_from_outline(points * 3.0, EAVE)
    assert np.nanmax(np.abs(scaled.height_at(3 * x, 3 * y) / 3 - here)) < reach


@MANY
@given(outlines, st.floats(-500, 500), st.integers(0, 20))
def test_where_it_stands_and_where_it_starts_change_nothing(points, shift, first):
    form = roof_or_reject(points, EAVE)
    moved = roof_from_outline(np.roll(points, first, axis=0) + shift, EAVE)
    assert len(moved.planes) == len(form.planes)
    assert moved.slope_area == pytest.approx(form.slope_area, rel=1e-9)
    lengths = [sorted(r.length for r in f.ridges) for f in (form, moved)]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-5)


@pytest.mark.parametrize("degrees", [0, 12.3, 45])
@pytest.mark.parametrize("name", OUTLINES)
def test_named_outlines(name, degrees):
    form = roof_from_outline(turned(OUTLINES[name], degrees), EAVE)
    assert_closed(form)
    assert len(form.eaves) == len(OUTLINES[name])


@pytest.mark.parametrize("name", OUTLINES)
def test_every_edge_a_gable_in_turn(name):
    points = OUTLINES[name]
    for gable in range(len(points)):
        specs = [GABLE if i == gable else EAVE for i in range(len(points))]
        if name == "nearly parallel":
            specs[0] = specs[1] = EAVE
        form = roof_from_outline(points, specs)
        assert_closed(form)
        x, y, _ = places_within(form, 200)
        assert np.all(form.height_at(x, y) > -1e-9)


@pytest.mark.parametrize("size", [1e-5, 1e-4, 1e-3, 0.01, 0.1])
def test_tiny_edges(size):
    """A nick, a step and a chamfer of a hair's size leave the rest of the roof."""
    points = [
        (0, 0), (6, 0), (6, size), (12, size), (12, 8 - size), (12 - size, 8),
        (5 + size, 8), (5 + size, 8 - size), (5, 8 - size), (5, 8), (0, 8),
    ]  # fmt: skip
    form = roof_from_outline(points, EAVE)
    assert_closed(form)
    plain = roof_from_outline([(0, 0), (12, 0), (12, 8), (0, 8)], EAVE)
    x, y, _ = places_within(plain, 300)
    off = np.abs(form.height_at(x, y) - plain.height_at(x, y))
    assert np.nanmax(off) <= 2 * size


@pytest.mark.parametrize("angle", [1e-9, 1e-7, 1e-5, 1e-3])
def test_nearly_parallel_sides(angle):
    rise = 12 * angle
    form = roof_from_outline([(0, 0), (12, -rise), (24, 0), (24, 8), (0, 8)], EAVE)
    assert_closed(form)
    assert form.height_at(12.0, 4.0) == pytest.approx(2, abs=2 * rise + 1e-9)


def test_collinear_points_split_the_eave_not_the_plane():
    points = [(0, 0), (3, 0), (7, 0), (12, 0), (12, 8), (6, 8), (0, 8)]
    form = roof_from_outline(points, EAVE)
    assert_closed(form)
    assert [plane.edges for plane in form.planes] == [(0, 1, 2), (3,), (4, 5), (6,)]
    assert sorted(line.edge for line in form.eaves) == list(range(7))
    assert len(form.of_kind(LineKind.HIP)) == 4


def test_hundreds_of_edges():
    angle = 2 * np.pi * np.arange(200) / 200
    reach = 8 + 2 * np.cos(7 * angle) + 0.3 * np.cos(31 * angle)
    form = roof_from_outline(np.c_[np.cos(angle), np.sin(angle)] * reach[:, None], EAVE)
    assert_closed(form)
