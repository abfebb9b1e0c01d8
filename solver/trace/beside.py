"""Hand method beside frame analysis for one member: where they differ, and why."""

from __future__ import annotations

import numpy as np

from ..basis.protocol import Check
from ..units import show_force, show_length
from .solved import Solved
from .wording import combination_words, listed, owner_word

_ALIKE = 0.05  # hand and frame within this part of each other are called alike


def hand_beside_frame(solution: Solved, key: str) -> list[str]:
    """Return how the hand method and the frame compare on a member.

    Args:
        solution: the solved roof.
        key: of an analysed member.

    Returns:
        Sentences; none where the hand method does not look at the member.
    """
    member, hand = solution.members[key], solution.hand
    if key in hand.struts:
        return _strut(solution, key)
    if key in hand.joists and hand.joists[key].points:
        return _joist(solution, key)
    if member.role == "rafter":
        return _rafter(solution, key)
    if key in hand.purlins:
        return _purlin(solution, key)
    if key in hand.hips.hips:
        return _hip(solution, key)
    return []


def frame_push(solution: Solved, key: str) -> np.ndarray:
    """Return the push in a strut in every combination, (ncomb,) N."""
    assert solution.model is not None
    assert solution.checked is not None
    element = solution.model.rows_of(key).start
    return -solution.checked.stations.N[:, element, 0]


def slack_in(solution: Solved, key: str) -> list[str]:
    """Return the combinations in which a strut or tie does not act."""
    assert solution.model is not None
    assert solution.frame is not None
    element = solution.model.rows_of(key).start
    acts = solution.frame.element_active[:, element]
    return [
        name for name, on in zip(solution.combinations.names, acts, strict=True)
        if not on
    ]  # fmt: skip


def _strut(solution: Solved, key: str) -> list[str]:
    """Return the two forces of a strut, and where the difference went."""
    assert solution.checked is not None
    hand, system = solution.hand.struts[key], solution.brief.units
    basis = solution.checked.result.basis
    by_hand, push = float(hand.axial.max()), float(frame_push(solution, key).max())
    out = [
        f"It stands at {np.degrees(hand.angle):.1f} degrees from level and is "
        f"{hand.slenderness:.0f} times as long as it is thick "
        f"({basis.slenderness_limit:.0f} is the limit, "
        f"{basis.clause(Check.SLENDERNESS)})."
    ]
    on = solution.members[key].stands_on
    foot = ""
    if on is not None and on.kind != "nothing":
        foot = on.name if on.name in solution.members else owner_word(on.name)
        out.append(f"It stands on {foot}.")
    out.append(
        f"By hand, the purlin taken as a rigid support, it holds "
        f"{show_length(hand.tributary_length, system)} of purlin and is pushed with "
        f"{show_force(by_hand, system)}; the frame analysis finds "
        f"{show_force(push, system)}."
    )
    if push < by_hand * (1 - _ALIKE):
        soft = foot if on is not None and on.kind in ("ceiling_joist", "beam") else ""
        why = (
            f"{soft} gives under it"
            if soft
            else "the purlin and the rafters are stiff too"
        )
        out.append(
            f"They differ because {why}: what the strut does not take, the rafters "
            "above carry themselves, over a longer span than the purlin promised them."
        )
    elif push > by_hand * (1 + _ALIKE):
        out.append(
            "They differ because the purlin runs on past its struts and loads them "
            "unevenly; the hand method shares by distance alone."
        )
    sideways = float(hand.push.max())
    if sideways > 0.02 * by_hand:
        out.append(
            f"It leans, so by hand its foot is pushed sideways with "
            f"{show_force(sideways, system)}; something must hold that."
        )
    slack = slack_in(solution, key)
    if slack:
        named = [combination_words(solution.combinations, name) for name in slack]
        out.append(f"It is slack, and carries nothing, in: {'; '.join(named)}.")
    return out


def _joist(solution: Solved, key: str) -> list[str]:
    """Return a joist under struts by hand and by the frame."""
    member, hand = solution.members[key], solution.hand.joists[key]
    feet = _struts_over(solution, key)
    by_hand = float(hand.utilisation.max())
    frame = (member.by_check or {}).get("bending", 0.0)
    out = [
        f"By hand, the whole load of {listed(feet)} straight on it, bending alone is "
        f"{by_hand:.2f} times its limit; the frame analysis finds {frame:.2f}."
    ]
    if frame < by_hand * (1 - _ALIKE):
        out.append(
            "The frame is lower because this joist gives and the rafters above take "
            "load back; they were counted on to span only to the purlin."
        )
    return out


def _struts_over(solution: Solved, key: str) -> list[str]:
    """Return the struts whose feet stand on a member."""
    return [
        name
        for name, m in solution.members.items()
        if m.stands_on is not None and m.stands_on.name == key
    ]


def _rafter(solution: Solved, key: str) -> list[str]:
    """Return a rafter over rigid purlins by hand, and by the frame."""
    framed = solution.framing.members[key]
    hand = next((r for r in solution.hand.rafters if r.slope == framed.slope), None)
    if hand is None:  # a common of a hip end
        return []
    frame = (solution.members[key].by_check or {}).get("bending", 0.0)
    rigid, thrust = float(hand.utilisation.max()), solution.hand.thrust
    found = f"the frame analysis finds {frame:.2f}."
    if len(hand.spans) < 2:
        raised = 0.0 if thrust is None else float(thrust.utilisation_at_tie.max())
        tie = (
            f", and {raised:.2f} times where the raised tie holds it" if raised else ""
        )
        return [
            f"By hand, as one span from plate to ridge, bending is {rigid:.2f} times "
            f"its limit{tie}; {found}"
        ]
    alone = float(hand.utilisation_alone.max())
    out = [
        f"By hand, over purlins that do not give, bending is {rigid:.2f} times its "
        f"limit, and {alone:.2f} times with no purlin at all; {found}"
    ]
    soft = [
        purlin
        for purlin in _purlins_under(solution, key)
        if _stands_soft(solution, purlin)
    ]
    if soft and frame > rigid * (1 + _ALIKE):
        out.append(
            f"{listed(soft)} under it gives, because what its struts stand on gives; "
            "so the rafter spans farther than the purlin promised."
        )
    return out


def _hip(solution: Solved, key: str) -> list[str]:
    """Return a hip as a sloping beam by hand, and by the frame."""
    hand, system = solution.hand.hips.hips[key], solution.brief.units
    peak = solution.hand.hips.peaks.get(key[-1])
    if peak is None:
        return [_sloping_line(solution, key)]
    by_hand, n = float(hand.utilisation.max()), int(np.argmax(hand.total_load))
    frame = (solution.members[key].by_check or {}).get("bending", 0.0)
    braces = len(hand.places) - 2
    held = "corner and ridge end"
    if braces:
        held = f"corner, {braces} brace{'' if braces == 1 else 's'} and ridge end"
    out = [
        f"By hand, as a sloping beam held at {held}"
        f", its jacks bring a triangle of load of "
        f"{show_force(float(hand.jack_load[n]), system)} that grows toward the ridge; "
        f"bending is {by_hand:.2f} times its limit. The frame analysis finds "
        f"{frame:.2f}.",
        f"By hand {show_force(float(hand.reactions[n, -1]), system)} of it arrives at "
        f"the ridge end, where hips and king common together bring "
        f"{show_force(float(peak.load[n]), system)}: "
        + (
            f"{peak.brace} is there to take it."
            if peak.brace
            else "no post or brace is there to take it."
        ),
    ]
    if frame < by_hand * (1 - _ALIKE):
        out.append(
            "The frame is lower because hips and jacks push on each other and on the "
            "plates; that counts on every joint between them."
        )
    return out


def _sloping_line(solution: Solved, key: str) -> str:
    """Return a hip or valley of a drawn outline by hand, and by the frame."""
    hand, system = solution.hand.hips.hips[key], solution.brief.units
    n = int(np.argmax(hand.total_load))
    frame = (solution.members[key].by_check or {}).get("bending", 0.0)
    foot, top = (show_force(float(v), system) for v in hand.reactions[n, [0, -1]])
    braces = len(hand.places) - 2
    over = f" and over {braces} brace{'' if braces == 1 else 's'}" if braces else ""
    return (
        f"By hand, as a sloping beam held at its two ends{over}, its jacks bring "
        f"{show_force(float(hand.jack_load[n]), system)}: {foot} arrives at its foot "
        f"and {top} at its top, with its own weight; bending is "
        f"{float(hand.utilisation.max()):.2f} times its limit. The frame analysis "
        f"finds {frame:.2f}."
    )


def _purlins_under(solution: Solved, rafter: str) -> list[str]:
    """Return the purlins that a rafter rests on."""
    return [
        c.lower
        for c in solution.framing.contacts
        if c.upper == rafter and solution.members[c.lower].role == "purlin"
    ]


def _stands_soft(solution: Solved, purlin: str) -> bool:
    """Return whether a strut of a purlin stands on a member that bends."""
    group = solution.framing.members[purlin].group
    return any(
        solution.framing.members[key].group == group
        and m.stands_on is not None
        and m.stands_on.kind in ("ceiling_joist", "beam")
        for key, m in solution.members.items()
        if m.role == "strut"
    )


def _purlin(solution: Solved, key: str) -> list[str]:
    """Return a purlin by hand and by the frame."""
    hand = solution.hand.purlins[key]
    frame = (solution.members[key].by_check or {}).get("bending", 0.0)
    simple = float(hand.utilisation_simple.max())
    through = float(hand.utilisation_continuous.max())
    span = show_length(hand.span, solution.brief.units)
    return [
        f"By hand, over {span} between struts, bending is {simple:.2f} times its limit "
        f"as a simple span and {through:.2f} run through; the frame analysis finds "
        f"{frame:.2f}."
    ]
