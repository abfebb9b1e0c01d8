"""Wings of a rectangle: a short way to state an outline and the pitches over it.

A brief with wings is read as the drawn outline that they make. Where a wing's ridge is
lower than the main one, its slopes meet the main slope in two valleys.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..errors import BriefError
from ..units import FOOT, show_length
from . import fields as f
from .choices import EdgeKind, Slope
from .fields import stated
from .outline_parts import Corner

_TOUCH = 1e-6
_PLUMB = (EdgeKind.GABLE, EdgeKind.HIGH_WALL)
_ROUND = (Slope.SOUTH, Slope.EAST, Slope.NORTH, Slope.WEST)
_AHEAD = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))


@dataclass(frozen=True, kw_only=True)
class Wing:
    """A rectangle built against one side of the main one."""

    side: Slope = stated(
        f.choice(Slope, "side of the main rectangle: south, east, north or west")
    )
    start: float = stated(
        f.length("from the west or south end of that side", low=0.0, high=400 * FOOT)
    )
    width: float = stated(f.length("along the side", low=4 * FOOT, high=400 * FOOT))
    length: float = stated(
        f.length("how far it stands out", low=1 * FOOT, high=400 * FOOT)
    )
    pitch: float | None = stated(
        f.pitch("rise in 12 of run of its slopes; left out: the roof's own"), None
    )
    end: EdgeKind = stated(
        f.choice(EdgeKind, "what the roof does over its outer end"), EdgeKind.GABLE
    )


def with_wings(main: tuple[Corner, ...], wings: tuple[Wing, ...]) -> tuple[Corner, ...]:
    """Return the corners of a rectangle and its wings, the westmost at x = 0.

    Args:
        main: the four corners of the rectangle, counter-clockwise from the south side.
        wings: what stands against it.

    Raises:
        BriefError: a wing that does not fit on its side, or overlaps another.
    """
    for n, wing in enumerate(wings):
        if wing.side not in _ROUND:
            raise BriefError(
                f"footprint.wings[{n}].side", wing.side.value,
                "south, east, north or west",
            )  # fmt: skip
    corners: list[Corner] = []
    for k, side in enumerate(_ROUND):
        corners += _side(main[k], main[(k + 1) % 4], side, k, wings)
    kept = [
        corner
        for corner, after in zip(corners, corners[1:] + corners[:1], strict=True)
        if max(abs(a - b) for a, b in zip(corner.at, after.at, strict=True)) > _TOUCH
    ]
    low = [min(corner.at[axis] for corner in kept) for axis in (0, 1)]
    return tuple(replace(c, at=(c.at[0] - low[0], c.at[1] - low[1])) for c in kept)


def _side(
    first: Corner, after: Corner, side: Slope, k: int, wings: tuple[Wing, ...]
) -> Iterator[Corner]:
    """Yield the corners of one side of the main rectangle, its wings among them."""
    (x, y), (dx, dy) = first.at, _AHEAD[k]
    size = abs(after.at[0] - x) + abs(after.at[1] - y)

    def at(along: float, out: float) -> tuple[float, float]:
        return x + dx * along + dy * out, y + dy * along - dx * out

    yield first
    here = [(n, wing) for n, wing in enumerate(wings) if wing.side is side]
    starts = {
        n: wing.start if k < 2 else size - wing.start - wing.width for n, wing in here
    }
    reached = 0.0
    for n, wing in sorted(here, key=lambda entry: starts[entry[0]]):
        start = starts[n]
        if not (reached - _TOUCH <= start and start + wing.width <= size + _TOUCH):
            raise BriefError(
                f"footprint.wings[{n}].start",
                show_length(wing.start),
                f"a wing within its side of {show_length(size)}, clear of the others",
            )
        reached = start + wing.width
        flank = Corner(at=(0.0, 0.0), pitch=wing.pitch)
        end_pitch = None if wing.end in _PLUMB else wing.pitch
        yield replace(flank, at=at(start, 0.0))
        yield Corner(at=at(start, wing.length), edge=wing.end, pitch=end_pitch)
        yield replace(flank, at=at(reached, wing.length))
        yield replace(first, at=at(reached, 0.0))
