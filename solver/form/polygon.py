"""The roof over any simple outline, each edge with its own pitches.

Every edge's plane rises inward from its plate; the roof is what the planes leave when a
level cut is swept upward from the outline. A gable's face stands plumb, so the ridge
runs out to it; at an inside corner a gable wall goes on inward above the lower roof.
The result is checked: a form that is not a closed roof over its outline is refused.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from ..errors import FramingError
from .assemble import assemble
from .model import Floats, Outline, RoofForm
from .moving import faces_of, whole_points
from .outline import read_outline, same_roof
from .spec import EdgeSpec
from .sweep import UncoveredError, sweep
from .verify import faults
from .weave import weave

STRAIGHT = 1e-9  # a point nearer the line of its neighbours is no corner, m
FAR = 1_000.0  # outlines farther from the origin than this are moved there, m
TRIES = ((1e-7, 1), (1e-8, 1), (1e-6, 1), (1e-7, 2), (1e-6, 3), (1e-9, 4))


def roof_from_outline(
    points: ArrayLike,
    edges: EdgeSpec | Sequence[EdgeSpec],
    holes: Sequence[ArrayLike] = (),
) -> RoofForm:
    """Return the roof over an outline.

    Args:
        points: (n, 2) m, the corners in order, either way round, not closed.
        edges: one spec for all edges, or one for each edge from point i to point i + 1.
        holes: must be empty.

    Raises:
        BriefError: naming the point, edge or field that cannot be used.
        FramingError: no closed roof comes of it, with the reason.
    """
    outline, specs = read_outline(points, edges, holes)
    middle = np.floor(outline.polygon.mean(axis=0))
    shift = middle if np.abs(middle).max() > FAR else np.zeros(2)
    local = outline.polygon - shift
    kept = corners_of(local, specs)
    found: list[str] = []
    for touch, seed in TRIES:
        try:
            form = _attempt(outline, specs, local, shift, kept, touch, seed)
        except UncoveredError as error:
            raise _uncovered(error, outline, kept) from error
        except FramingError as error:
            found.append(str(error))
            continue
        wrong = faults(outline.polygon, form.nodes, form.planes, form.walls)
        if not wrong:
            return form
        found.append("; ".join(wrong))
    raise FramingError(
        f"No closed roof was found over this outline: {found[0]}. "
        "Move the corners there apart, or change one of the pitches."
    )


def _attempt(
    outline: Outline,
    specs: tuple[EdgeSpec, ...],
    local: Floats,
    shift: Floats,
    kept: list[int],
    touch: float,
    seed: int,
) -> RoofForm:
    """Return the roof that one tolerance and one seed give, not yet checked."""
    corners = whole_points(local[kept])
    faces = faces_of(corners, [specs[i] for i in kept], seed)
    swept = sweep(corners, faces)
    nodes, patches = weave(swept, faces, local, kept, touch)
    return assemble(outline, specs, nodes, patches, kept, shift)


def corners_of(polygon: Floats, specs: Sequence[EdgeSpec]) -> list[int]:
    """Return the points where the outline turns or its roof changes."""
    kept: list[int] = []
    count = len(polygon)
    for i in range(count):
        before = polygon[kept[-1] if kept else i - 1]
        side = polygon[(i + 1) % count] - before
        offset = polygon[i] - before
        gap = abs(side[0] * offset[1] - side[1] * offset[0]) / np.hypot(*side)
        if gap > STRAIGHT or not same_roof(specs[i - 1], specs[i]):
            kept.append(i)
    return kept


def _uncovered(
    error: UncoveredError, outline: Outline, kept: list[int]
) -> FramingError:
    """Return the refusal that names the edges as they were given."""
    edges = sorted(int(outline.given[kept[edge]]) for edge in error.edges)
    return FramingError(
        f"The eaves' planes do not cover the plan next to edges {edges}: gables "
        "stand all round a part of it. Give one of them a pitch."
    )
