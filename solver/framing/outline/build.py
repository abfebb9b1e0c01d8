"""Framing of a drawn outline, step by step in the order a framer would take."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np

from ...units import FOOT
from ..beams import add_beams, add_posts
from ..draft import Draft
from ..headers import add_headers
from ..model import Role, SupportKind
from .braces import add_braces
from .breaks import hold_breaks
from .holds import plan_holds
from .joists import JoistLines, add_joists
from .lines import add_lines, line_keys, stiffen_ridges
from .plates import add_plates
from .purlins import add_purlins
from .rafters import add_plane_rafters
from .struts import add_struts
from .stubs import add_stub_joists
from .ties import add_ties

_NEAR = 1 * FOOT  # the plate hands thrust so far to a joist beside a rafter
_ALONG = np.cos(np.radians(30))


def frame_outline(draft: Draft) -> None:
    """Add all members of a drawn outline to a draft, and complete its plan."""
    plan = draft.plan
    assert plan is not None
    plan = replace(plan, lines=line_keys(plan))
    add_lines(draft, plan)
    add_plates(draft, plan)
    add_plane_rafters(draft, plan)
    stiffen_ridges(draft, plan)
    add_headers(draft)
    add_beams(draft)
    joists = add_joists(draft, plan)
    hold_breaks(draft)
    add_ties(draft, plan)
    add_struts(draft, plan, add_purlins(draft, plan))
    add_braces(draft, plan)
    add_stub_joists(draft, plan)
    add_posts(draft)
    draft.plan = replace(
        plan,
        holds=plan_holds(draft, plan, joists),
        widths=joists.widths,
        mouths=joists.mouths,
        tied=_tied(draft, joists),
    )


def _tied(draft: Draft, joists: JoistLines) -> dict[str, bool]:
    """Return whether a whole line of joists ties the wall within a foot of a common.

    It runs from plate to plate, and within 30 degrees of the rafter's own direction. A
    rafter tie on the common itself ties it as well.
    """
    tied = {
        node
        for piece in draft.members.values()
        if piece.member.role is Role.RAFTER_TIE
        for node in piece.stations.values()
    }
    ends: list[tuple[np.ndarray, np.ndarray]] = []
    for keys, plates in joists.lines:
        if plates < 2:
            continue
        pieces = [draft.members[key] for key in keys]
        if any(not _meet(a, b) for a, b in pairwise(pieces)):
            continue
        for piece, at in ((pieces[0], 0), (pieces[-1], -1)):
            node = sorted(piece.stations.items())[at][1]
            way = (piece.end - piece.start)[:2]
            ends.append((np.array(draft.points[node]), way / np.hypot(*way)))
    points = np.array([point for point, _ in ends]).reshape(-1, 3)
    ways = np.array([way for _, way in ends]).reshape(-1, 2)
    seats = {s.node for s in draft.supports if s.kind is SupportKind.SEAT}
    out = {}
    for key, piece in draft.members.items():
        if piece.member.role is not Role.RAFTER:
            continue
        up = (piece.end - piece.start)[:2]
        along = np.abs(ways @ (up / np.hypot(*up))) > _ALONG
        feet = [node for node in piece.stations.values() if node in seats]
        out[key] = bool(tied & set(piece.stations.values())) or any(
            bool((along & near).any())
            for node in feet
            for near in [np.linalg.norm(points - draft.points[node], axis=1) < _NEAR]
        )
    return out | _tied_below(draft, out)


def _tied_below(draft: Draft, tied: dict[str, bool]) -> dict[str, bool]:
    """Return whether rafters above a break lean on ones below it that are tied."""
    tops = {
        piece.stations[max(piece.stations)]: key
        for key, piece in draft.members.items()
        if key in tied
    }
    out = {}
    for key in tied:
        stations = draft.members[key].stations
        below = tops.get(stations[min(stations)])
        if below is not None:
            out[key] = tied[below]
    return out


def _meet(one: object, other: object) -> bool:
    """Return whether two pieces of a line share a joint."""
    nodes = [set(piece.stations.values()) for piece in (one, other)]  # type: ignore[attr-defined]
    return bool(nodes[0] & nodes[1])
