"""What a member carries, from where, and where it goes: the flow in sentences."""

from __future__ import annotations

from ..units import show_force
from .flow import Flow
from .solved import Solved
from .wording import (
    area_words,
    combination_words,
    is_owner,
    listed,
    others,
    owner_word,
    sentence,
)

NAMED = 3  # members named before the rest is summed up
_TRACE = 0.01  # of what passes: less is left out of a sentence
_PLATE = (
    "It takes the thrust of rafters that have no tie of their own sideways along the "
    "wall to ties on both sides of them."
)
_CORNERS = "It ties the corners, where the hips push outward along both walls."
_ALONG = {
    "ridge_board": "It is pushed together between the ends of the hips; roof goes down "
    "by the rafters on it.",
    "stub_joist": "It takes the push of an end rafter along the ridge to the straps "
    "over the ceiling joists.",
}
_TIES = ("collar_tie", "rafter_tie")


def carries(solution: Solved, key: str, flow: Flow | None) -> list[str]:
    """Return what a member carries and from where, in its governing combination."""
    member, system = solution.members[key], solution.brief.units
    out: list[str] = []
    if member.tributary_area > 0:
        surface = "roof" if "rafter" in member.role else "ceiling"
        area = area_words(member.tributary_area, system)
        out.append(f"{area} of {surface} on plan rest on it directly.")
    if flow is None or not member.governing_check:
        return [*out, "No load reaches it in any combination: it carries nothing."]
    if member.role == "plate":
        hip = solution.framing.form is not None
        return [*out, *((_CORNERS,) if hip else ()), _PLATE]
    if member.role in _ALONG:
        return [*out, _ALONG[member.role]]
    if member.role in _TIES:
        return [*out, _tie(solution, key)]
    if member.role == "web":
        return [*out, _web(solution, key)]
    words = combination_words(solution.combinations, member.combination)
    own, total = flow.own.get(key, 0.0), flow.output(key)
    if own < 0 or total <= 0:
        return [*out, f"In {words}, the load on it acts upward."]
    out.append(_down(solution, key, flow, f"In {words}, "))
    standing = _struts_on(solution, key, flow)
    return [*out, standing] if standing else out


def _tie(solution: Solved, key: str) -> str:
    """Return what a tie holds."""
    member, system = solution.members[key], solution.brief.units
    force = show_force(abs(member.axial), system)
    if member.axial >= 0:
        return f"The rafters pull on it with up to {force}: the thrust that it holds."
    return f"The rafters push on it with up to {force}: it props them apart."


def _web(solution: Solved, key: str) -> str:
    """Return what a web of a truss hangs or props."""
    member, system = solution.members[key], solution.brief.units
    force = show_force(abs(member.axial), system)
    if member.axial >= 0:
        return f"The bottom chord hangs on it: it pulls with up to {force}."
    return f"It props the rafter from the bottom chord with up to {force}."


def _down(solution: Solved, key: str, flow: Flow, head: str) -> str:
    """Return what goes down through a member and whose it is."""
    system = solution.brief.units
    own, total = flow.own.get(key, 0.0), flow.output(key)
    line = f"{head}{show_force(total, system)} goes down through it"
    givers = [
        (name, force)
        for name, force in flow.who_loads(key)
        if name != key and force > _TRACE * total
    ]
    if not givers:
        return line + ", all but a trace of it its own load and weight."
    named = [f"{name} ({show_force(force, system)})" for name, force in givers[:NAMED]]
    rest = total - own if own > _TRACE * total else total
    if rest < total:
        line += f": {show_force(own, system)} of its own load and weight, and "
        line += f"{show_force(rest, system)} that began on other members"
    else:
        line += ", all of it begun on other members"
    line += ", the most on " if len(givers) > NAMED else ": "
    return line + listed(named) + "."


def _struts_on(solution: Solved, key: str, flow: Flow) -> str:
    """Return what the struts that stand on a member bring to it, or ""."""
    brought: dict[str, float] = {}
    for one in flow.hand_overs:
        giver = solution.members.get(one.giver)
        if one.taker == key and giver is not None and giver.role == "strut":
            brought[one.giver] = brought.get(one.giver, 0.0) + one.force
    if not brought:
        return ""
    system = solution.brief.units
    most = sorted(brought.items(), key=lambda pair: -pair[1])
    named = [f"{name} brings {show_force(f, system)}" for name, f in most[:NAMED]]
    if len(most) > NAMED:
        rest = sum(force for _, force in most[NAMED:])
        count = len(most) - NAMED
        named.append(f"{count} more bring {show_force(rest, system)} together")
    return sentence(f"Of that, {listed(named)}")


def hands_on(solution: Solved, key: str, flow: Flow | None) -> list[str]:
    """Return what a member hands on, to whom, and where it ends."""
    system = solution.brief.units
    if flow is None or flow.output(key) <= 0:
        return []
    next_ones: dict[str, float] = {}
    for one in flow.hand_overs:
        if one.giver == key:
            next_ones[one.taker] = next_ones.get(one.taker, 0.0) + one.force
    total = sum(next_ones.values())
    takers = sorted(
        ((n, f) for n, f in next_ones.items() if f > _TRACE * total),
        key=lambda pair: -pair[1],
    )
    given = [f"{show_force(f, system)} to {_named(n)}" for n, f in takers[:NAMED]]
    if len(takers) > NAMED:
        rest = total - sum(force for _, force in takers[:NAMED])
        given.append(f"{show_force(rest, system)} to {others(len(takers) - NAMED)}")
    out = [sentence(f"It hands on {listed(given)}")]
    if any(not is_owner(name) for name in next_ones):
        shares = [
            f"{owner_word(name)} ({share:.0%})"
            for name, share in ends_of(flow, key).items()
            if share > 0.005
        ]
        out.append(sentence(f"Followed down, its load ends on {listed(shares)}"))
    return out


def ends_of(flow: Flow, key: str) -> dict[str, float]:
    """Return the share of what a member hands on that ends on each support.

    Args:
        flow: of a combination.
        key: of the member.

    Returns:
        Support owner to share, the largest first; they add to one. Empty for a
        member that hands on nothing.
    """
    ends: dict[str, float] = {}
    for one in flow.path_down(key, least=0.0):
        if is_owner(one.taker):
            ends[one.taker] = ends.get(one.taker, 0.0) + one.force
    total = sum(ends.values())
    ordered = sorted(ends.items(), key=lambda pair: -pair[1])
    return {owner: force / total for owner, force in ordered} if total > 0 else {}


def _named(name: str) -> str:
    """Return a member key, or a support in words."""
    return owner_word(name) if is_owner(name) else name
