"""What a window script may call: mouse, keys, screenshots, finding a button.

Coordinates are pixels of the window from its lower left corner. Functions that take
time are generators: ``yield from`` them.
"""

import os
import shutil
import subprocess
import sys

import bpy

_CHARACTERS = {
    " ": "SPACE", ".": "PERIOD", ",": "COMMA", "-": "MINUS", "=": "EQUAL",
    "/": "SLASH", "'": "QUOTE", '"': "QUOTE", "_": "MINUS",
    "0": "ZERO", "1": "ONE", "2": "TWO", "3": "THREE", "4": "FOUR", "5": "FIVE",
    "6": "SIX", "7": "SEVEN", "8": "EIGHT", "9": "NINE",
}  # fmt: skip


class _Mouse:
    x = y = 0


def window():
    """Blender's first window."""
    return bpy.context.window_manager.windows[0]


def out(name):
    """Path of a file in the output folder."""
    return os.path.join(os.environ["WINDOW_OUT"], name)


def shot(name):
    """Take a screenshot; Blender's own comes out black in software rendering."""
    path = out(f"{name}.png")
    tool = shutil.which("import")
    if sys.platform.startswith("linux") and os.environ.get("DISPLAY") and tool:
        subprocess.run([tool, "-window", "root", path], check=True)
    else:
        with bpy.context.temp_override(window=window()):
            bpy.ops.screen.screenshot(filepath=path)
    return path


def redraw():
    """Draw everything now."""
    for area in window().screen.areas:
        area.tag_redraw()
    with bpy.context.temp_override(window=window()):
        bpy.ops.wm.redraw_timer(type="DRAW_WIN_SWAP", iterations=1)


def view3d(region_type="WINDOW"):
    """(area, region) of the largest 3D view."""
    views = [a for a in window().screen.areas if a.type == "VIEW_3D"]
    area = max(views, key=lambda a: a.width * a.height)
    return area, next(r for r in area.regions if r.type == region_type)


def override(region_type="WINDOW"):
    """Context of the largest 3D view, for ``with``."""
    area, region = view3d(region_type)
    return bpy.context.temp_override(window=window(), area=area, region=region)


def sidebar(tab):
    """Open the sidebar of the largest 3D view at a tab."""
    area, region = view3d("UI")
    area.spaces.active.show_region_ui = True
    redraw()
    region.active_panel_category = tab
    area.tag_redraw()
    return region


def _event(kind, value, **more):
    window().event_simulate(type=kind, value=value, x=_Mouse.x, y=_Mouse.y, **more)


def move(x, y):
    """Move the mouse."""
    _Mouse.x, _Mouse.y = int(x), int(y)
    _event("MOUSEMOVE", "NOTHING")


def click(x, y, button="LEFTMOUSE"):
    """Move there and click."""
    move(x - 3, y)
    yield 0.1
    move(x, y)
    yield 0.1
    _event(button, "PRESS")
    yield 0.1
    _event(button, "RELEASE")
    yield 0.3


def key(name, text="", *, shift=False, ctrl=False, alt=False):
    """Press and release a key, by the name that Blender's events have."""
    held = {"shift": shift, "ctrl": ctrl, "alt": alt}
    _event(name, "PRESS", unicode=text or None, **held)
    yield 0.05
    _event(name, "RELEASE", **held)
    yield 0.15


def type(text):
    """Type into the field that is being edited."""
    for character in text:
        name = _CHARACTERS.get(character, character.upper())
        shift = character.isupper() or character in '_"'
        yield from key(name, text=character, shift=shift)


def hovered(region_type="UI"):
    """What is under the mouse: ("op", call), ("prop", data path), or None."""
    with override(region_type):
        if bpy.ops.ui.copy_python_command_button.poll():
            bpy.ops.ui.copy_python_command_button()
            return "op", bpy.context.window_manager.clipboard
        if bpy.ops.ui.copy_data_path_button.poll():
            bpy.ops.ui.copy_data_path_button(full_path=True)
            return "prop", bpy.context.window_manager.clipboard
    return None


def find(op=None, prop=None, region_type="UI", step=8, x=None):
    """Hover down a region until a button matches; return its place."""
    _area, region = view3d(region_type)
    x = region.x + region.width // 3 if x is None else x
    seen = []
    for y in range(region.y + region.height - 4, region.y, -step):
        move(x - 1, y)
        yield 0.01
        move(x, y)
        yield 0.04
        hit = hovered(region_type)
        if hit is None:
            continue
        seen.append(hit)
        kind, words = hit
        if kind == "op" and op is not None and words.startswith(f"bpy.ops.{op}("):
            return x, y - 3
        if kind == "prop" and prop is not None and words.endswith(prop):
            return x, y - 3
    raise LookupError(f"no button for {op or prop}; seen {seen}")
