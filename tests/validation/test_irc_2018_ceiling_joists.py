"""International Residential Code 2018, ceiling joist span tables."""

import pytest
from loadfall.solver.basis.irc import SpanLimit, ceiling_joist_span
from loadfall.solver.basis.sections import section
from loadfall.solver.units import INCH, PSF

from .support import inches, table

TABLE = "IRC 2018 Table R802.5.1(2), ceiling joists, 20 psf live, 10 psf dead"
ROWS = table("irc_2018_table_r802_5_1_2.csv")


def ours(row):
    return ceiling_joist_span(
        section(row["size"]), row["species"], row["grade"],
        float(row["spacing_in"]) * INCH, float(row["dead_psf"]) * PSF,
        float(row["live_psf"]) * PSF,
    )  # fmt: skip


@pytest.mark.parametrize("species", sorted({r["species"] for r in ROWS}))
def test_every_cell_rounds_to_the_printed_span(verification, species):
    """Page 405; printed to the nearest inch, one cell lies on a half inch."""
    for row in (r for r in ROWS if r["species"] == species):
        what = f"{species} {row['grade']} {row['size']} at {row['spacing_in']} in"
        verification.check(
            "CV-320", TABLE, "seen", what, inches(row["span"]),
            ours(row).span / INCH, tol=0.51, unit="in",
        )  # fmt: skip


def test_bending_and_sag_each_govern_part_of_the_table():
    limits = {ours(row).limit for row in ROWS}
    assert limits == set(SpanLimit)


@pytest.mark.parametrize(
    ("size", "printed"), [("2x4", "11-3"), ("2x6", "17-8"), ("2x8", "23-4")]
)
def test_joists_without_storage(verification, size, printed):
    """Table R802.5.1(1), Douglas fir-larch No.2 at 16 in."""
    found = ceiling_joist_span(
        section(size), "DF-L", "No.2", 16 * INCH, 5 * PSF, 10 * PSF
    )
    verification.check(
        "CV-323", "IRC 2018 Table R802.5.1(1), ceiling joists, 10 psf live, 5 psf dead",
        "memory", f"DF-L No.2 {size} at 16 in", inches(printed), found.span / INCH,
        tol=0.51, unit="in",
    )  # fmt: skip


def test_worked_example_of_a_ceiling_joist(verification):
    """A code-training text: DF-L No.3 2x10 at 16 in reaches 15-5."""
    found = ceiling_joist_span(
        section("2x10"), "DF-L", "No.3", 16 * INCH, 10 * PSF, 20 * PSF
    )
    verification.check(
        "CV-324", "Ceiling joist example of a code-training text", "seen",
        "DF-L No.3 2x10 at 16 in", inches("15-5"), found.span / INCH, tol=0.51,
        unit="in",
    )  # fmt: skip
