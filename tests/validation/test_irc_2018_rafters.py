"""International Residential Code 2018, rafter span tables (recalled)."""

import pytest
from loadfall.solver.basis.irc import rafter_span
from loadfall.solver.basis.irc.spans import LONGEST_TABULATED
from loadfall.solver.basis.sections import section
from loadfall.solver.units import INCH, PSF

from .support import inches, table

TABLE = "IRC 2018 Table R802.4.1(1), rafters, 20 psf roof live, no ceiling attached"
SNOW = "IRC 2018 Table R802.4.1(3), rafters, 30 psf ground snow, no ceiling attached"
ROWS = table("irc_table_r802_4_1_1.csv")


@pytest.mark.parametrize("spacing", sorted({r["spacing_in"] for r in ROWS}, key=float))
def test_every_cell_lies_within_an_inch(verification, spacing):
    """Recalled; DF-L 2x6 at 24 in with 20 psf dead computes to 10-4, recalled 10-3."""
    for row in (r for r in ROWS if r["spacing_in"] == spacing):
        found = rafter_span(
            section(row["size"]), row["species"], row["grade"], float(spacing) * INCH,
            float(row["dead_psf"]) * PSF, float(row["live_psf"]) * PSF,
            is_snow=False, ceiling_attached=False,
        )  # fmt: skip
        what = (
            f"{row['species']} {row['grade']} {row['size']} at {spacing} in, "
            f"{row['dead_psf']} psf dead"
        )
        ours = min(found.span, LONGEST_TABULATED) / INCH
        verification.check(
            "CV-301", TABLE, "memory", what, inches(row["span"]), ours, tol=0.55,
            unit="in",
        )  # fmt: skip


@pytest.mark.parametrize(
    ("size", "printed"), [("2x6", "9-10"), ("2x8", "12-6"), ("2x10", "15-3")]
)
def test_rafters_under_snow(verification, size, printed):
    """DF-L No.2 at 24 in; the table takes the ground snow unreduced."""
    found = rafter_span(
        section(size), "DF-L", "No.2", 24 * INCH, 10 * PSF, 30 * PSF,
        is_snow=True, ceiling_attached=False,
    )  # fmt: skip
    verification.check(
        "CV-303", SNOW, "memory", f"DF-L No.2 {size} at 24 in", inches(printed),
        found.span / INCH, tol=0.55, unit="in",
    )  # fmt: skip
