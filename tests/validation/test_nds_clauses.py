"""NDS 2015 and 2018: printed tables of the clauses themselves."""

import pytest
from loadfall.solver.basis.nds import nails, shear
from loadfall.solver.units import INCH, POUND, PSI

from .support import table


def test_notched_shear_by_hand():
    """2x6, Fv' 225 psi, 4.125 in left: 2/3*225*1.5*4.125*(0.75)^2 = 522.1 lb."""
    whole = shear.notched_shear_capacity(225 * PSI, 1.5 * INCH, 5.5 * INCH, 5.5 * INCH)
    notched = shear.notched_shear_capacity(
        225 * PSI, 1.5 * INCH, 5.5 * INCH, 4.125 * INCH
    )
    assert float(whole) / POUND == pytest.approx(1237.5, rel=1e-6)
    assert float(notched) / POUND == pytest.approx(522.1, rel=1e-3)


@pytest.mark.parametrize(
    "row", table("nds_2018_table_12n.csv"), ids=lambda r: r["nail"]
)
def test_the_mode_of_nails_through_full_side_members(row):
    fastener = nails.Nail(
        row["nail"], float(row["diameter_in"]) * INCH, float(row["length_in"]) * INCH
    )
    found = nails.lateral_value(fastener, 1.5 * INCH, 3.5 * INCH, 0.42, 0.42)
    assert found.mode is nails.YieldMode.TWO_HINGES


def test_the_mode_of_a_nail_through_a_thin_side_member():
    fastener = nails.Nail("10d common", 0.148 * INCH, 3 * INCH)
    found = nails.lateral_value(fastener, 0.75 * INCH, 3.5 * INCH, 0.5, 0.5)
    assert found.mode is nails.YieldMode.SIDE_HINGE
