"""What the checks need to know of each framed member: bracing, lengths, repetition.

Reads framing and brief; knows no forces.
"""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from ..basis.nds.adjustment import may_be_repetitive
from ..brief.model import Brief, CeilingFinish
from ..checks.inputs import MemberRow
from ..framing.model import Framing, Member, Role
from ..framing.spans import Span
from ..framing.struts import is_held_at_mid, strut_group
from ..framing.trusses import web_truss
from ..hand.strength import strut_slenderness
from ..units import INCH

_CRIPPLES = 16 * INCH
_HELD_BY_RAFTERS = (Role.RIDGE_BEAM, Role.CURB, Role.LEDGER)
_COLUMNS = (
    Role.STRUT,
    Role.POST,
    Role.COLLAR_TIE,
    Role.RAFTER_TIE,
    Role.STUB_JOIST,
    Role.WEB,
    Role.JACK_STUD,
    Role.KNEE_STUD,
)


def member_rows(
    brief: Brief, framing: Framing, keys: tuple[str, ...], spans: dict[str, list[Span]]
) -> list[MemberRow]:
    """Return the check rows of members, in order.

    Args:
        brief: of the roof.
        framing: of the roof.
        keys: members of the analysis, in its order.
        spans: of every bending member.
    """
    strut_joists = _joists_under_struts(framing)
    found = [framing.members[key] for key in keys]
    ends = np.array([(m.nodes[0], m.nodes[-1]) for m in found], dtype=np.int64)
    start, end = framing.points[ends.reshape(-1, 2).T]
    lengths = np.linalg.norm(end - start, axis=1).tolist()
    return [
        _row(brief, framing, member, length, spans.get(member.key, []), strut_joists)
        for member, length in zip(found, lengths, strict=True)
    ]


def _joists_under_struts(framing: Framing) -> set[str]:
    """Return the ceiling joists that a strut or stud stands on between their ends."""
    feet = {m.nodes[0] for m in framing.of_role(Role.STRUT)}
    feet |= {m.nodes[-1] for m in framing.of_role(Role.KNEE_STUD)}
    return {
        m.key for m in framing.of_role(Role.CEILING_JOIST) if feet & set(m.nodes[1:-1])
    }


def _row(
    brief: Brief,
    framing: Framing,
    member: Member,
    length: float,
    spans: list[Span],
    strut_joists: set[str],
) -> MemberRow:
    """Return the check row of one member of a length, m."""
    between = [s.length for s in spans if not s.whole]
    longest = max(between, default=length)
    extra: dict[str, object]
    if member.role in (Role.HIP_RAFTER, Role.VALLEY_RAFTER):
        extra = _hip(framing, member, longest)
    elif member.role is Role.RIDGE_BOARD:
        bay = _widest_joints(framing, member)
        extra = {"le_strong": bay, "le_weak": bay}
    elif member.role in (Role.RAFTER, Role.JACK_RAFTER):
        extra = {
            "is_repetitive": may_be_repetitive(
                brief.rafters.spacing, len(framing.rafter_stations)
            ),
            "unbraced_top": 0.0,
            "unbraced_bottom": math.inf,
            "le_strong": longest,
            "le_weak": 0.0,
        }
    elif member.role is Role.CEILING_JOIST:
        extra = _joist(brief, framing, member, longest, strut_joists)
    elif member.role in _COLUMNS:
        extra = _column(brief, member, length)
    elif member.role is Role.PURLIN:
        extra = {
            "unbraced_top": brief.rafters.spacing,
            "unbraced_bottom": longest,
            "le_strong": longest,
            "le_weak": brief.rafters.spacing,
        }
    elif member.role is Role.PLATE:
        extra = {"unbraced_top": 0.0, "unbraced_bottom": 0.0}
    elif member.role is Role.HEADER:
        extra = _header(longest)
    else:
        held = member.role in _HELD_BY_RAFTERS or any(
            c.lower == member.key for c in framing.contacts
        )
        extra = {
            "unbraced_top": brief.rafters.spacing if held else longest,
            "unbraced_bottom": longest,
            "le_strong": longest,
            "le_weak": longest,
        }
        if member.role in _HELD_BY_RAFTERS:  # rafters on both its sides
            extra["le_weak"] = _widest_joints(framing, member)
    return MemberRow(
        key=member.key,
        role=member.role.value,
        section=extra.pop("section", member.section),  # type: ignore[arg-type]
        species=member.species,
        grade=member.grade,
        length=length,
        **extra,  # type: ignore[arg-type]
    )


def _header(longest: float) -> dict[str, object]:
    """Return bracing of a header: cripple studs and plates hold its top.

    Source: common practice, cripples at the studs' spacing; IRC 2018 R602.7.1 asks
    headers to be laterally braced so (from memory).
    """
    return {
        "unbraced_top": _CRIPPLES,
        "unbraced_bottom": longest,
        "le_strong": longest,
        "le_weak": _CRIPPLES,
    }


def _hip(framing: Framing, member: Member, longest: float) -> dict[str, object]:
    """Return bracing of a hip: its top by sheathing of two planes, its side by jacks.

    It is one of a kind, so no C_r.
    """
    return {
        "unbraced_top": 0.0,
        "unbraced_bottom": math.inf,
        "le_strong": longest,
        "le_weak": _widest_joints(framing, member),
    }


def _widest_joints(framing: Framing, member: Member) -> float:
    """Return the largest distance between neighbouring joints of a member, m."""
    points = framing.points[list(member.nodes)]
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).max())


def _joist(
    brief: Brief,
    framing: Framing,
    member: Member,
    longest: float,
    strut_joists: set[str],
) -> dict[str, object]:
    """Return bracing and repetition of a ceiling joist.

    The load of a strut is not repetitive, so C_r is left off the joist that carries
    one unless the brief keeps it.
    """
    joists = brief.ceiling_joists
    assert joists is not None
    repetitive = may_be_repetitive(joists.spacing, len(framing.joist_stations))
    if member.key in strut_joists and not brief.checks.repetitive_under_struts:
        repetitive = False
    boarded = brief.checks.ceiling_finish is not CeilingFinish.NONE
    return {
        "is_repetitive": repetitive,
        "unbraced_top": math.inf,
        "unbraced_bottom": 0.0 if boarded else math.inf,
        "le_strong": longest,
        "le_weak": 0.0 if boarded else longest,
    }


def _column(brief: Brief, member: Member, length: float) -> dict[str, object]:
    """Return column lengths of a strut, post or tie.

    A T of two pieces is given as a pair of plies with the column lengths that have
    the slenderness of the T about each axis (see ``strut_slenderness``).
    """
    weak = length
    if member.role is Role.WEB and web_truss(brief, member).held_at_mid:
        weak = length / 2
    if member.role is Role.JACK_STUD:
        weak = 0.0  # nailed all along to the king stud
    gambrel = brief.roof.gambrel
    if member.role is Role.KNEE_STUD and gambrel is not None and gambrel.lined:
        weak = 0.0
    if member.role is Role.STRUT:
        group = strut_group(brief, member)
        held = is_held_at_mid(brief, member)
        if held:
            weak = length / 2
        if group.stiffener:
            return _tee(member, length, held)
    return {"le_strong": length, "le_weak": weak, "axial_is_primary": True}


def _tee(member: Member, length: float, held_at_mid: bool) -> dict[str, object]:
    """Return a T-stiffened strut as an equal pair of plies."""
    made = dataclasses.replace(member.section, plies=2)
    weak, strong = strut_slenderness(member.section, length, held_at_mid, True)
    return {
        "section": made,
        "le_strong": strong * made.depth,
        "le_weak": weak * made.total_breadth,
        "axial_is_primary": True,
    }
