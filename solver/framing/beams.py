"""Beams at ceiling level and the posts under them."""

from __future__ import annotations

import numpy as np

from ..basis.sections import section
from ..brief.model import Beam, BeamPlace, FootOn, Post, PostFoot
from ..units import INCH
from .draft import Draft
from .headers import header_at, header_over_gap
from .model import Point, Role, SupportKind
from .plan import (
    TOUCH,
    bearing_under,
    between,
    in_one_place,
    line_of,
    wall_owner,
    wall_stands_at,
)

BEAM_LAYER = "beam"
_FOOT_LAYER = "footing"
CLEAR = 0.75 * INCH  # a beam among the joists stands so far above the ceiling


def beam_key(name: str) -> str:
    """Return the key of a beam."""
    return f"B-{name}"


def post_key(name: str) -> str:
    """Return the key of a post."""
    return f"PO-{name}"


def add_beams(draft: Draft) -> None:
    """Add the beams; each end bears on a wall or a post, or is a loose end."""
    for beam in draft.brief.beams:
        key = beam_key(beam.name)
        start, end = (*beam.start, 0.0), (*beam.end, 0.0)
        added = draft.add(
            key,
            Role.BEAM,
            start,
            end,
            beam,
            layer=BEAM_LAYER,
            up=(0.0, 0.0, 1.0),
            planar=False,
            offset=(0.0, 0.0, _rise(draft, beam)),
            group=beam.name,
            clear=stands_clear(beam),
            spreads=is_spreader(beam),
        )
        if added and not is_spreader(beam):
            _support_ends(draft, beam, key)
            _support_at_walls(draft, beam, key)


def stands_clear(beam: Beam) -> bool:
    """Return whether a beam stands among the joists without touching the ceiling."""
    return beam.place is BeamPlace.FLUSH and not beam.carries_joists


def is_spreader(beam: Beam) -> bool:
    """Return whether a beam bears on joists alone: it spreads and carries nothing."""
    return beam.place in (BeamPlace.ON_JOISTS, BeamPlace.BELOW_JOISTS)


def add_spreader_joints(draft: Draft) -> None:
    """Let every spreader bear on the joists that it crosses, or be bolted to them.

    One on the joists pushes and may lift; one below them holds them both ways.
    """
    for beam in draft.brief.beams:
        key = beam_key(beam.name)
        if not is_spreader(beam) or not draft.has(key):
            continue
        for joist, point in _joists_crossed(draft, beam):
            node = draft.attach(joist, point)
            own = draft.attach(key, point, BEAM_LAYER)
            if beam.place is BeamPlace.ON_JOISTS:
                draft.contact(key, joist, own, node)
            else:
                draft.contact(joist, key, node, own, may_lift=False)


def _joists_crossed(draft: Draft, beam: Beam) -> list[tuple[str, Point]]:
    """Return the joists that a spreader crosses and where, along it."""
    line = line_of(beam)
    found: list[tuple[str, Point]] = []
    for key, piece in draft.members.items():
        if piece.member.role is not Role.CEILING_JOIST:
            continue
        axis = 0 if abs(piece.end[0] - piece.start[0]) > TOUCH else 1
        across = 1 - axis
        if axis == line.along or not line.covers(float(piece.start[across])):
            continue
        if not piece.start[axis] + TOUCH < line.at < piece.end[axis] - TOUCH:
            continue
        at = float(piece.start[across])
        u = min(max(at, line.low), line.high)
        point = (u, line.at, 0.0) if line.along == 0 else (line.at, u, 0.0)
        found.append((key, point))
    return sorted(found, key=lambda pair: pair[1])


def _rise(draft: Draft, beam: Beam) -> float:
    """Return how far the middle of a beam lies above the ceiling line, m."""
    half, joists = section(beam.size).depth / 2, draft.brief.ceiling_joists
    if beam.place is BeamPlace.BELOW_JOISTS:
        return -half
    if beam.place is BeamPlace.FLUSH:
        return half if beam.carries_joists else half + CLEAR
    if beam.carries_joists and beam.place is BeamPlace.UNDER:
        return -half
    return half if joists is None else half + section(joists.size).depth


def _post_at(draft: Draft, x: float, y: float) -> Post | None:
    """Return the post that stands at a plan point."""
    for post in draft.brief.posts:
        if in_one_place(post.at[0], x) and in_one_place(post.at[1], y):
            return post
    return None


def _support_ends(draft: Draft, beam: Beam, key: str) -> None:
    """Let both ends of a beam bear, or name what they stand on nothing."""
    for x, y in (beam.start, beam.end):
        node = draft.attach(key, (x, y, 0.0), BEAM_LAYER)
        owner = bearing_under(draft.brief, x, y)
        if owner is not None:
            draft.support(node, SupportKind.FOOT, owner, key)
            continue
        header = header_at(draft, x, y)
        if header is not None:
            draft.attach(header, (x, y, 0.0), BEAM_LAYER)
        elif _post_at(draft, x, y) is None:
            draft.loose(
                key,
                (x, y, 0.0),
                f"the end of beam {beam.name} has neither wall nor post under it",
            )


def _support_at_walls(draft: Draft, beam: Beam, key: str) -> None:
    """Let a beam bear on every bearing wall that it crosses."""
    line = line_of(beam)
    for wall in draft.brief.walls:
        other = line_of(wall)
        meeting = other.crossed(line.along, line.at)
        if not wall.bearing or meeting is None:
            continue
        at, u = meeting
        if not (between(line.low, at, line.high) and other.covers(u)):
            continue
        point = tuple(draft.joint_near(key, line.point(at)).tolist())
        if wall_stands_at(wall, u):
            node = draft.attach(key, point, BEAM_LAYER)
            draft.support(node, SupportKind.BEARING, wall_owner(wall), key)
            continue
        header = header_over_gap(draft, wall, u)
        if header is not None:
            draft.attach(header, point, BEAM_LAYER)
            draft.attach(key, point, BEAM_LAYER)


def add_posts(draft: Draft) -> None:
    """Add the posts: each under the beam at its place, strut feet or a joist."""
    brief = draft.brief
    feet = [d.member.foot for d in draft.members.values() if d.member.foot]
    used = {foot.name for foot in feet if foot.on is FootOn.POST}
    for post in brief.posts:
        x, y = post.at
        key = post_key(post.name)
        beam = _beam_over(draft, x, y)
        top = (x, y, 0.0)
        joist = None
        if beam is not None:
            draft.attach(beam, top, BEAM_LAYER)
        elif post.name not in used:
            joist = _joist_over(draft, x, y)
        depth = 0.0
        if beam is not None:
            member = draft.members[beam].member
            depth = max(0.0, member.section.depth / 2 - member.offset[2])
        added = draft.add(
            key,
            Role.POST,
            top,
            (x, y, -post.height),
            post,
            layer=BEAM_LAYER,
            end_layer=_FOOT_LAYER,
            up=(0.0, 1.0, 0.0),
            axial_only=True,
            acts=1,
            counted=bool(beam or joist) or post.name in used,
            offset=(0.0, 0.0, -depth),
            group=post.name,
        )
        if not added:
            continue
        foot = draft.node((x, y, -post.height), _FOOT_LAYER)
        if post.foot is PostFoot.NOTHING:
            draft.loose(
                key, (x, y, -post.height), f"post {post.name} stands on nothing"
            )
        else:
            draft.support(foot, SupportKind.FOOT, f"F-{post.name}", key)
        if beam is None:
            head = draft.node(top, BEAM_LAYER)
            draft.support(head, SupportKind.SIDEWAYS, f"F-{post.name}", key)
            if joist is not None:
                draft.contact(joist, key, draft.attach(joist, top), head)
    _stand_as_cantilevers(draft)


def _stand_as_cantilevers(draft: Draft) -> None:
    """Take back the loose ends of beams that two other places hold up."""
    ground = {s.node for s in draft.supports if s.kind is not SupportKind.SIDEWAYS}
    heads = {
        d.stations[0.0] for d in draft.members.values() if d.member.role is Role.POST
    }
    standing = {
        key
        for key, d in draft.members.items()
        if d.member.role is Role.BEAM
        and len({*d.stations.values()} & (ground | heads)) >= 2
    }
    draft.loose_ends = [e for e in draft.loose_ends if e.member not in standing]


def _beam_over(draft: Draft, x: float, y: float) -> str | None:
    """Return the key of the beam that passes over a plan point."""
    for beam in draft.brief.beams:
        line = line_of(beam)
        u, v = (x, y) if line.along == 0 else (y, x)
        if line.covers(u) and in_one_place(v, line.at):
            key = beam_key(beam.name)
            return key if draft.has(key) else None
    return None


def _joist_over(draft: Draft, x: float, y: float) -> str | None:
    """Return the key of the ceiling joist that passes over a plan point."""
    for key, piece in draft.members.items():
        if piece.member.role is not Role.CEILING_JOIST:
            continue
        way = piece.end - piece.start
        length = float(np.hypot(way[0], way[1]))
        gap = np.array([x, y]) - piece.start[:2]
        along = float(gap @ way[:2]) / length
        aside = abs(float(gap[1] * way[0] - gap[0] * way[1])) / length
        if in_one_place(aside, 0.0) and -TOUCH < along < length + TOUCH:
            return key
    return None
