"""What an external check is: a printed number, where it stands, and ours beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

SEEN, QUOTED = "seen", "seen as quoted elsewhere"
MEMORY, FORMULA = "memory", "formula"
PROVENANCES = (SEEN, QUOTED, MEMORY, FORMULA)


@dataclass(frozen=True, slots=True)
class Compared:
    """One printed number beside ours.

    Attributes:
        record: this project's own name of the example or table.
        source: title of the publication.
        provenance: one of ``PROVENANCES``.
        what: which number.
        unit: of both.
        expected: as printed.
        ours: as computed here and now.
        tolerance: in that unit; what the rounding of print allows.
    """

    record: str
    source: str
    provenance: str
    what: str
    unit: str
    expected: float
    ours: float
    tolerance: float

    @property
    def difference(self) -> float:
        """Ours less the printed number."""
        return self.ours - self.expected

    @property
    def agrees(self) -> bool:
        """Whether ours lies within the tolerance; what is no number never does."""
        return abs(self.difference) <= self.tolerance

    @property
    def share(self) -> float:
        """Difference as a part of the tolerance."""
        return abs(self.difference) / self.tolerance if self.tolerance else 0.0


@dataclass
class Record:
    """Where checks are written down, agreeing or not."""

    compared: list[Compared] = field(default_factory=list[Compared])

    def check(
        self,
        record: str,
        source: str,
        provenance: str,
        what: str,
        expected: float,
        ours: float,
        *,
        rel: float = 0.0,
        tol: float = 0.0,
        unit: str = "",
    ) -> Compared:
        """Write down a printed number and ours.

        Args:
            record: this project's own name of the example or table.
            source: title of the publication.
            provenance: one of ``PROVENANCES``.
            what: which number.
            expected: as printed.
            ours: as computed.
            rel: tolerance as a part of the printed number.
            tol: tolerance in its unit; the larger of both holds.
            unit: of both.
        """
        expected, ours = float(expected), float(ours)
        tolerance = max(tol, rel * abs(expected), 1e-12 * abs(expected))
        line = Compared(
            record, source, provenance, what, unit, expected, ours, tolerance
        )
        self.compared.append(line)
        return line


Group = Callable[[Record], None]
