"""Small bodies that go down a roof: one for so many pounds, plain keyframed objects."""

from __future__ import annotations

import bpy
import numpy as np

from ..bridge import shading
from ..bridge.ways import Run, Way
from ..overlay import palette
from . import cast
from .timeline import RATE, TWOS, Beat

SPEED = 2.6  # m a second at most
_LEAST = 2.4  # s that the longest way takes, so that short ones are seen too
_RADIUS = 0.085  # m
_COLOUR, _RIM = "#ffd83d", "#17191f"
_MANY, _FROM_FAR = 40, 1.5  # so many are a whole roof, and drawn so much larger
_PILE = 0.15  # m from body to body in a pile


def add(run: Run, beat: Beat, collection: bpy.types.Collection) -> None:
    """Send bodies on their way while a step holds.

    They set off one after the other and are gone when they reach the ground; those that
    a member cannot carry stay on it and pile up.
    """
    mesh = _ball()
    hold = beat.until - beat.settled
    far = max(_length(way) for way in run.ways)
    speed = min(SPEED, far / _LEAST)
    longest = far / speed * RATE
    apart = max(0.0, hold * 0.92 - longest) / max(len(run.ways), 1)
    heaps: dict[str, int] = {}
    large = _FROM_FAR if len(run.ways) > _MANY else 1.0
    for n, way in enumerate(run.ways):
        obj = bpy.data.objects.new(f"Body {n + 1}", mesh)
        collection.objects.link(obj)
        obj.scale = (large,) * 3
        start = beat.settled + TWOS * round(n * apart / TWOS)
        place = way.points
        if way.stops_at:
            count = heaps.get(way.stops_at, 0)
            heaps[way.stops_at] = count + 1
            place = np.vstack([place, place[-1] + _in_pile(count)])
        _send(obj, place, start, beat, speed=speed, stays=bool(way.stops_at))


def _length(way: Way) -> float:
    """Return the length of a way, m."""
    return float(np.linalg.norm(np.diff(way.points, axis=0), axis=1).sum())


def _in_pile(count: int) -> np.ndarray:
    """Return where the next body of a pile lies, m from its foot: threes and ones."""
    layer, rest = divmod(count, 4)
    ring = np.array([(0, -1), (0, 1), (1, 0), (-1, 0)][rest]) * _PILE * 0.62
    return np.array([ring[0], ring[1], _RADIUS + 0.12 + layer * _PILE])


def _send(
    obj: bpy.types.Object,
    points: np.ndarray,
    start: int,
    beat: Beat,
    *,
    speed: float,
    stays: bool,
) -> None:
    """Keyframe a body along a line at one speed, m a second."""
    lengths = np.linalg.norm(np.diff(points, axis=0), axis=1)
    frames = start + np.concatenate([[0.0], np.cumsum(lengths)]) / speed * RATE
    last = None
    for point, frame in zip(points, frames, strict=True):
        whole = round(float(frame))
        if whole == last:
            continue
        obj.location = point.tolist()
        cast.key(obj, "location", whole)
        last = whole
    _straight(obj)
    cast.key_hidden(obj, True, 0)
    cast.key_hidden(obj, False, start)
    gone = beat.until + 1 if stays else min(round(float(frames[-1])), beat.until + 1)
    cast.key_hidden(obj, True, gone)


def _straight(obj: bpy.types.Object) -> None:
    """Let keyframes of a place be joined by straight lines, at one speed."""
    for curve in curves_of(obj):
        if curve.data_path == "location":
            for point in curve.keyframe_points:
                point.interpolation = "LINEAR"


def curves_of(data: bpy.types.ID) -> list[bpy.types.FCurve]:
    """Return the animation curves of a data-block, in every version."""
    held = data.animation_data
    if held is None or held.action is None:
        return []
    if not hasattr(held, "action_slot"):
        return list(held.action.fcurves)
    return [
        curve
        for layer in held.action.layers
        for strip in layer.strips
        for bag in strip.channelbags
        if bag.slot_handle == held.action_slot_handle
        for curve in bag.fcurves
    ]


def _ball() -> bpy.types.Mesh:
    """Return the mesh of a body in this file, made where it is missing."""
    name = "Loadfall Body"
    found = bpy.data.meshes.get(name)
    if found is not None and found.library is None:
        return found
    turns, rings = 12, 7
    points = [(0.0, 0.0, _RADIUS)]
    for k in range(1, rings):
        z, r = np.cos(np.pi * k / rings), np.sin(np.pi * k / rings)
        for t in range(turns):
            angle = 2 * np.pi * t / turns
            points.append(
                (_RADIUS * r * np.cos(angle), _RADIUS * r * np.sin(angle), _RADIUS * z)
            )
    points.append((0.0, 0.0, -_RADIUS))
    faces: list[tuple[int, ...]] = []
    for t in range(turns):
        after = (t + 1) % turns
        faces.append((0, 1 + t, 1 + after))
        for k in range(rings - 2):
            a, b = 1 + k * turns, 1 + (k + 1) * turns
            faces.append((a + t, b + t, b + after, a + after))
        low = 1 + (rings - 2) * turns
        faces.append((low + after, low + t, len(points) - 1))
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata(points, [], faces)
    mesh.materials.append(_material())
    return mesh


def _material() -> bpy.types.Material:
    """Return the bodies' material: one colour with a dark rim, whatever the light."""
    name = "Loadfall Body"
    found = bpy.data.materials.get(name)
    if found is not None and found.library is None:
        return found
    made = bpy.data.materials.new(name)
    if made.node_tree is None:
        made.use_nodes = True
    made.node_tree.nodes.clear()
    n = shading.Nodes(made.node_tree)
    facing = n.add("ShaderNodeLayerWeight").outputs["Facing"]
    rim = n.math("GREATER_THAN", facing, 0.55)
    body, dark = (
        (*(float(v) for v in palette.to_linear(palette.srgb(code))), 1.0)
        for code in (_COLOUR, _RIM)
    )
    glow, out = n.add("ShaderNodeEmission"), n.add("ShaderNodeOutputMaterial")
    n.tree.links.new(n.mix(rim, body, dark), glow.inputs["Color"])
    n.tree.links.new(glow.outputs[0], out.inputs["Surface"])
    made.diffuse_color = body
    shading.light_nothing(made)
    return made
