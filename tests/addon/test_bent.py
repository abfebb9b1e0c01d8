"""Bent members: meshes whose ends go where the solver says, times the scale."""

import bpy
import numpy as np
import pytest
from loadfall.addon.bridge import bent
from loadfall.addon.bridge.bent import Slice
from loadfall.addon.bridge.pipeline import Outcome
from loadfall.addon.explain import cast
from loadfall.addon.explain.board import Actor
from loadfall.addon.explain.ink import Style
from loadfall.tests.solve.houses import BUNGALOW, COTTAGE, changed, solved

INCH, FOOT = 0.0254, 0.3048


@pytest.fixture(scope="module")
def bungalow():
    return Outcome(solved(BUNGALOW))


@pytest.fixture(scope="module")
def plain():
    house = changed(COTTAGE, purlins=[], struts=[], loads={"attic_live": "0 psf"})
    return Outcome(solved(house))


def shape_of(obj, name):
    held = np.empty(3 * len(obj.data.vertices), dtype=np.float32)
    obj.data.shape_keys.key_blocks[name].data.foreach_get("co", held)
    return held.reshape(-1, 3).astype(float)


def test_ends_move_as_the_frame_does_times_the_scale(bungalow, scene):
    """Of a joist with a strut on it: its two ends and the strut's foot between."""
    key, factor = "CJ-10-1", 20.0
    actor = Actor(name="Joist", outcome=bungalow, keys=(key,))
    obj = cast.add_cast(actor, factor, Style.SHADED, scene.collection)
    rest, bent_shape = shape_of(obj, "As framed"), shape_of(obj, "Now")
    solution = bungalow.solution
    name = bent.shapes_of(bungalow).combination
    row = solution.combinations.row(name)
    member = solution.framing.members[key]
    start, end = solution.framing.ends(key)
    axis = (end - start) / np.linalg.norm(end - start)
    rings = rest.reshape(-1, 4, 3).mean(axis=1)
    moved = (bent_shape - rest).reshape(-1, 4, 3).mean(axis=1)
    at = (rings - start) @ axis
    for node in member.nodes:
        place = float((solution.framing.points[node] - start) @ axis)
        n = int(np.abs(at - place).argmin())
        if abs(at[n] - place) > 1e-3:
            continue  # past the drawn piece's end
        expected = factor * solution.frame.displacement[row, node, :3]
        assert moved[n] @ [0, 0, 1] == pytest.approx(expected[2], abs=2e-4)
    assert np.abs(moved[:, 2]).max() > 0.02


def test_a_joist_is_drawn_as_the_beam_formula_bends_it(plain, scene):
    """By hand: 5 w l4 / 384 EI in the middle, AWC Design Aid 6 figure 1."""
    key, factor = "CJ-05-1", 10.0
    actor = Actor(name="Joist", outcome=plain, keys=(key,), combination="D")
    obj = cast.add_cast(actor, factor, Style.SHADED, scene.collection)
    solution = plain.solution
    rows = solution.model.rows_of(key)
    dead = solution.combinations.factors[solution.combinations.row("D")]
    w = float(-dead @ solution.model.loads.element_load[:, rows.start, 2])
    EI = float(solution.model.frame.E[rows.start]) * 1.5 * 5.5**3 / 12 * INCH**4
    length = solution.framing.length(key)
    expected = 5 * w * length**4 / (384 * EI)
    start, end = solution.framing.ends(key)
    axis = (end - start) / length
    rest, now = shape_of(obj, "As framed"), shape_of(obj, "Now")
    at = (rest.reshape(-1, 4, 3).mean(axis=1) - start) @ axis / length
    down = (rest - now).reshape(-1, 4, 3).mean(axis=1)[:, 2]
    n = int(np.abs(at - 0.5).argmin())
    x = at[n] * length
    here = w * x * (length**3 - 2 * length * x**2 + x**3) / (24 * EI)
    assert here == pytest.approx(expected, rel=0.01)
    sunk = np.interp([0.0, 1.0], at, down)  # the plates press together a little
    chord = sunk[0] + (sunk[1] - sunk[0]) * at[n]
    assert down[n] - chord == pytest.approx(factor * here, rel=2e-3)


def test_halfway_between_two_keys_it_is_halfway_bent(bungalow, scene):
    actor = Actor(name="All", outcome=bungalow, keys=tuple(bungalow.solution.members))
    obj = cast.add_cast(actor, 5.0, Style.SHADED, scene.collection)
    cast.key_shape(obj, {}, 1)
    cast.key_shape(obj, {"In 50 years": 1.0}, 25)
    scene.frame_set(13)
    value = obj.data.shape_keys.key_blocks["In 50 years"].value
    assert value == pytest.approx(0.5, abs=0.01)
    assert obj.data.shape_keys.animation_data.drivers[:] == []
    mesh = obj.evaluated_get(bpy.context.evaluated_depsgraph_get()).to_mesh()
    points = np.empty(3 * len(mesh.vertices), dtype=np.float32)
    mesh.vertices.foreach_get("co", points)
    rest, full = shape_of(obj, "As framed"), shape_of(obj, "In 50 years")
    assert points.reshape(-1, 3) == pytest.approx(
        rest + value * (full - rest), abs=1e-5
    )


def test_a_slice_cuts_long_pieces_and_leaves_out_the_rest(bungalow):
    kept = Slice(np.array([4.0, 0.0, 0.0]), np.array([1.0, 0.0, 0.0]), -0.5, 2.0)
    made = bent.bent(bungalow, bungalow.solution.members, kept)
    assert 0 < len(made.keys) < len(bungalow.solution.members)
    assert made.vertices[:, 0].min() > 3.5 - 0.3
    assert made.vertices[:, 0].max() < 6.0 + 0.3
    assert "P-S" in made.keys
    assert (made.edge >= -1e-9).all()


def test_bent_pieces_without_bending_are_the_drawn_pieces(bungalow):
    for key in ("R-S-05", "P-S", "ST-S-02", "B-living"):
        made = bent.bent(bungalow, [key])
        solid = bungalow.solids[key].vertices
        for corner in solid:
            assert np.linalg.norm(made.vertices - corner, axis=1).min() < 1e-9


def test_sections_stay_square_to_the_bent_line(bungalow):
    """To the first order: an edge of a ring, turned, has no part along the tangent."""
    key = "CJ-10-1"
    made = bent.bent(bungalow, [key])
    shape = bent.shapes_of(bungalow).members[key]
    start, end = bungalow.solution.framing.ends(key)
    axis = (end - start) / np.linalg.norm(end - start)
    _, slope = shape.at(made.place[:, 0])
    rings = made.vertices.reshape(-1, 4, 3)
    turned = rings + made.moved[2].reshape(-1, 4, 3)
    tangent = axis + slope[2].reshape(-1, 4, 3)[:, 0]
    up = turned[:, 3] - turned[:, 0]
    lean = np.einsum("ri,ri->r", up, tangent)
    steepest = np.abs(slope[2][:, 2]).max()
    depth = np.linalg.norm(rings[0, 3] - rings[0, 0])
    assert steepest > 0.005
    assert np.abs(lean).max() < 0.05 * depth * steepest
