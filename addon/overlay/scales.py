"""What a legend says: bands of colour with their ticks, swatches and notes.

Pure: plain values that readings make and legend.py draws, the same for every mode.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from . import palette
from .palette import State

Floats = NDArray[np.float64]
_BANDS = 24


@dataclass(frozen=True, eq=False)
class Swatch:
    """One colour with its pattern.

    Attributes:
        colour: (3,) sRGB.
        pattern: see palette.patterns.
        words: beside it, or "".
    """

    colour: Floats
    pattern: float = 0.0
    words: str = ""


@dataclass(frozen=True, eq=False)
class Legend:
    """The one legend of a mode.

    Attributes:
        title: what is shown.
        bands: of the scale, from its low end, all equally wide.
        ticks: (place from 0 to 1, words) under the scale.
        beyond: what lies past the scale's end, beside it.
        beyond_words: under that.
        swatches: of what has no place on the scale.
        notes: small lines under all.
    """

    title: str
    bands: tuple[Swatch, ...] = ()
    ticks: tuple[tuple[float, str], ...] = ()
    beyond: tuple[Swatch, ...] = ()
    beyond_words: str = ""
    swatches: tuple[Swatch, ...] = ()
    notes: tuple[str, ...] = ()


def plain(code: str, words: str, pattern: float = 0.0) -> Swatch:
    """Return a swatch of a colour code."""
    return Swatch(palette.srgb(code), pattern, words)


NOTHING = plain(palette.NEUTRAL, "drawn, not counted")
NO_PATH = plain(palette.HATCHED, "no load path", palette.HATCH)


def _middles(count: int) -> Floats:
    """Return the middles of so many bands from 0 to 1."""
    return (np.arange(count) + 0.5) / count


def use_legend() -> Legend:
    """Return the legend of uses."""
    rated = np.full(_BANDS, State.RATED)
    within = palette.colours(_middles(_BANDS), rated)
    over = np.array([1.1, 1.6, 2.5])
    tints = palette.colours(over, rated[:3])
    inks = palette.patterns(over, rated[:3])
    return Legend(
        title="Use: demand over capacity",
        bands=tuple(Swatch(c) for c in within),
        ticks=((0.0, "0"), (0.5, "0.5"), (1.0, "1")),
        beyond=tuple(Swatch(c, float(p)) for c, p in zip(tints, inks, strict=True)),
        beyond_words="over its limit",
        swatches=(NO_PATH, NOTHING),
    )


def sag_legend(title: str, ticks: tuple[tuple[float, str], ...], note: str) -> Legend:
    """Return the legend of sags.

    Args:
        title: which sags.
        ticks: of the scale.
        note: a small line, such as what the curve is.
    """
    return Legend(
        title=title,
        bands=tuple(Swatch(c) for c in palette.sag_colours(_middles(_BANDS))),
        ticks=ticks,
        beyond=(
            Swatch(palette.sag_colours([0.25])[0], palette.STRIPED_LEAST),
            Swatch(palette.sag_colours([0.6])[0], palette.STRIPED_LEAST),
        ),
        beyond_words="over its sag limit",
        swatches=(NO_PATH, plain(palette.NEUTRAL, "does not bend")),
        notes=(note,) if note else (),
    )


def influence_legend(title: str, most: str, notes: tuple[str, ...]) -> Legend:
    """Return the legend of an influence over the roof.

    Args:
        title: of which number.
        most: words of the scale's top.
        notes: small lines.
    """
    loads = palette.influence_colours(_middles(_BANDS))
    relief = palette.influence_colours([-0.4, -0.9])
    return Legend(
        title=title,
        bands=tuple(Swatch(c) for c in loads),
        ticks=((0.0, "0"), (1.0, most)),
        beyond=tuple(Swatch(c, palette.RELIEF) for c in relief),
        beyond_words="takes load off",
        swatches=(plain(palette.PICKED, "what was picked"),),
        notes=notes,
    )


def verdict_legend(notes: tuple[str, ...]) -> Legend:
    """Return the legend of the findings: every verdict by colour and pattern."""
    return Legend(
        title="Findings: what the checks and the rules say",
        swatches=tuple(
            plain(code, words, pattern)
            for words, (code, pattern) in palette.FOUND.items()
        ),
        notes=notes,
    )


def nice_top(value: float, imperial: bool) -> float:
    """Return the round top of a scale of sags, m.

    Args:
        value: m, the largest sag; the top is no less.
        imperial: in eighths and whole inches, else in mm.
    """
    unit = 0.0254 / 8 if imperial else 1e-3
    steps = (2, 4, 8, 16, 24, 32, 48, 64) if imperial else (2, 5, 10, 20, 30, 50, 100)
    for step in steps:
        if value <= step * unit:
            return step * unit
    return float(np.ceil(value / (8 * unit)) * 8 * unit)
