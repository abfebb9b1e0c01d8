"""Pictures and film of a lesson that was built.

A film is made of the pictures of its frames: a frame that shows the same as the one
before is not made again, and a quick film holds each picture for two frames.
"""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import bpy

from .bodies import curves_of
from .theatre import Made, Steps, Tell, followed
from .timeline import RATE, TWOS


@dataclass(frozen=True, kw_only=True)
class Quality:
    """How well pictures are made.

    Attributes:
        samples: of each pixel.
        hold: frames of a film that show one picture.
    """

    samples: int
    hold: int


FAST = Quality(samples=4, hold=TWOS)
FINE = Quality(samples=32, hold=1)
PRESETS = {"fast": FAST, "fine": FINE}


def stills(
    made: Made,
    folder: Path,
    quality: Quality = FAST,
    *,
    clear: bool = False,
    tell: Tell = lambda _part, _words: True,
) -> list[Path]:
    """Write one PNG for each step of a lesson.

    Args:
        made: the lesson.
        folder: that they are written into, made where it is missing.
        quality: of the pictures.
        clear: with a transparent background.
        tell: is told how far it is.

    Returns:
        What was written.

    Raises:
        StoppedError: ``tell`` said so.
    """
    return followed(taking_stills(made, folder, quality, clear=clear), tell)


def taking_stills(
    made: Made, folder: Path, quality: Quality = FAST, *, clear: bool = False
) -> Steps[list[Path]]:
    """Write a lesson's stills one by one; see ``stills``."""
    folder.mkdir(parents=True, exist_ok=True)
    scene = bpy.data.scenes[made.scene]
    _prepare(scene, quality, clear=clear)
    out = []
    for n, (step, beat) in enumerate(zip(made.lesson.steps, made.beats, strict=True)):
        yield n / len(made.beats), step.name
        frame = beat.late if step.run is not None else beat.middle
        path = folder / f"{made.lesson.key}-{n + 1}.png"
        _picture(scene, frame, path)
        out.append(path)
    return out


def film(
    made: Made,
    path: Path,
    quality: Quality = FAST,
    *,
    frames: tuple[int, int] | None = None,
    tell: Tell = lambda _part, _words: True,
) -> Path:
    """Write a lesson as an MP4.

    Args:
        made: the lesson.
        path: of the file; its folder is made where it is missing.
        quality: of the pictures.
        frames: first and last; left out, the whole lesson.
        tell: is told how far it is.

    Returns:
        The file.

    Raises:
        StoppedError: ``tell`` said so; no file is left.
    """
    return followed(filming(made, path, quality, frames), tell)


def filming(
    made: Made,
    path: Path,
    quality: Quality = FAST,
    frames: tuple[int, int] | None = None,
) -> Steps[Path]:
    """Write a lesson as a film, picture by picture; see ``film``."""
    path.parent.mkdir(parents=True, exist_ok=True)
    scene = bpy.data.scenes[made.scene]
    _prepare(scene, quality, clear=False)
    first, last = frames or (scene.frame_start, scene.frame_end)
    shown = pictures_of(scene, first, last, quality.hold)
    with tempfile.TemporaryDirectory() as held:
        for n, (frame, _) in enumerate(shown):
            yield n / len(shown), f"picture {n + 1} of {len(shown)}"
            _picture(scene, frame, Path(held) / f"{n:05d}.png")
        _join(scene, Path(held), [count for _, count in shown], path)
    return path


def pictures_of(
    scene: bpy.types.Scene, first: int, last: int, hold: int
) -> list[tuple[int, int]]:
    """Return the frames to make pictures of, and how many frames each one is shown.

    Args:
        scene: of a lesson.
        first: frame of the film.
        last: frame of it.
        hold: frames that a picture is shown at least.
    """
    curves = _curves(scene)
    out: list[tuple[int, int]] = []
    before: tuple[float, ...] | None = None
    for frame in range(first, last + 1, hold):
        count = min(hold, last + 1 - frame)
        state = tuple(round(c.evaluate(frame), 5) for c in curves)
        if state == before:
            out[-1] = out[-1][0], out[-1][1] + count
        else:
            out.append((frame, count))
        before = state
    return out


def _curves(scene: bpy.types.Scene) -> list[bpy.types.FCurve]:
    """Return all that moves in a scene."""
    out = []
    for obj in scene.collection.all_objects:
        out += curves_of(obj)
        shapes = getattr(obj.data, "shape_keys", None)
        if shapes is not None:
            out += curves_of(shapes)
    return out


def _prepare(scene: bpy.types.Scene, quality: Quality, *, clear: bool) -> None:
    """Set a scene to a quality, on ground or on none."""
    bpy.context.window.scene = scene  # no other scene's animation is followed
    scene.cycles.samples = quality.samples
    scene.render.film_transparent = clear
    scene.render.image_settings.color_mode = "RGBA" if clear else "RGB"
    scene.render.image_settings.file_format = "PNG"
    scene.render.image_settings.compression = 15


def _picture(scene: bpy.types.Scene, frame: int, path: Path) -> None:
    """Write the picture of one frame."""
    scene.frame_set(frame)
    scene.render.filepath = str(path)
    bpy.ops.render.render(write_still=True, scene=scene.name)


def _join(
    scene: bpy.types.Scene, folder: Path, counts: Sequence[int], path: Path
) -> None:
    """Join pictures to a film, each shown for so many frames."""
    cutting = bpy.data.scenes.new("Loadfall Cutting")
    try:
        render = cutting.render
        render.resolution_x, render.resolution_y = (
            scene.render.resolution_x,
            scene.render.resolution_y,
        )
        render.resolution_percentage = scene.render.resolution_percentage
        render.fps = RATE
        cutting.view_settings.view_transform = "Standard"
        editor = cutting.sequence_editor_create()
        strips = editor.strips if hasattr(editor, "strips") else editor.sequences
        at = 1
        for n, count in enumerate(counts):
            picture = folder / f"{n:05d}.png"
            strip = strips.new_image(
                name=picture.stem, filepath=str(picture), channel=1, frame_start=at
            )
            strip.frame_final_duration = count
            at += count
        cutting.frame_start, cutting.frame_end = 1, at - 1
        _as_film(render)
        render.filepath = str(path)
        bpy.ops.render.render(animation=True, scene=cutting.name)
    finally:
        bpy.data.scenes.remove(cutting)


def _as_film(render: bpy.types.RenderSettings) -> None:
    """Set a scene to write an MP4 that every phone plays."""
    how = render.image_settings
    if hasattr(how, "media_type"):  # from 5.0 on
        how.media_type = "VIDEO"
    how.file_format = "FFMPEG"
    how.color_mode = "RGB"
    code = render.ffmpeg
    code.format, code.codec, code.audio_codec = "MPEG4", "H264", "NONE"
    code.constant_rate_factor = "HIGH"
    code.ffmpeg_preset = "GOOD"
    code.gopsize = RATE
    render.use_file_extension = False
