"""How the plies of a built-up column must be nailed for clause 15.3 to hold."""

from __future__ import annotations

from dataclasses import dataclass

from ...units import INCH

_NEXT_PENETRATION = 0.75


@dataclass(frozen=True, kw_only=True)
class NailingRule:
    """Limits on the nails of a built-up column, m.

    Attributes:
        end_distance: least and most.
        spacing_along: least and most, in a row.
        edge_distance: least and most.
        spacing_rows: least and most, between rows.
        rows: least number of rows.
        nail_length: least length, through all plies and 3/4 into the last.
    """

    end_distance: tuple[float, float]
    spacing_along: tuple[float, float]
    edge_distance: tuple[float, float]
    spacing_rows: tuple[float, float]
    rows: int
    nail_length: float


def built_up_nailing(
    nail_diameter: float, ply_breadth: float, depth: float, plies: int
) -> NailingRule:
    """Return how a nailed built-up column must be nailed.

    Source: NDS 2018 15.3.3 (end 15D to 18D, along 20D to 6 tmin, edge 5D to 20D,
    between rows 10D to 20D; two rows at least where the depth exceeds 3 tmin; nails
    through all plies, 3/4 of the last one's thickness). The row spacing is from memory.

    Args:
        nail_diameter: m.
        ply_breadth: m, thinnest ply.
        depth: m, face width of a ply.
        plies: number of plies.

    Returns:
        The limits.
    """
    D = nail_diameter
    return NailingRule(
        end_distance=(15 * D, 18 * D),
        spacing_along=(20 * D, 6 * ply_breadth),
        edge_distance=(5 * D, 20 * D),
        spacing_rows=(10 * D, 20 * D),
        rows=2 if depth > 3 * ply_breadth + 1e-6 * INCH else 1,
        nail_length=(plies - 1 + _NEXT_PENETRATION) * ply_breadth,
    )
