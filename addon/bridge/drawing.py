"""What the overlay draws of an outcome: boxes, uses and load paths as plain arrays.

Lengths in m, in the roof's own axes. Texts are in the roof's units.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...solver.framing.solids import Solid
from ...solver.trace.carries import ends_of
from ...solver.trace.flow import HandOver
from ...solver.trace.wording import combination_words, owner_word
from ...solver.units import show_force
from ...solver.verdict.model import MemberResult
from .marking import shading_of
from .pipeline import Outcome
from .shape import Shape

Floats = NDArray[np.float64]

_LEAST = 0.02  # part of the load below which a branch is not followed
_REACH = 1.2  # m of a giver that is drawn where it hands over to the picked member


@dataclass(frozen=True, eq=False)
class Drawn:
    """The members of a roof as boxes.

    Attributes:
        keys: (n) member keys.
        row: key to row.
        boxes: (b, 8, 3) m, one box for each ply, four corners around each end.
        owner: (b,) row of the member that a box is of.
        lines: (n, 2, 3) m, joint lines moved into the drawn pieces.
        use: (n,) demand over capacity, 0 where there is none.
        state: (n,) of palette.State.
        words: (n) short label of every member that does not pass, else "".
    """

    keys: tuple[str, ...]
    row: dict[str, int]
    boxes: Floats
    owner: NDArray[np.int64]
    lines: Floats
    use: Floats
    state: NDArray[np.int64]
    words: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Branch:
    """One stretch of a load path: along a member, to where it hands on.

    Attributes:
        member: key of the member that carries it, or owner of the support.
        start, end: (3,) m.
        force: N that this stretch carries.
        text: what is handed on at the end in the roof's units, and to whom; empty
            on all but one of the stretches to the same end.
        is_ground: True where the end is the ground's.
        is_incoming: True for what others bring to the picked member.
    """

    member: str
    start: Floats
    end: Floats
    force: float
    text: str
    is_ground: bool = False
    is_incoming: bool = False


@dataclass(frozen=True, eq=False)
class PathView:
    """A load path as it is drawn.

    Attributes:
        key: member that it begins at.
        total: N that it hands on.
        title: what it shows.
        branches: its stretches, in any order.
        members: keys of all that it passes.
    """

    key: str
    total: float
    title: str
    branches: tuple[Branch, ...]
    members: frozenset[str]


def drawn(outcome: Outcome) -> Drawn:
    """Return the members of a roof as boxes."""
    return outcome.once("drawn", lambda: _drawn(outcome))


def _drawn(outcome: Outcome) -> Drawn:
    """Return the members of a roof as boxes, from their drawn pieces."""
    results = outcome.solution.members
    shown = shading_of(results.values())
    shape = outcome.shape
    words = tuple(
        _words(use, int(state))
        for use, state in zip(shown.use, shown.state, strict=True)
    )
    return Drawn(
        tuple(results),
        shown.row,
        *_boxes(shape),
        shown.use,
        shown.state,
        words,
    )


def drawn_moved(outcome: Outcome, shape: Shape) -> Drawn:
    """Return the members where they lie now, in the colours of the last numbers.

    Args:
        outcome: the last one, out of date.
        shape: where the members lie.
    """
    old = drawn(outcome)
    keys = tuple(shape.roles)
    rows = np.array([old.row.get(key, -1) for key in keys], dtype=np.int64)
    return Drawn(
        keys,
        {key: n for n, key in enumerate(keys)},
        *_boxes(shape),
        np.where(rows >= 0, old.use[rows], 0.0),
        np.where(rows >= 0, old.state[rows], 0),
        ("",) * len(keys),
    )


def _boxes(shape: Shape) -> tuple[Floats, NDArray[np.int64], Floats]:
    """Return the boxes of a shape, the row of each one's member, and joint lines."""
    plies = np.diff(shape.ends, prepend=0) // 8
    owner = np.repeat(np.arange(len(plies)), plies)
    return shape.corners.reshape(-1, 8, 3), owner, shape.lines


def _words(use: float, state: int) -> str:
    """Return the label of a member that does not pass, else an empty text."""
    if state == 2:
        return "no load path"
    return f"{use:.2f}" if use > 1.0 else ""


def centre_line(solid: Solid) -> Floats:
    """Return (2, 3) m: the joint line moved into the middle of the drawn piece."""
    first = solid.vertices[:8]
    axis = first[4] - first[0]
    per_unit = axis / (solid.along[4] - solid.along[0])
    middle, at = solid.vertices.mean(axis=0), solid.along.mean()
    return np.array([middle - at * per_unit, middle + (1 - at) * per_unit])


def path(outcome: Outcome, key: str) -> PathView | None:
    """Return the load path from a member down to the ground.

    Returns:
        None where the member is not analysed or hands nothing on.
    """
    return outcome.once(("path", key), lambda: _path(outcome, key))


def _path(outcome: Outcome, key: str) -> PathView | None:
    """Return the load path of a member, from the hand-overs of its combination."""
    solution = outcome.solution
    result = solution.members.get(key)
    flow = solution.flow(result.combination or None) if result else None
    edges = flow.path_down(key, _LEAST) if flow is not None else []
    if flow is None or not edges:
        return None
    members = frozenset(e.giver for e in edges) | {e.taker for e in edges}
    lines = drawn(outcome)
    return PathView(
        key=key,
        total=sum(e.force for e in edges if e.giver == key),
        title=f"Load path of {key}: {_load_words(outcome, result)}",
        branches=(
            *_incoming(outcome, lines, key, flow.hand_overs),
            *_branches(outcome, lines, key, edges, flow.hand_overs),
        ),
        members=members & set(lines.row),
    )


def shares_down(
    outcome: Outcome, key: str, combination: str | None = None
) -> tuple[tuple[str, float], ...]:
    """Return where a member's load ends, in words, with its share; the largest first.

    Args:
        outcome: the solved roof.
        key: of the member.
        combination: its name; left out, that of the worst member.
    """
    flow = outcome.solution.flow(combination)
    if flow is None:
        return ()
    shares = ends_of(flow, key)
    return tuple((owner_word(owner), share) for owner, share in shares.items())


def _load_words(outcome: Outcome, result: MemberResult) -> str:
    """Return the load combination of a path in words."""
    name = result.combination
    return combination_words(outcome.solution.combinations, name) if name else ""


def _incoming(
    outcome: Outcome, lines: Drawn, key: str, hand_overs: Iterable[HandOver]
) -> Iterator[Branch]:
    """Yield what others bring to a member, each along the last of its own length."""
    arriving = [h for h in hand_overs if h.taker == key and h.giver in lines.row]
    most = max((h.force for h in arriving), default=0.0)
    for h in arriving:
        if h.force < _LEAST * most:
            continue
        end = _on_line(lines, h.giver, np.array(h.point))
        back = lines.lines[lines.row[h.giver]].mean(axis=0) - end
        length = float(np.linalg.norm(back))
        start = end + back * min(1.0, _REACH / length) if length > 0 else end
        text = f"{show_force(h.force, outcome.brief.units)} from {h.giver}"
        yield Branch(h.giver, start, end, h.force, text, is_incoming=True)


def _branches(
    outcome: Outcome,
    lines: Drawn,
    key: str,
    edges: list[HandOver],
    hand_overs: Iterable[HandOver],
) -> Iterator[Branch]:
    """Yield the stretches from where load arrives at a member to where it leaves."""
    system = outcome.brief.units
    arrive: dict[str, list[tuple[Floats, float]]] = {}
    leave: dict[str, float] = {}
    for edge in edges:
        point = np.array(edge.point)
        leave[edge.giver] = leave.get(edge.giver, 0.0) + edge.force
        arrive.setdefault(edge.taker, []).append((point, edge.force))
    brought: dict[tuple[float, float, float], float] = {}
    for h in hand_overs:
        if h.taker == key:
            brought[h.point] = brought.get(h.point, 0.0) + h.force
    if not brought:
        brought[tuple(lines.lines[lines.row[key]].mean(axis=0))] = 1.0
    whole = leave[key] / sum(brought.values())
    arrive[key] = [(np.array(p), force * whole) for p, force in brought.items()]
    for edge in edges:
        if edge.giver not in lines.row:
            continue  # the ground that holds a hip's push down again
        end = _on_line(lines, edge.giver, np.array(edge.point))
        share = edge.force / leave[edge.giver]
        text = f"{show_force(edge.force, system)} to {owner_word(edge.taker)}"
        is_ground = edge.taker not in lines.row
        middle = lines.lines[lines.row[edge.giver]].mean(axis=0)
        small = [(middle, leave[edge.giver])]  # where all that came was too small
        for n, (point, force) in enumerate(arrive.get(edge.giver, small)):
            yield Branch(
                member=edge.giver,
                start=_on_line(lines, edge.giver, point),
                end=end,
                force=force * share,
                text=text if n == 0 else "",
                is_ground=is_ground and n == 0,
            )
        if not is_ground:  # from piece to piece
            onward = _on_line(lines, edge.taker, np.array(edge.point))
            yield Branch(edge.giver, end, onward, edge.force, "")


def _on_line(lines: Drawn, key: str, point: Floats) -> Floats:
    """Return the place in the drawn piece of a point on a member's joint line."""
    start, end = lines.lines[lines.row[key]]
    axis = end - start
    t = float((point - start) @ axis / (axis @ axis))
    return start + min(max(t, 0.0), 1.0) * axis
