"""HUD Residential Structural Design Guide, 2nd edition; a maker's LVL guide of 2014."""

import numpy as np
from loadfall.solver.basis.nds.adjustment import volume_factor
from loadfall.solver.basis.protocol import Check
from loadfall.solver.basis.sections import section
from loadfall.solver.units import (
    INCH,
    PLF,
    POUND,
    POUND_FOOT,
    PSF,
)

from .support import check_one, forces

HUD = "HUD Residential Structural Design Guide, 2nd edition"


def test_line_loads_are_what_they_say():
    """16 in of 30 psf is 40 plf: guards the conversions that the examples lean on."""
    assert abs(30 * PSF * 16 * INCH - 40 * PLF) < 1e-9


def test_laminated_veneer_lumber_at_its_printed_limit():
    """3.5 x 11.25 in of grade 2.0E-2900Fb: the shear that the guide allows is 1.0."""
    acting = forces(M=17970 * POUND_FOOT, V=7481 * POUND)
    result = check_one("3.5x11.25", "LVL", "2.0E-2900Fb", [1.0], acting)
    assert np.allclose(result.checks[Check.SHEAR].utilisation, 1.0, rtol=2e-3)
    assert float(volume_factor(section("3.5x11.25").depth, 0.111)) > 1
