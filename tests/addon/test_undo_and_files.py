"""Undo, redo, saving, loading, and rendering: the properties are the truth."""

from pathlib import Path

import bpy
import numpy as np
import pytest
from loadfall import addon
from loadfall.addon import handlers
from loadfall.addon.bridge.presets import HOUSES, LOADS
from loadfall.addon.bridge.session import SESSION
from loadfall.addon.properties import DIRTY


def step(call):
    """Call an undo operator as a window would, and let the timer's work be done."""
    with bpy.context.temp_override(window=bpy.context.window_manager.windows[0]):
        assert call() == {"FINISHED"}
    handlers.flush()


def push(words):
    with bpy.context.temp_override(window=bpy.context.window_manager.windows[0]):
        bpy.ops.ed.undo_push(message=words)


def undo():
    step(bpy.ops.ed.undo)


def redo():
    step(bpy.ops.ed.redo)


def state():
    """Pitch and height of a rafter of the only roof, and its outcome's pitch."""
    (roof,) = [o for o in bpy.data.objects if o.loadfall.is_roof]
    bpy.context.view_layer.update()
    rafter = next(o for o in roof.children if o.get("member") == "R-S-03")
    top = max((rafter.matrix_world @ v.co).z for v in rafter.data.vertices)
    solved = SESSION.outcome(roof).brief.roof.pitch * 12
    assert solved == pytest.approx(roof.loadfall.roof.pitch)
    return round(roof.loadfall.roof.pitch, 3), round(top, 3), len(roof.children)


def test_undo_and_redo_walk_through_every_state(scene):
    push("empty")
    bpy.ops.loadfall.add_roof()
    push("add")
    states = [state()]
    for pitch in (7.0, 8.0, 9.0):
        bpy.context.object.loadfall.roof.pitch = pitch
        push("edit")  # as the window does: before the timer has rebuilt
        handlers.flush()
        states.append(state())
    assert len(set(states)) == 4
    for wanted in reversed(states[:-1]):
        undo()
        assert state() == wanted
    undo()
    assert not [o for o in bpy.data.objects if o.loadfall.is_roof]
    for wanted in states:
        redo()
        assert state() == wanted


def test_undo_brings_back_members_that_an_edit_removed(roof):
    push("add")
    count = len(roof.children)
    roof.loadfall.rafters.spacing = 4.0 * 0.3048
    push("edit")
    handlers.flush()
    assert state()[2] < count
    undo()
    assert state()[2] == count


def test_undo_of_a_refused_edit_clears_the_message(roof):
    push("add")
    roof.loadfall.roof.pitch = 0.0
    push("edit")
    handlers.flush()
    assert roof.loadfall.message_field == "roof.pitch"
    undo()
    (roof,) = [o for o in bpy.data.objects if o.loadfall.is_roof]
    assert roof.loadfall.message == ""


def test_a_saved_file_comes_back_whole(roof, tmp_path):
    roof.loadfall.purlins[0].from_plate = 1.9
    handlers.flush()
    wanted = state()
    uses = {o["member"]: o.get("utilisation") for o in roof.children if "member" in o}
    path = tmp_path / "roof.blend"
    bpy.ops.wm.save_as_mainfile(filepath=str(path))
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=True)
    bpy.ops.wm.open_mainfile(filepath=str(path))
    (again,) = [o for o in bpy.data.objects if o.loadfall.is_roof]
    assert SESSION.outcome(again) is None  # nothing was kept beside the file
    handlers.flush()
    assert state() == wanted
    assert {
        o["member"]: o.get("utilisation") for o in again.children if "member" in o
    } == uses
    again.loadfall.roof.pitch = 8.0
    handlers.flush()
    assert state()[0] == 8.0


def test_a_file_opens_without_the_extension(roof, tmp_path):
    path = tmp_path / "roof.blend"
    bpy.ops.wm.save_as_mainfile(filepath=str(path))
    addon.unregister()
    try:
        bpy.ops.wm.open_mainfile(filepath=str(path))
        joist = bpy.data.objects["CJ-05-1"]
        assert joist["utilisation"] > 1
        assert "Loadfall" in joist.data.color_attributes
        assert not bpy.app.autoexec_fail
        assert not bpy.data.texts
        assert not [o for o in bpy.data.objects if o.animation_data]
    finally:
        addon.register()
    bpy.ops.wm.open_mainfile(filepath=str(path))
    handlers.flush()
    assert state()


def test_nothing_is_written_while_something_renders(roof):
    handlers.on_render_begins(bpy.context.scene)
    roof.loadfall.roof.pitch = 9.0
    assert handlers.on_timer() is not None
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(0.5)
    handlers.on_render_ends(bpy.context.scene)
    handlers.flush()
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(0.75)


def test_a_rebuild_marks_nothing(roof):
    roof.loadfall.roof.pitch = 7.0
    handlers.flush()
    assert not DIRTY.uids
    SESSION.rebuild(roof, bpy.context.scene)
    assert not DIRTY.uids


def test_a_roof_that_was_deleted_is_no_trouble(roof):
    roof.loadfall.roof.pitch = 7.0
    bpy.data.objects.remove(roof)
    handlers.flush()
    assert not DIRTY.uids


def test_a_render_shows_the_shading(roof, tmp_path):
    """Over-limit members come out inked and orange in a render of the saved file."""
    scene = bpy.context.scene
    camera = bpy.data.objects.new("Camera", bpy.data.cameras.new("Camera"))
    camera.location = (5.0, 4.0, 14.0)
    scene.collection.objects.link(camera)
    scene.camera = camera
    for obj in roof.children:
        obj.hide_render = obj.get("role") != "ceiling_joist"
    scene.render.engine = "CYCLES"
    scene.cycles.samples, scene.cycles.device = 1, "CPU"
    scene.cycles.max_bounces = 0
    scene.render.resolution_x, scene.render.resolution_y = 192, 128
    scene.view_settings.view_transform = "Standard"
    scene.render.filepath = str(tmp_path / "roof.png")
    bpy.ops.render.render(write_still=True)
    image = bpy.data.images.load(scene.render.filepath)
    pixels = np.array(image.pixels[:]).reshape(-1, 4)
    red, green, blue, _ = pixels.T
    assert ((red > 0.3) & (red > 1.6 * blue) & (green < 0.8 * red)).sum() > 30


def mine():
    """Every object and collection of ours in the file."""
    objects = [o.name for o in bpy.data.objects if "member" in o or "wall" in o]
    return objects, [c.name for c in bpy.data.collections if c.loadfall.role]


def by_data(roof):
    bpy.data.objects.remove(roof)


def by_hand(roof):
    """As X in the view does it: taken out of its collections, still in the file."""
    bpy.ops.object.select_all(action="DESELECT")
    roof.select_set(True)
    bpy.ops.object.delete()


@pytest.mark.parametrize("delete", [by_data, by_hand])
def test_members_go_with_a_roof_that_was_deleted_alone(scene, delete):
    bpy.ops.loadfall.add_roof()
    keep = bpy.data.objects.new("Chimney", bpy.data.meshes.new("Chimney"))
    roof = bpy.context.object
    roof.loadfall.collection.objects.link(keep)
    bpy.ops.loadfall.add_roof(length=6.0)
    other = bpy.context.object
    count = len(other.children)
    push("two roofs")
    bpy.context.view_layer.update()
    delete(roof)
    bpy.context.view_layer.update()
    assert handlers.GUARD.fewer, "nobody noticed"
    push("delete")
    handlers.flush()
    found = [o for o in bpy.data.objects if "member" in o or "wall" in o]
    assert {o.parent for o in found} == {other}
    assert len(found) == count
    assert bpy.data.objects.get("Chimney"), "what the user put there stays"
    undo()
    assert sum(o.loadfall.is_roof for o in bpy.data.objects) == 2
    assert len(mine()[0]) > count
    redo()
    assert len(mine()[0]) == count


def active():
    return next(o for o in bpy.data.objects if o.loadfall.is_roof)


def pick(key):
    bpy.context.view_layer.objects.active = next(
        o for o in bpy.data.objects if o.get("member") == key
    )


def override(key, change):
    pick(key)
    bpy.ops.loadfall.override_member(change=change)


def draw_outline():
    mesh = bpy.data.meshes.new("Plan")
    corners = [(0, 0, 0), (6, 0, 0), (6, 4, 0), (0, 4, 0)]
    mesh.from_pydata(corners, [], [range(4)])
    drawn = bpy.data.objects.new("Plan", mesh)
    bpy.context.scene.collection.objects.link(drawn)
    bpy.context.view_layer.objects.active = drawn


def actions(folder):
    """Every operator of ours that makes a step of undo, by its name."""
    ops = bpy.ops.loadfall
    path = str(folder / "brief.json")
    return [
        ("add_roof", lambda: ops.add_roof(length=4.8, spacing=0.6)),
        ("ask", lambda: ops.ask(kind="PATCH", point=(2.0, 2.0, 1.0))),
        ("ask", lambda: ops.ask(kind="WALL", key="W-SOUTH", add=True)),
        ("ask_clear", lambda: ops.ask_clear()),
        ("keep_variant", lambda: ops.keep_variant()),
        ("item_add", lambda: ops.item_add(kind="PURLIN")),
        ("item_remove", lambda: ops.item_remove(kind="PURLIN")),
        ("keep_variant", lambda: ops.keep_variant(name="Other")),
        ("show_variant", lambda: ops.show_variant(name="Existing")),
        ("remove_variant", lambda: ops.remove_variant(name="Other")),
        ("overlay", lambda: ops.overlay(mode="SAG_TEN")),
        ("pick_worst", lambda: ops.pick_worst()),
        (
            "override_member",
            lambda: (pick("CJ-03-1"), ops.override_member(change="PLY")),
        ),
        ("override_member", lambda: ops.override_member(change="RESET")),
        (
            "override_member",
            lambda: (pick("ST-S-02"), ops.override_member(change="REMOVE")),
        ),
        ("pick_roof", lambda: ops.pick_roof()),
        ("pick_member", lambda: ops.pick_member(key="R-S-02")),
        ("adjust", lambda: ops.adjust(what="PITCH", pitch=7.0)),
        ("adjust", lambda: ops.adjust(what="OVERHANG", at=0.5)),
        ("adjust", lambda: ops.adjust(what="PURLIN", index=1, at=1.5)),
        ("adjust", lambda: ops.adjust(what="FOOT", index=0, at=2.0)),
        ("loads", lambda: ops.loads(loads=next(iter(LOADS)))),
        ("a property", lambda: setattr(active().loadfall.roof, "pitch", 8.0)),
        ("rebuild", lambda: ops.rebuild()),
        ("export_brief", lambda: ops.export_brief(filepath=path)),
        ("import_brief", lambda: ops.import_brief(filepath=path)),
        ("house", lambda: ops.house(house=next(iter(HOUSES)))),
        ("delete_roof", lambda: ops.delete_roof()),
        ("roof_from_outline", lambda: (draw_outline(), ops.roof_from_outline())),
    ]


def test_a_hundred_undos_and_redos_of_every_action(scene, tmp_path):
    """Every action of the panels, then all the way back and forth, twice over."""
    bpy.context.preferences.edit.undo_steps = 64
    push("empty")
    states = [everything()]
    for _, act in actions(tmp_path):
        act()
        push("action")
        handlers.flush()
        states.append(everything())
    for _ in range(2):
        for wanted in reversed(states[:-1]):
            undo()
            assert everything() == wanted
        for wanted in states[1:]:
            redo()
            assert everything() == wanted


def test_every_action_with_a_step_of_undo_is_tried(tmp_path):
    tried = {name for name, _ in actions(tmp_path)}
    apart = {
        "apply_remedy",  # tests/addon/test_what_to_do.py, and the window's tour
        "pick_remedy",  # the same
        "search_member",  # asks in a pop-up, then picks as pick_member does
    }
    ours = {
        cls.bl_idname.split(".")[1]
        for cls in bpy.types.Operator.__subclasses__()
        if cls.bl_idname.startswith("loadfall.")
        and "UNDO" in getattr(cls, "bl_options", ())
    }
    assert ours - apart <= tried, ours - apart - tried


def change(group, name, spec):
    """Set a property to something else."""
    held = getattr(group, name)
    if spec.type == "BOOLEAN":
        value = not held
    elif spec.type == "ENUM":
        value = next(i.identifier for i in spec.enum_items if i.identifier != held)
    elif spec.type == "INT":
        value = held + 1
    elif spec.type == "FLOAT":
        value = [v + 0.25 for v in held] if spec.is_array else held + 0.25
    else:
        value = f"{held}x"
    setattr(group, name, value)


def properties(group, path=""):
    """Yield (path, property) of all that a user may set of a roof, nested ones too."""
    for name, spec in group.bl_rna.properties.items():
        nested = spec.type in ("POINTER", "COLLECTION")
        if name in ("rna_type", "name") or spec.is_hidden:
            continue
        if spec.is_readonly and not nested:
            continue
        where = f"{path}.{name}" if path else name
        if spec.type == "POINTER":
            yield from properties(getattr(group, name), where)
        elif spec.type == "COLLECTION":
            for n, item in enumerate(getattr(group, name)):
                yield from properties(item, f"{where}[{n}]")
        else:
            yield where, spec


def values():
    """Every property of the only roof, by its path."""
    stated = active().loadfall
    out = {}
    for path, spec in properties(stated):
        held = stated.path_resolve(path)
        out[path] = tuple(held) if getattr(spec, "is_array", False) else held
    return out


def test_every_property_is_undone_and_redone(scene):
    """Each change of each property is one step; all are walked back and forth."""
    bpy.context.preferences.edit.undo_steps = 256
    bpy.ops.loadfall.add_roof(length=2.4, width=4.8)
    for kind in ("BEAM", "POST"):
        bpy.ops.loadfall.item_add(kind=kind)
    paths = [path for path, _ in properties(active().loadfall)]
    assert len(paths) > 100
    for start in range(0, len(paths), 200):
        push("begin")
        states = [values()]
        for path in paths[start : start + 200]:
            owner, _, name = path.rpartition(".")
            stated = active().loadfall
            group = stated.path_resolve(owner) if owner else stated
            change(group, name, group.bl_rna.properties[name])
            push(path)
            states.append(values())
        with bpy.context.temp_override(window=bpy.context.window_manager.windows[0]):
            for wanted in reversed(states[:-1]):
                bpy.ops.ed.undo()
                assert values() == wanted
            for wanted in states[1:]:
                bpy.ops.ed.redo()
                assert values() == wanted


def everything():
    """What a user could tell two states of the file apart by."""
    roofs = [o for o in bpy.data.objects if o.loadfall.is_roof]
    objects, folders = mine()
    return (
        sorted(objects),
        sorted(folders),
        [round(o.loadfall.roof.pitch, 3) for o in roofs],
        [[v.name for v in o.loadfall.variants] for o in roofs],
        [[a.kind for a in o.loadfall.asked] for o in roofs],
        [len(o.loadfall.overrides) for o in roofs],
        [round(SESSION.outcome(o).solution.worst.utilisation, 9) for o in roofs],
        bpy.context.scene.loadfall.mode,
    )


OLD = Path(__file__).parent / "files" / "first_version.blend"


def test_a_file_of_the_first_version_opens_as_it_was_stated(scene):
    """A roof of 8 ft by 26 ft at 7 in 12, saved by the extension's first version.

    It had no walls as objects and far fewer fields; what is new takes its default.
    """
    bpy.ops.wm.open_mainfile(filepath=str(OLD))
    handlers.flush()
    roof = active()
    brief = SESSION.outcome(roof).brief
    assert roof.loadfall.message == ""
    assert brief.roof.pitch == pytest.approx(7 / 12)
    assert brief.footprint.length == pytest.approx(8 * 0.3048)
    assert brief.purlins[0].from_plate == pytest.approx(2.0)
    assert brief.loads.roof_live == pytest.approx(25 * 47.880259)
    keys = {o["member"] for o in roof.children if "member" in o}
    assert keys == set(SESSION.outcome(roof).shape.roles)
    assert any("wall" in o for o in roof.children)
    roof.loadfall.roof.pitch = 8.0
    handlers.flush()
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(8 / 12)
