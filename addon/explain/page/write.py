"""Write the page: export the bent roof as glTF and put all into one file."""

from __future__ import annotations

import base64
import html
import json
import tempfile
from collections.abc import Sequence
from pathlib import Path

import bpy
import numpy as np

from ...bridge import bent, marking, view
from ...bridge.bent import Bent
from ...bridge.pipeline import Outcome
from ...bridge.walls import FACES, wall_pieces
from ...overlay import palette
from ...overlay.palette import State
from .. import cast
from ..lessons import scenery
from ..timeline import factor_words, nice_factor
from .loads import Laid, loads_of

_HERE = Path(__file__).parent
_ROOFING = (*scenery.ROOFING, "ridge_board", "collar_tie")
_BANDS = 12
_WALL_TOP = 0.5  # m
_HINT = "Drag to turn, pinch or scroll to come near, tap a stick to ask about it."
_WALL = -2.0  # mark of what is no member


def write(outcome: Outcome, path: Path) -> Path:
    """Write the page of a solved roof; return the file.

    Args:
        outcome: the solved roof.
        path: of the HTML file.

    Raises:
        LessonError: the roof has no analysis to show.
    """
    if outcome.solution.frame is None:
        why = outcome.solution.refusal
        raise scenery.LessonError(f"The roof has no analysis to show: {why}")
    keys = tuple(outcome.solution.members)
    shapes = bent.shapes_of(outcome)
    assert shapes is not None
    loads = loads_of(outcome)
    factor = _factor(outcome, loads)
    glb = glb_of(outcome, keys, factor, loads)
    data = {
        "glb": base64.b64encode(glb).decode("ascii"),
        "members": [_told(outcome, key) for key in keys],
        "loads": [laid.shown(outcome, keys) for laid in loads],
        "exponent": bent.CREEP_EXPONENT,
        "slope": _slope_is_shown(outcome),
        "hint": _HINT,
    }
    summary = view.summary(outcome)
    found = "; ".join(line.words for line in summary.groups)
    said = {
        "title": html.escape(outcome.brief.name),
        "verdict": html.escape(f"{summary.verdict}{': ' if found else ''}{found}."),
        "legend": _legend(),
        "scale": html.escape(factor_words(factor)),
        "curve": html.escape(shapes.label),
        "cautions": html.escape(" ".join(view.CAUTIONS)),
        "data": json.dumps(data).replace("</", "<\\/"),
        "viewer": (_HERE / "viewer.js").read_text("utf-8"),
    }
    text = (_HERE / "viewer.html").read_text("utf-8")
    head, *parts = text.split("{{")
    for part in parts:  # in one pass: nothing that is put in is looked at again
        name, after = part.split("}}", 1)
        head += said[name] + after
    path.write_text(head, "utf-8")
    return path


def _slope_is_shown(outcome: Outcome) -> bool:
    """Return whether what slopes is shown first: nothing else, or it does not pass."""
    worst = outcome.solution.worst
    results = [outcome.solution.members[key] for key in outcome.solution.members]
    roofing = [one for one in results if one.role in _ROOFING]
    failing = any(one.analysis_passes is False or one.reason for one in roofing)
    return worst is None or worst.role in _ROOFING or failing


def _factor(outcome: Outcome, loads: Sequence[Laid]) -> float:
    """Return how many times as large as they are sags are drawn under every load."""
    every = [bent.shapes_of(outcome, laid.load) for laid in loads]
    most = max(shapes.largest() for shapes in every if shapes is not None)
    return nice_factor(most, outcome.brief.footprint.width)


def _told(outcome: Outcome, key: str) -> str:
    """Return what is said of a member that is tapped."""
    result = outcome.solution.members[key]
    plies = f"{result.plies} x " if result.plies > 1 else ""
    words = f"{key}, {result.role.replace('_', ' ')}, {plies}{result.size}: "
    words += str(result.verdict)
    if result.utilisation is not None:
        words += f", used to {scenery.use_words(outcome, key)}"
    sags = bent.sags_of(outcome, key)
    if sags is not None:
        now, ten, fifty = (
            scenery.sag_words(outcome, sag) for sag in (sags.now, sags.ten, sags.fifty)
        )
        words += f"; sags {now} now, after 10 years {ten}, after 50 {fifty}"
    return words + "."


def _legend() -> str:
    """Return the colours from no use to the limit as little blocks."""
    use = (np.arange(_BANDS) + 0.5) / _BANDS
    colours = palette.colours(use, np.full(_BANDS, State.RATED))
    codes = ("#" + "".join(f"{round(255 * v):02x}" for v in c) for c in colours)
    return "".join(f'<i style="background:{code}"></i>' for code in codes)


def glb_of(
    outcome: Outcome, keys: tuple[str, ...], factor: float, loads: Sequence[Laid]
) -> bytes:
    """Return a roof as binary glTF: morph targets, colours and marks.

    The first three targets are the times under the first load; then one for each
    further load says where it moves the roof instead, on its first day: creep, of what
    lasts, is the same under all.

    Args:
        outcome: the solved roof.
        keys: of its members.
        factor: how many times as large as they are its sags are drawn.
        loads: that the page can show.
    """
    scene = bpy.data.scenes.new("Loadfall Page")
    shown = bpy.context.window.scene
    try:
        bpy.context.window.scene = scene
        made = bent.bent(outcome, keys)
        roof = bpy.data.objects.new("Roof", _roof_mesh(outcome, made))
        scene.collection.objects.link(roof)
        cast.bend(roof, made, factor)
        for laid in loads[1:]:
            key = roof.shape_key_add(name=laid.name, from_mix=False)
            moved = bent.bent(outcome, keys, None, laid.load).moved[0] - made.moved[0]
            key.data.foreach_set("co", (made.vertices + factor * moved).ravel())
        scene.collection.objects.link(bpy.data.objects.new("Walls", _walls(outcome)))
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "roof.glb"
            bpy.ops.export_scene.gltf(
                filepath=str(path),
                export_format="GLB",
                use_active_scene=True,
                export_attributes=True,
                export_normals=False,
                export_materials="NONE",
                export_animations=False,
                export_morph=True,
                export_morph_normal=False,
                export_morph_tangent=False,
            )
            return path.read_bytes()
    finally:
        bpy.context.window.scene = shown
        bpy.data.batch_remove(list(scene.collection.all_objects))
        bpy.data.scenes.remove(scene)


def _roof_mesh(outcome: Outcome, made: Bent) -> bpy.types.Mesh:
    """Return the members' mesh with colours, places and marks for the viewer."""
    results = outcome.solution.members
    shown = marking.shading_of(results[key] for key in made.keys)
    roofing = np.array([results[key].role in _ROOFING for key in made.keys], float)
    pattern = palette.patterns(shown.use, shown.state)
    marks = np.stack([pattern, np.arange(len(made.keys)), roofing], axis=1)
    mesh = bpy.data.meshes.new("Roof")
    mesh.from_pydata(made.vertices.tolist(), [], made.quads.tolist())
    colours = palette.colours(shown.use, shown.state)
    _mark(mesh, colours[made.owner], made.place, marks[made.owner])
    return mesh


def _mark(
    mesh: bpy.types.Mesh, shade: np.ndarray, place: np.ndarray, mark: np.ndarray
) -> None:
    """Write what the viewer reads of every vertex; smooth faces keep it whole."""
    mesh.polygons.foreach_set("use_smooth", np.ones(len(mesh.polygons), dtype=bool))
    mesh.update()
    for name, values in (("_SHADE", shade), ("_PLACE", place), ("_MARK", mark)):
        made = mesh.attributes.new(name, "FLOAT_VECTOR", "POINT")
        made.data.foreach_set("vector", values.astype(np.float32).ravel())


def _walls(outcome: Outcome) -> bpy.types.Mesh:
    """Return the walls, cut away a little under their tops."""
    points: list[list[float]] = []
    quads = []
    for piece in wall_pieces(outcome.brief):
        first = len(points)
        points += piece.corners(_WALL_TOP - piece.top).tolist()
        quads += [tuple(first + k for k in face) for face in FACES]
    mesh = bpy.data.meshes.new("Walls")
    mesh.from_pydata(points, [], quads)
    ones = np.ones((len(points), 1))
    _mark(
        mesh,
        ones * palette.srgb(palette.WALL),
        np.zeros((len(points), 3)),
        ones * np.array([0.0, _WALL, 0.0]),
    )
    return mesh
