"""Largest simple spans by each check, worked out by hand."""

import math

import pytest
from loadfall.solver.basis.protocol import Check
from loadfall.solver.basis.sections import section
from loadfall.solver.sizing import ALL, SpanCase, largest_spans
from loadfall.solver.sizing.simple_span import LONGEST, SimpleSpans
from loadfall.solver.units import FOOT, INCH, PSF

# 2x8 SPF No.2 at 24 in: S 13.14 in3, I 47.63 in4, A 10.875 in2, Fb 875, Fv 135,
# Fc-perp 425 psi, E 1.4e6 psi, C_F 1.2.
S, INERTIA, A = 1.5 * 7.25**2 / 6, 1.5 * 7.25**3 / 12, 1.5 * 7.25


def case(**changes):
    stated = {
        "section": section("2x8"), "species": "SPF", "grade": "No.2",
        "spacing": 24 * INCH, "dead": 10 * PSF, "live": 30 * PSF, "live_duration": 1.15,
        "sag_live": 180.0, "sag_total": 120.0,
    }  # fmt: skip
    return SpanCase(**(stated | changes))


def feet(check, **changes):
    found = largest_spans([case(**changes)], [check])
    return float(found.span[0]) / FOOT


def test_bending_by_hand():
    """80 plf: L = sqrt(8 x 875 x 1.2 x 1.15 x 1.15 x S / (80 / 12)) in = 12.34 ft."""
    Fb = 875 * 1.2 * 1.15 * 1.15
    by_hand = math.sqrt(8 * Fb * S / (80 / 12)) / 12
    assert by_hand == pytest.approx(12.33, abs=0.01)
    assert feet(Check.BENDING) == pytest.approx(by_hand, rel=1e-9)
    without = math.sqrt(8 * Fb / 1.15 * S / (80 / 12)) / 12
    assert feet(Check.BENDING, repetitive=False) == pytest.approx(without, rel=1e-9)


def test_dead_load_alone_can_govern():
    """40 psf dead, 5 psf live: 40 / 0.9 is more than 45 / 1.15."""
    Fb = 875 * 1.2 * 0.9 * 1.15
    by_hand = math.sqrt(8 * Fb * S / (80 / 12)) / 12
    found = feet(Check.BENDING, dead=40 * PSF, live=5 * PSF)
    assert found == pytest.approx(by_hand, rel=1e-9)


def test_shear_and_notched_shear_by_hand():
    """V = 40 L lb: 1.5 x 40 L / A = 155.25 psi; cut to 6 in, 2/3 Fv' b d_n^3 / d^2."""
    assert feet(Check.SHEAR) == pytest.approx(155.25 * A / 1.5 / 40, rel=1e-9)
    left = 2 / 3 * 155.25 * 1.5 * 6.0**3 / 7.25**2
    found = feet(Check.NOTCHED_SHEAR, remaining=6 * INCH)
    assert found == pytest.approx(left / 40, rel=1e-9)
    assert feet(Check.NOTCHED_SHEAR) == LONGEST / FOOT


def test_a_slope_takes_its_cosine_off_the_shear():
    cos = 12 / math.hypot(12, 5)
    found = feet(Check.SHEAR, slope=5 / 12)
    assert found == pytest.approx(feet(Check.SHEAR) / cos, rel=1e-9)
    assert feet(Check.BENDING, slope=5 / 12) == pytest.approx(feet(Check.BENDING))


def test_bearing_by_hand():
    """Both ends on 1.5 in: 425 x 1.5 x 1.5 = 956 lb of 40 L."""
    assert feet(Check.BEARING) == pytest.approx(425 * 2.25 / 40, rel=1e-6)


def test_live_sag_by_hand():
    """5 w L^4 / (384 E I) = L / 180 with 60 plf: L^3 = 384 E I / (5 x 180 x 5)."""
    by_hand = (384 * 1.4e6 * INERTIA / (5 * 180 * 5)) ** (1 / 3) / 12
    assert feet(Check.DEFLECTION_LIVE) == pytest.approx(by_hand, rel=1e-9)
    cos = 12 / math.hypot(12, 5)
    sloped = feet(Check.DEFLECTION_LIVE, slope=5 / 12)
    assert sloped == pytest.approx(by_hand * cos ** (1 / 3), rel=1e-9)


def test_long_term_sag_by_hand():
    """IBC Table 1604.3 note d: live and half the dead (creep): 60 + 10 plf, L / 120."""
    by_hand = (384 * 1.4e6 * INERTIA / (5 * 120 * 70 / 12)) ** (1 / 3) / 12
    assert feet(Check.DEFLECTION_TOTAL) == pytest.approx(by_hand, rel=1e-9)
    assert feet(Check.DEFLECTION_TOTAL, sag_total=0.0) == LONGEST / FOOT


def test_the_worst_check_stops_the_span():
    found = largest_spans([case(), case(live=2 * PSF, dead=1 * PSF, spacing=6 * INCH)])
    every = {check: far[0] for check, far in found.by_check.items()}
    assert found.span[0] == min(every.values())
    assert found.limit[0] is min(every, key=every.get) is Check.BENDING
    assert set(every) == set(ALL)


def test_uses_are_one_at_the_span_found():
    cases = [case(), case(section=section("2x10"), top_held=False), case(slope=1.0)]
    spans = SimpleSpans(cases)
    for check in ALL:
        far = spans.largest(check)
        use = spans.utilisation(check, far)
        stopped = far < LONGEST
        assert use[stopped] == pytest.approx(1.0, rel=1e-9)
        assert (use[~stopped] <= 1).all()


def test_a_deep_joist_with_a_free_top_edge_reaches_less():
    """2x10, 5:1, asks for a held edge (NDS 4.4.1.2); a 2x8, 4:1, does not."""
    held = feet(Check.BENDING, section=section("2x10"))
    free = feet(Check.BENDING, section=section("2x10"), top_held=False)
    assert free < 0.9 * held
    assert feet(Check.BENDING, top_held=False) == pytest.approx(feet(Check.BENDING))
