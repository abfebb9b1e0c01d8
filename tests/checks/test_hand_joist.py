"""A ceiling joist with a strut on its middle, worked out by hand line by line.

2x6 spruce-pine-fir No.2, 12 ft, 16 in apart, 10 psf dead; one strut at midspan brings
420 lb dead and 560 lb roof live (28 square feet of roof). All numbers in inches and
pounds:

    S = 1.5 * 5.5^2 / 6 = 7.5625      I = 1.5 * 5.5^3 / 12 = 20.797
    w = 10 * 16 / 144 = 1.1111 lb/in  L = 144
    M_D  = 1.1111 * 144^2 / 8 + 420 * 144 / 4 = 2880 + 15120 = 18000
    M    = 18000 + 560 * 144 / 4 = 38160
    fb   = 38160 / 7.5625 = 5046
    Fb'  = 875 * 1.25 * 1.3 = 1421.9   (C_r 1.0: the load is not repetitive)
    fb / Fb' = 3.549
    dead: 5 * 1.1111 * 144^4 / (384 E I) + 420 * 144^3 / (48 E I) = 0.2134 + 0.8977
    live: 560 * 144^3 / (48 E I) = 1.1970,  E I = 1.4e6 * 20.797
    long term: 1.5 * 1.1111 + 1.1965 = 2.863
"""

from types import SimpleNamespace

import numpy as np
import pytest
from loadfall.solver.basis.nds.design import NDS
from loadfall.solver.basis.protocol import Check
from loadfall.solver.checks.bearing import BearingTable, check_bearing
from loadfall.solver.checks.deflection import SpanTable, check_deflection, span_sags
from loadfall.solver.checks.detail import explain
from loadfall.solver.checks.notches import NotchTable, check_notches, shear_at
from loadfall.solver.checks.results import with_checks
from loadfall.solver.units import FOOT, INCH, POUND, POUND_INCH, PSF, PSI

from .beams import beam

L = 12 * FOOT
COMBINATIONS = (("D", 0.9, {"D": 1}), ("D+Lr", 1.25, {"D": 1, "Lr": 1}))


@pytest.fixture(scope="module")
def joist():
    cases = {
        "D": (10 * PSF * 16 * INCH, {1: 420 * POUND}),
        "Lr": (0.0, {1: 560 * POUND}),
    }
    return beam(
        [0, L / 2, L], (0, 2), cases, COMBINATIONS, "2x6", "SPF", "No.2",
        unbraced_bottom=0.0,
    )  # fmt: skip


def spans(start=0.0, end=L):
    return SpanTable(
        member=np.array([0]), start=np.array([start]), end=np.array([end]),
        direction=np.array([[0.0, 0.0, 1.0]]), limit_live=np.array([240.0]),
        limit_total=np.array([180.0]),
    )  # fmt: skip


def test_bending(joist):
    result = joist.checks()
    rows = result.checks[Check.BENDING]
    assert result.extremes.sag[0, 0] / POUND_INCH == pytest.approx(18000, rel=1e-9)
    assert result.extremes.sag[1, 0] / POUND_INCH == pytest.approx(38160, rel=1e-9)
    assert rows.demand[0] / PSI == pytest.approx(38160 / 7.5625, rel=1e-9)
    assert rows.capacity[0] / PSI == pytest.approx(875 * 1.25 * 1.3, rel=1e-9)
    assert rows.utilisation[0] == pytest.approx(3.549, rel=1e-3)
    assert rows.station[0] == pytest.approx(L / 2)
    assert result.combinations[rows.combination[0]] == "D+Lr"
    # Dead load alone, at C_D 0.9: 18000 / 7.5625 / (875 * 0.9 * 1.3) = 2.325.
    assert rows.every[0, 0] == pytest.approx(18000 / 7.5625 / (875 * 0.9 * 1.3))


def test_repetitive_factor_lowers_bending_by_its_own_size(joist):
    cases = {"D": (10 * PSF * 16 * INCH, {1: 420 * POUND}), "Lr": (0, {1: 560 * POUND})}
    shared = beam(
        [0, L / 2, L], (0, 2), cases, COMBINATIONS, "2x6", "SPF", "No.2",
        unbraced_bottom=0.0, is_repetitive=True,
    )  # fmt: skip
    ratio = (
        joist.checks().checks[Check.BENDING].every
        / shared.checks().checks[Check.BENDING].every
    )
    assert np.allclose(ratio, 1.15)


def test_shear(joist):
    """V = 1.1111 * 72 + 490 = 570 lb; 1.5 * 570 / 8.25 = 103.6 psi; 135 * 1.25."""
    rows = joist.checks().checks[Check.SHEAR]
    V = 1.11111111 * 72 + (420 + 560) / 2
    assert rows.demand[0] / PSI == pytest.approx(1.5 * V / 8.25, rel=1e-6)
    assert rows.capacity[0] / PSI == pytest.approx(135 * 1.25, rel=1e-9)


def test_sags(joist):
    sags = span_sags(joist.stations, joist.frame.element_member, spans(), 0, NDS)
    assert sags.sustained[0] / INCH == pytest.approx(1.1111, rel=1e-3)
    assert sags.now[0, 0] / INCH == pytest.approx(1.1111, rel=1e-3)
    assert sags.live[1, 0] / INCH == pytest.approx(1.1965, rel=1e-3)
    assert sags.long_term[1, 0] / INCH == pytest.approx(2.863, rel=1e-3)
    assert sags.where[0] == pytest.approx(L / 2)
    checks = check_deflection(joist.checks(), sags)
    # L/240 = 0.6 in and L/180 = 0.8 in.
    live, total = checks[Check.DEFLECTION_LIVE], checks[Check.DEFLECTION_TOTAL]
    assert live.utilisation[0] == pytest.approx(1.1965 / 0.6, rel=1e-3)
    # Of 2.863 in the limit leaves out the 1.1111 in of dead load at once.
    assert total.utilisation[0] == pytest.approx((2.863 - 1.1111) / 0.8, rel=1e-3)
    assert live.capacity[0] / INCH == pytest.approx(0.6)


def test_supports_that_settle_make_no_sag(joist):
    """A straight line added to the displacements, as sinking supports do, is no sag."""
    moved = replace_displacement(joist.stations, 0.05, 0.01)
    of = (joist.frame.element_member, spans(), 0, NDS)
    before, after = span_sags(joist.stations, *of), span_sags(moved, *of)
    assert after.now == pytest.approx(before.now, rel=1e-9)
    assert after.long_term == pytest.approx(before.long_term, rel=1e-9)


def replace_displacement(stations, sink, tilt):
    """Stations with displacements moved down by a straight line, m and rad."""
    x = stations.x + np.array([[0.0], [L / 2]])
    displacement = stations.displacement.copy()
    displacement[..., 2] -= sink + tilt * x
    return SimpleNamespace(x=stations.x, displacement=displacement)


def test_lasting_load_may_be_a_weighted_sum(joist):
    """All of the roof live load taken as lasting: 1.5 * (1.1111 + 1.1965) in."""
    weights = np.array([0.0, 1.0])
    sags = span_sags(joist.stations, joist.frame.element_member, spans(), weights, NDS)
    assert sags.long_term[1, 0] / INCH == pytest.approx(1.5 * 2.3076, rel=1e-3)


def test_bearing_of_the_strut_on_the_joist(joist):
    """980 lb on 3.5 x 1.5 in: 186.7 psi; 425 * (3.5 + 0.375) / 3.5 = 470.5 psi."""
    result = joist.checks()
    where = BearingTable(
        member=np.array([0]), station=np.array([L / 2]),
        force=np.array([[420.0], [980.0]]) * POUND, length=np.array([3.5 * INCH]),
        breadth=np.array([1.5 * INCH]), end_distance=np.array([L / 2]),
        angle=np.array([np.pi / 2]),
    )  # fmt: skip
    rows = check_bearing(result, where)
    assert rows.demand[0] / PSI == pytest.approx(980 / 5.25)
    assert rows.capacity[0] / PSI == pytest.approx(425 * 3.875 / 3.5)
    assert rows.station[0] == pytest.approx(L / 2)
    more = with_checks(result, {rows.check: rows})
    assert more.utilisation[0] == result.utilisation[0]
    assert Check.BEARING in more.checks


def test_notched_end(joist):
    """End notched to 4.125 in, V 570 lb: (2/3)(168.75)(1.5)(4.125)(0.75^2) = 391.6."""
    x, V = joist.stations.x, joist.stations.V_strong
    member, station = np.array([0, 0]), np.array([0.0, L])
    shear = shear_at(x, V, joist.frame.element_member, member, station)
    assert shear[1] / POUND == pytest.approx([570, 570], rel=1e-6)
    notches = NotchTable(
        member=member, station=station, shear=shear,
        remaining=np.array([4.125, 5.5]) * INCH,
    )  # fmt: skip
    rows = check_notches(joist.checks(), notches)
    capacity = 2 / 3 * 135 * 1.25 * 1.5 * 4.125 * 0.75**2
    assert rows.capacity[0] / POUND == pytest.approx(capacity, rel=1e-9)
    assert rows.utilisation[0] == pytest.approx(570 / capacity, rel=1e-6)
    assert rows.station[0] == 0.0


def test_off_centre_load_sags_by_the_closed_form():
    """Under P at a: P a^2 b^2 / (3 E I L); 500 lb at 50 in of 144."""
    a, b, l_in, EI = 50.0, 94.0, 144.0, 1.4e6 * 1.5 * 5.5**3 / 12
    one = beam(
        [0, a * INCH, l_in * INCH], (0, 2), {"D": (0.0, {1: 500 * POUND})},
        (("D", 0.9, {"D": 1}),), "2x6", "SPF", "No.2",
    )  # fmt: skip
    moved = -one.result.displacement[0, 1, 2] / INCH
    assert moved == pytest.approx(500 * a**2 * b**2 / (3 * EI * l_in), rel=1e-6)


def test_span_between_inner_supports_has_its_own_chord():
    """Two spans of 3 m and 2 m: each sag is measured between its own supports."""
    two = beam(
        [0, 3.0, 5.0], (0, 1, 2), {"D": (500.0, {})}, (("D", 0.9, {"D": 1}),),
        "2x6", "SPF", "No.2",
    )  # fmt: skip
    table = SpanTable(
        member=np.array([0, 0]), start=np.array([0.0, 3.0]), end=np.array([3.0, 5.0]),
        direction=np.array([[0, 0, 1.0]] * 2), limit_live=np.zeros(2),
        limit_total=np.array([180.0, 180.0]),
    )  # fmt: skip
    sags = span_sags(two.stations, two.frame.element_member, table, 0, NDS)
    down = -two.stations.displacement[0, :, :, 2]
    assert sags.now[0, 0] == pytest.approx(down[0].max(), rel=1e-9)
    extreme = down[1][np.abs(down[1]).argmax()]
    assert sags.now[0, 1] == pytest.approx(extreme, rel=1e-9)
    assert Check.DEFLECTION_LIVE not in check_deflection(two.checks(), sags)


def test_records_of_places_can_be_redone(joist):
    """Bearing and sag records hold every number of their arithmetic."""
    result = joist.checks()
    where = BearingTable(
        member=np.array([0, 0]), station=np.array([0.0, L / 2]),
        force=np.array([[100.0, 420.0], [200.0, 980.0]]) * POUND,
        length=np.array([3.5, 3.5]) * INCH, breadth=np.array([1.5, 1.5]) * INCH,
        end_distance=np.array([0.0, L / 2]), angle=np.full(2, np.pi / 2),
    )  # fmt: skip
    sags = span_sags(joist.stations, joist.frame.element_member, spans(), 0, NDS)
    bearing = check_bearing(result, where)
    result = with_checks(
        result, {bearing.check: bearing, **check_deflection(result, sags)}
    )
    v = {x.symbol: x.value for x in explain(result, 0, Check.BEARING)}
    assert v["P"] / POUND == pytest.approx(980)
    assert v["P"] / (v["lb"] * v["b"]) == pytest.approx(v["demand"])
    C_b = (v["lb"] + 0.375 * INCH) / v["lb"]
    assert v["across"] * C_b == pytest.approx(v["capacity"])
    v = {x.symbol: x.value for x in explain(result, 0, Check.DEFLECTION_TOTAL)}
    assert v["L"] / v["L/sag"] == pytest.approx(v["capacity"])
    assert v["now"] + (v["K"] - 2) * v["lasting"] == pytest.approx(v["demand"])
    assert v["demand"] / v["capacity"] == pytest.approx(v["utilisation"])
