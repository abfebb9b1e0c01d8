"""Answers to a click on a member, a wall or a patch of roof, in plain sentences.

Numbers stand apart, one click further. Pure of Blender; every number is the solver's.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...solver.solve import Solution
from ...solver.trace.reactions import reactions
from ...solver.trace.wording import (
    area_words,
    combination_words,
    counted,
    listed,
    owner_word,
    sentence,
)
from ...solver.units import show_force, show_length, show_line_load
from .pipeline import Outcome
from .strips import strip_corners, surface_word
from .words import story_of

Floats = NDArray[np.float64]
_LEAST = 0.01  # of a load; smaller shares are not told


@dataclass(frozen=True)
class Answer:
    """What is said to a click.

    Attributes:
        title: what was clicked.
        verdict: of it, or "".
        sentences: plain words.
        numbers: (name, value) pairs, one click further.
        heads: (words, number) that a comparison puts side by side.
    """

    title: str
    verdict: str
    sentences: tuple[str, ...]
    numbers: tuple[tuple[str, str], ...]
    heads: tuple[tuple[str, str], ...]


@dataclass(frozen=True, eq=False)
class Patch:
    """A strip of roof or ceiling between two joints of the member that carries it.

    Attributes:
        member: that carries it.
        surface: of the loads.
        element: of the frame.
        corners: (4, 3) m.
        area: m2 on plan.
        shares: support owner to the part of a load on it, the largest first.
        load: N on it in the combination.
        combination: its name.
        ends: (words, (3,) m) of each share told, where it reaches the support.
    """

    member: str
    surface: str
    element: int
    corners: Floats
    area: float
    shares: dict[str, float]
    load: float
    combination: str
    ends: tuple[tuple[str, Floats], ...]


def member(outcome: Outcome, key: str) -> Answer | None:
    """Return the answer about a member, None where the roof has no such member."""
    if key not in outcome.solution.members:
        return None
    told = outcome.once(("story", key), lambda: story_of(outcome.solution, key))
    checks = tuple((name.capitalize(), f"{use:.2f}") for name, use in told.checks)
    use = "" if told.use is None else f"{told.use:.2f}"
    keep = ("Length", "Brought by Struts", "Sag Now", "Sag in Years")
    heads = [("Use", use)] if use else []
    heads += [pair for pair in told.numbers if pair[0] in keep]
    return Answer(
        told.title,
        told.verdict,
        told.sentences,
        (*told.numbers, *checks),
        (*heads,),
    )


def wall(outcome: Outcome, owner: str) -> Answer | None:
    """Return what a wall, footing or other support collects, None for no support."""
    return outcome.once(("wall", owner), lambda: _wall(outcome.solution, owner))


def _wall(solution: Solution, owner: str) -> Answer | None:
    """Return what a support collects, from the reactions of every combination."""
    found = reactions(solution).get(owner)
    if found is None or solution.model is None:
        return None
    up, across = found
    row = int(up.argmax())
    system, names = solution.brief.units, solution.combinations.names
    most, name = float(up[row]), names[row]
    length = _length(solution, owner)
    spread = ""
    if length > 1.0:
        spread = f", {show_line_load(most / length, system)} along it on average"
    said = combination_words(solution.combinations, name)
    sentences = [
        f"{owner_word(owner)} holds up {show_force(most, system)} at most{spread}: "
        f"under {said}."
    ]
    sentences += _through(solution, owner, name)
    sentences += _from_where(solution, owner, name, row)
    if float(up.min()) < -1.0:
        lifted = names[int(up.argmin())]
        sentences.append(
            f"It must hold down {show_force(-float(up.min()), system)} under "
            f"{combination_words(solution.combinations, lifted)}."
        )
    numbers = [
        (words[0].upper() + words[1:], show_force(float(force), system))
        for name, force in zip(names, up, strict=True)
        for words in [combination_words(solution.combinations, name)]
    ]
    push = float(np.abs(across).max())
    heads = [("Holds Up", show_force(most, system))]
    if length > 1.0:
        heads.append(("Along It", show_line_load(most / length, system)))
        heads.append(("Length", show_length(length, system)))
    if push > 1.0:
        numbers.append(("Sideways, Most", show_force(push, system)))
    sentences.append("What stands under it, down to the footing, is not checked here.")
    title = owner_word(owner)
    return Answer(
        title[0].upper() + title[1:],
        "",
        tuple(sentence(s) for s in sentences),
        tuple(numbers),
        tuple(heads),
    )


def _length(solution: Solution, owner: str) -> float:
    """Return how long the line of a support is, m; 0 for a point."""
    model = solution.model
    assert model is not None
    nodes = [r.node for r in model.ground if r.owner == owner and r.direction == 2]
    points = model.frame.xyz[nodes][:, :2]
    return float(np.ptp(points, axis=0).max(initial=0.0)) if len(points) else 0.0


def _through(solution: Solution, owner: str, name: str) -> list[str]:
    """Return a sentence on who hands the support its load."""
    flow = solution.flow(name)
    if flow is None:
        return []
    by_role: Counter[str] = Counter()
    givers: dict[str, set[str]] = {}
    for h in flow.hand_overs:
        if h.taker == owner and h.giver in solution.members:
            role = str(solution.members[h.giver].role)
            by_role[role] += h.force  # type: ignore[assignment]
            givers.setdefault(role, set()).add(h.giver)
    total = sum(by_role.values())
    parts = [
        f"{counted(len(givers[role]), role)} ({force / total:.0%})"
        for role, force in by_role.most_common()
        if total and force > _LEAST * total
    ]
    return [f"It comes in through {listed(parts)}"] if parts else []


def _from_where(solution: Solution, owner: str, name: str, row: int) -> list[str]:
    """Return a sentence on which surfaces a support's load comes from."""
    shares, model = solution.shares(name), solution.model
    if shares is None or model is None or owner not in shares.owners:
        return []
    load = _loads(solution, row)
    mine = shares.element[shares.owners.index(owner)] * load
    surface = np.array(solution.loads.surface)[model.stretch]
    total = float(mine.sum())
    if total <= 0:
        return []
    parts = [
        (surface_word(s), float(mine[surface == s].sum()) / total)
        for s in dict.fromkeys(surface.tolist())
        if s
    ]
    said = [
        f"{part:.0%} from {word}"
        for word, part in sorted(parts, key=lambda p: -p[1])
        if part > _LEAST
    ]
    return [f"Of it comes {listed(said)}; the rest is the weight of other members"]


def _loads(solution: Solution, row: int) -> Floats:
    """Return (m,) N, what lies on every element in a combination, down positive."""
    model = solution.model
    assert model is not None
    frame = model.frame
    line = np.tensordot(
        solution.combinations.factors[row], model.loads.element_load[:, :, 2], 1
    )
    span = frame.xyz[frame.ends[:, 1]] - frame.xyz[frame.ends[:, 0]]
    return -line * np.linalg.norm(span, axis=1)


def strips(outcome: Outcome) -> tuple[NDArray[np.int64], Floats]:
    """Return the elements that carry roof or ceiling, and (s, 4, 3) m their strips."""
    return outcome.once("ask strips", lambda: _strips(outcome.solution))


def _strips(solution: Solution) -> tuple[NDArray[np.int64], Floats]:
    """Return the elements that carry a surface, with the corners of their strips."""
    model, loads = solution.model, solution.loads
    if model is None:
        return np.empty(0, dtype=np.int64), np.empty((0, 4, 3))
    carries = np.array([bool(name) for name in loads.surface])
    element = np.flatnonzero(carries[model.stretch])
    stretch = model.stretch[element]
    ends = model.frame.xyz[model.frame.ends[element]]
    names = [loads.surface[int(n)] for n in stretch]
    return element, strip_corners(ends, loads.width[stretch], names)


def nearest(outcome: Outcome, point: Floats) -> int | None:
    """Return the row of the strip whose middle line lies nearest to a point, m."""
    _, corners = strips(outcome)
    if not len(corners):
        return None
    start = corners[:, [0, 3]].mean(axis=1)
    along = corners[:, [1, 2]].mean(axis=1) - start
    t = np.einsum("si,si->s", point - start, along)
    t = np.clip(t / np.maximum(np.einsum("si,si->s", along, along), 1e-9), 0.0, 1.0)
    gap = np.linalg.norm(start + t[:, None] * along - point, axis=1)
    return int(gap.argmin())


def hit(outcome: Outcome, origin: Floats, direction: Floats) -> Floats | None:
    """Return where a ray first meets a strip of roof or ceiling, m, None if nowhere.

    Args:
        outcome: of the roof.
        origin: (3,) m, in the roof's own axes.
        direction: (3,).
    """
    _, corners = strips(outcome)
    best: tuple[float, Floats] | None = None
    for a, b, c in ((0, 1, 2), (0, 2, 3)):
        first, one, two = corners[:, a], corners[:, b], corners[:, c]
        u, v = one - first, two - first
        p = np.cross(direction, v)
        det = np.einsum("si,si->s", u, p)
        safe = np.where(np.abs(det) > 1e-12, det, np.inf)
        s = origin - first
        x = np.einsum("si,si->s", s, p) / safe
        q = np.cross(s, u)
        y = q @ direction / safe
        t = np.einsum("si,si->s", v, q) / safe
        ok = (x >= 0) & (y >= 0) & (x + y <= 1) & (t > 1e-6)
        if ok.any():
            far = float(t[ok].min())
            if best is None or far < best[0]:
                best = (far, origin + far * direction)
    return None if best is None else best[1]


def patch(outcome: Outcome, point: tuple[float, float, float]) -> Patch | None:
    """Return the strip of roof or ceiling at a point, None where nothing is analysed.

    Args:
        outcome: of the roof.
        point: m, in the roof's own axes; the nearest strip is meant.
    """
    return outcome.once(("patch", point), lambda: _patch(outcome, point))


def _patch(outcome: Outcome, point: tuple[float, float, float]) -> Patch | None:
    """Return the strip nearest to a point with its exact shares."""
    solution, at = outcome.solution, np.array(point)
    shares, row = solution.shares(), nearest(outcome, at)
    if shares is None or row is None or solution.model is None:
        return None
    elements, corners = strips(outcome)
    element = int(elements[row])
    model = solution.model
    stretch = int(model.stretch[element])
    column = shares.element[:, element].tolist()
    ranked = sorted(
        zip(shares.owners, column, strict=True), key=lambda pair: -abs(pair[1])
    )
    told = {owner: part for owner, part in ranked if abs(part) > 5e-3}
    name = shares.combination
    load = _loads(solution, solution.combinations.row(name))[element]
    middle = corners[row].mean(axis=0)
    return Patch(
        member=solution.loads.member[stretch],
        surface=solution.loads.surface[stretch],
        element=element,
        corners=corners[row],
        area=float(solution.loads.plan_area[stretch]),
        shares=told,
        load=float(load),
        combination=name,
        ends=tuple(
            (f"{part:.0%} to {owner_word(owner)}", _place(solution, owner, middle))
            for owner, part in told.items()
        ),
    )


def _place(solution: Solution, owner: str, near: Floats) -> Floats:
    """Return the point of a support that lies nearest to a place, m."""
    model = solution.model
    assert model is not None
    nodes = [r.node for r in model.ground if r.owner == owner and r.direction == 2]
    points = model.frame.xyz[nodes]
    return points[np.linalg.norm(points - near, axis=1).argmin()]


def about_patch(outcome: Outcome, found: Patch) -> Answer:
    """Return the answer about a patch: where a load on it ends up."""
    solution = outcome.solution
    system = solution.brief.units
    shares = found.shares.items()
    parts = [f"{part:.0%} goes to {owner_word(o)}" for o, part in shares if part > 0]
    lifts = [f"{-part:.0%} of it off {owner_word(o)}" for o, part in shares if part < 0]
    said = combination_words(solution.combinations, found.combination)
    sentences = [
        f"Of whatever lies on this strip, {listed(parts)} in the end.",
        f"Under {said} it carries {show_force(found.load, system)}.",
    ]
    if lifts:
        sentences.insert(1, f"By its leverage it takes {listed(lifts)}.")
    sentences += _on_the_way(solution, found)
    numbers = [
        (owner_word(o), f"{part:.1%}, {show_force(part * found.load, system)}")
        for o, part in found.shares.items()
    ]
    title = f"{area_words(found.area, system)} of {surface_word(found.surface)}"
    return Answer(
        title=f"{title}, over {found.member}",
        verdict="",
        sentences=tuple(sentence(s) for s in sentences),
        numbers=tuple(numbers),
        heads=tuple((owner_word(o), f"{p:.0%}") for o, p in found.shares.items()),
    )


def _on_the_way(solution: Solution, found: Patch) -> list[str]:
    """Return whom the load passes on its way, and who of them is over the limit."""
    flow = solution.flow(found.combination)
    edges = flow.path_down(found.member, 0.02) if flow is not None else []
    met = [found.member, *(e.taker for e in edges if e.taker in solution.members)]
    over = [
        f"{key} ({solution.members[key].utilisation:.2f})"
        for key in dict.fromkeys(met)
        if (solution.members[key].utilisation or 0.0) > 1.0
    ]
    if over:
        return [f"On the way it passes what is over its limit: {listed(over[:6])}"]
    return ["Nothing that it passes on the way is over its limit by these checks"]
