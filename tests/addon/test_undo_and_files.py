"""Undo, redo, saving, loading, and rendering: the properties are the truth."""

import bpy
import numpy as np
import pytest
from loadfall import addon
from loadfall.addon import handlers
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


def test_a_hundred_undos_and_redos_of_every_action(scene):
    """Every action of the panels, then all the way back and forth, five times over."""
    ops = bpy.ops.loadfall

    def active():
        return next(o for o in bpy.data.objects if o.loadfall.is_roof)

    def pick(key):
        bpy.context.view_layer.objects.active = next(
            o for o in bpy.data.objects if o.get("member") == key
        )

    actions = [
        lambda: ops.add_roof(length=4.8, spacing=0.6),
        lambda: ops.ask(kind="PATCH", point=(2.0, 2.0, 1.0)),
        lambda: ops.ask(kind="WALL", key="W-SOUTH", add=True),
        lambda: ops.ask_clear(),
        lambda: ops.keep_variant(),
        lambda: ops.item_add(kind="PURLIN"),
        lambda: ops.item_remove(kind="PURLIN"),
        lambda: ops.keep_variant(name="Other"),
        lambda: ops.show_variant(name="Existing"),
        lambda: ops.remove_variant(name="Other"),
        lambda: ops.overlay(mode="SAG_TEN"),
        lambda: ops.pick_worst(),
        lambda: (pick("CJ-03-1"), ops.override_member(change="PLY")),
        lambda: (pick("CJ-03-1"), ops.override_member(change="RESET")),
        lambda: (pick("ST-S-02"), ops.override_member(change="REMOVE")),
        lambda: ops.pick_roof(),
        lambda: setattr(active().loadfall.roof, "pitch", 8.0),
        lambda: ops.rebuild(),
        lambda: ops.delete_roof(),
    ]
    push("empty")
    states = [everything()]
    for act in actions:
        act()
        push("action")
        handlers.flush()
        states.append(everything())
    for _ in range(5):
        for wanted in reversed(states[:-1]):
            undo()
            assert everything() == wanted
        for wanted in states[1:]:
            redo()
            assert everything() == wanted


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
