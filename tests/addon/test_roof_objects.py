"""The roof as objects: in their collections, where they belong, with their results."""

import bpy
import numpy as np
import pytest
from loadfall.addon.bridge import brief_io, members, roofs, walls
from loadfall.addon.bridge.session import SESSION
from loadfall.addon.cli_demo import bungalow
from loadfall.addon.overlay import palette
from loadfall.solver.framing.solids import solids


def keys_of(roof):
    return sorted(o["member"] for o in roof.children if "member" in o)


def corners(obj):
    """(n, 3) vertices of an object in the world."""
    bpy.context.view_layer.update()
    return np.array([obj.matrix_world @ v.co for v in obj.data.vertices])


def test_every_member_is_an_object_in_its_role_s_collection(roof, solution):
    assert keys_of(roof) == sorted(solution().members)
    held = roof.loadfall.collection
    assert {c.name for c in held.children} == {
        f"Roof {words}"
        for words in (
            "Rafters", "Ridge", "Ceiling Joists", "Plates", "Purlins", "Struts",
            "Walls",
        )
    }  # fmt: skip
    for obj in roof.children:
        (folder,) = obj.users_collection
        assert folder.loadfall.role == obj.get("role", "wall")
        assert folder.loadfall.roof == roof


def test_members_lie_where_the_solver_draws_them(roof, solution, member):
    drawn = solids(solution().brief, solution().framing)
    for key, solid in drawn.items():
        assert corners(member(key)) == pytest.approx(solid.vertices, abs=1e-5)


def test_members_lie_along_their_own_x(roof, member):
    for key in ("R-S-03", "CJ-04-1", "ST-S-02", "P-N"):
        points = np.array([v.co for v in member(key).data.vertices])
        reach = np.ptp(points, axis=0)
        assert reach[0] > 4 * reach[2] > 0
        assert points.min(axis=0)[0] < 0.2


def test_faces_look_outward(roof, member):
    for key in ("R-S-03", "R-N-03", "CJ-04-1", "ST-S-02"):
        mesh = member(key).data
        middle = sum((v.co for v in mesh.vertices), start=mesh.vertices[0].co * 0) / 8
        for face in mesh.polygons:
            assert face.normal.dot(face.center - middle) > 0


def test_members_follow_the_roof(roof, member):
    before = corners(member("R-S-00"))
    roof.location = (1.0, 2.0, 3.0)
    roof.rotation_euler = (0.0, 0.0, np.pi / 2)
    after = corners(member("R-S-00"))
    turned = np.stack([-before[:, 1], before[:, 0], before[:, 2]], axis=1)
    assert after == pytest.approx(turned + np.array([1.0, 2.0, 3.0]), abs=1e-5)


def test_the_unit_scale_changes_no_house(scene):
    scene.unit_settings.scale_length = 0.01
    assert bpy.ops.loadfall.add_roof(length=1000, width=800) == {"FINISHED"}
    roof = bpy.context.object
    brief = SESSION.outcome(roof).brief
    assert (brief.footprint.length, brief.footprint.width) == (10.0, 8.0)
    tail = next(o for o in roof.children if o.get("member") == "R-S-05")
    reach = corners(tail)[:, 1]
    assert reach.max() == pytest.approx(400, abs=5)


def test_an_edit_moves_the_members_in_place(roof, member, flush):
    rafter, joist = member("R-S-03"), member("CJ-03-1")
    top, level = corners(rafter)[:, 2].max(), corners(joist)
    rafter["mine"] = "kept"
    roof.loadfall.roof.pitch = 9.0
    assert corners(rafter)[:, 2].max() == top  # not inside the update
    flush()
    assert member("R-S-03") == rafter
    assert rafter["mine"] == "kept"
    run = 13 * 0.3048
    assert corners(rafter)[:, 2].max() - top == pytest.approx(run * 3 / 12, abs=0.03)
    assert corners(joist) == pytest.approx(level)


def test_a_spacing_adds_and_removes_only_the_difference(roof, member, flush):
    kept = {o["member"]: o.as_pointer() for o in roof.children if "member" in o}
    roof.loadfall.rafters.spacing = 16 * 0.0254
    flush()
    now = {o["member"]: o.as_pointer() for o in roof.children if "member" in o}
    assert len(now) > len(kept)
    assert all(now[key] == kept[key] for key in set(now) & set(kept))
    roof.loadfall.rafters.spacing = 24 * 0.0254
    flush()
    assert set(keys_of(roof)) == set(kept)
    assert not [m for m in bpy.data.meshes if m.users == 0]


def test_no_struts_leaves_no_empty_collection(roof, flush):
    roof.loadfall.struts.clear()
    roof.loadfall.purlins.clear()
    roof.loadfall.rafters.spacing = roof.loadfall.rafters.spacing
    flush()
    names = {c.name for c in roof.loadfall.collection.children}
    assert not names & {"Roof Purlins", "Roof Struts"}


def test_results_stand_on_the_objects(roof, member, solution):
    result = solution().worst
    obj = member(result.key)
    assert obj["utilisation"] == result.utilisation
    assert obj["verdict"] == str(result.verdict)
    assert obj["governing_check"] == result.governing_check
    assert obj["axial_force"] == result.axial
    assert obj["strut_load"] == result.strut_load
    assert obj["sag_long_term"] == result.sag_long_term
    for check, use in result.by_check.items():
        assert obj[f"use_{check}"] == use
        ui = obj.id_properties_ui(f"use_{check}").as_dict()
        assert "demand over capacity" in ui["description"]
        assert ui["min"] == 0.0
    assert obj.id_properties_ui("sag_now").as_dict()["subtype"] == "DISTANCE"
    for name in obj.keys():  # noqa: SIM118
        assert obj.id_properties_ui(name).as_dict()["description"].strip(), name


def test_no_load_path_makes_up_no_number(roof, member, flush, solution):
    """Without ceiling joists nothing ties the rafters, and struts stand on nothing."""
    roof.loadfall.use_ceiling_joists = False
    for struts in roof.loadfall.struts:
        struts.foot.on = "WALL"
        struts.foot.name = "Spine"
    roof.loadfall.walls[0].bearing = False
    flush()
    assert roof.loadfall.message == ""
    assert str(solution().overall) == "no load path"
    rafter = member("R-S-04")
    assert rafter["verdict"] == "no load path"
    assert rafter["reason"]
    assert "utilisation" not in rafter
    assert not [n for n in rafter.keys() if n.startswith("use_")]  # noqa: SIM118
    assert pattern(rafter) == palette.HATCH


def pattern(obj):
    return obj.data.attributes["loadfall_pattern"].data[0].value


def test_the_shading_is_in_the_mesh(roof, member, solution):
    worst, ridge = member(solution().worst.key), member("RIDGE")
    for obj in (worst, ridge):
        colour = obj.data.color_attributes["Loadfall"]
        assert (colour.domain, colour.data_type) == ("POINT", "FLOAT_COLOR")
        assert obj.data.color_attributes.active_color_name == "Loadfall"
        assert obj.data.materials[0].name == "Loadfall Shading"
    use = solution().worst.utilisation
    wanted = palette.to_linear(palette.colours([use], [palette.State.RATED])[0])
    shown = worst.data.color_attributes["Loadfall"].data[0].color[:3]
    assert shown == pytest.approx(wanted, abs=1e-6)
    assert 0 < pattern(worst) < 1
    assert pattern(ridge) == 0
    neutral = palette.to_linear(palette.srgb(palette.NEUTRAL))
    assert ridge.data.color_attributes["Loadfall"].data[3].color[:3] == pytest.approx(
        neutral, abs=1e-6
    )


def test_a_refused_brief_leaves_the_last_good_roof(roof, member, flush, solution):
    good, place = solution(), corners(member("R-S-03"))
    use = member("CJ-05-1")["utilisation"]
    roof.loadfall.purlins[0].from_plate = 20.0
    flush()
    assert roof.loadfall.message_field == "purlins[0].from_plate"
    assert "between plate and ridge" in roof.loadfall.message
    assert solution() is good
    assert corners(member("R-S-03")) == pytest.approx(place)
    assert member("CJ-05-1")["utilisation"] == use
    roof.loadfall.purlins[0].from_plate = 1.5
    flush()
    assert roof.loadfall.message == roof.loadfall.message_field == ""
    assert solution() is not good


def test_two_roofs_keep_apart(roof, flush):
    assert bpy.ops.loadfall.add_roof(length=6.0, width=5.0) == {"FINISHED"}
    other = bpy.context.object
    assert other.loadfall.collection != roof.loadfall.collection
    count = len(keys_of(roof))
    other.loadfall.rafters.spacing = 0.3
    flush()
    assert len(keys_of(roof)) == count
    assert SESSION.outcome(roof).brief != SESSION.outcome(other).brief


def test_a_copied_roof_gets_members_of_its_own(roof, flush):
    for obj in [roof, *roof.children]:
        obj.select_set(True)
    assert bpy.ops.object.duplicate() == {"FINISHED"}
    copy = bpy.context.object
    assert copy != roof
    copy.loadfall.roof.pitch = 10.0
    flush()
    assert keys_of(copy) == keys_of(roof)
    held, other = copy.loadfall.collection, roof.loadfall.collection
    assert held != other
    assert all(o.parent == copy for o in held.all_objects if o != copy)
    assert all(o.parent == roof for o in other.all_objects if o != roof)


def test_a_roof_copied_alone_grows_its_members(roof, flush):
    copy = roof.copy()
    bpy.context.scene.collection.objects.link(copy)
    copy.loadfall.roof.pitch = 10.0
    flush()
    assert keys_of(copy) == keys_of(roof)
    assert copy.name in copy.loadfall.collection.objects


def test_a_copied_member_is_the_user_s_own(roof, member, flush):
    joist = member("CJ-05-1")
    own = joist.copy()
    joist.users_collection[0].objects.link(own)
    roof.loadfall.roof.pitch = 7.0
    flush()
    assert member("CJ-05-1") == joist
    assert "member" not in own


def test_a_deleted_member_comes_back(roof, member, flush):
    bpy.data.objects.remove(member("CJ-05-1"))
    roof.loadfall.roof.pitch = 7.0
    flush()
    assert member("CJ-05-1")


def test_delete_takes_everything_away(roof):
    assert bpy.ops.loadfall.delete_roof() == {"FINISHED"}
    assert not bpy.data.objects
    assert not [c for c in bpy.data.collections if c.name.startswith("Roof")]


def test_linked_roofs_are_left_alone(roof, flush, tmp_path):
    path = tmp_path / "library.blend"
    bpy.ops.wm.save_as_mainfile(filepath=str(path))
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=True)
    with bpy.data.libraries.load(str(path), link=True) as (_source, target):
        target.collections = ["Roof"]
    bpy.context.scene.collection.children.link(target.collections[0])
    linked = bpy.data.objects["Roof"]
    before = corners(linked.children[0])
    linked.loadfall.roof.pitch = 10.0
    flush()
    assert corners(linked.children[0]) == pytest.approx(before)


def test_a_script_gets_what_the_buttons_give(roof, scene):
    brief = brief_io.read(roof.loadfall, 1.0)
    made = roofs.create(brief, scene)
    assert keys_of(made) == keys_of(roof)
    same = {o["member"]: o.get("utilisation") for o in roof.children if "member" in o}
    assert {
        o["member"]: o.get("utilisation") for o in made.children if "member" in o
    } == same


def test_walls_stand_under_the_roof_with_their_gaps(scene):
    roof = roofs.create(bungalow(mended=False), scene)
    boxes = {o["wall"]: corners(o) for o in roof.children if walls.is_wall(o)}
    assert set(boxes) == {
        "W-SOUTH", "W-NORTH", "W-WEST", "W-EAST", "W-spine-1", "W-spine-2",
    }  # fmt: skip
    gap = (boxes["W-spine-1"][:, 0].max(), boxes["W-spine-2"][:, 0].min())
    assert gap == pytest.approx((14 * 0.3048, 30 * 0.3048), abs=1e-5)
    assert all(box[:, 2].max() < 0 for box in boxes.values())


def test_overrides_are_kept_by_key(roof, member, flush, solution):
    bpy.context.view_layer.objects.active = member("CJ-05-1")
    use = member("CJ-05-1")["utilisation"]
    assert bpy.ops.loadfall.override_member(change="PLY") == {"FINISHED"}
    assert solution().members["CJ-05-1"].plies == 2
    assert member("CJ-05-1")["utilisation"] < use
    assert len(member("CJ-05-1").data.vertices) == 16
    roof.loadfall.roof.pitch = 7.0
    flush()
    assert solution().members["CJ-05-1"].plies == 2
    assert bpy.ops.loadfall.override_member(change="RESET") == {"FINISHED"}
    assert solution().members["CJ-05-1"].plies == 1
    assert bpy.ops.loadfall.override_member(change="REMOVE") == {"FINISHED"}
    assert "CJ-05-1" not in solution().members
    assert bpy.context.object == roof
    assert members.members_of(roof).keys() == solution().members.keys()
