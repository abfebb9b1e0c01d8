"""Lumber sections: exact dressed sizes of nominal names, and their properties.

A steel plate between the plies is a part of the name: ``2x10+3/8x9``.

Must not know species, grades or loads.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from ..errors import TableError
from ..units import INCH

# Dressed dry sizes, in. Source: NDS 2018 Supplement Table 1A.
_DRESSED_THICKNESS = {1: 0.75, 2: 1.5, 3: 2.5, 4: 3.5}
_DRESSED_WIDTH = {
    2: 1.5, 3: 2.5, 4: 3.5, 5: 4.5, 6: 5.5, 8: 7.25, 10: 9.25, 12: 11.25, 14: 13.25,
    16: 15.25,
}  # fmt: skip
_TIMBER_NOMINAL = (5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24)
PLATE = " plate"  # how the name of a steel plate ends
_LEAST, _MOST = 0.5 * INCH, 60 * INCH

_NUMBER = r"(\d+(?:\.\d*)?|\.\d+)"
_SIZE = re.compile(rf"\s*{_NUMBER}\s*[xX×]\s*{_NUMBER}\s*(mm|in)?\s*")
_PLATE = re.compile(
    r"\s*(?:(\d+)/(\d+)|(\d*\.?\d+))\s*[xX×]\s*(\d+\.?\d*)\s*(mm|in)?\s*"
)
_ALLOWED = (
    'a nominal size such as 2x6 or 6x8, dressed inches such as "1.75x11.875" or '
    '"1.5x5.5 in", or "47x150 mm", the smaller number first'
)
_PLATES = (
    'thickness by depth of a steel plate such as "2x10+3/8x9", "2x10+0.375x9 in" or '
    '"47x225 mm+10x200 mm", from 1/8 in to 1 in thick and no deeper than the plies'
)
_THINNEST, _THICKEST = INCH / 8, 1.0 * INCH


@dataclass(frozen=True)
class Section:
    """Rectangular section of one or more equal plies set side by side on edge.

    Attributes:
        name: as asked for, e.g. ``2x6``.
        breadth: m, one ply, dressed.
        depth: m, dressed; the breadth is never larger.
        plies: number of plies, at least 1.
        plate: of steel, between the middle plies; None where there is none. All
            properties are those of the wood; see ``flitch`` for both together.
    """

    name: str
    breadth: float
    depth: float
    plies: int = 1
    plate: Section | None = None

    def __hash__(self) -> int:
        return hash((self.name, self.plies))  # quicker than all four, and as telling

    @property
    def total_breadth(self) -> float:
        """Breadth of all plies together, m."""
        return self.plies * self.breadth

    @property
    def overall_breadth(self) -> float:
        """Breadth from face to face, m: of the plies, and of a plate between them."""
        plate = 0.0 if self.plate is None else self.plate.breadth
        return self.total_breadth + plate

    @property
    def area(self) -> float:
        """Area, m2."""
        return self.total_breadth * self.depth

    @property
    def section_modulus(self) -> float:
        """Section modulus for bending on edge, m3."""
        return self.total_breadth * self.depth**2 / 6

    @property
    def section_modulus_weak(self) -> float:
        """Section modulus for bending flatwise, plies sliding on each other, m3."""
        return self.plies * self.depth * self.breadth**2 / 6

    @property
    def I_strong(self) -> float:  # noqa: N802 - the book symbol
        """Second moment of area for bending on edge, m4."""
        return self.total_breadth * self.depth**3 / 12

    @property
    def I_weak(self) -> float:  # noqa: N802 - the book symbol
        """Second moment of area flatwise, plies sliding on each other, m4."""
        return self.plies * self.depth * self.breadth**3 / 12

    @property
    def torsion_constant(self) -> float:
        """Torsion constant, plies sliding on each other, m4.

        Source: the usual series of a rectangle cut after its second term (Roark's
        Formulas for Stress and Strain), within 0.5 % for every proportion.
        """
        b, d = sorted((self.breadth, self.depth))
        ratio = b / d
        return self.plies * d * b**3 * (1 / 3 - 0.21 * ratio * (1 - ratio**4 / 12))

    @property
    def label(self) -> str:
        """Name with the number of plies, e.g. ``2-2x6``."""
        return self.name if self.plies == 1 else f"{self.plies}-{self.name}"


@lru_cache(maxsize=512)
def section(name: str, plies: int = 1) -> Section:
    """Return the section of a size name.

    Whole numbers without a unit are nominal; decimals, or a unit, state the dressed
    size itself. A steel plate between the plies follows a plus sign, thickness first.

    Source: NDS 2018 Supplement Table 1A (dressed dry sizes); timbers, nominal 5 x 5
    and larger, are half an inch under both nominal sizes.

    Args:
        name: such as ``2x6``, ``6x8``, ``1.75x11.875``, ``1.5x5.5 in``, ``47x150 mm``.
        plies: plies side by side, at least 1.

    Returns:
        The dressed section; lengths in m.

    Raises:
        TableError: the name does not read, or no such nominal size is dressed.
    """
    if plies < 1:
        raise TableError("plies", plies, "1 or more")
    wood, plus, plate = name.partition("+")
    if plus:
        return _with_plate(section(wood, plies), plate, name)
    match = _SIZE.fullmatch(name)
    if match is None:
        raise TableError("size", name, _ALLOWED)
    first, second, unit = match.groups()
    if unit is None and "." not in first + second:
        breadth, depth = _dressed(int(first), int(second), name)
    else:
        scale = 1e-3 if unit == "mm" else INCH
        breadth, depth = float(first) * scale, float(second) * scale
    if not _LEAST <= breadth <= depth <= _MOST:
        raise TableError("size", name, f"{_ALLOWED}; from 0.5 in to 60 in")
    return Section(re.sub(r"\s*[xX×]\s*", "x", name.strip()), breadth, depth, plies)


def _with_plate(wood: Section, plate: str, name: str) -> Section:
    """Return plies with a steel plate between them."""
    match = _PLATE.fullmatch(plate)
    if match is None or (match[2] and not int(match[2])):
        raise TableError("size", name, _PLATES)
    top, below, decimal, deep, unit = match.groups()
    scale = 1e-3 if unit == "mm" else INCH
    thick = (int(top) / int(below) if top else float(decimal)) * scale
    depth = float(deep) * scale
    fits = _THINNEST - 1e-6 <= thick <= _THICKEST + 1e-6 and depth <= wood.depth + 1e-6
    if not fits or depth <= thick:
        raise TableError("size", name, _PLATES)
    label = re.sub(r"\s*[xX×]\s*", "x", plate.strip())
    steel = Section(f"{label}{PLATE}", thick, depth)
    return replace(wood, name=f"{wood.name}+{label}", plate=steel)


def nominal_width(depth: float) -> int:
    """Return the nominal width, in, whose dressed width covers a depth.

    Sizes between two nominal widths take the wider one, whose factors are smaller.

    Source: NDS 2018 Supplement Table 1A.

    Args:
        depth: m, dressed depth.

    Returns:
        2, 3, 4, 5, 6, 8, 10, 12, 14 or 16; 16 for anything deeper.
    """
    inches = depth / INCH - 1e-6
    return next((n for n, w in _DRESSED_WIDTH.items() if w >= inches), 16)


def is_timber(breadth: float, depth: float) -> bool:
    """Return True for timbers, nominal 5 x 5 and larger.

    Source: NDS 2018 4.1.3 (size classes of sawn lumber).

    Args:
        breadth: m, one ply, dressed.
        depth: m, dressed.

    Returns:
        True where both dressed sizes are at least 4.5 in.
    """
    return min(breadth, depth) / INCH >= 4.5 - 1e-6


def _dressed(thickness: int, width: int, name: str) -> tuple[float, float]:
    """Return the dressed size of a nominal one, m."""
    if thickness in _TIMBER_NOMINAL and width in _TIMBER_NOMINAL:
        return (thickness - 0.5) * INCH, (width - 0.5) * INCH
    if thickness not in _DRESSED_THICKNESS or width not in _DRESSED_WIDTH:
        raise TableError(
            "size",
            name,
            "nominal thickness 1, 2, 3 or 4 with width 2, 3, 4, 5, 6, 8, 10, 12, 14 "
            "or 16, or timbers from 5x5 to 24x24",
            "State other sizes in dressed inches, such as 1.75x11.875.",
        )
    return _DRESSED_THICKNESS[thickness] * INCH, _DRESSED_WIDTH[width] * INCH
