"""Roofs as a script would make and change them; the operators call nothing else."""

import bpy

from ...solver.brief import Brief
from ..properties import DIRTY, roof_of
from . import brief_io, members
from .busy import busy
from .pipeline import Outcome
from .session import SESSION


def create(brief: Brief, scene: bpy.types.Scene) -> bpy.types.Object:
    """Return a new roof object for a brief, solved and built.

    Args:
        brief: a validated brief.
        scene: the roof is linked to.

    Raises:
        SolverError: the brief is refused; nothing is left behind.
    """
    with busy(0.0, 1):
        SESSION.pipeline.run(brief)
    roof = bpy.data.objects.new(brief.name, None)
    roof.empty_display_type = "PLAIN_AXES"
    roof.empty_display_size = 1.0 / brief_io.scale_of(scene)
    with DIRTY.paused():
        roof_of(roof).is_roof = True
    members.own_collection(roof, scene)
    brief_io.write(roof_of(roof), brief, brief_io.scale_of(scene))
    SESSION.rebuild(roof, scene)
    return roof


def change(roof: bpy.types.Object, brief: Brief, scene: bpy.types.Scene) -> Outcome:
    """Make a roof what another brief says.

    Raises:
        SolverError: the brief is refused; the roof stays as it was.
    """
    with busy(0.0, 1):
        SESSION.pipeline.run(brief)
    brief_io.write(roof_of(roof), brief, brief_io.scale_of(scene))
    return SESSION.rebuild(roof, scene)


def brief_of(roof: bpy.types.Object, scene: bpy.types.Scene) -> Brief:
    """Return the brief that a roof's properties state.

    Raises:
        BriefError: they state none.
    """
    return brief_io.read(roof_of(roof), brief_io.scale_of(scene))
