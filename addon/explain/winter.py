"""Snow that comes and goes: what it presses down, and the snow itself.

The same members stand there twice, shaded with snow and without; one of them is seen at
a time. All of it is plain keyframes on shape keys.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import bpy
import numpy as np

from ..bridge import bent
from . import cast, ink
from .board import Actor, Look, Step
from .ink import Style
from .timeline import TWOS, Beat

SNOW = "Snow"  # shape key: what snow adds
_WHITE = "#ffffff"
_THIN = 0.02  # of the snow: not drawn
_DEEP = 0.22  # m that it is drawn deep
_ON = ("rafter", "jack_rafter")


def add(
    actor: Actor,
    dry: bpy.types.Object,
    factor: float,
    style: Style,
    collection: bpy.types.Collection,
) -> tuple[bpy.types.Object, bpy.types.Object]:
    """Return the members shaded with snow, and the snow that lies on rafters.

    Args:
        actor: who they are; it has a combination with snow.
        dry: the same members shaded without it, which gets the shape key too.
        factor: how many times as large as they are sags are drawn.
        style: of drawing.
        collection: that they are linked to.
    """
    assert actor.snowed is not None
    twin = replace(actor, name=f"{actor.name} in snow", shaded=actor.snowed)
    snowy = cast.add_cast(twin, factor, style, collection)
    both = pressed(actor, actor.keys)
    for obj in (dry, snowy):
        _press(obj, factor * both[1])
    return snowy, _lying(actor, factor, collection)


def pressed(actor: Actor, keys: Sequence[str]) -> tuple[bent.Bent, np.ndarray]:
    """Return members without snow, and (v, 3) m that snow moves their points."""
    dry = bent.bent(actor.outcome, keys, actor.slice, actor.combination)
    wet = bent.bent(actor.outcome, keys, actor.slice, actor.snowed)
    return dry, wet.moved[0] - dry.moved[0]


def _press(obj: bpy.types.Object, moved: np.ndarray) -> None:
    """Give an object the shape key of what snow adds to its shape as framed."""
    key = obj.shape_key_add(name=SNOW, from_mix=False)
    base = np.empty(3 * len(obj.data.vertices), dtype=np.float32)
    obj.data.vertices.foreach_get("co", base)
    key.data.foreach_set("co", base + moved.ravel().astype(np.float32))
    key.value = 0.0


def _lying(
    actor: Actor, factor: float, collection: bpy.types.Collection
) -> bpy.types.Object:
    """Return the snow: white on top of every rafter, thick where its key is at 1."""
    results = actor.outcome.solution.members
    keys = [key for key in actor.keys if results[key].role in _ON]
    made, snow = pressed(actor, keys)
    top = _tops(made.vertices)
    mesh = bpy.data.meshes.new(SNOW)
    mesh.from_pydata(made.vertices[top].tolist(), [], made.quads.tolist())
    mesh.materials.append(ink.plain(_WHITE))
    obj = bpy.data.objects.new(f"{actor.name} {SNOW}", mesh)
    cast.settle(obj, actor, collection)
    at = replace(made, vertices=made.vertices[top], moved=made.moved[:, top])
    cast.bend(obj, at, factor)
    lies = factor * snow[top]
    lies[top != np.arange(len(top)), 2] += 0.01  # not in the rafter's own face
    lies[:, 2] += np.where(_is_top(made.vertices), _DEEP, 0.0)
    _press(obj, lies)
    return obj


def _is_top(vertices: np.ndarray) -> np.ndarray:
    """Return which corners lie on top, of rings of four."""
    rings = vertices.reshape(-1, 4, 3)
    rising = rings[:, 3, 2] > rings[:, 0, 2]
    upper = np.array([[True, True, False, False], [False, False, True, True]])
    return upper[rising.astype(int)].ravel()


def _tops(vertices: np.ndarray) -> np.ndarray:
    """Return for each corner the one on top of it, itself where it is on top."""
    other = np.array([3, 2, 1, 0])
    every = np.arange(len(vertices))
    above = (every.reshape(-1, 4)[:, other]).ravel()
    return np.where(_is_top(vertices), every, above)


@dataclass(frozen=True)
class Moment:
    """How members stand on a frame: weights of their shape keys."""

    frame: int
    weights: dict[str, float]


def moments(
    looks: Sequence[Look | None], steps: Sequence[Step], frames: Sequence[Beat]
) -> list[Moment]:
    """Return the moments between which shapes go on evenly, winter by winter.

    Args:
        looks: of the members in each step; None where they are not there.
        steps: of the lesson.
        frames: of its steps.
    """
    out: list[Moment] = []
    before = Look()
    for look, step, beat in zip(looks, steps, frames, strict=True):
        now = look or before
        out.append(Moment(beat.start, _weights(before.bend, before.snow)))
        aged = before.bend is not None and now.bend is not None
        if step.winters and aged and now.bend > before.bend:
            out += _winters(before, now, step.winters, beat)
        out.append(Moment(beat.settled, _weights(now.bend, now.snow)))
        before = now
    return out


def _winters(before: Look, now: Look, count: int, beat: Beat) -> list[Moment]:
    """Return the middles of winters and of summers on the way to a later time."""
    assert before.bend is not None
    assert now.bend is not None
    out = []
    span = beat.settled - beat.start
    for half in range(1, 2 * count):
        part = half / (2 * count)
        frame = beat.start + TWOS * round(part * span / TWOS)
        aged = bent.crept(before.bend, now.bend, part)
        weights = {
            cast.TIMES[before.bend]: 1.0 - aged,
            cast.TIMES[now.bend]: aged,
            SNOW: float(half % 2),
        }
        out.append(Moment(frame, weights))
    return out


def _weights(bend: int | None, snow: float) -> dict[str, float]:
    """Return the weights of one time."""
    return {SNOW: snow} if bend is None else {cast.TIMES[bend]: 1.0, SNOW: snow}


def play(
    objects: tuple[bpy.types.Object, bpy.types.Object, bpy.types.Object],
    looks: Sequence[Look | None],
    steps: Sequence[Step],
    frames: Sequence[Beat],
) -> None:
    """Keyframe members without snow, with it, and the snow, through all steps.

    Args:
        objects: in that order.
        looks: of the members in each step.
        steps: of the lesson.
        frames: of its steps.
    """
    every = moments(looks, steps, frames)
    for obj in objects:
        for moment in every:
            cast.key_shape(obj, moment.weights, moment.frame)
        for look, beat in zip(looks, frames, strict=True):
            cast.key_look(obj, look.dim if look else 0.0, beat.settled)
    last: tuple[bool, ...] = ()
    for frame, snow in _days(every, frames[-1].until):
        step = max(n for n, beat in enumerate(frames) if beat.start <= frame)
        is_there = looks[step] is not None
        hidden = (snow > 0.5, snow <= 0.5, snow < _THIN)
        hidden = tuple(hide or not is_there for hide in hidden)
        if hidden != last:
            for obj, hide in zip(objects, hidden, strict=True):
                cast.key_hidden(obj, hide, frame)
        last = hidden


def _days(every: Sequence[Moment], until: int) -> list[tuple[int, float]]:
    """Return how much snow lies on each frame that a quick film shows."""
    frames = np.arange(1, until + 1, TWOS)
    at = [moment.frame for moment in every]
    snow = [moment.weights[SNOW] for moment in every]
    found = np.interp(frames, at, snow)
    return list(zip(frames.tolist(), found.tolist(), strict=True))
