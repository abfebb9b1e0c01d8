"""From closed faces to the frozen form.

Names the lines, puts the overhangs on, numbers the planes. Moves no node.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .lines import name_lines, uphill_of
from .model import (
    Floats,
    LineKind,
    Outline,
    RoofForm,
    RoofLine,
    RoofPlane,
    RoofWall,
)
from .overhang import overhang_polygons
from .spec import EdgeSpec
from .weave import Patch


def assemble(
    outline: Outline,
    specs: tuple[EdgeSpec, ...],
    nodes: Floats,
    patches: Sequence[Patch],
    kept: Sequence[int],
    shift: Floats,
) -> RoofForm:
    """Return the form of closed faces.

    Args:
        outline: the plan.
        specs: of every edge of the outline.
        nodes: (N, 3) m, the outline's points first, from the shifted origin.
        patches: the closed faces, by swept edges.
        kept: the outline's point at which each swept edge starts.
        shift: (2,) m, the shifted origin.
    """
    nodes = nodes + np.array([*shift, 0.0])
    nodes[: len(outline.polygon), :2] = outline.polygon
    edges_of = _edges_of(kept, len(outline.polygon))
    sloped = [p for p in patches if p.faces[0].pitch is not None]
    plumb = [p for p in patches if p.faces[0].pitch is None]
    cycles = [_from_its_foot(p, len(outline.polygon), nodes) for p in sloped]
    lines = name_lines(nodes, [*sloped, *plumb], len(outline.polygon), edges_of)
    eaves_of: list[list[int]] = [[] for _ in sloped]
    for index, line in enumerate(lines):
        if line.kind is LineKind.EAVE:
            eaves_of[line.planes[0]].append(index)
    reached = overhang_polygons(nodes, cycles, lines, specs)
    planes = tuple(
        _plane(patch, cycle, nodes, flat, lines, eaves, edges_of)
        for patch, cycle, flat, eaves in zip(
            sloped, cycles, reached, eaves_of, strict=True
        )
    )
    walls = tuple(
        RoofWall(
            edges_of[p.faces[0].edge][0],
            p.faces[0].tier,
            np.array(p.cycle),
            nodes[list(p.cycle)],
        )
        for p in plumb
    )
    return RoofForm(outline, specs, nodes, planes, walls, tuple(lines))


def _edges_of(kept: Sequence[int], count: int) -> list[list[int]]:
    """Return the outline's edges that each swept edge is made of."""
    ends = [*kept[1:], kept[0] + count]
    return [
        [edge % count for edge in range(start, end)]
        for start, end in zip(kept, ends, strict=True)
    ]


def _from_its_foot(patch: Patch, count: int, nodes: Floats) -> tuple[int, ...]:
    """Return a plane's nodes from the start of its first eave on, or its lowest."""
    cycle = patch.cycle
    for i, node in enumerate(cycle):
        if node < count and cycle[(i + 1) % len(cycle)] == (node + 1) % count:
            return cycle[i:] + cycle[:i]
    low = int(np.argmin(nodes[list(cycle), 2]))
    return cycle[low:] + cycle[:low]


def _plane(
    patch: Patch,
    cycle: tuple[int, ...],
    nodes: Floats,
    reached: Floats,
    lines: Sequence[RoofLine],
    eaves: list[int],
    edges_of: list[list[int]],
) -> RoofPlane:
    """Return one plane of the form."""
    face = patch.faces[0]
    pitch, uphill = face.pitch or 0.0, uphill_of(face)
    normal = np.array([*(-pitch * uphill), 1.0]) / np.sqrt(1 + pitch**2)
    points = nodes[list(cycle)]
    rise = pitch * ((reached - points[0, :2]) @ uphill)
    on_outline = {line.edge for line in (lines[i] for i in eaves)}
    edges = sorted({e for f in patch.faces for e in edges_of[f.edge]})
    own = tuple(e for e in edges if e in on_outline) or tuple(edges)
    return RoofPlane(
        own,
        face.tier,
        pitch,
        np.array(cycle),
        points,
        np.column_stack([reached, points[0, 2] + rise]),
        normal,
        uphill,
        tuple(eaves),
    )
