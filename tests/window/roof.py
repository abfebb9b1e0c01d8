"""Add a roof, shape it, read a story, undo it all, save, reopen: as a person would.

Runs inside Blender's window, driven by ``blender_gui``: real key strokes and clicks,
screenshots on the way. ``main`` is a generator that hands control back at each yield.
"""

import importlib
import json
import shutil
import subprocess
import sys

import blender_gui as g
import bpy

PACKAGE = next(m for m in sys.modules if m.endswith(".loadfall.addon"))


def ours(name):
    """A module of the installed extension."""
    return importlib.import_module(f"{PACKAGE}.{name}")


def roof():
    """The only roof, or None."""
    found = [o for o in bpy.context.scene.objects if o.loadfall.is_roof]
    assert len(found) < 2
    return found[0] if found else None


def outcome():
    return ours("bridge.session").SESSION.outcome(roof())


def members():
    """Member objects by key."""
    return ours("bridge.members").members_of(roof())


def top(key):
    """Height of a member's highest corner."""
    obj = members()[key]
    bpy.context.view_layer.update()
    return max((obj.matrix_world @ v.co).z for v in obj.data.vertices)


def state():
    """What the user sees: stated values, and what the members make of them."""
    stated = roof().loadfall
    solved = outcome().brief
    assert abs(solved.roof.pitch * 12 - stated.roof.pitch) < 1e-4
    return (
        round(stated.roof.pitch, 3),
        round(stated.purlins[0].from_plate, 3),
        round(top("R-S-03"), 3),
        round(top("P-S"), 3),
    )


def centre_of_view():
    _area, region = g.view3d()
    return region.x + region.width // 3, region.y + region.height // 2


def set_field(at, text):
    """Type into the field under the mouse."""
    yield from g.click(*at)
    yield 0.4
    yield from g.key("A", ctrl=True)
    yield from g.type(text)
    yield from g.key("RET")
    yield 1.2


def find_field(path, below=None):
    """Hover down the fields of the panel, right of their labels, to one of them."""
    _area, region = g.view3d("UI")
    x = region.x + int(region.width * 0.6)
    top = region.y + region.height if below is None else below
    for y in range(top - 6, region.y, -11):
        g.move(x - 1, y)
        yield 0.01
        g.move(x, y)
        yield 0.05
        hit = g.hovered()
        if hit and hit[0] == "prop" and hit[1].endswith(path):
            return x, y - 3
    raise LookupError(f"no field for {path}")


def find_call(words):
    """Hover down the right half of the panel to a button whose call has some words."""
    _area, region = g.view3d("UI")
    x = region.x + int(region.width * 0.7)
    for y in range(region.y + region.height - 4, region.y, -8):
        g.move(x - 1, y)
        yield 0.01
        g.move(x, y)
        yield 0.04
        hit = g.hovered()
        if hit and hit[0] == "op" and words in hit[1]:
            return x, y - 3
    raise LookupError(f"no button that says {words}")


def add_by_menu():
    """Shift+A, then the first letters of its name."""
    g.move(*centre_of_view())
    yield 0.3
    yield from g.key("A", shift=True)
    yield 0.6
    g.shot("01-add-menu")
    yield from g.type("stick")
    yield 0.8
    g.shot("02-add-menu-search")
    yield from g.key("RET")
    yield 1.5


def frame_all():
    g.move(*centre_of_view())
    yield 0.2
    yield from g.key("HOME")
    yield 1.0


def scroll(by):
    """Drag the panel by the middle button; up, to see what is below."""
    _area, region = g.view3d("UI")
    x, y = region.x + 24, region.y + region.height // 2
    yield from g.drag(x, y - by // 2, x, y + by // 2, button="MIDDLEMOUSE")
    yield 0.4


def toggle_supports(below):
    """Click the heading of Supports, three headings below the last row of Shape."""
    x, y = yield from find_field("loadfall.units", below)
    scale = bpy.context.preferences.system.ui_scale
    yield from g.click(x, int(y - 87 * scale))
    yield 0.5


def steps_back(count):
    g.move(*centre_of_view())
    for _ in range(count):
        yield from g.key("Z", ctrl=True)
        yield 0.6


def steps_on(count):
    g.move(*centre_of_view())
    for _ in range(count):
        yield from g.key("Z", ctrl=True, shift=True)
        yield 0.6


def click_in_view(key):
    """Click on a member where it is seen."""
    area, region = g.view3d()
    project = importlib.import_module("bpy_extras.view3d_utils")
    obj = members()[key]
    corner = obj.matrix_world @ obj.data.vertices[0].co
    spot = project.location_3d_to_region_2d(
        region,
        area.spaces.active.region_3d,
        corner.lerp(obj.matrix_world @ obj.data.vertices[4].co, 0.06),
    )
    yield from g.click(region.x + int(spot.x), region.y + int(spot.y))
    yield 0.6


def main():
    yield 1.0
    print("Blender", bpy.app.version_string)
    bpy.data.batch_remove(list(bpy.data.objects))
    bpy.context.scene.unit_settings.system = "IMPERIAL"
    bpy.ops.ed.undo_push(message="An empty scene")
    g.sidebar("Loadfall")
    yield 0.5

    yield from add_by_menu()
    assert roof() is not None, "Shift+A added no roof"
    assert bpy.context.scene.loadfall.show
    yield from frame_all()
    g.shot("03-shaded")
    added = state()

    at = yield from find_field("roof.pitch")
    pitch_field = at[1]
    yield from set_field(at, "8")
    pitched = state()
    assert pitched[0] == 8.0, pitched
    assert pitched[2] > added[2] + 0.3, "the rafters did not follow the pitch"
    g.move(*centre_of_view())
    yield 0.5
    g.shot("04-pitch")

    yield from toggle_supports(pitch_field)
    yield from scroll(300)
    at = yield from find_field("purlins[0].from_plate")
    yield from set_field(at, "4.5")
    moved = state()
    assert abs(moved[1] - 4.5 * 0.3048) < 1e-3, moved
    assert moved[3] < pitched[3] - 0.2, "the purlin did not follow its place"
    g.move(*centre_of_view())
    yield 0.5
    g.shot("05-purlin")

    yield from set_field(at, "40")
    assert roof().loadfall.message_field == "purlins[0].from_plate"
    assert round(top("P-S"), 3) == moved[3], "the last good roof did not stay"
    g.move(*centre_of_view())
    yield 0.5
    g.shot("06-refused")
    at = yield from find_field("purlins[0].from_plate")
    yield from set_field(at, "4.5")
    assert roof().loadfall.message == ""
    yield from scroll(-600)
    yield from toggle_supports(pitch_field)

    at = yield from g.find(op="loadfall.pick_worst")
    yield from g.click(*at)
    yield 0.8
    joist = bpy.context.object
    assert joist["role"] == "ceiling_joist", joist["role"]
    assert joist["utilisation"] == outcome().solution.worst.utilisation
    story = ours("bridge.view").story(outcome(), joist["member"])
    assert any("times its limit" in words for words in story.sentences)
    g.move(*centre_of_view())
    yield 0.5
    g.shot("07-picked")

    at = yield from find_call("mode='PATH'")
    yield from g.click(*at)
    yield 0.8
    assert bpy.context.scene.loadfall.mode == "PATH"
    g.move(*centre_of_view())
    yield 0.5
    g.shot("08-load-path")
    yield from click_in_view("R-S-01")
    assert bpy.context.object["member"].startswith("R-S-"), bpy.context.object
    g.shot("09-clicked-a-rafter")

    last = state()
    for _ in range(20):
        if roof() is None:
            break
        yield from steps_back(1)
    assert roof() is None, "undo did not go all the way back"
    g.shot("10-undone")
    yield from steps_on(1)
    assert state() == added
    yield from steps_on(20)
    assert state() == last, (state(), last)
    g.shot("11-redone")

    path = g.out("roof.blend")
    bpy.ops.wm.save_as_mainfile(filepath=path)
    reopened = look_again(path)
    assert reopened["before"] == list(last[2:]), "it was not saved as it was"
    assert reopened["after"] == list(last), "it was not solved as it was"


AGAIN = """
import importlib, json, subprocess, sys
import bpy

PACKAGE = {package!r}
session = importlib.import_module(PACKAGE + ".bridge.session").SESSION
(roof,) = [o for o in bpy.context.scene.objects if o.loadfall.is_roof]


def top(key):
    obj = next(o for o in roof.children if o.get("member") == key)
    return round(max((obj.matrix_world @ v.co).z for v in obj.data.vertices), 3)


found = {{"before": [top("R-S-03"), top("P-S")]}}


def look():
    stated = roof.loadfall
    assert session.outcome(roof) is not None
    found["after"] = [
        round(stated.roof.pitch, 3), round(stated.purlins[0].from_plate, 3),
        top("R-S-03"), top("P-S"),
    ]
    with open({out!r}, "w") as file:
        json.dump(found, file)
    if {shot!r}:
        subprocess.run(["import", "-window", "root", {shot!r}])
    bpy.ops.wm.quit_blender()


bpy.app.timers.register(look, first_interval=6.0)
"""


def look_again(path):
    """Open the file in another Blender window; return what that one saw."""
    script, found = g.out("again.py"), g.out("again.json")
    shot = g.out("12-reopened.png") if shutil.which("import") else ""
    with open(script, "w", encoding="utf-8") as file:
        file.write(AGAIN.format(package=PACKAGE, out=found, shot=shot))
    window = ["--window-geometry", "0", "0", "1600", "900"]
    command = [bpy.app.binary_path, *window, path, "--python", script]
    subprocess.run(command, check=True, timeout=120)
    with open(found, encoding="utf-8") as file:
        return json.load(file)
