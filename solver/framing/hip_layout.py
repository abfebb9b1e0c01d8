"""The layout of a hip roof over a rectangle: its form and where rafters stand.

Reads the brief alone. Long sides are laid out from the west end as under a gable; the
ends from their middle, where the king common meets the end of the ridge.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import section
from ..brief.hips import hip_inset
from ..brief.model import Brief, Hips, RoofForm
from ..errors import TableError
from ..form import EdgeSpec, roof_from_rectangle
from ..form import RoofForm as Form
from .plan import TOUCH, beside, in_one_place
from .planes import plane_side

Floats = NDArray[np.float64]
CORNERS = ("SW", "SE", "NE", "NW")
_DEPTHS = ("2x4", "2x6", "2x8", "2x10", "2x12")


@dataclass(frozen=True, eq=False)
class HipLayout:
    """Form and marks of a hip roof.

    Attributes:
        form: its planes and lines.
        marks: by side, (k,) m along the eave: x for S and N, y for W and E.
        inset: m on plan from an end wall to the end of the ridge.
    """

    form: Form
    marks: dict[str, Floats]
    inset: float


def is_hip(brief: Brief) -> bool:
    """Return whether a brief asks for a hip roof."""
    return brief.roof.form is RoofForm.HIP


def end_pitch(brief: Brief) -> float:
    """Return the pitch of the hip ends, rise over run."""
    return brief.roof.end_pitch or brief.roof.pitch


def hip_stock(brief: Brief) -> Hips:
    """Return the lumber of the hips: as stated, or one size deeper than the rafters."""
    if brief.hips is not None:
        return brief.hips
    own, size = brief.rafters, brief.rafters.size
    try:
        depth = section(size).depth
        size = next(s for s in _DEPTHS if section(s).depth > depth + 1e-6)
    except (StopIteration, TableError):
        size = own.size
    return Hips(size=size, species=own.species, grade=own.grade)


def hip_marks(brief: Brief, marks: Floats) -> Floats:
    """Return rafter stations, those within an inch of a ridge end moved to it."""
    inset, marks = hip_inset(brief), marks.copy()
    for end in (inset, brief.footprint.length - inset):
        near = in_one_place(marks, end)
        near[[0, -1]] = False
        marks[near] = end
    return np.unique(marks)


def hip_layout(brief: Brief, marks: Floats) -> HipLayout:
    """Return the layout of a hip roof.

    Args:
        brief: its settled brief.
        marks: (k,) m, stations of the long sides.
    """
    size, roof = brief.footprint, brief.roof
    side = EdgeSpec(roof.pitch, overhang=roof.overhang)
    end = replace(side, pitch=end_pitch(brief))
    form = roof_from_rectangle(size.length, size.width, side, end, side, end)
    west, east = _both_ends(brief, marks)
    return HipLayout(
        form=form,
        marks={
            "S": marks,
            "N": marks,
            "W": west,
            "E": east,
        },
        inset=hip_inset(brief),
    )


def end_marks(brief: Brief, marks: Floats) -> Floats:
    """Return where rafters of either hip end stand, m from the south side."""
    return np.unique(np.concatenate(_both_ends(brief, marks)))


def _both_ends(brief: Brief, marks: Floats) -> tuple[Floats, Floats]:
    """Return the marks of the west end and of the east end."""
    size = brief.footprint
    slant = size.width / 2 / hip_inset(brief)
    return (
        _end_marks(brief, marks * slant),
        _end_marks(brief, (size.length - marks) * slant),
    )


def _end_marks(brief: Brief, across: Floats) -> Floats:
    """Return marks of a hip end, out from its middle both ways.

    A mark that would meet a hip within an inch of a jack of the long side is moved so
    that the two meet.

    Args:
        brief: the brief.
        across: (k,) m, how far from the side wall the jacks of the long sides meet
            the hips.
    """
    half, spacing = brief.footprint.width / 2, brief.rafters.spacing
    count = int(np.floor((half - TOUCH - 1e-9) / spacing))
    away = half - spacing * np.arange(count, 0, -1)  # from the side wall
    near = across[np.abs(across[None, :] - away[:, None]).argmin(axis=1)]
    away = np.where(in_one_place(near, away), near, away)
    away = away[~beside(away, 0.0)]
    return np.concatenate([away, [half], (2 * half - away)[::-1]])


def corner_of(brief: Brief, x: float, y: float) -> str:
    """Return the name of the corner nearest to a plan point, such as ``SW``."""
    size = brief.footprint
    return ("S" if y < size.width / 2 else "N") + ("W" if x < size.length / 2 else "E")


def planes_by_side(form: Form) -> dict[str, int]:
    """Return the id of the plane of each side."""
    return {plane_side(plane): n for n, plane in enumerate(form.planes)}
