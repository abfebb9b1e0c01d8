"""The drawn pieces: prisms with plumb, level and square cuts, in place.

Receives a framing; returns geometry alone. The joint lines of the analysis meet on
lines; the drawn pieces bear on faces, so each is set off its joint line here.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import Section, section
from ..brief.model import Brief, JoistDirection
from ..units import INCH
from .hip_cuts import hip_cuts, is_cut_here
from .model import Framing, Member, Role
from .outline import cuts as outline
from .struts import is_hip_brace, strut_group
from .web_solids import web_cuts, web_line

Floats = NDArray[np.float64]

LAP = 4 * INCH  # how far a lapped joist runs past its bearing line
HEEL = 1.75 * INCH  # from the plate line to the outer end of a joist
_PLY_GAP = 0.0005  # m, so that plies read as plies
_LEVEL, _ACROSS = np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0])

# Corners: 0-3 around the start, 4-7 around the end, outward faces.
_FACES = (
    (0, 3, 2, 1),
    (4, 5, 6, 7),
    (0, 1, 5, 4),
    (1, 2, 6, 5),
    (2, 3, 7, 6),
    (3, 0, 4, 7),
)


@dataclass(frozen=True, eq=False)
class Solid:
    """A drawn piece.

    Attributes:
        vertices: (8 p, 3) m, world axes, eight for each of p plies, a steel plate
            between them last; within eight the first four lie around the start.
        faces: vertex indices of the quads, outward.
        along: (8 p,) 0 at the start of the joint line, 1 at its end, unclamped.
    """

    vertices: Floats
    faces: tuple[tuple[int, int, int, int], ...]
    along: Floats


@dataclass(frozen=True)
class _Cut:
    """A cutting plane through a point."""

    point: Floats
    normal: Floats


@dataclass(frozen=True, eq=False)
class _Part:
    """A piece before it is cut: its drawn middle line, its section and its two cuts."""

    start: Floats
    end: Floats
    member: Member
    cuts: tuple[_Cut, _Cut]


def solids(
    brief: Brief, framing: Framing, keys: Iterable[str] | None = None
) -> dict[str, Solid]:
    """Return the drawn pieces of some members, of every one where none are named."""
    named = tuple(framing.members if keys is None else keys)
    parts = [_part(brief, framing, key) for key in named]
    return dict(zip(named, _made(parts), strict=True))


def member_solid(brief: Brief, framing: Framing, key: str) -> Solid:
    """Return the drawn piece of one member.

    Args:
        brief: the brief that the framing was made from.
        framing: the framing.
        key: of the member.
    """
    return _made([_part(brief, framing, key)])[0]


def _part(brief: Brief, framing: Framing, key: str) -> _Part:
    """Return a piece before it is cut."""
    member = framing.members[key]
    if member.role is Role.STRUT:
        start, end, member = _strut_line(brief, framing, member)
    elif member.role is Role.WEB:
        start, end = web_line(brief, framing, member)
    else:
        start, end = framing.ends(key)
        offset = np.array(member.offset)
        start, end = start + offset, end + offset
        if member.role is Role.KNEE_STUD:
            end[2] = carrier_top(brief, framing, member.nodes[-1], key)
    return _Part(start, end, member, _cuts(brief, framing, member, start, end))


def _made(parts: list[_Part]) -> list[Solid]:
    """Return the drawn pieces, cut all at once."""
    if not parts:
        return []
    start, end = np.array([p.start for p in parts]), np.array([p.end for p in parts])
    axis = end - start
    length = np.linalg.norm(axis, axis=1)
    axis /= length[:, None]
    up = np.array([p.member.up for p in parts], dtype=float)
    up -= axis * np.einsum("ni,ni->n", up, axis)[:, None]
    up /= np.linalg.norm(up, axis=1)[:, None]
    side = np.cross(up, axis)
    sections = [p.member.section for p in parts]
    blocks = [len(_corners(s)) for s in sections]
    row = np.repeat(np.arange(len(parts)), blocks)
    corners = np.array([c for s in sections for c in _corners(s)])  # (r, 4, 2)
    lines = start[row, None] + corners[:, :, :1] * side[row, None]
    lines = lines + corners[:, :, 1:] * up[row, None]
    point = np.array([[c.point for c in p.cuts] for p in parts])[row, :, None]
    normal = np.array([[c.normal for c in p.cuts] for p in parts])[row]
    reach = np.einsum("rkji,rki->rkj", point - lines[:, None], normal)
    reach /= np.einsum("ri,rki->rk", axis[row], normal)[:, :, None]
    met = lines[:, None] + reach[..., None] * axis[row, None, None]
    vertices = met.reshape(-1, 8, 3)
    along = np.einsum("rvi,ri->rv", vertices - start[row, None], axis[row])
    along /= length[row, None]
    last = np.cumsum(blocks)
    return [
        Solid(
            vertices[n - count : n].reshape(-1, 3),
            _faces(count),
            along[n - count : n].ravel(),
        )
        for n, count in zip(last.tolist(), blocks, strict=True)
    ]


@lru_cache(maxsize=64)
def _faces(plies: int) -> tuple[tuple[int, int, int, int], ...]:
    """Return the quads of so many plies."""
    return tuple(
        tuple(8 * ply + v for v in face)  # type: ignore[misc]
        for ply in range(plies)
        for face in _FACES
    )


@lru_cache(maxsize=256)
def _corners(made: Section) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return the corners of each ply, sideways and upward from the middle line, m.

    A steel plate between the plies comes last.
    """
    half = made.breadth / 2 - (_PLY_GAP if made.plies > 1 else 0.0)
    apart = 0.0 if made.plate is None else made.plate.breadth / 2
    boxes = []
    for ply in range(made.plies):
        middle = (ply - (made.plies - 1) / 2) * made.breadth
        boxes.append((middle + math.copysign(apart, middle), half, made.depth / 2))
    if made.plate is not None:
        boxes.append((0.0, apart, made.plate.depth / 2))
    return tuple(
        ((x - w, -high), (x + w, -high), (x + w, high), (x - w, high))
        for x, w, high in boxes
    )


def _cuts(
    brief: Brief, framing: Framing, member: Member, start: Floats, end: Floats
) -> tuple[_Cut, _Cut]:
    """Return the two end cuts of a drawn piece."""
    if outline.is_cut_here(framing, member):
        first, last = outline.outline_cuts(framing, member, start, end)
        return _Cut(*first), _Cut(*last)
    if is_cut_here(framing, member):
        first, last = hip_cuts(brief, framing, member, start, end)
        return _Cut(*first), _Cut(*last)
    if member.role is Role.RAFTER:
        ridge = section(brief.ridge.size, brief.ridge.plies).total_breadth / 2
        toward = -1.0 if member.slope == "S" else 1.0
        face = end + np.array([0.0, toward * ridge, 0.0])
        return _Cut(start, _ACROSS), _Cut(face, _ACROSS)
    if member.role is Role.STRUT:
        under = _LEVEL
        if is_hip_brace(member) and not _at_ridge_end(framing, member):
            under = np.array(framing.members[str(member.group)].up)
        return _Cut(start, _LEVEL), _Cut(end, under)
    if member.role is Role.WEB:
        first, last = web_cuts(brief, framing, member, start, end)
        return _Cut(*first), _Cut(*last)
    axis = (end - start) / math.dist(start, end)
    if member.role is Role.CEILING_JOIST:
        ends = framing.ends(member.key)
        outer = [_is_outer(brief, point) for point in ends]
        past = [HEEL if flag else LAP for flag in outer]
        hung = _hung_ends(framing, member)
        past = [
            p if back is None else -back for p, back in zip(past, hung, strict=True)
        ]
        return _Cut(start - axis * past[0], axis), _Cut(end + axis * past[1], axis)
    if member.role in (Role.COLLAR_TIE, Role.RAFTER_TIE):
        reach = section(brief.rafters.size).depth / 3
        if framing.plan is not None and framing.of_role(Role.CURB):
            reach = member.section.depth  # past the curb, beside the lower rafter
        return _Cut(start - axis * reach, axis), _Cut(end + axis * reach, axis)
    return _Cut(start, axis), _Cut(end, axis)


def _hung_ends(framing: Framing, joist: Member) -> list[float | None]:
    """Return how far short of its joint each end stops that hangs in a beam, m."""
    beams = {m.key: m for m in framing.of_role(Role.BEAM) if m.offset[2] > 0}
    if not beams:
        return [None, None]
    held = {
        c.upper_node: beams[c.lower]
        for c in framing.contacts
        if c.lower in beams and c.upper_node in joist.nodes
    }
    found = [held.get(node) for node in (joist.nodes[0], joist.nodes[-1])]
    return [None if b is None else b.section.overall_breadth / 2 for b in found]


def _is_outer(brief: Brief, point: Floats) -> bool:
    """Return whether a joist end lies on the outer wall that its line runs into."""
    joists = brief.ceiling_joists
    across = joists is None or joists.direction is JoistDirection.ACROSS
    axis, edge = (1, brief.footprint.width) if across else (0, brief.footprint.length)
    return bool(min(abs(point[axis]), abs(edge - point[axis])) < INCH)


def _strut_line(
    brief: Brief, framing: Framing, member: Member
) -> tuple[Floats, Floats, Member]:
    """Return the drawn line of a strut: from what it stands on to the purlin's edge."""
    foot, top = (p.copy() for p in framing.ends(member.key))
    foot[2] = carrier_top(brief, framing, member.nodes[0], member.key)
    if is_hip_brace(member):
        aside = np.array(member.offset)
        foot, top = foot + aside, top + aside
        top[2] += _hip_under(framing, str(member.group))
        if _at_ridge_end(framing, member):  # the hips fall away over its corners
            size = member.section
            reach = np.hypot(size.total_breadth, size.depth) / 2 + np.hypot(*aside[:2])
            top[2] -= reach * _hip_slope(framing, str(member.group))
    else:
        purlin = framing.members[f"P-{member.group}"]
        top[2] += purlin.offset[2] - purlin.section.depth / 2
    group = strut_group(brief, member)
    if group.stiffener and member.section.plies == 1:
        member = dataclasses.replace(member, section=section(group.size, 2))
    return foot, top, member


def _at_ridge_end(framing: Framing, brace: Member) -> bool:
    """Return whether a hip brace stands under the end of the ridge."""
    return brace.nodes[-1] == framing.members[str(brace.group)].nodes[-1]


def _hip_under(framing: Framing, hip: str) -> float:
    """Return how far the underside of a drawn hip lies above its joint line, plumb."""
    member = framing.members[hip]
    plumb = member.section.depth * float(np.hypot(1.0, _hip_slope(framing, hip)))
    return member.offset[2] - plumb / 2


def _hip_slope(framing: Framing, hip: str) -> float:
    """Return the rise over run of a hip."""
    start, end = framing.ends(hip)
    return float((end[2] - start[2]) / np.hypot(*(end - start)[:2]))


def carrier_top(brief: Brief, framing: Framing, node: int, strut: str) -> float:
    """Return the height of the face that a strut foot stands on, m."""
    for key in framing.by_node.get(node, ()):
        member = framing.members[key]
        if key == strut:
            continue
        if member.role in (Role.CEILING_JOIST, Role.BEAM):
            return member.offset[2] + member.section.depth / 2
    return 0.0
