"""Every panel and every mode, light and dark, at 1x and 2x: pictures to be judged.

Runs inside Blender's window, driven by ``blender_gui``. Leaves one sheet of panels and
one of modes for each theme and scale, and the modes as colour-blind people and a grey
printer see them. ``main`` is a generator that hands control back at each yield.
"""

import importlib
import os
import sys
import time

import blender_gui as g
import bpy
import numpy as np

SIZE = (1900, 1400)  # of the window, so that long panels fit
PACKAGE = next(m for m in sys.modules if m.endswith(".loadfall.addon"))
THEMES = {"dark": "Blender_Dark.xml", "light": "Blender_Light.xml"}
MODES = ("UTILISATION", "SAG_NOW", "SAG_TEN", "PATH", "INFLUENCE", "FINDINGS")
LIMIT = 420  # s for a search on a busy machine

# Machado, Oliveira and Fernandes 2009, severity 1, on linear light (from memory).
SEEN = {
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "grey": ((0.2126, 0.7152, 0.0722),) * 3,  # relative luminance, IEC 61966-2-1
}


def ours(name):
    """A module of the installed extension."""
    return importlib.import_module(f"{PACKAGE}.{name}")


def roof():
    """The only roof, looked up anew."""
    (found,) = [o for o in bpy.context.scene.objects if o.loadfall.is_roof]
    return found


def settled(pause=0.8):
    """Let Blender draw, and wait until the numbers are those of the roof."""
    yield pause
    end = time.time() + 30
    while ours("bridge.session").SESSION.unsettled() and time.time() < end:
        yield 0.2


def pixels(path):
    """(h, w, 3) of a picture, from its top row."""
    image = bpy.data.images.load(path)
    width, height = image.size
    held = np.empty(width * height * image.channels, dtype=np.float32)
    image.pixels.foreach_get(held)
    shape = (height, width, image.channels)
    bpy.data.images.remove(image)
    return held.reshape(shape)[::-1, :, :3].copy()


def keep(name, picture):
    """Write a picture."""
    height, width, _ = picture.shape
    image = bpy.data.images.new(name, width, height)
    full = np.ones((height, width, 4), dtype=np.float32)
    full[..., :3] = picture[::-1]
    image.pixels.foreach_set(full.ravel())
    image.filepath_raw, image.file_format = g.out(f"{name}.png"), "PNG"
    image.save()
    bpy.data.images.remove(image)


def seen(region):
    """What a region of the window shows now."""
    path = g.shot("now")
    everything = pixels(path)
    os.remove(path)
    bottom = len(everything) - region.y
    rows = slice(max(bottom - region.height, 0), bottom)
    return everything[rows, region.x : region.x + region.width]


def beside(pictures):
    """Pictures in one row, padded to one height."""
    height = max(len(p) for p in pictures)
    padded = [
        np.pad(p, ((0, height - len(p)), (0, 8), (0, 0)), constant_values=0.5)
        for p in pictures
    ]
    return np.concatenate(padded, axis=1)


def smaller(picture):
    """Half the size."""
    h, w = (n // 2 * 2 for n in picture.shape[:2])
    return picture[:h, :w].reshape(h // 2, 2, w // 2, 2, 3).mean(axis=(1, 3))


def as_seen_by(picture, matrix):
    """A picture as somebody else sees it; sRGB in and out."""
    linear = np.where(
        picture <= 0.04045, picture / 12.92, ((picture + 0.055) / 1.055) ** 2.4
    )
    linear = np.clip(linear @ np.array(matrix).T, 0.0, 1.0)
    return np.where(
        linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055
    )


def panel_groups():
    """Our panels by the one on top of them, in their order on the tab."""
    listed = [cls for module in ours("panels").MODULES for cls in module.CLASSES]
    listed.append(ours("explain.panel").LOADFALL_PT_explain)
    every = [cls for cls in listed if issubclass(cls, bpy.types.Panel)]
    groups = {c.bl_idname: [c] for c in every if not getattr(c, "bl_parent_id", "")}
    for cls in every:
        parent = getattr(cls, "bl_parent_id", "")
        if parent:
            groups[parent].append(cls)
    return list(groups.values())


def open_all(groups):
    """Have every panel open from the start; call it before any is drawn."""
    every = [cls for group in groups for cls in group]
    for cls in reversed(every):
        bpy.utils.unregister_class(cls)
    for cls in every:
        cls.bl_options = cls.__dict__.get("bl_options", set()) - {"DEFAULT_CLOSED"}
        if not hasattr(cls, "poll"):
            cls.poll = classmethod(lambda _cls, _context: True)
        bpy.utils.register_class(cls)
    return {group[0]: group[0].poll.__func__ for group in groups}


def show_only(shown, polls):
    """Leave one group of panels on the tab, or all of them."""
    for top, poll in polls.items():
        seen_here = shown is None or top is shown[0]
        top.poll = classmethod(poll if seen_here else lambda _cls, _context: False)


def in_view():
    """The 3D view as a context to call operators in."""
    return g.override()


def begin():
    """A roof on which every panel has something to say."""
    bpy.data.batch_remove(list(bpy.data.objects))
    bpy.context.scene.unit_settings.system = "IMPERIAL"
    with in_view():
        bpy.ops.loadfall.add_roof("EXEC_DEFAULT", True, length=16 * 0.3048)
        bpy.ops.loadfall.find_remedies("INVOKE_DEFAULT")
    choices, end = ours("bridge.choices").CHOICES, time.time() + LIMIT
    while choices.job(roof()) is not None and time.time() < end:
        yield 0.3
    found = choices.of(roof())
    if found is not None and found.remedies:
        key = found.remedies[0].key
        with in_view():
            bpy.ops.loadfall.pick_remedy("EXEC_DEFAULT", True, key=key)
            bpy.ops.loadfall.keep_variant("EXEC_DEFAULT", True)
    with in_view():
        for kind in ("BEAM", "POST", "ADDED_STRUT"):
            bpy.ops.loadfall.item_add("EXEC_DEFAULT", True, kind=kind)
        roof().loadfall.loads.use_snow = True
        bpy.ops.view3d.view_all()
    yield from settled()
    with in_view():
        bpy.ops.loadfall.ask("EXEC_DEFAULT", True, kind="PATCH", point=(3, 1.5, 1))
        bpy.ops.loadfall.ask("EXEC_DEFAULT", True, kind="WALL", key="W-SOUTH", add=True)


def show_panels(name, groups, polls):
    """One sheet of all panels, each group alone on the tab and open."""
    pictures = []
    with in_view():
        bpy.ops.loadfall.pick_worst("EXEC_DEFAULT", True)
        bpy.ops.loadfall.ask("EXEC_DEFAULT", True, kind="WALL", key="W-SOUTH")
        bpy.ops.loadfall.pick_worst("EXEC_DEFAULT", True)
    region = g.sidebar("Loadfall")
    for group in groups:
        show_only(group, polls)
        for area in g.window().screen.areas:
            area.tag_redraw()
        yield from settled(1.2)
        pictures.append(seen(region))
    show_only(None, polls)
    keep(f"panels-{name}", beside(pictures))


def show_modes(name):
    """One sheet of all modes; the sidebar is away."""
    area, region = g.view3d()
    area.spaces.active.show_region_ui = False
    settings, pictures = bpy.context.scene.loadfall, []
    with in_view():
        bpy.ops.loadfall.pick_roof("EXEC_DEFAULT", True)
        bpy.ops.view3d.view_all()
    for mode in MODES:
        if mode == "PATH":
            with in_view():
                bpy.ops.loadfall.ask_clear("EXEC_DEFAULT", True)
                bpy.ops.loadfall.pick_worst("EXEC_DEFAULT", True)
        settings.show, settings.mode = True, mode
        area.tag_redraw()
        yield from settled()
        pictures.append(seen(region))
    area.spaces.active.show_region_ui = True
    halves = [smaller(p) for p in pictures]
    rows = [beside(halves[n : n + 3]) for n in (0, 3)]
    keep(f"modes-{name}", np.concatenate(rows))
    return pictures


def main():
    """Make every sheet."""
    groups = panel_groups()
    polls = open_all(groups)
    yield 1.0
    print("Blender", bpy.app.version_string)
    yield from begin()
    view = bpy.context.preferences.view
    for theme, file in THEMES.items():
        folder = next(
            path
            for path in bpy.utils.preset_paths("interface_theme")
            if os.path.isfile(os.path.join(path, file))
        )
        bpy.ops.script.execute_preset(
            filepath=os.path.join(folder, file),
            menu_idname="USERPREF_MT_interface_theme_presets",
        )
        for scale in (1, 2):
            view.ui_scale = float(scale)
            yield from settled()
            yield from show_panels(f"{theme}-{scale}x", groups, polls)
            pictures = yield from show_modes(f"{theme}-{scale}x")
            if scale == 1:
                told = [pictures[0], pictures[5]]
                for who, matrix in SEEN.items():
                    both = beside([as_seen_by(p, matrix) for p in told])
                    keep(f"seen-{theme}-{who}", smaller(both))
