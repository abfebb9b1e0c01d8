"""Where a member's object stands: its own axes, from its drawn piece.

X runs along the member from its start, Z is its depth, so that a user's own modifiers
and constraints find every member lying the same way.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...solver.framing.solids import Solid

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Frame:
    """A member's own axes.

    Attributes:
        origin: (3,) m, middle of its start.
        axes: (3, 3) columns are its X, Y and Z.
    """

    origin: Floats
    axes: Floats

    def local(self, points: Floats) -> Floats:
        """Return (n, 3) points in the member's axes, m."""
        return (points - self.origin) @ self.axes

    def matrix(self, scale_length: float) -> Floats:
        """Return (4, 4) the object's matrix in Blender units."""
        out = np.eye(4)
        out[:3, :3] = self.axes
        out[:3, 3] = self.origin / scale_length
        return out


def frame_of(solid: Solid) -> Frame:
    """Return the axes of a drawn piece: eight corners a ply, four around each end."""
    blocks = solid.vertices.reshape(-1, 8, 3)
    axis = blocks[0, 4] - blocks[0, 0]
    axis = axis / np.linalg.norm(axis)
    depth = blocks[0, 3] - blocks[0, 0]
    depth = depth - axis * (depth @ axis)
    depth = depth / np.linalg.norm(depth)
    axes = np.stack([axis, np.cross(depth, axis), depth], axis=1)
    return Frame(blocks[:, :4].mean(axis=(0, 1)), axes)
