"""Snow that comes and goes: what it presses down, and the snow itself.

The same members stand there once for each way that snow lies, shaded by its load, and
once without; one of them is seen at a time. All of it is plain keyframes on shape keys.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import bpy
import numpy as np

from ..bridge import bent, snowfall
from ..bridge.bent import Bent, Lasting
from ..bridge.snowfall import Snow
from . import cast, ink
from .board import Actor, Look, Step
from .ink import Style
from .timeline import TWOS, Beat

LIES = "Snow"  # name of the object that is the snow
_WHITE = "#ffffff"
_THIN = 0.02  # of the snow: not drawn
_ON = ("rafter", "jack_rafter")


@dataclass(frozen=True)
class Snowy:
    """Members without snow and with each, and the snow.

    Attributes:
        members: objects by the name of the snow that lies; "" where none does.
        lying: the snow itself.
    """

    members: dict[str, bpy.types.Object]
    lying: bpy.types.Object


def add(
    actor: Actor,
    dry: bpy.types.Object,
    factor: float,
    style: Style,
    collection: bpy.types.Collection,
) -> Snowy:
    """Return the members shaded with each snow, and the snow that lies on rafters.

    Args:
        actor: who they are; snows lie on them.
        dry: the same members shaded without any, which gets the shape keys too.
        factor: how many times as large as they are sags are drawn.
        style: of drawing.
        collection: that they are linked to.
    """
    members = {"": dry}
    for name, snow in actor.snows.items():
        twin = replace(
            actor, name=f"{actor.name}: {name}", shaded=snow.combination, snows={}
        )
        members[name] = cast.add_cast(twin, factor, style, collection)
    for name, snow in actor.snows.items():
        moved = factor * pressed(actor, actor.keys, snow)[1]
        for obj in members.values():
            _press(obj, name, moved)
    return Snowy(members, _lying(actor, factor, style, collection))


def pressed(actor: Actor, keys: Sequence[str], snow: Snow) -> tuple[Bent, np.ndarray]:
    """Return members without snow, and (v, 3) m that a snow moves their points."""
    dry = bent.bent(actor.outcome, keys, actor.slice, actor.combination)
    under = Lasting(snow.combination)
    wet = bent.bent(actor.outcome, keys, actor.slice, under)
    return dry, wet.moved[0] - dry.moved[0]


def _press(obj: bpy.types.Object, name: str, moved: np.ndarray) -> None:
    """Give an object the shape key of what a snow adds to its shape as framed."""
    key = obj.shape_key_add(name=name, from_mix=False)
    base = np.empty(3 * len(obj.data.vertices), dtype=np.float32)
    obj.data.vertices.foreach_get("co", base)
    key.data.foreach_set("co", base + moved.ravel().astype(np.float32))
    key.value = 0.0


def _lying(
    actor: Actor, factor: float, style: Style, collection: bpy.types.Collection
) -> bpy.types.Object:
    """Return the snow on every rafter, as deep as it lies where its key is at 1."""
    results = actor.outcome.solution.members
    keys = [key for key in actor.keys if results[key].role in _ON]
    made = bent.bent(actor.outcome, keys, actor.slice, actor.combination)
    top = _tops(made.vertices)
    at = replace(made, vertices=made.vertices[top], moved=made.moved[:, top])
    mesh = cast.mesh_of(f"{actor.name} {LIES}", at)
    cast.paint(mesh, _WHITE)
    mesh.materials.append(ink.material(style, _WHITE))
    obj = bpy.data.objects.new(f"{actor.name} {LIES}", mesh)
    cast.settle(obj, actor, collection)
    cast.bend(obj, at, factor)
    is_under = top != np.arange(len(top))
    for name, snow in actor.snows.items():
        lies = factor * pressed(actor, keys, snow)[1][top]
        lies[is_under, 2] += 0.01  # not in the rafter's own face
        deep = _depth(actor, made, snow)
        lies[:, 2] += np.where(is_under, 0.0, np.maximum(deep, 0.0))
        _press(obj, name, lies)
    return obj


def _depth(actor: Actor, made: Bent, snow: Snow) -> np.ndarray:
    """Return (v,) m, how deep a snow lies at the points of rafters."""
    out = np.zeros(len(made.vertices))
    for n, key in enumerate(made.keys):
        mine = made.owner == n
        out[mine] = snowfall.depths(actor.outcome, key, snow, made.place[mine, 0])
    return out


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
    looks: Sequence[Look | None],
    steps: Sequence[Step],
    frames: Sequence[Beat],
    even: str,
) -> list[Moment]:
    """Return the moments between which shapes go on evenly, winter by winter.

    Args:
        looks: of the members in each step; None where they are not there.
        steps: of the lesson.
        frames: of its steps.
        even: name of the snow that comes and goes in passing winters.
    """
    out: list[Moment] = []
    before = Look()
    for look, step, beat in zip(looks, steps, frames, strict=True):
        now = look or before
        out.append(Moment(beat.start, _weights(before.bend, before.snow)))
        aged = before.bend is not None and now.bend is not None
        if step.winters and aged and now.bend > before.bend:
            out += _winters(before, now, step.winters, beat, even)
        out.append(Moment(beat.settled, _weights(now.bend, now.snow)))
        before = now
    return out


def _winters(
    before: Look, now: Look, count: int, beat: Beat, snow: str
) -> list[Moment]:
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
            snow: float(half % 2),
        }
        out.append(Moment(frame, weights))
    return out


def _weights(bend: int | None, snow: str) -> dict[str, float]:
    """Return the weights of one time, with a snow or none."""
    out = {} if bend is None else {cast.TIMES[bend]: 1.0}
    return {**out, snow: 1.0} if snow else out


def play(
    snowy: Snowy,
    looks: Sequence[Look | None],
    steps: Sequence[Step],
    frames: Sequence[Beat],
) -> None:
    """Keyframe members without snow, with each, and the snow, through all steps.

    Args:
        snowy: the objects.
        looks: of the members in each step.
        steps: of the lesson.
        frames: of its steps.
    """
    names = [name for name in snowy.members if name]
    every = moments(looks, steps, frames, names[0])
    for obj in (*snowy.members.values(), snowy.lying):
        for moment in every:
            cast.key_shape(obj, moment.weights, moment.frame)
        for look, beat in zip(looks, frames, strict=True):
            cast.key_look(obj, look.dim if look else 0.0, beat.settled)
    seen: dict[str, bool] = {}
    for frame, deep in _days(every, names, frames[-1].until):
        step = max(n for n, beat in enumerate(frames) if beat.start <= frame)
        most = max(names, key=lambda name: deep[name])
        lies = most if deep[most] > 0.5 else ""
        shown = {name: name == lies for name in snowy.members}
        shown[LIES] = sum(deep.values()) > _THIN
        shown = {k: is_it and looks[step] is not None for k, is_it in shown.items()}
        for key, is_shown in shown.items():
            if seen.get(key) is not is_shown:
                obj = snowy.members.get(key, snowy.lying)
                cast.key_hidden(obj, not is_shown, frame)
        seen = shown


def _days(
    every: Sequence[Moment], names: Iterable[str], until: int
) -> list[tuple[int, dict[str, float]]]:
    """Return how much of each snow lies on each frame that a quick film shows."""
    frames = np.arange(1, until + 1, TWOS)
    at = [moment.frame for moment in every]
    deep = {
        name: np.interp(frames, at, [m.weights.get(name, 0.0) for m in every])
        for name in names
    }
    return [
        (int(frame), {name: float(deep[name][n]) for name in deep})
        for n, frame in enumerate(frames)
    ]
