"""The prescriptive audit: every rule on purlins, braces, ridge and ties, one by one.

Receives brief, framing and load path. A rule that is kept is a finding too, because
rule and analysis are two verdicts. Every rule is a function of the
basis, which holds its section and its limit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..basis import irc
from ..basis.sections import section
from ..brief.model import Brief, FootOn, RidgeKind
from ..framing.load_path import LoadPath
from ..framing.model import Framing, Member, Role
from ..framing.plan import bearing_under
from ..framing.purlins import along_purlin
from ..framing.struts import is_held_at_mid, is_hip_brace
from ..units import System, show_length, show_small_length
from .by_number import number_notes
from .cuts import cut_rules
from .landings import landing_words
from .model import Finding, FindingKind, key_range
from .outline import outline_rules

Floats = NDArray[np.float64]
_NAMES = {
    Role.CEILING_JOIST: "ceiling joist",
    Role.BEAM: "beam",
    Role.POST: "post",
    Role.HEADER: "header",
    Role.RAFTER: "rafter",
}


def audit_roof(brief: Brief, framing: Framing, path: LoadPath) -> tuple[Finding, ...]:
    """Return the findings: no load path first, then broken rules, then kept ones."""
    found = [
        *_no_path(path),
        *_purlins(brief, framing),
        *_struts(brief, framing),
        *_ridge(brief, framing),
        *_hips(brief, framing),
        *_ties(brief, framing, path),
        *outline_rules(brief, framing),
        *cut_rules(brief, framing),
        *number_notes(brief, framing),
        *_notes(framing, len(brief.hip_braces) if framing.form is None else 0),
    ]
    order = {FindingKind.NO_LOAD_PATH: 0, FindingKind.RULE: 1, FindingKind.NOTE: 2}
    return tuple(sorted(found, key=lambda f: (order[f.kind], f.passed is not False)))


def _no_path(path: LoadPath) -> Iterator[Finding]:
    """Yield one finding for each reason that leaves members without a load path."""
    by_reason: dict[str, list[str]] = {}
    for key, reason in path.faults.items():
        by_reason.setdefault(reason, []).append(key)
    for reason, keys in by_reason.items():
        named = key_range(tuple(keys))
        if set(keys) <= set(path.untied_rafters):
            words = f"Rafters {named} have no tie and no structural ridge."
        else:
            words = f"{named}: {reason}."
        yield Finding(
            kind=FindingKind.NO_LOAD_PATH,
            rule="no_load_path",
            section="statics",
            members=tuple(keys),
            passed=False,
            value=reason,
            limit="a way for the load to the foundation",
            words=words,
        )


def _rule(
    brief: Brief,
    rule: str,
    members: tuple[str, ...],
    result: irc.RuleResult,
    more: str = "",
) -> Finding:
    """Return a finding of one rule of the code.

    Args:
        brief: says the units.
        rule: short stable name.
        members: keys of the members that it is about.
        result: of the rule.
        more: a further sentence.
    """
    who = key_range(members) or "The roof"
    verb = "keeps" if result.passed else "breaks"
    value, limit = _in_units(result, brief.units)
    words = f"{who}: {result.quantity} {value}, {limit} asked; {verb} {result.section}."
    return Finding(
        kind=FindingKind.RULE,
        rule=rule,
        section=result.section,
        members=members,
        passed=result.passed,
        value=value,
        limit=limit,
        words=f"{words} {more}".strip(),
    )


def _in_units(result: irc.RuleResult, system: System) -> tuple[str, str]:
    """Return value and limit of a rule in the units of the brief."""
    if system is System.METRIC:
        for ending, show in (('"', show_length), (" in", show_small_length)):
            if result.value.endswith(ending):
                side = " ".join(result.limit.split()[:2])
                allowed = show(result.allowed, system)
                return show(result.measured, system), f"{side} {allowed}"
    return result.value, result.limit


def _purlins(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on purlins: as deep as the rafters, braces near enough."""
    rafter = section(brief.rafters.size)
    for purlin in framing.of_role(Role.PURLIN):
        key = (purlin.key,)
        size = irc.purlin_size(purlin.section.depth, rafter.depth)
        yield _rule(brief, "purlin_size", key, size)
        places = sorted(
            along_purlin(framing, purlin.key, framing.ends(m.key)[1])
            for m in framing.of_role(Role.STRUT, Role.WEB)
            if m.group == purlin.group
        )
        widest = float(np.diff([0.0, *places, framing.length(purlin.key)]).max())
        yield _rule(brief, "brace_spacing", key, irc.brace_spacing(widest))


def _struts(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on each strut: size, angle, unbraced length, foot."""
    for strut in framing.of_role(Role.STRUT):
        if is_hip_brace(strut):
            continue
        foot, top = framing.ends(strut.key)
        level = float(np.hypot(*(top - foot)[:2]))
        height = float(top[2] - foot[2])
        length = math.hypot(level, height)
        made, key = strut.section, (strut.key,)
        size = irc.brace_size(made.total_breadth, made.depth)
        yield _rule(brief, "brace_size", key, size)
        angle = irc.brace_angle(math.atan2(height, level))
        needed = (
            f"With this foot the purlin must be {show_length(level, brief.units)} high."
        )
        there = landing_words(brief, framing, strut)
        more = "" if angle.passed else f"{needed} {there}"
        yield _rule(brief, "brace_angle", key, angle, more)
        unbraced = length / 2 if is_held_at_mid(brief, strut) else length
        short = irc.brace_unbraced_length(unbraced)
        more = there if angle.passed and not short.passed else ""
        yield _rule(brief, "brace_length", key, short, more)
        on = irc.brace_foot(*_foot(brief, framing, strut))
        more = there if angle.passed and short.passed and not on.passed else ""
        yield _rule(brief, "brace_foot", key, on, more)


def _foot(brief: Brief, framing: Framing, strut: Member) -> tuple[str, bool]:
    """Return what a brace stands on, in words, and whether that is a bearing wall."""
    node = strut.nodes[0]
    x, y, _ = framing.points[node]
    wall = bearing_under(brief, float(x), float(y))
    if strut.foot is not None and strut.foot.on is FootOn.POINT:
        return "a stated point that nothing here vouches for", False
    if wall is not None:
        return f"bearing wall {wall.removeprefix('W-')}", True
    for key in framing.by_node[node]:
        role = framing.members[key].role
        if role in _NAMES:
            return f"{_NAMES[role]} {key}", False
    return "nothing", False


def _ridge(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on the ridge: a board's depth and thickness, and its pitch."""
    ridge = framing.members.get("RIDGE")
    if ridge is None or brief.ridge.kind is RidgeKind.BEAM:
        return
    pitch, key = brief.roof.pitch, ("RIDGE",)
    rafter = section(brief.rafters.size).depth
    depth = irc.ridge_board_depth(ridge.section.depth, rafter, pitch)
    yield _rule(brief, "ridge_depth", key, depth)
    thick = irc.ridge_board_thickness(ridge.section.breadth)
    yield _rule(brief, "ridge_thickness", key, thick)
    yield _rule(brief, "ridge_may_be_board", key, irc.ridge_may_be_board(pitch))


def _hips(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on hips: depth, thickness, and what holds them at the ridge."""
    hips = framing.of_role(Role.HIP_RAFTER, Role.VALLEY_RAFTER)
    if not hips:
        return
    rafter, steep = section(brief.rafters.size).depth, _steepest(brief, framing)
    for hip in hips:
        key = (hip.key,)
        depth = irc.hip_valley_depth(hip.section.depth, rafter, steep)
        yield _rule(brief, "hip_depth", key, depth)
        thick = irc.hip_valley_thickness(hip.section.breadth)
        yield _rule(brief, "hip_thickness", key, thick)
        how, held = _at_ridge(brief, framing, hip)
        found = irc.hip_valley_held_at_ridge(held, how)
        yield _rule(brief, "hip_at_ridge", key, found)
    if not framing.of_role(Role.STUB_JOIST) and framing.plan is None:
        yield _end_feet(framing)


def _steepest(brief: Brief, framing: Framing) -> float:
    """Return the steepest pitch of the roof, which has the deepest cut ends."""
    if framing.plan is not None:
        return max(plane.pitch for plane in framing.plan.form.planes)
    return max(brief.roof.pitch, brief.roof.end_pitch or 0.0)


def _at_ridge(brief: Brief, framing: Framing, hip: Member) -> tuple[str, bool]:
    """Return what holds a hip at the ridge end, in words, and whether it is enough."""
    for strut in framing.of_role(Role.STRUT):
        if strut.nodes[-1] == hip.nodes[-1] and is_hip_brace(strut):
            words, is_wall = _foot(brief, framing, strut)
            return f"{strut.key} on {words}", is_wall
    return "nothing but the hips and the ridge themselves", False


def _end_feet(framing: Framing) -> Finding:
    """Return the note that the feet of end rafters have no tie along the ridge."""
    feet = tuple(
        m.key
        for m in framing.of_role(Role.RAFTER, Role.JACK_RAFTER)
        if m.slope in ("W", "E")
    )
    return Finding(
        kind=FindingKind.NOTE,
        rule="end_feet",
        section="statics",
        members=feet,
        passed=None,
        value="the plates, bent sideways",
        limit="stub joists or kickers, strapped over the ceiling joists",
        words="No tie runs along the ridge to the feet of the end rafters "
        f"{key_range(feet)}: only the bending of plates PL-W and PL-E holds their "
        "push.",
    )


def _ties(brief: Brief, framing: Framing, path: LoadPath) -> Iterator[Finding]:
    """Yield the rules on ties: their spacing along the plates, and their height."""
    if brief.ridge.kind is RidgeKind.BOARD and path.tied.any():
        widest = float(np.diff(framing.rafter_stations[path.tied]).max(initial=0.0))
        yield _rule(brief, "tie_spacing", (), irc.rafter_tie_spacing(widest))
    ties = framing.of_role(Role.RAFTER_TIE)
    if ties and brief.rafter_ties is not None:
        keys = tuple(m.key for m in ties)
        height = irc.rafter_tie_height(brief.rafter_ties.height_ratio)
        yield _rule(brief, "rafter_tie_height", keys, height)
    collars = framing.of_role(Role.COLLAR_TIE)
    if collars and brief.collar_ties is not None:
        keys = tuple(m.key for m in collars)
        height = irc.collar_tie_height(brief.collar_ties.height_ratio)
        yield _rule(brief, "collar_tie_height", keys, height)
        spacing = irc.collar_tie_spacing(_widest(framing, collars))
        yield _rule(brief, "collar_tie_spacing", keys, spacing)


def _widest(framing: Framing, ties: list[Member]) -> float:
    """Return how far apart two ties of one ridge are that follow each other, m."""
    rows: dict[str, list[Floats]] = {}
    for tie in ties:
        middle = np.mean(framing.ends(tie.key), axis=0)
        rows.setdefault(tie.key.rpartition("-")[0], []).append(middle)
    gaps = [
        float(np.linalg.norm(b - a)) for row in rows.values() for a, b in pairwise(row)
    ]
    return max(gaps, default=0.0)


def _notes(framing: Framing, idle_braces: int) -> Iterator[Finding]:
    """Yield notes: changes, posts and hip braces that come to nothing."""
    if idle_braces:
        yield Finding(
            kind=FindingKind.NOTE,
            rule="hip_braces_idle",
            section="brief",
            members=(),
            passed=None,
            value=f"{idle_braces} stated",
            limit="a hip roof",
            words="The hip braces stated were left out: this roof has no hips.",
        )
    for post in framing.of_role(Role.POST):
        if not post.counted:
            yield Finding(
                kind=FindingKind.NOTE,
                rule="post_idle",
                section="brief",
                members=(post.key,),
                passed=None,
                value="nothing",
                limit="a beam or a strut that stands on it",
                words=f"Post {post.group} carries nothing: no beam and no strut "
                "stands on it.",
            )
    for key, why in framing.change_notes.items():
        whole = key in framing.dropped_overrides or key not in framing.change_holders
        what = "was dropped" if whole else "was dropped in part"
        yield Finding(
            kind=FindingKind.NOTE,
            rule="override_dropped",
            section="brief",
            members=(),
            passed=None,
            value=key,
            limit="the key of a member",
            words=f"The change stated for {key} {what}: {why}.",
        )
