"""Sizes of paper."""

from __future__ import annotations

from dataclasses import dataclass

from ..brief.model import System
from ..errors import FieldError

POINT = 25.4 / 72  # mm


@dataclass(frozen=True)
class Paper:
    """A sheet of paper, upright.

    Attributes:
        name: as it is asked for.
        width, height: mm.
        margin: mm, all round.
        css: size in CSS.
    """

    name: str
    width: float
    height: float
    margin: float
    css: str

    @property
    def inside(self) -> tuple[float, float]:
        """Width and height within the margins, mm."""
        return self.width - 2 * self.margin, self.height - 2 * self.margin


LETTER = Paper("letter", 215.9, 279.4, 12.7, "letter")  # ANSI/ASME Y14.1 size A
A4 = Paper("a4", 210.0, 297.0, 12.7, "A4")  # ISO 216
PAPERS = {p.name: p for p in (LETTER, A4)}


def paper_for(system: System, name: str = "") -> Paper:
    """Return the paper of a name; left out, what is usual with the units.

    Raises:
        FieldError: no paper has this name.
    """
    if not name:
        return LETTER if system is System.IMPERIAL else A4
    if name not in PAPERS:
        raise FieldError("--paper", name, " or ".join(PAPERS))
    return PAPERS[name]
