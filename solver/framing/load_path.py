"""Which members have no load path at all, found from what meets what.

Receives a framing; names the members that cannot stand and why, in the order in which
one failure brings the next. Makes up no number for them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..brief.model import Brief, JoistDirection, RidgeKind
from ..units import FOOT, INCH
from .common_rafters import rafter_key
from .model import Framing, Member, Role, SupportKind
from .outline.path import folding_rafters, untied_rafters

TIE_SPACING = 4 * FOOT  # the plates hand thrust to ties no farther apart than this
_END_REACH = TIE_SPACING / 2
_PROPS = (Role.POST, Role.JACK_STUD, Role.KNEE_STUD)


@dataclass(frozen=True, eq=False, kw_only=True)
class LoadPath:
    """Members without a load path.

    Attributes:
        faults: member key to the reason, in plain words without a full stop.
        tied: (k,) True for each rafter station that a tie holds.
        untied_rafters: keys of rafters that nobody ties, in order.
    """

    faults: Mapping[str, str]
    tied: np.ndarray
    untied_rafters: tuple[str, ...]


def find_load_path(brief: Brief, framing: Framing) -> LoadPath:
    """Return the members that have no load path.

    A strut on nothing, and whatever stands on a member that has no path, has none; a
    rafter that neither tie nor ridge beam holds has none. Rafters between ties count
    as tied where the ties are at most 4 ft apart (IRC 2018 R802.5.2 for ties, common
    practice for the plates between them).
    """
    faults: dict[str, str] = {}
    for loose in framing.loose_ends:
        faults.setdefault(loose.member, loose.reason)
    if framing.plan is not None:
        for key, why in folding_rafters(framing, framing.plan).items():
            faults.setdefault(key, why)
    carried = framing.by_node
    grows = True
    while grows:
        before = len(faults)
        _follow_supports(framing, faults, carried)
        if framing.plan is not None:
            tied = np.zeros(len(framing.rafter_stations), dtype=bool)
            untied = untied_rafters(framing, framing.plan, faults)
        else:
            tied = _tied_stations(brief, framing, faults)
            untied = _untied_rafters(brief, framing, tied)
        for key in untied:
            faults.setdefault(
                key,
                "its thrust is held by nothing: it has no tie and no structural ridge",
            )
        _drop_what_hangs_on_rafters(framing, faults)
        grows = len(faults) > before
    return LoadPath(faults=faults, tied=tied, untied_rafters=tuple(untied))


def _follow_supports(
    framing: Framing, faults: dict[str, str], carried: Mapping[int, tuple[str, ...]]
) -> None:
    """Name the members that stand on a member without a load path."""
    held = {s.node for s in framing.supports if s.kind is not SupportKind.SIDEWAYS}
    lower = {c.upper_node: c.lower for c in framing.contacts}
    for member in framing.of_role(Role.STRUT):
        foot = member.nodes[0]
        if member.key in faults or foot in held:
            continue
        under = [k for k in carried[foot] if framing.members[k].role is not Role.STRUT]
        if not under:
            faults[member.key] = "nothing stands under its foot"
        elif all(k in faults for k in under):
            faults[member.key] = f"it stands on {under[0]}, which has no load path"
    for member in framing.of_role(Role.CEILING_JOIST, Role.BEAM, Role.HEADER):
        if member.key in faults:
            continue
        ends = [
            _end_fault(framing, member, node, held, lower, carried, faults)
            for node in (member.nodes[0], member.nodes[-1])
        ]
        fault = next((why for why in ends if why), None)
        if fault is None:
            continue
        firm = held | {n for n, key in lower.items() if key not in faults}
        if member.spreads:
            firm |= {
                c.lower_node for c in framing.contacts
                if c.lower == member.key and c.upper not in faults
            }  # fmt: skip
        if not _is_cantilever(framing, member, firm, carried, faults):
            faults[member.key] = fault


def _is_cantilever(
    framing: Framing,
    member: Member,
    held: set[int],
    carried: Mapping[int, tuple[str, ...]],
    faults: Mapping[str, str],
) -> bool:
    """Return whether a beam stands on two places without its ends."""
    if member.role is not Role.BEAM:
        return False
    sound = 0
    for node in member.nodes:
        posts = [k for k in carried[node] if framing.members[k].role in _PROPS]
        sound += node in held or any(k not in faults for k in posts)
    return sound >= 2


def _end_fault(
    framing: Framing,
    member: Member,
    node: int,
    held: set[int],
    lower: dict[int, str],
    carried: Mapping[int, tuple[str, ...]],
    faults: Mapping[str, str],
) -> str | None:
    """Return why the end of a joist or beam is held by nothing, or None."""
    if node in held:
        return None
    if node in lower:
        under = lower[node]
        if under in faults:
            return f"it ends on {under}, which has no load path"
        return None
    headers = [k for k in carried[node] if framing.members[k].role is Role.HEADER]
    if member.role is Role.BEAM and headers:
        if headers[0] in faults:
            return f"it ends on {headers[0]}, which has no load path"
        return None
    posts = [k for k in carried[node] if framing.members[k].role in _PROPS]
    if any(k not in faults for k in posts):
        return None
    if posts:
        return f"it ends on {posts[0]}, which has no load path"
    return "its end stands on nothing"


def _tied_stations(
    brief: Brief, framing: Framing, faults: Mapping[str, str]
) -> np.ndarray:
    """Return which rafter stations have a sound tie from plate to plate."""
    tied = np.zeros(len(framing.rafter_stations), dtype=bool)
    for member in framing.of_role(Role.RAFTER_TIE):
        if member.key not in faults and member.station is not None:
            tied[member.station] = True
    joists = brief.ceiling_joists
    if joists is None or joists.direction is not JoistDirection.ACROSS:
        return tied
    reach: dict[float, float] = {}
    for member in framing.of_role(Role.CEILING_JOIST):
        if member.key in faults:
            continue
        start, end = framing.ends(member.key)
        x = round(float(start[0]), 6)
        reach[x] = reach.get(x, 0.0) + float(end[1] - start[1])
    for k, x in enumerate(framing.rafter_stations):
        span = reach.get(round(float(x), 6), 0.0)
        tied[k] |= span > brief.footprint.width - INCH
    return tied


def _untied_rafters(brief: Brief, framing: Framing, tied: np.ndarray) -> list[str]:
    """Return the rafters whose thrust reaches no tie, in order along each slope."""
    ridge = framing.members.get("RIDGE")
    if brief.ridge.kind is RidgeKind.BEAM and ridge is not None:
        return []
    marks = framing.rafter_stations
    at = marks[tied]
    out = []
    for side in "SN":
        for k, x in enumerate(marks):
            key = rafter_key(side, k)
            if key in framing.members and not (tied[k] or _bracketed(float(x), at)):
                out.append(key)
    return out


def _bracketed(x: float, ties: np.ndarray) -> bool:
    """Return whether the plates can hand the thrust at x to ties near enough."""
    left, right = ties[ties < x], ties[ties > x]
    slack = INCH
    if len(left) and len(right):
        return bool(right[0] - left[-1] <= TIE_SPACING + slack)
    nearest = np.abs(ties - x).min() if len(ties) else np.inf
    return bool(nearest <= _END_REACH + slack)


def _drop_what_hangs_on_rafters(framing: Framing, faults: dict[str, str]) -> None:
    """Name what holds or joins nothing but members without a load path."""
    for member in framing.of_role(Role.COLLAR_TIE, Role.RAFTER_TIE):
        pair = [
            key
            for node in (member.nodes[0], member.nodes[-1])
            for key in framing.by_node[node]
            if framing.members[key].role is Role.RAFTER
        ]
        if any(key in faults for key in pair):
            faults.setdefault(member.key, "the rafters that it joins have no load path")
    for web in framing.of_role(Role.WEB):
        for node in (web.nodes[0], web.nodes[-1]):
            chords = [k for k in framing.by_node[node] if k != web.key]
            firm = [k for k in chords if framing.members[k].role is not Role.WEB]
            if firm and all(key in faults for key in firm):
                faults.setdefault(
                    web.key, f"it joins {firm[0]}, which has no load path"
                )
    for purlin in framing.of_role(Role.PURLIN):
        own = set(purlin.nodes)
        above = [c.upper for c in framing.contacts if c.lower_node in own]
        if all(key in faults for key in above):
            why = "the rafters on it have no load path" if above else "it holds nothing"
            faults.setdefault(purlin.key, why)
    for strut in framing.of_role(Role.STRUT):
        over = f"P-{strut.group}"
        if over in faults:
            faults.setdefault(strut.key, f"it holds {over}, which has no load path")
    for post in framing.of_role(*_PROPS):
        above = [k for k in framing.by_node[post.nodes[0]] if k != post.key]
        if above and all(key in faults for key in above):
            why = f"it holds {above[0]}, which has no load path"
            faults.setdefault(post.key, why)
