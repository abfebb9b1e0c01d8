"""International Residential Code 2018, ceiling joist span tables."""

from __future__ import annotations

from ..basis.irc import ceiling_joist_span
from ..basis.irc.spans import AllowableSpan
from ..basis.sections import section
from ..units import INCH, PSF
from .model import Record
from .support import Row, inches, table

TABLE = "IRC 2018 Table R802.5.1(2), ceiling joists, 20 psf live, 10 psf dead"

FILE = "irc_2018_table_r802_5_1_2.csv"


def ours(row: Row) -> AllowableSpan:
    """Return the span of a cell."""
    return ceiling_joist_span(
        section(row["size"]),
        row["species"],
        row["grade"],
        float(row["spacing_in"]) * INCH,
        float(row["dead_psf"]) * PSF,
        float(row["live_psf"]) * PSF,
    )


def every_cell_rounds_to_the_printed_span(out: Record) -> None:
    """Page 405; printed to the nearest inch, one cell lies on a half inch."""
    for species in sorted({r["species"] for r in table(FILE)}):
        for row in (r for r in table(FILE) if r["species"] == species):
            what = f"{species} {row['grade']} {row['size']} at {row['spacing_in']} in"
            out.check(
                "CV-320",
                TABLE,
                "seen",
                what,
                inches(row["span"]),
                ours(row).span / INCH,
                tol=0.51,
                unit="in",
            )


def joists_without_storage(out: Record) -> None:
    """Table R802.5.1(1), Douglas fir-larch No.2 at 16 in."""
    for size, printed in [("2x4", "11-3"), ("2x6", "17-8"), ("2x8", "23-4")]:
        found = ceiling_joist_span(
            section(size), "DF-L", "No.2", 16 * INCH, 5 * PSF, 10 * PSF
        )
        out.check(
            "CV-323",
            "IRC 2018 Table R802.5.1(1), ceiling joists, 10 psf live, 5 psf dead",
            "memory",
            f"DF-L No.2 {size} at 16 in",
            inches(printed),
            found.span / INCH,
            tol=0.51,
            unit="in",
        )


def worked_example_of_a_ceiling_joist(out: Record) -> None:
    """A code-training text: DF-L No.3 2x10 at 16 in reaches 15-5."""
    found = ceiling_joist_span(
        section("2x10"), "DF-L", "No.3", 16 * INCH, 10 * PSF, 20 * PSF
    )
    out.check(
        "CV-324",
        "Ceiling joist example of a code-training text",
        "seen",
        "DF-L No.3 2x10 at 16 in",
        inches("15-5"),
        found.span / INCH,
        tol=0.51,
        unit="in",
    )


GROUPS = (
    every_cell_rounds_to_the_printed_span,
    joists_without_storage,
    worked_example_of_a_ceiling_joist,
)
