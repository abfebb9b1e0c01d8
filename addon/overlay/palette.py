"""Loadfall's palette: what a use, or the lack of a load path, looks like.

Pure. Lightness alone tells the order up to the limit; beyond it a pattern says so
besides the hue, so that greyscale and colour-blind readers miss nothing. Hues run
along the sand, blue and orange axis, which red-green colour blindness leaves alone.
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


class State(IntEnum):
    """How a member is shown."""

    NOT_COUNTED = 0
    RATED = 1
    NO_LOAD_PATH = 2


# sRGB; lightness falls steadily from no use to the limit.
_UP_TO_LIMIT = ("#ecdcae", "#c3d3b0", "#8fbfb6", "#5a9fb8", "#3a78ae", "#2b4f94")
_OVER = ("#f6a13a", "#ea6f25", "#c93a1c")
_OVER_AT = (1.0, 1.5, 2.5)
NEUTRAL = "#f4f2ee"  # drawn, carries nothing by design
HATCHED = "#fbf7ff"  # no load path: this, under dark cross-hatching
WALL = "#c9ced6"  # walls and other context
INK = "#1d1626"  # stripes and hatching

# Sags: from pale rose to plum, so that nobody takes them for uses.
_SAG = ("#f3e7e3", "#e0c3c8", "#c79bb0", "#a47298", "#784d80", "#4a2d5e")
# Influence: what loads the picked number, and what takes load off it.
_LOADS = ("#fbf0d2", "#f3c26a", "#d9822b", "#a34d16", "#6a2a0b")
_RELIEVES = ("#dcebf2", "#8dbcd6", "#3f7fae", "#1f4e80")
PICKED = "#2b4f94"
# Findings, from no load path to what passes.
FOUND = {
    "no load path": (HATCHED, 2.0),
    "over its limit": ("#ea6f25", 0.45),
    "keeps the rule but fails by analysis": ("#f6c063", 3.0),
    "breaks the rule but passes by analysis": ("#8fbfb6", 4.0),
    "passes these checks": ("#dfe3cf", 0.0),
    "not counted": (NEUTRAL, 0.0),
}

STRIPED_MOST = 0.62  # share of ink at _OVER_AT[-1] and beyond
STRIPED_LEAST = 0.3  # share of ink just over the limit
HATCH = 2.0  # the pattern value of cross-hatching
BACKWARD = 3.0  # stripes that lean the other way
DOTS = 4.0  # dots
RELIEF = 0.22  # share of ink on what takes load off
PERIOD = 0.24  # m from stripe to stripe


def srgb(code: str) -> Floats:
    """Return (3,) sRGB 0 to 1 of a colour code."""
    return np.array([int(code[k : k + 2], 16) for k in (1, 3, 5)]) / 255


def to_linear(colour: Floats) -> Floats:
    """Return linear light of sRGB, 0 to 1.

    Source: IEC 61966-2-1:1999.
    """
    colour = np.asarray(colour, dtype=float)
    return np.where(
        colour <= 0.04045, colour / 12.92, ((colour + 0.055) / 1.055) ** 2.4
    )


def to_srgb(linear: Floats) -> Floats:
    """Return sRGB of linear light, 0 to 1.

    Source: IEC 61966-2-1:1999.
    """
    linear = np.clip(linear, 0.0, 1.0)
    return np.where(
        linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055
    )


def lightness(colour: Floats) -> Floats:
    """Return CIE lightness L*, 0 to 100, of sRGB colours (..., 3).

    Source: CIE 15:2004, with the luminance weights of IEC 61966-2-1.
    """
    Y = to_linear(colour) @ np.array([0.2126, 0.7152, 0.0722])
    cube = np.cbrt(Y)
    return np.where(Y > 216 / 24389, 116 * cube - 16, Y * 24389 / 27)


def _along(codes: tuple[str, ...], at: Floats, x: Floats) -> Floats:
    """Return (n, 3) sRGB between colour codes, blended in linear light's cube root."""
    steps = np.cbrt(to_linear(np.array([srgb(code) for code in codes])))
    mixed = np.stack([np.interp(x, at, steps[:, k]) for k in range(3)], axis=-1)
    return to_srgb(mixed**3)


def colours(use: Floats, state: NDArray[np.int64]) -> Floats:
    """Return the sRGB colour of members, without their pattern.

    Args:
        use: (n,) demand over capacity; ignored where the state is not RATED.
        state: (n,) of State.

    Returns:
        (n, 3) sRGB, 0 to 1.
    """
    use = np.asarray(use, dtype=float)
    state = np.asarray(state)
    below = _along(_UP_TO_LIMIT, np.linspace(0, 1, len(_UP_TO_LIMIT)), use)
    over = _along(_OVER, np.array(_OVER_AT), use)
    out = np.where((use > 1.0)[:, None], over, below)
    out[state == State.NOT_COUNTED] = srgb(NEUTRAL)
    out[state == State.NO_LOAD_PATH] = srgb(HATCHED)
    return out


def sag_colours(part: Floats) -> Floats:
    """Return (n, 3) sRGB of sags as parts of the top of their scale, 0 to 1."""
    part = np.clip(np.asarray(part, dtype=float), 0.0, 1.0)
    return _along(_SAG, np.linspace(0, 1, len(_SAG)), part)


def influence_colours(part: Floats) -> Floats:
    """Return (n, 3) sRGB of influences, -1 what relieves most to 1 what loads most."""
    part = np.clip(np.asarray(part, dtype=float), -1.0, 1.0)
    loads = _along(_LOADS, np.linspace(0, 1, len(_LOADS)), part)
    relieves = _along(_RELIEVES, np.linspace(0, 1, len(_RELIEVES)), -part)
    return np.where((part < 0)[:, None], relieves, loads)


def patterns(use: Floats, state: NDArray[np.int64]) -> Floats:
    """Return the pattern of members.

    Args:
        use: (n,) demand over capacity.
        state: (n,) of State.

    Returns:
        (n,) 0 plain; up to 1 stripes with that share of ink; HATCH cross-hatching.
    """
    use = np.asarray(use, dtype=float)
    state = np.asarray(state)
    ends = (_OVER_AT[0], _OVER_AT[-1])
    stripes = np.interp(use, ends, (STRIPED_LEAST, STRIPED_MOST))
    out = np.where((state == State.RATED) & (use > 1.0), stripes, 0.0)
    out[state == State.NO_LOAD_PATH] = HATCH
    return out
