"""Every stick to cut, one for each ply and length: how long, cut at what angles.

Reads lengths and angles off the drawn pieces of the framing; knows no load.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..basis import steel
from ..basis.sections import PLATE, Section
from ..brief.model import Brief
from ..framing.cuts import seat_below
from ..framing.model import Framing, Member, Role, SupportKind
from ..framing.solids import member_solid
from ..units import FOOT, INCH
from .lengths import longest_stock, splits

Floats = NDArray[np.float64]
_SPLICED = (Role.RIDGE_BOARD, Role.PURLIN, Role.PLATE, Role.CURB)
_SEATED = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.VALLEY_RAFTER,
)


@dataclass(frozen=True, kw_only=True)
class EndAngles:
    """How one end is cut, as a saw is set; all 0 for a square cut.

    Attributes:
        face: rad, on the wide face, between the cut and a square cut: the plumb or
            level cut.
        edge: rad, on the narrow top edge, between the cut and a square cut: the cheek.
        tilt: rad, of the saw blade from square, with the saw on the wide face.
    """

    face: float = 0.0
    edge: float = 0.0
    tilt: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Piece:
    """One stick to cut.

    Attributes:
        member: key of the member that it is of.
        number: of this stick among those of its member, from 1.
        of: how many sticks its member has.
        role: of the member.
        section: dressed, one ply; or the steel plate between plies.
        species, grade: as the brief states them; of a plate ``basis.steel``'s.
        length: m, from long point to long point.
        first, last: cuts of its ends; the first is the south, west or foot end.
        seat: m along the top edge from the first cut to the plumb line through the
            middle of the plate; None where it has no birdsmouth.
        seat_depth: m, plumb depth of the birdsmouth; 0 where it has none.
        spliced: True where it is one length of a longer run.
    """

    member: str
    number: int
    of: int
    role: Role
    section: Section
    species: str
    grade: str
    length: float
    first: EndAngles
    last: EndAngles
    seat: float | None = None
    seat_depth: float = 0.0
    spliced: bool = False

    @property
    def board_feet(self) -> float:
        """Board feet of the stick as cut."""
        return board_feet(self.section, self.length)


def board_feet(made: Section, length: float) -> float:
    """Return the board feet of a length of one ply.

    Source: American Softwood Lumber Standard (PS 20): nominal thickness in inches,
    times nominal width in inches, times length in feet, over 12. Sizes that are not
    nominal are counted as they measure. A steel plate has none. From memory.

    Args:
        made: section; its plies are not counted.
        length: m.
    """
    if made.name.endswith(PLATE):
        return 0.0
    parts = made.name.partition("+")[0].replace("×", "x").replace("X", "x").split("x")
    nominal = all(part.strip().isdecimal() for part in parts)
    wide = (
        [float(part) for part in parts]
        if nominal
        else [made.breadth / INCH, made.depth / INCH]
    )
    return wide[0] * wide[1] * (length / FOOT) / 12


def cut_pieces(brief: Brief, framing: Framing) -> list[Piece]:
    """Return every stick of a framing, in the order of its members.

    Args:
        brief: that the framing was made from.
        framing: of the roof.
    """
    out: list[Piece] = []
    for key in framing.members:
        out += _of_member(brief, framing, key)
    return out


def _of_member(brief: Brief, framing: Framing, key: str) -> list[Piece]:
    """Return the sticks of one member, ply by ply."""
    member = framing.members[key]
    vertices = member_solid(brief, framing, key).vertices.reshape(-1, 8, 3)
    lengths, spliced = _runs(framing, member, vertices[0])
    number, many = 0, len(vertices) * len(lengths)
    out = []
    plies = member.section.plies
    for at, block in enumerate(vertices):
        first, last = _angles(block, np.array(member.up))
        made, species, grade = of_ply(member, at if at < plies else None)
        for n, length in enumerate(lengths):
            number += 1
            out.append(
                Piece(
                    member=key,
                    number=number,
                    of=many,
                    role=member.role,
                    section=made,
                    species=species,
                    grade=grade,
                    length=length,
                    first=first if n == 0 else EndAngles(),
                    last=last if n == len(lengths) - 1 else EndAngles(),
                    seat=_seat(framing, member, block),
                    seat_depth=_seat_depth(framing, member),
                    spliced=spliced,
                )
            )
    return out


def of_ply(member: Member, ply: int | None) -> tuple[Section, str, str]:
    """Return section, species and grade of one ply, or of the plate where None."""
    made = member.section
    if ply is None and made.plate is not None:
        return made.plate, steel.SPECIES, steel.GRADE
    if made.plate is not None:
        made = replace(made, name=made.name.partition("+")[0], plate=None)
    return made, member.species, member.grade


def _runs(
    framing: Framing, member: Member, block: Floats
) -> tuple[tuple[float, ...], bool]:
    """Return the lengths that a ply is made of, and whether it is spliced."""
    axis = _axis(block)
    low = float((block @ axis).min())
    whole = float((block @ axis).max()) - low
    most = longest_stock(member.species)
    if member.role not in _SPLICED or whole <= most:
        return (whole,), False
    marks = None
    if member.role is Role.PURLIN:
        joints = framing.points[_held(framing, member)] + np.array(member.offset)
        marks = [float(v) for v in joints @ axis - low]
    cuts = splits(whole, most, marks)
    edges = [0.0, *cuts, whole]
    return tuple(b - a for a, b in itertools.pairwise(edges)), True


def _held(framing: Framing, member: Member) -> list[int]:
    """Return the nodes of a purlin that stand on something; all where none does."""
    under = (Role.STRUT, Role.POST)
    found = [
        node
        for node in member.nodes
        if any(framing.members[k].role in under for k in framing.by_node[node])
    ]
    return found or list(member.nodes)


def _axis(block: Floats) -> Floats:
    """Return the unit vector along a ply from its first to its last end."""
    way = block[4:].mean(axis=0) - block[:4].mean(axis=0)
    return way / np.linalg.norm(way)


def _angles(block: Floats, up: Floats) -> tuple[EndAngles, EndAngles]:
    """Return how both ends of a ply are cut."""
    axis = _axis(block)
    up = up - axis * float(up @ axis)
    up /= np.linalg.norm(up)
    side = np.cross(up, axis)
    return _end(block[:4], axis, up, side), _end(block[4:], axis, up, side)


def _end(corners: Floats, axis: Floats, up: Floats, side: Floats) -> EndAngles:
    """Return the cut through the four corners of an end."""
    normal = np.cross(corners[2] - corners[0], corners[3] - corners[1])
    normal /= np.linalg.norm(normal)
    along = float(normal @ axis)
    if along < 0:
        normal, along = -normal, -along
    high, wide = float(normal @ up), float(normal @ side)
    return EndAngles(
        face=_clean(math.atan2(high, along)),
        edge=_clean(math.atan2(wide, along)),
        tilt=_clean(math.asin(max(-1.0, min(1.0, wide)))),
    )


def _clean(angle: float) -> float:
    """Return an angle, 0 where it is nothing but rounding."""
    return 0.0 if abs(angle) < 1e-9 else angle


def _seat_node(framing: Framing, member: Member) -> int | None:
    """Return the node of a rafter on an outer plate, None where it has none."""
    if member.role not in _SEATED:
        return None
    for support in framing.supports:
        if support.kind is SupportKind.SEAT and support.node in member.nodes:
            return support.node
    return None


def _seat(framing: Framing, member: Member, block: Floats) -> float | None:
    """Return how far the plumb line over the plate is from the first cut, m.

    Along the top edge, in the middle of the thickness.
    """
    node = _seat_node(framing, member)
    if node is None:
        return None
    axis = _axis(block)
    top = (block[2] + block[3]) / 2
    level = np.array([axis[0], axis[1], 0.0])
    ahead = float((framing.points[node] + np.array(member.offset) - top) @ level)
    return ahead / float(level @ axis)


def _seat_depth(framing: Framing, member: Member) -> float:
    """Return the plumb depth of a birdsmouth, m: what lies below the joint line."""
    if _seat_node(framing, member) is None:
        return 0.0
    return seat_below(framing, member)
