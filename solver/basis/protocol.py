"""What the checks ask of a design basis.

``checks`` knows stresses and stations; every strength, factor, interaction and limit
comes from an object of this shape. ``nds`` is the first of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from .arrays import Floats, Real
from .pieces import Pieces, Stock, Strengths
from .sections import Section


class Check(StrEnum):
    """The checks of a member, in the order in which a report lists them."""

    BENDING = "bending"
    BIAXIAL_BENDING = "biaxial_bending"
    SHEAR = "shear"
    NOTCHED_SHEAR = "notched_shear"
    TENSION = "tension"
    COMPRESSION = "compression"
    SLENDERNESS = "slenderness"
    BEAM_SLENDERNESS = "beam_slenderness"
    BENDING_TENSION = "bending_tension"
    BENDING_COMPRESSION = "bending_compression"
    BEARING = "bearing"
    PLATE_BENDING = "plate_bending"
    PLATE_SHEAR = "plate_shear"
    PERSON = "person"
    DEFLECTION_LIVE = "deflection_live"
    DEFLECTION_TOTAL = "deflection_total"


class Edge(StrEnum):
    """Which edge of a bending member is pressed."""

    TOP = "sagging"
    BOTTOM = "hogging"


@dataclass(frozen=True)
class Factor:
    """One term of the product that makes a design value.

    Attributes:
        symbol: as the book writes it.
        source: name of a `Pieces` or `Strengths` array, or of an entry of
            `Strengths.factors`.
        words: what it is and where it stands.
        unit: SI unit, empty for a ratio.
    """

    symbol: str
    source: str
    words: str
    unit: str = ""


class Basis(Protocol):
    """A design basis."""

    @property
    def name(self) -> str:
        """Name and edition."""
        ...

    @property
    def slenderness_limit(self) -> float:
        """Largest le/d of a compression member."""
        ...

    @property
    def beam_slenderness_limit(self) -> float:
        """Largest slenderness ratio of a bending member."""
        ...

    def clause(self, check: Check) -> str:
        """Return the clause of a check."""
        ...

    def duration(self, cases: Sequence[str]) -> float:
        """Return the load duration factor of a combination of load cases."""
        ...

    def stock(self, section: Section, species: str, grade: str) -> Stock:
        """Return what section, species and grade decide; TableError if unknown."""
        ...

    def strengths(self, pieces: Pieces, duration: Floats) -> Strengths:
        """Return the adjusted design values; ``duration`` (ncomb,)."""
        ...

    def bending_tension(
        self, tension: Real, bending: Real, bending_weak: Real
    ) -> Floats:
        """Return the interaction of ratios ft/Ft', fb/Fb* and weak axis bending."""
        ...

    def bending_compression(
        self,
        compression: Real,
        bending: Real,
        bending_weak: Real,
        euler_strong: Real,
        euler_weak: Real,
        lateral: Real,
    ) -> Floats:
        """Return the interaction of ratios to capacities and to critical stresses."""
        ...

    def notched_shear(self, shear_value: Real, b: Real, d: Real, d_n: Real) -> Floats:
        """Return the shear force, N, that a section notched on its tension side has."""
        ...

    def bearing(
        self,
        along: Real,
        across: Real,
        angle: Real,
        length: Real,
        end_distance: Real,
    ) -> Floats:
        """Return the bearing strength, Pa, at an angle between load and grain."""
        ...

    def product(self, check: Check, edge: Edge) -> tuple[Factor, ...]:
        """Return the terms whose product is the design value of a check."""
        ...

    def equation(self, check: Check) -> str:
        """Return how the lines of a check come together, for its record."""
        ...

    def stability(self, check: Check, edge: Edge) -> tuple[Factor, ...]:
        """Return what the stability factor of a check is made of, for its record."""
        ...

    @property
    def counts_lasting_sag(self) -> bool:
        """Whether the total sag limit counts the immediate sag of lasting load."""
        ...

    def creep(self) -> float:
        """Return the factor on immediate deflection of sustained load, at the end."""
        ...
