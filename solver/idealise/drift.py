"""What nothing but the soft holds of a drawn plan keeps from drifting away."""

from __future__ import annotations

import numpy as np

from ..analysis import FrameResult
from .model import Model

FAR = 0.3  # m: what a soft hold gives more than this moves without resistance


def drifting(model: Model, frame: FrameResult) -> list[int]:
    """Return the nodes that a motion of the soft holds carries along.

    A soft hold keeps a house from drifting and may take no thrust. Where it gives by a
    foot the roof there has no other way to the ground; no number stands behind that.

    Args:
        model: of the roof.
        frame: its forces.
    """
    soft = [row.node for row in model.ground if row.is_soft]
    if not soft:
        return []
    moved = np.abs(frame.displacement[:, :, :3]).max(axis=(0, 2))
    if float(moved[soft].max()) <= FAR:
        return []
    return np.flatnonzero(moved > max(FAR, float(moved.max()) / 4)).tolist()
