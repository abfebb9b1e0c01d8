"""Write small scenes that open without the extension and show the shading.

Run by ``build.py samples`` in Blender's module. Each also renders a picture of itself,
because camera, light and words are in the file.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import bpy
from mathutils import Quaternion, Vector

from ..solver.brief import Brief, read_brief
from . import register, unregister
from .bridge import roofs, view
from .bridge.pipeline import Outcome
from .bridge.session import SESSION
from .cli_demo import bungalow, overview
from .outline_samples import SAMPLES
from .picture import shots, stage
from .picture.shots import Format, Shot

UNTIED: dict[str, Any] = {
    "schema_version": 1,
    "name": "Workshop with joists along the ridge",
    "footprint": {"length": "24 ft", "width": "20 ft"},
    "roof": {"pitch": "4:12", "overhang": "12 in"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ridge": {"kind": "board", "size": "2x8"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in", "direction": "along"},
    "walls": [{"name": "cross", "start": ["12 ft", "0 ft"], "end": ["12 ft", "20 ft"]}],
    "loads": {"roof_dead": "10 psf", "roof_live": "20 psf", "ceiling_dead": "5 psf"},
}


def main(out: Path, progress: Callable[[str], None]) -> None:
    """Write the samples into a folder.

    Args:
        out: the folder, which exists.
        progress: is told what is done.
    """
    register()
    try:
        for name, brief, compose in (
            ("struts_on_joists", bungalow(mended=False), _struts_on_joists),
            ("untied_rafters", read_brief(UNTIED), _untied_rafters),
            *((name, read_brief(data), shot) for name, data, shot in SAMPLES),
        ):
            path = out / f"{name}.blend"
            _write(brief, compose, path)
            progress(f"{path.name}: {path.stat().st_size / 1024:.0f} KiB")
    finally:
        unregister()


def _write(brief: Brief, compose: Callable[[Outcome], Shot], path: Path) -> None:
    """Write one sample."""
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=False)
    bpy.context.preferences.filepaths.save_version = 0  # leaves no backups
    bpy.data.batch_remove([*bpy.data.objects, *bpy.data.collections])
    scene = bpy.context.scene
    scene.unit_settings.system = "IMPERIAL"
    roof = roofs.create(brief, scene)
    outcome = SESSION.outcome(roof)
    shots.set_up(roof, scene, compose(outcome), Format(size=(1280, 800), samples=16))
    for obj in scene.objects:  # the sheet is for the render alone
        if obj.parent == scene.camera:
            obj.hide_set(True)
    _show_shading(outcome)
    _explain(outcome)
    bpy.data.orphans_purge(do_recursive=True)
    bpy.ops.wm.save_as_mainfile(filepath=str(path), compress=True, check_existing=False)


def _struts_on_joists(outcome: Outcome) -> Shot:
    """Return the picture that the demo begins with."""
    return overview(outcome, mended=False)


def _untied_rafters(outcome: Outcome) -> Shot:
    """Return the picture of rafters whose thrust nobody holds."""
    untied = outcome.solution.path.untied_rafters
    return Shot(
        view=stage.View((13.4, -8.2, 6.4), (3.8, 2.9, -0.5), 36.0),
        title=f"{len(untied)} rafters that nobody ties",
        lines=(
            "The ceiling joists run along the ridge; a ridge board carries no roof. No",
            "member holds the thrust of the rafters. Shore before any other work.",
        ),
        caution=view.CAUTION,
        is_left_out=lambda obj: shots.key(obj) in ("W-SOUTH", "W-EAST"),
    )


def _show_shading(outcome: Outcome) -> None:
    """Have every 3D view show the colours in the meshes, from a good place."""
    size = outcome.brief.footprint
    look = (Vector((-1.0, 1.6, -1.0))).to_track_quat("-Z", "Y")
    for screen in bpy.data.screens:
        for area in screen.areas:
            if area.type == "VIEW_3D":
                space = area.spaces.active
                # Patterns show in material preview; solid mode has the colours too.
                space.shading.type = "MATERIAL"
                space.shading.use_scene_lights = space.shading.use_scene_world = False
                space.shading.color_type = "VERTEX"
                space.shading.light = "FLAT"
                space.overlay.show_relationship_lines = False
                _look(space.region_3d, look, (size.length / 2, size.width / 2, 0.0))


def _look(
    region: bpy.types.RegionView3D, turn: Quaternion, at: tuple[float, float, float]
) -> None:
    """Turn a view to a place."""
    region.view_perspective = "PERSP"
    region.view_rotation = turn
    region.view_location = at
    region.view_distance = 2.9 * max(at)


def _explain(outcome: Outcome) -> None:
    """Write into the file what it shows."""
    summary = view.summary(outcome)
    text = bpy.data.texts.new("Read me")
    found = [f"{line.words}. {line.detail}".strip() for line in summary.groups]
    text.write(
        "\n".join(
            [
                outcome.brief.name,
                f"{summary.verdict}.",
                *found,
                "",
                "Colours: attribute 'Loadfall' and material 'Loadfall Shading'.",
                "Numbers: custom properties of each member, in N, N m and m.",
                "",
                view.CAUTION,
            ]
        )
    )
