"""The prescriptive audit: every rule on purlins, braces, ridge and ties, one by one.

Receives brief, framing and load path. A rule that is kept is a finding too, because
rule and analysis are two verdicts. Sections and limits are those of ``code``.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ..basis.sections import section
from ..brief.model import Brief, FootOn, RidgeKind, Struts
from ..framing.load_path import LoadPath
from ..framing.model import Framing, Member, Role
from ..framing.plan import bearing_under
from ..framing.struts import strut_group
from ..units import INCH, show_length, show_pitch
from . import code
from .model import Finding, FindingKind, key_range

_NAMES = {
    Role.CEILING_JOIST: "ceiling joist",
    Role.BEAM: "beam",
    Role.POST: "post",
    Role.RAFTER: "rafter",
}
_TINY = 1e-6


def audit_roof(brief: Brief, framing: Framing, path: LoadPath) -> tuple[Finding, ...]:
    """Return the findings: no load path first, then broken rules, then kept ones."""
    found = [
        *_no_path(path),
        *_purlins(brief, framing),
        *_struts(brief, framing),
        *_ridge(brief, framing),
        *_ties(brief, framing, path),
        *_notes(framing),
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
    rule: str,
    section_: str,
    members: tuple[str, ...],
    passed: bool,
    value: str,
    limit: str,
    words: str,
) -> Finding:
    """Return a finding of one rule."""
    return Finding(
        kind=FindingKind.RULE,
        rule=rule,
        section=section_,
        members=members,
        passed=passed,
        value=value,
        limit=limit,
        words=words,
    )


def _purlins(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on purlins: as deep as the rafters, struts near enough."""
    rafter = section(brief.rafters.size)
    for purlin in framing.of_role(Role.PURLIN):
        deep = purlin.section.depth >= rafter.depth - _TINY
        yield _rule(
            "purlin_size",
            code.PURLINS,
            (purlin.key,),
            deep,
            purlin.section.name,
            f"at least {rafter.name}, the rafters' size",
            f"Purlin {purlin.key} is a {purlin.section.name} under {rafter.name} "
            f"rafters: {'as deep as they are' if deep else 'not as deep as they are'}.",
        )
        places = sorted(
            float(framing.ends(m.key)[1][0])
            for m in framing.of_role(Role.STRUT)
            if m.group == purlin.group
        )
        start, end = (float(p[0]) for p in framing.ends(purlin.key))
        gaps = np.diff([start, *places, end]) if places else np.array([end - start])
        widest = float(gaps[1:-1].max(initial=0.0)) if len(places) > 1 else 0.0
        widest = max(widest, float(max(gaps[0], gaps[-1])))
        near = widest <= code.BRACE_SPACING + INCH / 8
        yield _rule(
            "brace_spacing",
            code.PURLINS,
            (purlin.key,),
            near,
            show_length(widest),
            f"at most {show_length(code.BRACE_SPACING)}",
            f"The braces of purlin {purlin.key} are up to {show_length(widest)} apart.",
        )


def _struts(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on each strut: size, angle, unbraced length, foot."""
    for strut in framing.of_role(Role.STRUT):
        foot, top = framing.ends(strut.key)
        level = float(np.hypot(*(top - foot)[:2]))
        height = float(top[2] - foot[2])
        angle = math.degrees(math.atan2(height, level))
        length = math.hypot(level, height)
        group = strut_group(brief, strut)
        unbraced = length / 2 if group.held_at_mid else length
        key = (strut.key,)
        least = section(code.LEAST_BRACE)
        big = (
            strut.section.total_breadth >= least.breadth - _TINY
            and strut.section.depth >= least.depth - _TINY
        )
        yield _rule(
            "brace_size", code.PURLINS, key, big, strut.section.name,
            f"at least {code.LEAST_BRACE}", f"Brace {strut.key} is a "
            f"{strut.section.name}.",
        )  # fmt: skip
        steep = angle >= code.BRACE_ANGLE - 1e-6
        needed = show_length(level)
        more = "" if steep else f" With this foot the purlin must be {needed} high."
        yield _rule(
            "brace_angle", code.PURLINS, key, steep, f"{angle:.1f} degrees from level",
            f"at least {code.BRACE_ANGLE:g} degrees",
            f"Brace {strut.key} stands at {angle:.1f} degrees from level.{more}",
        )  # fmt: skip
        short = unbraced <= code.BRACE_LENGTH + INCH / 16
        yield _rule(
            "brace_length", code.PURLINS, key, short, show_length(unbraced),
            f"at most {show_length(code.BRACE_LENGTH)} unbraced",
            f"Brace {strut.key} is {show_length(unbraced)} long between holds.",
        )  # fmt: skip
        yield _foot(brief, framing, strut, group)


def _foot(brief: Brief, framing: Framing, strut: Member, group: Struts) -> Finding:
    """Return the rule on where a brace stands."""
    node = strut.nodes[0]
    x, y, _ = framing.points[node]
    wall = bearing_under(brief, float(x), float(y))
    under = next(
        (
            framing.members[key]
            for key in framing.by_node[node]
            if framing.members[key].role in _NAMES
        ),
        None,
    )
    if wall is not None and group.foot.on is not FootOn.POINT:
        on, good = f"bearing wall {wall.removeprefix('W-')}", True
    elif under is not None:
        on, good = f"{_NAMES[under.role]} {under.key}", False
    elif group.foot.on is FootOn.POINT:
        on, good = "a stated point that nothing here vouches for", False
    else:
        on, good = "nothing", False
    return _rule(
        "brace_foot", code.PURLINS, (strut.key,), good, on, "a bearing wall",
        f"Brace {strut.key} stands on {on}.",
    )  # fmt: skip


def _ridge(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on the ridge: depth of a board, and no board under 3:12."""
    ridge = framing.members.get("RIDGE")
    if ridge is None or brief.ridge.kind is RidgeKind.BEAM:
        return
    pitch = brief.roof.pitch
    cut = section(brief.rafters.size).depth * math.hypot(1.0, pitch)
    deep = ridge.section.depth >= cut - INCH / 16
    yield _rule(
        "ridge_depth", code.RIDGE_BOARD, ("RIDGE",), deep,
        show_length(ridge.section.depth), f"at least {show_length(cut)}, the plumb cut",
        f"The ridge board is {show_length(ridge.section.depth)} deep; the plumb cut of "
        f"the rafters is {show_length(cut)}.",
    )  # fmt: skip
    steep = pitch >= code.LEAST_PITCH_OF_A_BOARD - 1e-9
    yield _rule(
        "ridge_is_beam", code.LOW_SLOPE, ("RIDGE",), steep, show_pitch(pitch),
        f"at least {show_pitch(code.LEAST_PITCH_OF_A_BOARD)} for a ridge board",
        f"The pitch is {show_pitch(pitch)}; under 3:12 the ridge must be a beam.",
    )  # fmt: skip


def _ties(brief: Brief, framing: Framing, path: LoadPath) -> Iterator[Finding]:
    """Yield the rule on the spacing of ties along the plates."""
    if brief.ridge.kind is RidgeKind.BEAM or not path.tied.any():
        return
    at = framing.rafter_stations[path.tied]
    widest = float(np.diff(at).max(initial=0.0))
    good = widest <= code.TIE_SPACING + INCH / 8
    keys = tuple(
        m.key
        for m in framing.of_role(Role.CEILING_JOIST, Role.RAFTER_TIE)
        if m.key not in path.faults
    )
    yield _rule(
        "tie_spacing", code.TIES, keys if not good else (), good, show_length(widest),
        f"at most {show_length(code.TIE_SPACING)}",
        f"Ties from plate to plate are up to {show_length(widest)} apart.",
    )  # fmt: skip


def _notes(framing: Framing) -> Iterator[Finding]:
    """Yield notes: overrides that no member has any more."""
    for key in framing.dropped_overrides:
        yield Finding(
            kind=FindingKind.NOTE,
            rule="override_dropped",
            section="brief",
            members=(),
            passed=None,
            value=key,
            limit="the key of a member",
            words=f"The change stated for {key} was dropped: no member has this key.",
        )
