"""When everything of a lesson happens: seconds into frames, and moves between views.

Pure: numbers in, numbers out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

RATE = 24  # frames a second
TWOS = 2  # frames that a quick film holds each picture
_FACTORS = (1.0, 2.0, 5.0)
_DRAWN = 0.055  # of the roof's width: how far the largest sag is drawn


@dataclass(frozen=True)
class Beat:
    """The frames of one step of a lesson.

    Attributes:
        start: the camera sets off, and what changes begins to.
        settled: all stand still; labels come.
        until: last frame of the step.
    """

    start: int
    settled: int
    until: int

    @property
    def middle(self) -> int:
        """A frame on which everything of the step is to be seen."""
        return (self.settled + self.until) // 2

    @property
    def late(self) -> int:
        """A frame on which what moves while the step holds has come far."""
        return self.settled + round(0.5 * (self.until - self.settled))


def beats(seconds: Sequence[tuple[float, float]]) -> tuple[Beat, ...]:
    """Return the frames of steps that follow one another.

    Args:
        seconds: of every step, how long it moves and how long it holds, both over 0.
    """
    out, frame = [], 1
    for move, hold in seconds:
        settled = frame + max(2, _even(move))
        until = settled + max(2, _even(hold)) - 1
        out.append(Beat(frame, settled, until))
        frame = until + 1
    return tuple(out)


def _even(seconds: float) -> int:
    """Return seconds as frames, two by two, so that film on twos misses no key."""
    return TWOS * round(seconds * RATE / TWOS)


def eased(part: Floats) -> Floats:
    """Return parts 0 to 1 of a move that sets off and arrives gently."""
    return part * part * (3 - 2 * part)


def nice_factor(largest: float, width: float) -> float:
    """Return how many times a sag is drawn as large as it is: 1, 2, 5, 10, 20, ...

    Args:
        largest: m, of all that is drawn.
        width: m, of the roof.

    Returns:
        The largest round number that draws it at most about a twentieth of the width.
    """
    if not largest > 0:
        return 1.0
    wanted = _DRAWN * width / largest
    if wanted <= 1:
        return 1.0
    ten = 10.0 ** np.floor(np.log10(wanted))
    return float(max(f * ten for f in _FACTORS if f * ten <= wanted * (1 + 1e-9)))


def factor_words(factor: float) -> str:
    """Return what a scaled picture says of itself."""
    if factor == 1:
        return "Sags are drawn as large as they are."
    return f"Sags are drawn {factor:g} times as large as they are."


@dataclass(frozen=True)
class Aim:
    """Where a camera must stand.

    Attributes:
        eye, target: (3,) m.
    """

    eye: tuple[float, float, float]
    target: tuple[float, float, float]


def aim(
    points: Floats,
    toward: Sequence[float],
    angles: tuple[float, float],
    room: tuple[float, float, float, float] = (0.06, 0.94, 0.27, 0.83),
) -> Aim:
    """Return where a camera sees all points within a part of its picture.

    Args:
        points: (n, 3) m, at least one.
        toward: (3,) direction that it looks in, not straight down.
        angles: radians, of the whole picture across and up.
        room: left, right, bottom and top of the part, 0 to 1 of the picture.
    """
    look = np.array(toward, dtype=float)
    look = look / np.linalg.norm(look)
    right = np.cross(look, [0.0, 0.0, 1.0])
    right = right / np.linalg.norm(right)
    up = np.cross(right, look)
    x, y, z = points @ right, points @ up, points @ look
    half = np.tan(np.array(angles) / 2)
    left, far_right, low, high = (2 * part - 1 for part in room)
    across = _fit(x, z, left * half[0], far_right * half[0])
    upward = _fit(y, z, low * half[1], high * half[1])
    back = min(across[0], upward[0])
    cx = _centre(x, z, back, left * half[0], far_right * half[0])
    cy = _centre(y, z, back, low * half[1], high * half[1])
    eye = right * cx + up * cy + look * back
    target = eye + look * (float(z.mean()) - back)
    return Aim(tuple(eye.tolist()), tuple(target.tolist()))


def _fit(x: Floats, z: Floats, low: float, high: float) -> tuple[float, float]:
    """Return how far forward an eye may stand, and where across, to see all points.

    A point is in the picture where low <= (x - c) / (z - e) <= high; the best centre c
    makes both edges tight.
    """
    top, bottom = x - high * z, x - low * z
    forward = (float(bottom.min()) - float(top.max())) / (high - low)
    return min(forward, float(z.min()) - 0.5), 0.0


def _centre(x: Floats, z: Floats, e: float, low: float, high: float) -> float:
    """Return the place across of an eye at depth e, its points in the middle."""
    least = float((x - high * (z - e)).max())
    most = float((x - low * (z - e)).min())
    return (least + most) / 2
