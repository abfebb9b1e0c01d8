"""The tour of the quick start: every mode, a question, a remedy, a handle, undo.

Runs inside Blender's window, driven by ``blender_gui``, and leaves the pictures of
docs/quick-start.md. ``main`` is a generator that hands control back at each yield.
"""

import importlib
import sys
import time

import blender_gui as g
import bpy
from bpy_extras.view3d_utils import location_3d_to_region_2d
from mathutils import Vector

PACKAGE = next(m for m in sys.modules if m.endswith(".loadfall.addon"))
MODES = ("UTILISATION", "SAG_NOW", "SAG_TEN", "PATH", "INFLUENCE", "FINDINGS")
FOOT = 0.3048
LIMIT = 240  # s for a search on a busy machine


def ours(name):
    """A module of the installed extension."""
    return importlib.import_module(f"{PACKAGE}.{name}")


def roof():
    """The only roof, looked up anew: an undo leaves no reference alive."""
    (found,) = [o for o in bpy.context.scene.objects if o.loadfall.is_roof]
    return found


def outcome():
    return ours("bridge.session").SESSION.outcome(roof())


def settled(pause=1.0):
    """Let Blender draw, and wait until the numbers are those of the roof."""
    yield pause
    end = time.time() + 20
    while ours("bridge.session").SESSION.unsettled() and time.time() < end:
        yield 0.2


def in_view():
    """The 3D view as a context to call operators in."""
    area, region = g.view3d()
    window = bpy.context.window_manager.windows[0]
    return bpy.context.temp_override(window=window, area=area, region=region)


def pixel(feet):
    """Where a point of the roof lies in the window."""
    area, region = g.view3d()
    point = roof().matrix_world @ Vector([v * FOOT for v in feet])
    spot = location_3d_to_region_2d(region, area.spaces.active.region_3d, point)
    return region.x + int(spot.x), region.y + int(spot.y)


def aside():
    """Take the mouse off the panels."""
    _area, region = g.view3d()
    g.move(region.x + region.width // 2, region.y + 40)


def begin():
    bpy.data.batch_remove(list(bpy.data.objects))
    bpy.context.scene.unit_settings.system = "IMPERIAL"
    bpy.ops.ed.undo_push(message="An empty scene")
    with in_view():
        bpy.ops.loadfall.add_roof("EXEC_DEFAULT", True)
        bpy.ops.view3d.view_all()
    yield from settled()
    g.sidebar("Loadfall")
    yield from settled()


def show_modes():
    """Every mode by its own operator, each with a picture."""
    settings = bpy.context.scene.loadfall
    for mode in MODES:
        if mode == "INFLUENCE":
            with in_view():
                bpy.ops.loadfall.pick_member("EXEC_DEFAULT", True, key="CJ-05-1")
        if not (settings.show and settings.mode == mode):
            with in_view():
                bpy.ops.loadfall.overlay("EXEC_DEFAULT", True, mode=mode)
        aside()
        yield from settled()
        assert settings.show
        assert settings.mode == mode
        g.shot(f"mode-{mode.lower()}")
    with in_view():
        bpy.ops.loadfall.pick_roof("EXEC_DEFAULT", True)
        bpy.ops.loadfall.overlay("EXEC_DEFAULT", True, mode="UTILISATION")


def ask():
    """Click the button, then the roof; Esc ends."""
    _area, side = g.view3d("UI")
    at = yield from g.find(op="loadfall.ask_click", x=side.x + int(side.width * 0.75))
    yield from g.click(*at)
    yield 0.5
    yield from g.click(*pixel((10, 5, 3)))
    yield from settled()
    asked = roof().loadfall.asked
    assert [a.kind for a in asked] == ["PATCH"], [a.kind for a in asked]
    yield from g.key("ESC")
    g.shot("patch")
    yield 0.5


def adjust_last(name, value):
    """Change a number in the panel of the last operation, as Blender does it."""
    last = bpy.context.window_manager.operators[-1]
    setattr(last.properties, name, value)
    with in_view():
        bpy.ops.ed.undo_redo("EXEC_DEFAULT", True)


def drag_the_pitch():
    """Drag the arrow over the ridge upward; undo it; type it instead."""
    with in_view():
        bpy.ops.loadfall.overlay("EXEC_DEFAULT", True, mode="UTILISATION")
    yield from settled()
    start, (x, y) = pixel((16, 13, 7.3)), pixel((16, 13, 9.4))
    g.move(*start)
    yield 0.5
    g.shot("handles")
    yield from g.drag(*start, x, y)
    yield from settled(1.5)
    dragged = roof().loadfall.roof.pitch
    assert dragged > 6.5, dragged
    assert abs(dragged * 4 - round(dragged * 4)) < 1e-3, "it did not snap to quarters"
    aside()
    yield from g.key("Z", ctrl=True)
    yield from settled()
    assert abs(roof().loadfall.roof.pitch - 6.0) < 1e-4
    with in_view():
        bpy.ops.loadfall.adjust("INVOKE_DEFAULT", what="PITCH")
    yield 0.5
    yield from g.type("7.5")
    yield from g.key("RET")
    yield from settled()
    assert abs(roof().loadfall.roof.pitch - 7.5) < 1e-4
    adjust_last("pitch", 5.0)
    yield from settled()
    assert abs(roof().loadfall.roof.pitch - 5.0) < 1e-4
    aside()
    yield from g.key("Z", ctrl=True)
    yield from settled()
    assert abs(roof().loadfall.roof.pitch - 6.0) < 1e-4


def mend():
    """Search beside the interface, build the best, go back and forth."""
    choices = ours("bridge.choices").CHOICES
    with in_view():
        bpy.ops.loadfall.find_remedies("INVOKE_DEFAULT")
    yield 1.0
    g.shot("searching")
    end = time.time() + LIMIT
    while choices.job(roof()) is not None and time.time() < end:
        yield 0.2
    found = choices.of(roof())
    assert found is not None, "the search found nothing in time"
    best = next(one for one in found.remedies if one.unbeaten)
    yield from settled()
    g.shot("remedies")
    with in_view():
        bpy.ops.loadfall.apply_remedy("EXEC_DEFAULT", True, key=best.key)
    yield from settled()
    assert str(outcome().solution.overall) == "passes these checks"
    assert [v.name for v in roof().loadfall.variants] == ["Existing", best.title]
    g.shot("built")
    for _ in range(4):
        aside()
        yield from g.key("Z", ctrl=True)
        yield from settled()
        assert str(outcome().solution.overall) == "over its limit"
        yield from g.key("Z", ctrl=True, shift=True)
        yield from settled()
        assert str(outcome().solution.overall) == "passes these checks"
    with in_view():
        bpy.ops.loadfall.show_variant("EXEC_DEFAULT", True, name="Existing")
    yield from settled()
    assert str(outcome().solution.overall) == "over its limit"


def speak_spanish():
    """The panels follow Blender's language."""
    view = bpy.context.preferences.view
    before = view.language, view.use_translate_interface
    view.language, view.use_translate_interface = "es", True
    yield from settled()
    said = bpy.app.translations.pgettext_iface("Eave Overhang")
    g.shot("spanish")
    view.language, view.use_translate_interface = before
    yield 0.5
    assert said == "Vuelo del alero", said


def left():
    """What of a roof is in the file."""
    return [o.name for o in bpy.data.objects if "member" in o or "wall" in o]


def delete_the_empty_alone():
    """X on the roof's own object takes its members along; undo brings all back."""
    count = len(bpy.data.objects)
    bpy.ops.ed.undo_push(message="Before it goes")
    with in_view():
        bpy.ops.object.select_all(action="DESELECT")
        roof().select_set(True)
        bpy.context.view_layer.objects.active = roof()
        bpy.ops.object.delete("EXEC_DEFAULT", True)
    end = time.time() + 30
    while left() and time.time() < end:
        yield 0.5
    assert not left(), left()
    aside()
    yield from g.key("Z", ctrl=True)
    yield from settled()
    assert len(bpy.data.objects) == count


def main():
    yield 1.0
    print("Blender", bpy.app.version_string)
    yield from begin()
    yield from show_modes()
    yield from ask()
    yield from drag_the_pitch()
    yield from mend()
    yield from speak_spanish()
    yield from delete_the_empty_alone()
    g.shot("end")
