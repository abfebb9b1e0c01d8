"""Pictures and film of a lesson that was built.

A film is made of two layers, the stage and the words before it, each rendered only
where it changes: what shows the same as the frame before is not made again, and a quick
film holds each picture of the stage for two frames. So words, which stand still, are
smooth at no cost, and the stage needs few samples.
"""

from __future__ import annotations

import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

import bpy

from . import theatre
from .bodies import curves_of
from .theatre import Made, Steps, Tell, followed
from .timeline import RATE, TWOS


@dataclass(frozen=True, kw_only=True)
class Quality:
    """How well pictures are made.

    Attributes:
        samples: of each pixel of a still, and of a film's words.
        moving: samples of each pixel of a film's stage.
        hold: frames of a film that show one picture.
    """

    samples: int
    moving: int
    hold: int


FAST = Quality(samples=8, moving=2, hold=TWOS)
FINE = Quality(samples=32, moving=32, hold=1)
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
    first, last = frames or (scene.frame_start, scene.frame_end)
    shown = {
        layer: pictures_of(scene, first, last, quality.hold, layer) for layer in Layer
    }
    count = sum(len(frames) for frames in shown.values())
    done = 0
    with tempfile.TemporaryDirectory() as held:
        try:
            for layer in Layer:
                _prepare_layer(scene, quality, layer)
                for n, (frame, _) in enumerate(shown[layer]):
                    yield done / count, f"picture {done + 1} of {count}"
                    _picture(scene, frame, Path(held) / layer.picture(n))
                    done += 1
        finally:
            _show(scene, *Layer)
        _join(scene, Path(held), shown, path)
    return path


class Layer(Enum):
    """The layers of a film, from the one behind."""

    STAGE = "stage"
    WORDS = "words"

    def picture(self, number: int) -> str:
        """Return the file name of one of the layer's pictures."""
        return f"{self.value}-{number:05d}.png"

    def has(self, folder: bpy.types.Collection) -> bool:
        """Return whether a collection of a lesson's scene belongs to the layer."""
        return folder.name.startswith(theatre.WORDS) == (self is Layer.WORDS)


def pictures_of(
    scene: bpy.types.Scene, first: int, last: int, hold: int, layer: Layer
) -> list[tuple[int, int]]:
    """Return the frames to make pictures of, and how many frames each one is shown.

    Args:
        scene: of a lesson.
        first: frame of the film.
        last: frame of it.
        hold: frames that a picture is shown at least.
        layer: that the pictures are of.
    """
    curves = _curves(scene, layer)
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


def _curves(scene: bpy.types.Scene, layer: Layer) -> list[bpy.types.FCurve]:
    """Return all that moves in a layer of a scene."""
    out = []
    for folder in scene.collection.children:
        for obj in folder.all_objects if layer.has(folder) else ():
            out += curves_of(obj)
            shapes = getattr(obj.data, "shape_keys", None)
            if shapes is not None:
                out += curves_of(shapes)
    return out


def _prepare_layer(scene: bpy.types.Scene, quality: Quality, layer: Layer) -> None:
    """Set a scene to show one layer alone, in its quality, words on nothing."""
    is_words = layer is Layer.WORDS
    _prepare(scene, quality, clear=is_words)
    scene.cycles.samples = quality.samples if is_words else quality.moving
    _show(scene, layer)


def _show(scene: bpy.types.Scene, *shown: Layer) -> None:
    """Show some layers of a scene and no other; the camera belongs to all."""
    for view in scene.view_layers:
        for part in view.layer_collection.children:
            part.exclude = not any(layer.has(part.collection) for layer in shown)


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
    scene: bpy.types.Scene,
    folder: Path,
    shown: Mapping[Layer, Sequence[tuple[int, int]]],
    path: Path,
) -> None:
    """Join pictures to a film, each shown for so many frames, words in front."""
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
        for channel, layer in enumerate(Layer, start=1):
            at = 1
            for n, (_, count) in enumerate(shown[layer]):
                picture = folder / layer.picture(n)
                strip = strips.new_image(
                    name=picture.stem, filepath=str(picture), channel=channel,
                    frame_start=at,
                )  # fmt: skip
                strip.frame_final_duration = count
                strip.blend_type = "ALPHA_OVER"
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
