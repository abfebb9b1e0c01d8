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


def spanned(corners: Floats, ends: NDArray[np.int64]) -> Floats:
    """Return (n, 4, 4) the middle of every piece and the mean of its edges.

    The map between the spans of a prism before and after a move meets it exactly where
    its cuts are parallel; one whose two cuts turn apart it meets in the mean, which is
    a picture to drag by and no more.

    Args:
        corners: (v, 3) eight a ply, as drawn pieces have them.
        ends: (n,) where each piece ends in them.
    """
    c = corners.reshape(-1, 8, 3)
    out = np.zeros((len(c), 4, 4))
    out[:, :3, 0] = c[:, 4:].mean(axis=1) - c[:, :4].mean(axis=1)
    out[:, :3, 1] = (c[:, (1, 2, 5, 6)] - c[:, (0, 3, 4, 7)]).mean(axis=1)
    out[:, :3, 2] = (c[:, (3, 2, 7, 6)] - c[:, (0, 1, 4, 5)]).mean(axis=1)
    out[:, :3, 3] = c.mean(axis=1)
    out[:, 3, 3] = 1.0
    plies = ends // 8
    starts = np.concatenate([[0], plies[:-1]])
    return np.add.reduceat(out, starts) / np.diff(plies, prepend=0)[:, None, None]


def _unit(vectors: Floats) -> Floats:
    """Return (n, 3) vectors of length 1."""
    return vectors / np.linalg.norm(vectors, axis=1, keepdims=True)
