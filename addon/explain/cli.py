"""Explainers without a window: ``blender --command loadfall_explain BRIEF.json``.

The same arguments serve ``build.py explain``.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import bpy

from ..bridge import briefs
from ..bridge.pipeline import Outcome, Pipeline
from . import film, lessons, page, pair, theatre
from .board import Lesson
from .ink import Style

COMMAND = "loadfall_explain"
_LARGEST = 8192  # pixels


def parser() -> argparse.ArgumentParser:
    """Return the parser of the command's arguments."""
    top = argparse.ArgumentParser(
        prog=f"blender --command {COMMAND}",
        description="Write explainers of a roof: stills, films and a web page.",
    )
    top.add_argument("brief", type=Path, help="brief of the roof, a JSON file")
    top.add_argument("--out", type=Path, default=Path("explain"), help="folder")
    arguments(top)
    return top


def arguments(top: argparse.ArgumentParser) -> None:
    """Add what may be chosen of explainers to a parser."""
    names = sorted(lessons.LESSONS)
    top.add_argument(
        "--lesson", action="append", choices=names, help="left out: all that fit"
    )
    top.add_argument(
        "--beside", type=Path, help="brief of another variant, shown beside this one"
    )
    flag = {"action": "store_true"}
    top.add_argument("--stills", **flag, help="a PNG for each step")
    top.add_argument("--film", **flag, help="an MP4 for each lesson")
    top.add_argument("--page", **flag, help="one HTML file with the roof in 3D")
    top.add_argument("--scene", **flag, help="a .blend file for each lesson")
    top.add_argument("--quality", choices=sorted(film.PRESETS), default="fast")
    top.add_argument("--style", choices=[s.value for s in Style], default="shaded")
    top.add_argument("--clear", **flag, help="stills on a transparent background")
    top.add_argument("--size", type=size, default=theatre.SIZE, help="e.g. 1280x720")


def size(text: str) -> tuple[int, int]:
    """Return the size of a picture that is written as WIDTHxHEIGHT.

    Raises:
        argparse.ArgumentTypeError: it is not.
    """
    parts = text.lower().split("x")
    if len(parts) == 2 and all(p.isdigit() for p in parts):
        wide, high = (int(p) for p in parts)
        even = wide % 2 == 0 and high % 2 == 0
        if 64 <= wide <= _LARGEST and 64 <= high <= _LARGEST and even:
            return wide, high
    raise argparse.ArgumentTypeError(
        f"{text}: write two even numbers from 64 to {_LARGEST}, as in 1280x720"
    )


def make(
    outcome: Outcome,
    out: Path,
    choice: argparse.Namespace,
    progress: Callable[[str], None],
) -> list[Path]:
    """Write the chosen explainers of a solved roof; return what was written.

    Args:
        outcome: the solved roof.
        out: the folder, made where it is missing.
        choice: what ``arguments`` parsed; with no kind named, stills are written.
        progress: is told what is done.

    Raises:
        LessonError: a lesson was asked for by name that this roof cannot give.
    """
    out.mkdir(parents=True, exist_ok=True)
    written: list[Path] = []
    if choice.page:
        written.append(page.write(outcome, out / "roof.html"))
        progress(written[-1].name)
    kinds = choice.stills, choice.film, choice.scene
    if choice.page and not any(kinds) and not choice.lesson:
        return written
    quality, pipeline = film.PRESETS[choice.quality], Pipeline()
    for key, told in _told(outcome, choice, pipeline, progress):
        made = theatre.build(told, Style(choice.style), choice.size)
        bpy.context.window.scene = bpy.data.scenes[made.scene]
        if choice.stills or not any(kinds):
            written += film.stills(made, out, quality, clear=choice.clear)
        if choice.film:
            written.append(film.film(made, out / f"{key}.mp4", quality))
        if choice.scene:
            written.append(_save(made, out / f"{key}.blend"))
        progress(f"{key}: {told.title}")
        _leave(made)
    return written


def _told(
    outcome: Outcome,
    choice: argparse.Namespace,
    pipeline: Pipeline,
    progress: Callable[[str], None],
) -> Iterator[tuple[str, Lesson]]:
    """Yield the lessons that were chosen, by key; two variants beside first."""
    if choice.beside is not None:
        other = pipeline.run(briefs.load(str(choice.beside)))
        names = outcome.brief.name, other.brief.name
        yield pair.KEY, pair.compose(outcome, other, names)
        if not choice.lesson:
            return
    for key in choice.lesson or list(lessons.LESSONS):
        try:
            yield key, lessons.lesson(key, outcome, pipeline)
        except lessons.LessonError as error:
            if choice.lesson:
                raise
            progress(f"{key}: left out. {error}")


def _save(made: theatre.Made, path: Path) -> Path:
    """Write a file that opens with a lesson's scene."""
    bpy.context.window.scene = bpy.data.scenes[made.scene]
    bpy.ops.wm.save_as_mainfile(
        filepath=str(path), copy=True, compress=True, check_existing=False
    )
    return path


def _leave(made: theatre.Made) -> None:
    """Go to another scene and remove that of a lesson."""
    scene = bpy.data.scenes[made.scene]
    others = [s for s in bpy.data.scenes if s != scene]
    bpy.context.window.scene = others[0] if others else bpy.data.scenes.new("Scene")
    theatre.remove(scene)


def run(argv: Sequence[str]) -> int:
    """Run the command; return the exit status."""
    try:
        choice = parser().parse_args(list(argv))
    except SystemExit as ended:
        return int(ended.code or 0)
    try:
        outcome = Pipeline().run(briefs.load(str(choice.brief)))
        written = make(outcome, choice.out, choice, _say)
    except (lessons.SolverError, OSError) as error:
        sys.stderr.write(f"{error}\n")
        return 1
    _say(f"Written: {len(written)} files in {choice.out}")
    return 0


def _say(words: str) -> None:
    """Tell what is done."""
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


_HANDLES: list[object] = []


def register() -> None:
    """Make the command known to Blender."""
    _HANDLES.append(bpy.utils.register_cli_command(COMMAND, run))


def unregister() -> None:
    """Take the command away."""
    while _HANDLES:
        bpy.utils.unregister_cli_command(_HANDLES.pop())
