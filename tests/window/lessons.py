"""Every lesson of a new roof, made by its button; played, stopped, and left again.

Runs inside Blender's window, driven by ``blender_gui``, and leaves a picture of each.
"""

import importlib
import sys
import time

import blender_gui as g
import bpy

PACKAGE = next(m for m in sys.modules if m.endswith(".loadfall.addon"))
LIMIT = 900  # s for a lesson on a busy machine


def ours(name):
    """A module of the installed extension."""
    return importlib.import_module(f"{PACKAGE}.{name}")


def in_view():
    """The 3D view as a context to call operators in."""
    area, region = g.view3d()
    window = bpy.context.window_manager.windows[0]
    return bpy.context.temp_override(window=window, area=area, region=region)


def done():
    """Wait until no lesson is being made."""
    yield 0.5
    end = time.time() + LIMIT
    while ours("explain.jobs").JOBS.now is not None:
        assert time.time() < end, "a lesson was not made in time"
        yield 0.2
    yield 1.0


def begin():
    bpy.data.batch_remove(list(bpy.data.objects))
    bpy.context.scene.unit_settings.system = "IMPERIAL"
    with in_view():
        bpy.ops.loadfall.add_roof("EXEC_DEFAULT", True)
        bpy.ops.view3d.view_all()
    (roof,) = [o for o in bpy.context.scene.objects if o.loadfall.is_roof]
    roof.loadfall.loads.use_snow = True
    yield 3.0
    g.sidebar("Loadfall")
    yield 1.0


def check(key, home):
    """Look at a lesson, play it, go back."""
    scene = bpy.context.window_manager.windows[0].scene
    assert scene != home, f"{key} was not made"
    assert scene[ours("explain.theatre").LESSON] == key
    beats = [m.frame for m in scene.timeline_markers]
    scene.frame_set(beats[1] + 2)
    yield 1.0
    g.shot(f"lesson-{key}")
    with in_view():
        bpy.ops.screen.animation_play()
    first = scene.frame_current
    yield 2.0
    with in_view():
        bpy.ops.screen.animation_cancel(restore_frame=False)
    assert scene.frame_current != first, f"{key} does not play"
    with in_view():
        bpy.ops.loadfall.explain_leave("EXEC_DEFAULT")
    yield 0.5
    assert bpy.context.window_manager.windows[0].scene == home


def main():
    yield 1.0
    yield from begin()
    home = bpy.context.window_manager.windows[0].scene
    made, left = [], []
    keys = list(ours("explain.lessons").LESSONS)
    for key in sorted(keys, key=lambda k: k == "ways"):  # the longest last
        with in_view():
            try:
                bpy.ops.loadfall.explain("INVOKE_DEFAULT", lesson=key)
            except RuntimeError as error:
                left.append(str(error))
                continue
        yield from done()
        if bpy.context.window_manager.windows[0].scene == home:
            left.append(key)
            continue
        yield from check(key, home)
        made.append(key)
    assert set(made) >= {"strut", "joist", "years", "bend", "ways", "purlin", "load"}
    with in_view():
        bpy.ops.loadfall.explain("INVOKE_DEFAULT", lesson="years")
    yield 0.3
    with in_view():
        bpy.ops.loadfall.explain_stop()
    yield from done()
    assert bpy.context.window_manager.windows[0].scene == home
    print("made", made, "left out", left)
