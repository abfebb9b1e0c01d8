"""A roof over what a user drew: faces of a mesh, or a curve."""

import bpy
import pytest
from loadfall.addon.bridge.session import SESSION
from loadfall.solver.units import FOOT

L = [(0, 0), (40, 0), (40, 44), (16, 44), (16, 24), (0, 24)]


def drawn(name, points, faces=(), edges=(), at=(0.0, 0.0, 0.0)):
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata([(x * FOOT, y * FOOT, 0) for x, y in points], edges, faces)
    obj = bpy.data.objects.new(name, mesh)
    obj.location = at
    bpy.context.scene.collection.objects.link(obj)
    bpy.context.view_layer.objects.active = obj
    bpy.context.view_layer.update()
    return obj


def roof_over(obj, **parts):
    bpy.context.view_layer.objects.active = obj
    assert bpy.ops.loadfall.roof_from_outline(**parts) == {"FINISHED"}
    return SESSION.outcome(bpy.context.object)


def test_a_face_becomes_a_roof_in_its_place(scene):
    face = drawn("plan", L, [range(6)], at=(5.0, -3.0, 2.7))
    outcome = roof_over(face)
    corners = [corner.at for corner in outcome.brief.footprint.outline]
    assert len(corners) == 6
    assert max(x for x, _ in corners) == pytest.approx(40 * FOOT)
    assert tuple(bpy.context.object.location) == pytest.approx((5.0, -3.0, 2.7))
    roles = {m.role.value for m in outcome.solution.framing.members.values()}
    assert {"valley_rafter", "hip_rafter", "jack_rafter"} <= roles


def test_selected_faces_count_as_one_plan(scene):
    points = [*L, (40, 24), (0, 50), (10, 50), (5, 60)]
    faces = [(0, 1, 6, 4, 5), (4, 6, 2, 3), (7, 8, 9)]
    obj = drawn("two and a stray", points, faces)
    obj.data.polygons[2].select = False
    for k in (0, 1):
        obj.data.polygons[k].select = True
    outline = roof_over(obj).brief.footprint.outline
    assert len(outline) == 6


def test_a_closed_curve_becomes_a_roof(scene):
    curve = bpy.data.curves.new("plan", "CURVE")
    curve.dimensions = "2D"
    spline = curve.splines.new("POLY")
    spline.points.add(len(L) - 1)
    for point, (x, y) in zip(spline.points, L, strict=True):
        point.co = (x * FOOT, y * FOOT, 0, 1)
    spline.use_cyclic_u = True
    obj = bpy.data.objects.new("plan", curve)
    scene.collection.objects.link(obj)
    bpy.context.view_layer.update()
    outcome = roof_over(obj, pitch=8.0)
    assert len(outcome.brief.footprint.outline) == 6
    assert outcome.brief.roof.pitch == pytest.approx(8 / 12)


def test_two_rings_are_refused_and_nothing_is_left(scene):
    points = [*L, (100, 0), (120, 0), (120, 20)]
    obj = drawn("apart", points, [range(6), (6, 7, 8)])
    for face in obj.data.polygons:
        face.select = True
    before = set(bpy.data.objects)
    with pytest.raises(RuntimeError, match=r"footprint\.outline"):
        bpy.ops.loadfall.roof_from_outline()
    assert set(bpy.data.objects) == before


def test_a_side_made_a_gable_changes_the_roof(scene):
    outcome = roof_over(drawn("plan", L, [range(6)]))
    roof = bpy.context.object
    assert len(outcome.solution.framing.form.hips) == 5
    roof.loadfall.footprint.outline[2].edge = "GABLE"
    changed = SESSION.rebuild(roof, scene)
    assert len(changed.solution.framing.form.hips) == 3
    assert not [k for k in changed.solution.framing.members if k == "HP-3"]


def test_a_wall_stands_under_every_side(scene):
    bay = [(0, 0), (40, 0), (40, 26), (26, 26), (23, 30), (17, 30), (14, 26), (0, 26)]
    outcome = roof_over(drawn("plan", bay, [range(8)]))
    walls = {o.name: o for o in scene.objects if o.name.startswith("W-")}
    names = {f"W-{edge.name}" for edge in outcome.solution.framing.plan.edges}
    assert names == set(walls)
    for obj in walls.values():
        heights = [v.co.z for v in obj.data.vertices]
        assert max(heights) < 0
        assert len(obj.data.vertices) == 8
