"""Where the members' objects stand: their own axes, from their drawn pieces.

X runs along a member from its start, Z is its depth, so that a user's own modifiers
and constraints find every member lying the same way. Pure: NumPy in and out.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...solver.framing.solids import Solid

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Frames:
    """The own axes of members.

    Attributes:
        origin: (n, 3) m, middle of their starts.
        axes: (n, 3, 3) columns are their X, Y and Z.
    """

    origin: Floats
    axes: Floats

    def matrices(self, scale_length: float) -> Floats:
        """Return (n, 4, 4) the objects' matrices in Blender units."""
        out = np.tile(np.eye(4), (len(self.origin), 1, 1))
        out[:, :3, :3] = self.axes
        out[:, :3, 3] = self.origin / scale_length
        return out

    def local(self, pieces: Sequence[Solid], scale_length: float) -> list[Floats]:
        """Return the corners of drawn pieces, each (v, 3) in its own axes.

        Blender units.
        """
        every = np.concatenate([piece.vertices for piece in pieces])
        count = np.array([len(piece.vertices) for piece in pieces])
        owner = np.repeat(np.arange(len(pieces)), count)
        moved = np.einsum("vi,vij->vj", every - self.origin[owner], self.axes[owner])
        return np.split(moved / scale_length, np.cumsum(count)[:-1])


def frames_of(pieces: Sequence[Solid]) -> Frames:
    """Return the axes of drawn pieces: eight corners a ply, four around each end."""
    first = np.array([piece.vertices[:8] for piece in pieces])
    axis = _unit(first[:, 4] - first[:, 0])
    depth = first[:, 3] - first[:, 0]
    depth = _unit(depth - axis * np.sum(depth * axis, axis=1, keepdims=True))
    axes = np.stack([axis, np.cross(depth, axis), depth], axis=2)
    origin = first[:, :4].mean(axis=1)
    for n, piece in enumerate(pieces):
        if len(piece.vertices) > 8:
            origin[n] = piece.vertices.reshape(-1, 8, 3)[:, :4].mean(axis=(0, 1))
    return Frames(origin, axes)


def _unit(vectors: Floats) -> Floats:
    """Return (n, 3) vectors of length 1."""
    return vectors / np.linalg.norm(vectors, axis=1, keepdims=True)
