"""International Residential Code 2018, rafter span tables (recalled)."""

from __future__ import annotations

from ..basis.irc import rafter_span
from ..basis.irc.spans import LONGEST_TABULATED
from ..basis.sections import section
from ..units import INCH, PSF
from .model import Record
from .support import inches, table

TABLE = "IRC 2018 Table R802.4.1(1), rafters, 20 psf roof live, no ceiling attached"

SNOW = "IRC 2018 Table R802.4.1(3), rafters, 30 psf ground snow, no ceiling attached"

FILE = "irc_table_r802_4_1_1.csv"


def every_cell_lies_within_an_inch(out: Record) -> None:
    """Recalled; DF-L 2x6 at 24 in with 20 psf dead computes to 10-4, recalled 10-3."""
    for spacing in sorted({r["spacing_in"] for r in table(FILE)}, key=float):
        for row in (r for r in table(FILE) if r["spacing_in"] == spacing):
            found = rafter_span(
                section(row["size"]),
                row["species"],
                row["grade"],
                float(spacing) * INCH,
                float(row["dead_psf"]) * PSF,
                float(row["live_psf"]) * PSF,
                is_snow=False,
                ceiling_attached=False,
            )
            what = f"{row['species']} {row['grade']} {row['size']} "
            what += f"at {spacing} in, {row['dead_psf']} psf dead"
            ours = min(found.span, LONGEST_TABULATED) / INCH
            out.check(
                "CV-301",
                TABLE,
                "memory",
                what,
                inches(row["span"]),
                ours,
                tol=0.55,
                unit="in",
            )


def rafters_under_snow(out: Record) -> None:
    """DF-L No.2 at 24 in; the table takes the ground snow unreduced."""
    for size, printed in [("2x6", "9-10"), ("2x8", "12-6"), ("2x10", "15-3")]:
        found = rafter_span(
            section(size),
            "DF-L",
            "No.2",
            24 * INCH,
            10 * PSF,
            30 * PSF,
            is_snow=True,
            ceiling_attached=False,
        )
        out.check(
            "CV-303",
            SNOW,
            "memory",
            f"DF-L No.2 {size} at 24 in",
            inches(printed),
            found.span / INCH,
            tol=0.55,
            unit="in",
        )


GROUPS = (
    every_cell_lies_within_an_inch,
    rafters_under_snow,
)
