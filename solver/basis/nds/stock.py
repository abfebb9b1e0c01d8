"""What a section, a species and a grade decide together, by the NDS."""

from __future__ import annotations

import math

from ...units import INCH
from ..materials import Kind, reference_values
from ..pieces import Stock
from ..sections import Section, nominal_width
from . import adjustment, compression


def stock(section: Section, species: str, grade: str) -> Stock:
    """Return reference values and size factors of a piece of lumber.

    Source: NDS 2018 Supplement; 4.3.6, 4.3.7, 4.3.9, 8.3.6, 3.7.1.5.

    Args:
        section: dressed section with plies.
        species: species group.
        grade: grade.

    Raises:
        TableError: a species, grade or size that the tables do not hold.
    """
    v = reference_values(species, grade, section)
    b, d = section.breadth, section.depth
    size = adjustment.size_factors(v.kind, v.grade, b, d)
    return Stock(
        values=v,
        Fb=v.Fb,
        Ft=v.Ft,
        Fv=v.Fv,
        Fc_perp=v.Fc_perp,
        Fc=v.Fc,
        E=v.E,
        Emin=v.Emin,
        breadth=b,
        depth=d,
        plies=float(section.plies),
        size_bending=size.bending,
        size_tension=size.tension,
        size_compression=size.compression,
        flat_use=adjustment.flat_use_factor(v.kind, v.grade, b, d),
        volume=float(adjustment.volume_factor(d, v.depth_exponent)),
        column_c=compression.column_c(v.kind),
        nominal_ratio=_nominal_ratio(section, v.kind),
        by_proportions=v.kind is not Kind.SCL,
        repetitive=adjustment.repetitive_member_factor(v.kind, is_repetitive=True),
    )


def _nominal_ratio(section: Section, kind: Kind) -> float:
    """Return nominal depth over nominal breadth, plies nailed together as one."""
    if kind in (Kind.SAWN, Kind.SOUTHERN_PINE):
        thickness = max(1, math.floor(section.breadth / INCH + 0.5 + 1e-6))
        return nominal_width(section.depth) / (section.plies * thickness)
    return section.depth / section.total_breadth
