"""A view of drawn pieces: a direction to look in, and the slice that is looked at.

Works on solids alone, so that it draws any outline of roof alike.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..framing.solids import Solid
from ..report.sketch import between, hull

Floats = NDArray[np.float64]
Outline = list[tuple[float, float]]


@dataclass(frozen=True, eq=False)
class View:
    """A flat picture of the world.

    Attributes:
        origin: (3,) m, world place of the picture's (0, 0).
        right: (3,) unit vector of the picture's x.
        up: (3,) unit vector of its y.
        toward: (3,) unit vector away from the viewer, square to both.
    """

    origin: Floats
    right: Floats
    up: Floats
    toward: Floats

    def at(self, points: Floats) -> Floats:
        """Return (n, 3) of world points: x and y of the picture, and depth."""
        axes = np.column_stack((self.right, self.up, self.toward))
        return (np.atleast_2d(points) - self.origin) @ axes


def upright(origin: Floats, along: Floats) -> View:
    """Return the view of a section.

    Args:
        origin: (3,) m, a place that the section passes through; heights stay as in
            the world.
        along: (2,) direction in plan that the section runs; turned so that east, or
            else north, is on the right.
    """
    x, y = np.asarray(along, dtype=float) / np.hypot(*along)
    if x < -1e-9 or (abs(x) <= 1e-9 and y < 0):
        x, y = -x, -y
    base = np.array([origin[0], origin[1], 0.0])
    right, up = np.array([x, y, 0.0]), np.array([0.0, 0.0, 1.0])
    return View(base, right, up, np.cross(up, right))


def plan_view() -> View:
    """Return the view from above, north upward."""
    x, y, z = np.eye(3)
    return View(np.zeros(3), x, y, -z)


def tilted(origin: Floats, turn: float, dip: float) -> View:
    """Return a view from above at a slant, all lengths along one axis alike.

    Args:
        origin: (3,) m.
        turn: rad, direction in plan that the viewer looks in, from east to north.
        dip: rad, that the viewer looks down, from level.
    """
    c, s = np.cos(turn), np.sin(turn)
    toward = np.array([c * np.cos(dip), s * np.cos(dip), -np.sin(dip)])
    right = np.array([s, -c, 0.0])
    return View(np.asarray(origin, dtype=float), right, np.cross(right, toward), toward)


def slice_outlines(solid: Solid, view: View, low: float, high: float) -> list[Outline]:
    """Return the outline of each ply of a piece between two depths of a view.

    Args:
        solid: the piece.
        view: the view.
        low: m, depth of the near side of the slice.
        high: m, of the far side.

    Returns:
        Convex outlines on the picture; none for plies outside of the slice.
    """
    out: list[Outline] = []
    for block in view.at(solid.vertices).reshape(-1, 8, 3):
        corners = between(block, low, high)
        outline = hull(corners[:, :2].tolist()) if len(corners) else []
        if len(outline) > 2:
            out.append(outline)
    return out
