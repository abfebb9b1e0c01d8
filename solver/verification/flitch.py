"""A steel plate between planks, and the bolts that hand it its part.

The worked beam takes first the wood's limit, then the steel stress that goes with it:
both bend to one curve. Printed from memory; its arithmetic closes by itself.
"""

from __future__ import annotations

from ..basis.flitch import stiffness_on_edge, wood_share
from ..basis.nds.bolts import (
    bolt_bearing_across,
    bolt_bearing_along,
    double_shear_value,
)
from ..basis.sections import section
from ..units import FOOT, INCH, POUND, POUND_FOOT, PSI
from .model import FORMULA, MEMORY, Record

BEAM = (
    "Ambrose, Simplified Engineering for Architects and Builders, flitched beam of two "
    "2x12 and a 1/2 x 11 1/4 in plate, 14 ft span"
)
BOLTS = "NDS Table 12F, bolts in double shear, 1/2 in, all members 1 1/2 in"
TRANSFORMED = "Transformed section, n = Es / Ew, any text on strength of materials"
_E, _FB = 1_700_000.0 * PSI, 1_000.0 * PSI


def flitched_beam(out: Record) -> None:
    """Wood at 1000 psi governs; S of a 2x12 is 31.6 in3 in print, 31.64 exactly."""
    made = section("2x12+1/2x11.25", 2)
    assert made.plate is not None
    share = wood_share(_E, made)
    wood = _FB * made.section_modulus
    whole = wood / share
    steel = whole - wood
    stress = steel / made.plate.section_modulus
    for what, printed, ours, unit in (
        ("steel stress where the wood is at its limit", 17059, stress / PSI, "psi"),
        ("moment of the wood", 5267, wood / POUND_FOOT, "lb-ft"),
        ("moment of the plate", 15000, steel / POUND_FOOT, "lb-ft"),
        ("moment of both", 20267, whole / POUND_FOOT, "lb-ft"),
        ("load, spread evenly", 11581, 8 * whole / (14 * FOOT) / POUND, "lb"),
    ):
        out.check("CV-570", BEAM, MEMORY, what, printed, ours, rel=0.003, unit=unit)


def transformed_section(out: Record) -> None:
    """A plate less deep than its planks: E I of n I_s + I_w, by numbers in inches."""
    made = section("2x10+3/8x9", 2)
    n = 29_000_000 / 1_400_000
    I_w, I_s = 3.0 * 9.25**3 / 12, 0.375 * 9.0**3 / 12
    ours = stiffness_on_edge(1_400_000 * PSI, made) / (1_400_000 * PSI) / INCH**4
    out.check("CV-571", TRANSFORMED, FORMULA, "I as wood, 2-2x10 and 3/8 x 9 plate",
              I_w + n * I_s, ours, rel=1e-9, unit="in4")  # fmt: skip


def bolts_in_double_shear(out: Record) -> None:
    """Douglas fir-larch, G = 0.50; print rounds to 10 lb."""
    D, t, G = INCH / 2, 1.5 * INCH, 0.50
    along, across = bolt_bearing_along(G), bolt_bearing_across(G, D)
    for what, printed, Fem, Fes, angle in (
        ("Z along the grain of all", 1050, along, along, 0.0),
        ("Z, side members across", 730, along, across, 90.0),
        ("Z, main member across", 470, across, along, 90.0),
    ):
        ours = double_shear_value(D, t, t, Fem, Fes, angle) / POUND
        out.check("CV-572", BOLTS, MEMORY, what, printed, ours, tol=5.0, unit="lb")


GROUPS = (flitched_beam, transformed_section, bolts_in_double_shear)
