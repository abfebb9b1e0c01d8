"""Creep in a frame of several materials, by effective moduli.

Source: the principle of EN 1995-1-1 2.3.2.2(2): where members creep differently, the
final effects of the lasting load are found with each final mean modulus, E/(1 + k_def).
Here it is used at every time with E/(1 + phi(t)). The method leaves out that a member
which takes load over is loaded later, and so creeps somewhat less under that part.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..analysis import Frame, FrameResult, LoadSet, solve

Floats = NDArray[np.float64]


def aged_frame(frame: Frame, element_creep: Floats, link_creep: Floats) -> Frame:
    """Return a frame with effective moduli.

    Args:
        frame: as built.
        element_creep: (m,) creep of each element, as a part of its elastic
            deformation, 0 or more.
        link_creep: (k,) of each link: a bearing is crushed by load that stays.
    """
    soft = 1 + element_creep
    links = replace(frame.links, stiffness=frame.links.stiffness / (1 + link_creep))
    return replace(frame, E=frame.E / soft, G=frame.G / soft, links=links)


def aged_results(
    frame: Frame,
    loads: LoadSet,
    factors: Floats,
    element_creep: Floats,
    link_creep: Floats,
    shares: Floats,
) -> tuple[FrameResult, ...]:
    """Return the frame under lasting load, solved afresh at every time.

    Args:
        frame: as built.
        loads: load cases.
        factors: (ncase,) part of each that stays.
        element_creep: (m,) creep at the reference time.
        link_creep: (k,) likewise.
        shares: (T,) part of it that is there at each time; 0 for at once.

    Returns:
        (T,) results of one combination, each in its own contact state.

    Raises:
        UnstableFrameError: the lasting load alone does not hold the frame together.
        LiftOffError: no contact state balances it.
    """
    found: list[FrameResult] = []
    for share in shares.tolist():
        aged = aged_frame(frame, share * element_creep, share * link_creep)
        last = found[-1] if found else None
        result = solve(
            aged, loads, factors[None], ("lasting",),
            layout=last.layout if last else None, start=last,
        )  # fmt: skip
        found.append(result)
    return tuple(found)
