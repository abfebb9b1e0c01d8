"""Refusals of frames that cannot be solved, each naming what is loose."""

from __future__ import annotations

import numpy as np

from .assembly import System
from .frame import Bools, Frame
from .mechanism import UnstableFrameError, describe


def refuse_loose_nodes(system: System, natural: Bools) -> None:
    """Refuse a node of the frame that can shift along an axis without resistance."""
    frame = system.frame
    joined = np.zeros(frame.n_nodes, bool)
    joined[frame.ends.ravel()] = True
    loose = ~(natural | frame.fixed)[:, :3] & joined[:, None]
    if loose.any():
        modes = np.zeros((int(loose.sum()), frame.n_nodes, 6))
        node, axis = np.nonzero(loose)
        modes[np.arange(len(node)), node, axis] = 1.0
        raise describe(modes)


def loaded_idle(miss: Bools) -> UnstableFrameError:
    """Return the error for (n, 6) dropped freedoms that bear load."""
    node, axis = np.nonzero(miss)
    modes = np.zeros((len(node), *miss.shape))
    modes[np.arange(len(node)), node, axis] = 1.0
    return describe(modes)


def inexact(
    frame: Frame, residual: float, weakest: tuple[float, int]
) -> UnstableFrameError:
    """Return the error for a frame so nearly loose that rounding decides.

    Args:
        frame: of the result.
        residual: what its forces miss, of the largest load.
        weakest: its least pivot ratio and flat freedom.
    """
    ratio, freedom = weakest
    mode = np.zeros((1, frame.n_nodes, 6))
    mode[0].ravel()[freedom] = 1.0
    error = describe(mode)
    return UnstableFrameError(
        f"Loads and forces miss each other by {residual:.1e} of the "
        f"largest load (pivot ratio {ratio:.1e}). {error}",
        error.nodes,
        mode,
    )
