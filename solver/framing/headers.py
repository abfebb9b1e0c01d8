"""Headers over openings in bearing walls, and the jack studs that they stand on.

A header runs at the ceiling line, where it is loaded; it is drawn where it is, under
the double top plate. Cripple studs and plates between hand everything straight down.
"""

from __future__ import annotations

from ..basis.sections import section
from ..brief.headers import Header, jack_stock
from ..brief.model import Brief, Wall
from ..units import INCH
from .draft import Draft
from .model import Role, SupportKind
from .plan import beside, between, gap_of, line_of, wall_owner

HEADER_LAYER = "beam"  # as beams: what meets in one place is one joint
_STUD_LAYER = "jack studs"
_PLATES = 3 * INCH  # double top plate


def header_key(wall: str, number: int) -> str:
    """Return the key of the header over an opening, numbered from 1 as stated."""
    return f"HD-{wall}-{number}"


def jack_key(wall: str, number: int, end: int) -> str:
    """Return the key of the jack studs under one end of a header, 1 or 2."""
    return f"JS-{wall}-{number}-{end}"


def jack_bearing(header: Header) -> float:
    """Return how long a header bears on the jack studs under one end, m."""
    made = section(header.jack_size)
    return header.jacks * made.breadth


def headers_of(brief: Brief) -> list[tuple[Wall, int, Header]]:
    """Return wall, number and header of every header that is framed.

    A partition carries nothing, so nothing is framed over its openings.
    """
    return [
        (wall, n, opening.header)
        for wall in brief.walls
        if wall.bearing
        for n, opening in enumerate(wall.openings, start=1)
        if opening.header is not None
    ]


def add_headers(draft: Draft) -> None:
    """Add the headers that the brief states, from jack studs to jack studs.

    A header spans from the middle of one bearing to the middle of the other.
    """
    for wall, number, header in headers_of(draft.brief):
        line, half = line_of(wall), jack_bearing(header) / 2
        low, high = gap_of(wall, wall.openings[number - 1])
        ends = [line.point(low - half), line.point(high + half)]
        key, depth = header_key(wall.name, number), section(header.size).depth
        added = draft.add(
            key,
            Role.HEADER,
            *ends,
            header,
            layer=HEADER_LAYER,
            up=(0.0, 0.0, 1.0),
            planar=False,
            offset=(0.0, 0.0, -_PLATES - depth / 2),
            group=wall.name,
        )
        if added:
            for n, (x, y, _) in enumerate(ends, start=1):
                _add_jacks(draft, wall, header, key, jack_key(wall.name, number, n),
                           (x, y), line.way)  # fmt: skip


def _add_jacks(
    draft: Draft,
    wall: Wall,
    header: Header,
    over: str,
    key: str,
    at: tuple[float, float],
    way: tuple[float, float],
) -> None:
    """Add the jack studs under one end of a header.

    Args:
        draft: it is added to.
        wall: that the opening is in.
        header: of the opening.
        over: key of the header.
        key: of the jack studs.
        at: m on plan.
        way: unit plan vector along the wall.
    """
    top, foot = (*at, 0.0), (*at, -header.jack_length)
    drop = _PLATES + section(header.size).depth
    head = draft.attach(over, top, HEADER_LAYER)
    draft.support(head, SupportKind.SIDEWAYS, wall_owner(wall), over)
    added = draft.add(
        key,
        Role.JACK_STUD,
        top,
        foot,
        jack_stock(header),
        layer=HEADER_LAYER,
        end_layer=_STUD_LAYER,
        up=(-way[1], way[0], 0.0),
        axial_only=True,
        acts=1,
        offset=(0.0, 0.0, -drop),
        group=wall.name,
    )
    if added:
        node = draft.node(foot, _STUD_LAYER)
        draft.support(node, SupportKind.FOOT, wall_owner(wall), key)
    else:
        draft.loose(over, top, f"the jack studs under an end of {over} are taken out")


def header_at(draft: Draft, x: float, y: float) -> str | None:
    """Return the key of the header that passes over a plan point, None without one."""
    for wall, number, _ in headers_of(draft.brief):
        key, line = header_key(wall.name, number), line_of(wall)
        if not draft.has(key):
            continue
        low, high = gap_of(wall, wall.openings[number - 1])
        u, aside = line.place(x, y)
        if between(low, u, high) and beside(aside, 0.0):
            return key
    return None


def header_over_gap(draft: Draft, wall: Wall, u: float) -> str | None:
    """Return the key of the header over a place in a gap of a wall, or None."""
    x, y, _ = line_of(wall).point(u)
    return header_at(draft, x, y) if wall.bearing else None
