"""A lesson as a scene of its own: casts, camera with markers, words, all keyframed.

The user's scene is left alone. Nothing in the new one needs the extension.
"""

from __future__ import annotations

from collections.abc import Callable, Generator
from dataclasses import dataclass, replace
from typing import TypeVar

import bpy
import numpy as np
from mathutils import Matrix, Vector

from ..bridge.walls import FACES, Piece
from ..overlay import palette
from ..picture import stage, words
from ..picture.sheet import Sheet
from . import bodies, cast, edits, ink, titles, winter
from .board import Lesson, Look, Step
from .ink import Style
from .timeline import RATE, Beat, beats, eased, factor_words

SIZE = (1280, 720)
LESSON = "loadfall_lesson"  # custom property of a lesson's scene: its key
WORDS = "Words"  # collection of all that is written before the camera
_WALL_TOP = 0.45  # m of wall that a cut-away leaves
_STRIPES = "Striped: over its limit."  # all that a line drawing has of the legend
_PART_OF_MOVE = np.linspace(0.0, 1.0, 7)

Tell = Callable[[float, str], bool]
"""Is told the part that is done and what is being done; False stops."""
Made_ = TypeVar("Made_")
Steps = Generator[tuple[float, str], None, Made_]
"""Work in steps: yields the part that is done and what comes; returns what it made."""


class StoppedError(Exception):
    """The user stopped what was being made."""


@dataclass(frozen=True)
class Made:
    """A lesson that was built.

    Attributes:
        lesson: its story board.
        scene: its scene, by name.
        beats: frames of its steps.
    """

    lesson: Lesson
    scene: str
    beats: tuple[Beat, ...]


def followed(steps: Steps[Made_], tell: Tell) -> Made_:
    """Return what work in steps makes, done to its end.

    Raises:
        StoppedError: ``tell`` said so; the work has cleaned up behind itself.
    """
    while True:
        try:
            part, words = next(steps)
        except StopIteration as ended:
            return ended.value
        if not tell(part, words):
            steps.close()
            raise StoppedError(words)


def build(
    lesson: Lesson,
    style: Style = Style.SHADED,
    size: tuple[int, int] = SIZE,
    tell: Tell = lambda _part, _words: True,
) -> Made:
    """Return a lesson built as a new scene.

    Args:
        lesson: its story board.
        style: of drawing.
        size: of its picture, pixels.
        tell: is told how far it is.

    Raises:
        StoppedError: ``tell`` said so; what was made of the scene is removed.
    """
    return followed(building(lesson, style, size), tell)


def building(
    lesson: Lesson, style: Style = Style.SHADED, size: tuple[int, int] = SIZE
) -> Steps[Made]:
    """Build a lesson step by step; closed before its end, it removes what it made."""
    scene = bpy.data.scenes.new(f"Explain: {lesson.title}")
    done = False
    try:
        made = yield from _build(lesson, scene, style, size)
        done = True
    finally:
        if not done:
            remove(scene)
    return made


def remove(scene: bpy.types.Scene) -> None:
    """Remove a lesson's scene with all that only it has."""
    bpy.data.batch_remove(list(scene.collection.all_objects))
    for child in list(scene.collection.children):
        bpy.data.collections.remove(child)
    bpy.data.scenes.remove(scene)
    bpy.data.orphans_purge(do_recursive=True)


def _build(
    lesson: Lesson, scene: bpy.types.Scene, style: Style, size: tuple[int, int]
) -> Steps[Made]:
    """Fill a new scene with a lesson."""
    _settings(scene, size, style)
    members = _folder(scene, "Members")
    frames = beats([(step.move, step.hold) for step in lesson.steps])
    scene.frame_start, scene.frame_end = 1, frames[-1].until
    casts: dict[str, bpy.types.Object] = {}
    for n, actor in enumerate(lesson.actors):
        yield 0.3 * n / len(lesson.actors), actor.name
        casts[actor.name] = cast.add_cast(actor, lesson.factor, style, members)
        looks = [step.looks.get(actor.name) for step in lesson.steps]
        if actor.snows:
            dry = casts[actor.name]
            snowy = winter.add(actor, dry, lesson.factor, style, members)
            winter.play(snowy, looks, lesson.steps, frames)
        else:
            _play(casts[actor.name], looks, frames)
    folder = _folder(scene, "Walls")
    for box in lesson.walls:
        _wall(box, palette.WALL, folder)
    for actor in lesson.actors:
        for box in actor.boxes:
            wall = _wall(box, actor.wall_colour, folder)
            for step, beat in zip(lesson.steps, frames, strict=True):
                cast.key_hidden(wall, actor.name not in step.looks, beat.start)
    camera = _camera(scene, lesson, frames)
    sheets = _folder(scene, WORDS)
    sheet = Sheet(camera, size, sheets)
    titles.frame_of_lesson(sheet, lesson.title, lesson.caution)
    for obj in sheets.objects:
        edits.remember(obj)
    for frame in (frames[0].start, frames[0].settled):  # or the first view is not known
        scene.frame_set(frame)
        _update(scene)
    for n, (step, beat) in enumerate(zip(lesson.steps, frames, strict=True)):
        yield 0.3 + 0.7 * n / len(lesson.steps), step.name
        marker = scene.timeline_markers.new(step.name, frame=beat.settled)
        marker.camera = camera
        _say(scene, lesson, sheet, step, beat, style)
        if step.run is not None:
            bodies.add(step.run, beat, _folder(scene, "Bodies"))
    scene.frame_set(frames[0].settled)
    scene[LESSON] = lesson.key
    return Made(lesson, scene.name, frames)


def _settings(scene: bpy.types.Scene, size: tuple[int, int], style: Style) -> None:
    """Set a scene to make pictures and to play."""
    stage.settings(scene, size, samples=4)
    scene.render.use_persistent_data = True
    scene.render.fps = RATE
    paper = "#ffffff" if style is Style.LINES else stage.BACKDROP
    scene.world = stage.sky(paper, is_lit_by=False)


def _folder(scene: bpy.types.Scene, name: str) -> bpy.types.Collection:
    """Return a collection of a scene, made where it is missing."""
    for child in scene.collection.children:
        if child.name.startswith(name):
            return child
    made = bpy.data.collections.new(name)
    scene.collection.children.link(made)
    return made


def _play(
    obj: bpy.types.Object, looks: list[Look | None], frames: tuple[Beat, ...]
) -> None:
    """Keyframe a cast through all steps."""
    before: Look | None = None
    for look, beat in zip(looks, frames, strict=True):
        cast.key_hidden(obj, look is None, beat.start)
        if look is not None:
            came = before or Look(None, look.dim)  # what comes in bends from straight
            for frame, held in ((beat.start, came), (beat.settled, look)):
                weights = {} if held.bend is None else {cast.TIMES[held.bend]: 1.0}
                cast.key_shape(obj, weights, frame)
                cast.key_look(obj, held.dim, frame)
        before = look


def _wall(piece: Piece, colour: str, folder: bpy.types.Collection) -> bpy.types.Object:
    """Return a new piece of wall, cut away a little under its top."""
    mesh = bpy.data.meshes.new(piece.key)
    corners = piece.corners(_WALL_TOP - piece.top)
    mesh.from_pydata(corners.tolist(), [], FACES)
    mesh.materials.append(ink.plain(colour))
    obj = bpy.data.objects.new(piece.key, mesh)
    folder.objects.link(obj)
    return obj


def _camera(
    scene: bpy.types.Scene, lesson: Lesson, frames: tuple[Beat, ...]
) -> bpy.types.Object:
    """Return the camera, keyframed from aim to aim."""
    first = lesson.steps[0].aim
    view = stage.View(first.eye, first.target, lesson.lens)
    camera = stage.add_camera(scene, view, _folder(scene, "Camera"), "Lesson Camera")
    camera.rotation_mode = "QUATERNION"
    if lesson.parallel is not None:
        camera.data.type, camera.data.ortho_scale = "ORTHO", lesson.parallel
    last = first
    for step, beat in zip(lesson.steps, frames, strict=True):
        span = beat.settled - beat.start
        same = last == step.aim
        for part in _PART_OF_MOVE[[0, -1]] if same else _PART_OF_MOVE:
            mix = float(eased(part))
            eye, target = (
                np.array(getattr(last, what)) * (1 - mix)
                + np.array(getattr(step.aim, what)) * mix
                for what in ("eye", "target")
            )
            _aim(camera, eye, target, beat.start + round(part * span))
        last = step.aim
    return camera


def _aim(
    camera: bpy.types.Object, eye: np.ndarray, target: np.ndarray, frame: int
) -> None:
    """Keyframe a camera to look from an eye at a target."""
    turn = Vector(target - eye).to_track_quat("-Z", "Y")
    turn.make_compatible(camera.rotation_quaternion)
    camera.matrix_basis = Matrix.Translation(Vector(eye)) @ turn.to_matrix().to_4x4()
    camera.rotation_quaternion = turn
    cast.key(camera, "location", frame)
    cast.key(camera, "rotation_quaternion", frame)


def _say(
    scene: bpy.types.Scene,
    lesson: Lesson,
    sheet: Sheet,
    step: Step,
    beat: Beat,
    style: Style,
) -> None:
    """Write the words of a step and keyframe when they are there."""
    scene.frame_set(beat.settled)
    _update(scene)
    before = set(sheet.collection.objects)
    large = sheet.height / SIZE[1]
    scale = factor_words(lesson.factor) if step.has_scale else ""
    is_shaded = style is Style.SHADED
    stripes = "" if is_shaded or not step.has_legend else _STRIPES
    taken = titles.notes(sheet, scale, step.note or stripes)
    if step.has_legend and is_shaded:
        width = words.LEGEND_WIDTH * 0.72 * large
        corner = titles.legend_corner(sheet, width, taken)
        taken.append(words.legend(sheet, corner, 0.72 * large))
    taken.append(titles.caption(sheet, step.caption))
    early = set(sheet.collection.objects) - before
    if step.path is not None:
        words.load_path(sheet, sheet.camera, step.path, np.eye(4), large)
    labels = [replace(label, size=label.size * large) for label in step.labels]
    words.write_labels(sheet, sheet.camera, labels, taken, titles.room(sheet))
    for obj in set(sheet.collection.objects) - before:
        obj.name = f"{step.name} {'words' if obj.type == 'FONT' else 'shape'}"
        edits.remember(obj, step.name)
        came = beat.start if obj in early else beat.settled
        cast.key_hidden(obj, True, 0)
        cast.key_hidden(obj, False, came)
        cast.key_hidden(obj, True, beat.until + 1)


def _update(scene: bpy.types.Scene) -> None:
    """Bring all matrices of a scene up to date, whichever window shows it."""
    for layer in scene.view_layers:
        layer.update()
