"""The rules on notches at the plates: birdsmouths, rafter tails, sloping joist ends.

A broken rule is a finding of its own. A kept one is a note and no more: a member is not
prescriptive because nobody cut too much of it away.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..basis import irc
from ..brief.model import Brief
from ..framing.cuts import end_cuts
from ..framing.model import Framing, Role
from .model import Finding, FindingKind, key_range


def cut_rules(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on cuts, one finding for all members cut alike.

    Not of hips and valleys: they are deeper than the rafters, as R802.4.3 asks, with
    their tops as high, so that no seat of theirs could keep to a quarter. Their shear
    at it is checked by analysis.
    """
    alike: dict[tuple[float, float, bool], dict[str, None]] = {}
    for cut in end_cuts(brief, framing):
        if framing.members[cut.member].role in (Role.HIP_RAFTER, Role.VALLEY_RAFTER):
            continue
        depth = framing.members[cut.member].section.depth
        kind = (round(depth, 9), round(cut.remaining, 9), cut.on_tension_side)
        alike.setdefault(kind, {})[cut.member] = None
    for (depth, left, is_birdsmouth), keys in alike.items():
        members = tuple(keys)
        taken = depth - left
        if not is_birdsmouth:
            yield _finding("joist_taper", members, irc.joist_taper(taken, depth))
            continue
        yield _finding("birdsmouth", members, irc.notch_depth(taken, depth, True))
        if brief.roof.overhang > 0:
            tail = irc.rafter_tail(left, brief.roof.overhang)
            yield _finding("rafter_tail", members, tail)


def _finding(rule: str, members: tuple[str, ...], result: irc.RuleResult) -> Finding:
    """Return the finding of one rule."""
    verb = "keeps" if result.passed else "breaks"
    return Finding(
        kind=FindingKind.NOTE if result.passed else FindingKind.RULE,
        rule=rule,
        section=f"{result.section}; NDS 2018 4.4.3"
        if rule == "birdsmouth"
        else result.section,
        members=members,
        passed=None if result.passed else False,
        value=result.value,
        limit=result.limit,
        words=f"{key_range(members)}: {result.quantity} {result.value}, "
        f"{result.limit} asked; {verb} {result.section}.",
    )
