"""International Building Code 2018, rafter span table with ceilings attached.

The table still carries the Fb of the 1991 and 1997 NDS for Douglas fir-larch and
Hem-Fir; those are put in here, as what the table was computed from.
"""

from __future__ import annotations

from dataclasses import replace

from ..basis.irc.spans import LONGEST_TABULATED, allowable_span
from ..basis.materials import reference_values
from ..basis.sections import section
from ..units import INCH, PSF, PSI
from .model import Record
from .support import Row, inches, table

TABLE = "IBC 2018 Table 2308.7.2(2), rafters, 20 psf roof live, ceiling attached"

FILE = "ibc_2018_table_2308_7_2_2.csv"

EARLIER_FB = {
    ("Douglas Fir-Larch", "Select Structural"): 1450,
    ("Douglas Fir-Larch", "No.1"): 1000,
    ("Douglas Fir-Larch", "No.2"): 875,
    ("Douglas Fir-Larch", "No.3"): 500,
    ("Hem-Fir", "No.1"): 950,
}


def ours(row: Row, earlier: bool) -> float:
    """Return the span of a cell, m, with today's or the earlier Fb."""
    piece = section(row["size"])
    values = reference_values(row["species"], row["grade"], piece)
    old = EARLIER_FB.get((values.species, values.grade))
    if earlier and old is not None:
        values = replace(values, Fb=old * PSI)
    return allowable_span(
        piece,
        values,
        float(row["spacing_in"]) * INCH,
        float(row["dead_psf"]) * PSF,
        float(row["live_psf"]) * PSF,
        1.25,
        240.0,
    ).span


def every_cell_rounds_to_the_printed_span(out: Record) -> None:
    """210 cells, 28 of them "over 26 ft"."""
    for species in sorted({r["species"] for r in table(FILE)}):
        for row in (r for r in table(FILE) if r["species"] == species):
            span = ours(row, earlier=True)
            what = f"{row['species']} {row['grade']} {row['size']} "
            what += f"at {row['spacing_in']} in, {row['dead_psf']} psf dead"
            if row["span"].startswith("over"):
                printed, found = (26 * 12, min(span, LONGEST_TABULATED) / INCH)
                what += " (over 26 ft)"
            else:
                printed, found = (
                    inches(row["span"]),
                    min(span, LONGEST_TABULATED) / INCH,
                )
            out.check(
                "CV-310", TABLE, "seen", what, printed, found, tol=0.51, unit="in"
            )


GROUPS = (every_cell_rounds_to_the_printed_span,)
