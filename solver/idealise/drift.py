"""What nothing but the soft holds of a drawn plan keeps from drifting away."""

from __future__ import annotations

import numpy as np

from ..analysis import FrameResult
from .model import Model

MOST = 0.02  # of the load: what soft holds may take together before it is told
_ALONG = 0.25  # of the largest movement: what goes along with it


def drifting(model: Model, frame: FrameResult) -> list[int]:
    """Return the nodes that a motion of the soft holds carries along.

    A soft hold keeps a house from drifting and may take no thrust. Where one takes more
    than a small part of all load, the roof there has no other way to hold itself; no
    number stands behind that.

    Args:
        model: of the roof.
        frame: its forces.
    """
    soft = [row.link for row in model.ground if row.is_soft]
    if not soft:
        return []
    up = [row for row in model.ground if row.direction == 2]
    load = np.zeros(len(frame.link_force))
    for row in up:
        held = row.link < 0
        load += (
            frame.reaction[:, row.node, 2] if held else frame.link_force[:, row.link]
        )
    taken = np.abs(frame.link_force[:, soft]).max(axis=1)
    worst = int(np.argmax(taken / np.maximum(np.abs(load), 1.0)))
    if taken[worst] <= MOST * abs(float(load[worst])):
        return []
    moved = np.abs(frame.displacement[worst, :, :3]).max(axis=1)
    return np.flatnonzero(moved > _ALONG * float(moved.max())).tolist()
