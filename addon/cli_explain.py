"""Write explainers: of a brief that is named, or of two invented houses.

Run by ``build.py explain`` in Blender's module.
"""

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import bpy

from ..solver.brief import read_brief
from . import register, unregister
from .bridge import briefs
from .bridge.pipeline import Outcome, Pipeline
from .cli_demo import bungalow
from .explain import cli

HIP: dict[str, Any] = {
    "schema_version": 1,
    "name": "Hip roof on a spine wall",
    "footprint": {"length": "40 ft", "width": "26 ft"},
    "roof": {"form": "hip", "pitch": "6:12", "overhang": "16 in"},
    "rafters": {"size": "2x8", "spacing": "24 in"},
    "ridge": {"kind": "board", "size": "2x10"},
    "hips": {"size": "2x10"},
    "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    "walls": [{"name": "spine", "start": ["0 ft", "13 ft"], "end": ["40 ft", "13 ft"]}],
    "hip_braces": [{"at": 1.0, "foot": {"on": "wall", "name": "spine"}}],
    "loads": {
        "roof_dead": "10 psf",
        "roof_live": "20 psf",
        "ceiling_dead": "5 psf",
        "snow": {"ground": "30 psf"},
    },
}


def main(out: Path, progress: Callable[[str], None], argv: Sequence[str] = ()) -> None:
    """Write explainers into a folder.

    Args:
        out: the folder, which exists.
        progress: is told what is done.
        argv: ``--brief FILE`` and what ``explain.cli.arguments`` takes.

    Raises:
        SolverError: a brief, or a lesson that was asked for, cannot be had.
    """
    parser = argparse.ArgumentParser(prog="build.py explain")
    parser.add_argument("--brief", type=Path)
    cli.arguments(parser)
    choice = parser.parse_args(list(argv))
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=True)
    register()
    try:
        for outcome, lesson in _roofs(choice):
            told = argparse.Namespace(**vars(choice))
            told.lesson = lesson
            cli.make(outcome, out, told, progress)
            told.page = choice.page = False  # one page, of the first roof
    finally:
        unregister()


def _roofs(choice: argparse.Namespace) -> list[tuple[Outcome, list[str] | None]]:
    """Return the roofs to explain, each with the lessons to make of it."""
    pipeline = Pipeline()
    page_alone = choice.page and not (choice.stills or choice.film or choice.scene)
    if page_alone and not choice.lesson and choice.brief is None:
        return [(pipeline.run(bungalow(mended=False)), None)]
    if choice.brief is not None:
        return [(pipeline.run(briefs.load(str(choice.brief))), choice.lesson)]
    wanted = choice.lesson or list(cli.lessons.LESSONS)
    gable = [key for key in wanted if key not in ("hip", "snow")]
    out: list[tuple[Outcome, list[str] | None]] = []
    if gable:
        out.append((pipeline.run(bungalow(mended=False)), gable))
    hip = [key for key in wanted if key in ("hip", "snow")]
    if hip:
        out.append((pipeline.run(read_brief(HIP)), hip))
    return out
