"""The worst joist of a bungalow and the strut on it, worked out by hand, step by step.

A 44 ft by 30 ft house at 5:12 whose spine wall was opened. Pounds, feet and inches as
on a sheet of paper; nothing here comes from the solver but what is compared.

Sources: NDS 2018 Supplement Table 4A (Spruce-Pine-Fir No.2 and Stud, reference values
and size factors, from memory; the validation tests check them), NDS 2018 3.3, 3.7.1,
3.9.1, 3.5.2; three-moment equation and simple beams of any handbook; ASCE 7-16 2.4.1
for the combinations.
"""

import math

import pytest
from loadfall.solver.report import results

from ..solve.houses import BUNGALOW, solved

JOIST, STRUT, RAFTER = "CJ-15-1", "ST-S-08", "R-S-15"
D, ALL = "D", "D+Lr"
EXACT = 1e-4  # rounding of the figures on paper

# 2x6 and 2x4, dressed, inches
S, INERTIA, AREA = 1.5 * 5.5**2 / 6, 1.5 * 5.5**3 / 12, 1.5 * 5.5
AREA_STRUT = 1.5 * 3.5
# SPF No.2: Fb 875, Ft 450, E 1,400,000 psi; C_F 1.3 for a 2x6 in bending and tension
FB, FT, E = 875 * 1.3, 450 * 1.3, 1.4e6
# Density at 15 % moisture of wood of G = 0.42 (NDS Supplement 3.1.3), lb/ft3
DENSITY = 62.4 * 0.42 / (1 + 0.42 * 0.009 * 15) * 1.15
WEIGHT = DENSITY * AREA / 144  # 2x6, plf
SLOPE = math.hypot(12, 5) / 12  # length on the slope for one foot of plan

# Roof: 10 psf and the rafters' own weight every 2 ft, on the slope; 20 psf on plan
ROOF_D = 2 * (10 + WEIGHT / 2) * SLOPE  # plf of plan on a rafter
ROOF = {D: ROOF_D, ALL: ROOF_D + 2 * 20}
CEILING = 2 * 5 + WEIGHT  # plf on a joist, dead
A, B, SPAN = 8.0, 7.0, 15.0  # the purlin stands 8 ft from the plate, the ridge 15 ft
C_D = {D: 0.9, ALL: 1.25}


@pytest.fixture(scope="module")
def found():
    return results(solved(BUNGALOW))


def purlin_reaction(w):
    """A rafter over the purlin as a rigid support: spans 8 and 7 ft on plan.

    Three moments: M = w (a^3 + b^3) / 8 (a + b), hogging over the purlin.
    """
    moment = w * (A**3 + B**3) / (8 * (A + B))
    return w * (A + B) / 2 + moment / A + moment / B, moment


def strut_load(combination):
    """Four feet of purlin stand on a strut: two rafters, and the purlin's weight."""
    reaction, _ = purlin_reaction(ROOF[combination])
    return 4 * (reaction / 2 + WEIGHT)


def joist_moment(load):
    """A simple span of 15 ft under its ceiling and a load 8 ft from its end, lb-ft."""
    return load * A * B / SPAN + CEILING * A * B / 2


def sag(load, line):
    """Largest sag of the joist, in, of the point load and the ceiling, each 0.05 ft.

    P b x (L^2 - b^2 - x^2) / 6 E I L, and w x (L^3 - 2 L x^2 + x^3) / 24 E I.
    """
    span, worst = SPAN * 12, 0.0
    for n in range(1, 300):
        x = span * n / 300
        near, far = (x, B * 12) if x <= A * 12 else (span - x, A * 12)
        point = (
            load * far * near * (span**2 - far**2 - near**2) / (6 * E * INERTIA * span)
        )
        spread = line / 12 * x * (span**3 - 2 * span * x**2 + x**3) / (24 * E * INERTIA)
        worst = max(worst, point + spread)
    return worst


def test_it_is_the_worst_joist_and_the_strut_on_it(found):
    joists = {k: m for k, m in found["members"].items() if m["role"] == "ceiling_joist"}
    assert max(joists, key=lambda k: joists[k]["utilisation"] or 0) == JOIST
    assert found["struts"][STRUT]["stands_on"]["name"] == JOIST


@pytest.mark.parametrize("combination", [D, ALL])
def test_the_rafter_on_a_rigid_purlin(found, combination):
    rafter = found["hand"]["rafters"]["S"]
    assert rafter["line_load"][combination] == pytest.approx(
        ROOF[combination], rel=EXACT
    )
    reaction, moment = purlin_reaction(ROOF[combination])
    assert rafter["reactions"][combination][1] == pytest.approx(reaction, rel=EXACT)
    assert rafter["moment"][combination] == pytest.approx(moment, rel=EXACT)
    strength = FB * 1.15 * C_D[combination] * S / 12  # lb-ft, repetitive at 24 in
    use = rafter["utilisation"][combination]
    assert use == pytest.approx(moment / strength, rel=EXACT)


def test_the_strut(found):
    strut = found["struts"][STRUT]
    rise = A * 5 / 12
    assert strut["length"] == pytest.approx(rise)
    assert strut["angle"] == pytest.approx(90)
    assert strut["hand_vertical"] == pytest.approx(strut_load(ALL), rel=EXACT)
    assert strut["hand_axial"] == pytest.approx(strut_load(ALL), rel=EXACT)
    # SPF Stud: Fc 725, Emin 440,000 psi; C_F 1.05; NDS 3.7.1 with c = 0.8
    slender = rise * 12 / 1.5
    star = 725 * 1.05 * C_D[ALL]
    ratio = 0.822 * 440_000 / slender**2 / star
    mean = (1 + ratio) / 1.6
    capacity = star * (mean - math.sqrt(mean**2 - ratio / 0.8)) * AREA_STRUT
    assert strut["slenderness"] == pytest.approx(slender)
    assert strut["hand_capacity"] == pytest.approx(capacity, rel=EXACT)
    use = strut["hand_utilisation"]
    assert use == pytest.approx(strut_load(ALL) / capacity, rel=EXACT)


@pytest.mark.parametrize("combination", [D, ALL])
def test_the_joist_by_hand(found, combination):
    joist = found["hand"]["joists"][JOIST]
    load = strut_load(combination)
    moment = joist_moment(load)
    assert joist["strut_feet"][0]["at"] == pytest.approx(A)
    assert joist["moment"][combination] == pytest.approx(moment, rel=EXACT)
    strength = FB * C_D[combination] * S / 12  # the strut's load is not repetitive
    use = joist["utilisation"][combination]
    assert use == pytest.approx(moment / strength, rel=EXACT)
    assert use > 3
    assert joist["sag_now"][combination] == pytest.approx(sag(load, CEILING), rel=1e-3)


def test_the_joist_sags_on_for_years(found):
    """NDS 3.5.2: 1.5 times what the dead load makes, and once the rest."""
    dead, whole = sag(strut_load(D), CEILING), sag(strut_load(ALL), CEILING)
    joist = found["hand"]["joists"][JOIST]
    assert joist["sag_long_term"][ALL] == pytest.approx(dead / 2 + whole, rel=1e-3)


def shared_load(combination):
    """What the strut carries when the joist under it gives, lb.

    Two rafters lean on four feet of purlin; both slopes' ends are taken to stay where
    they are. The strut presses the joist down and holds the two rafters up until all
    have moved alike, vertically, at the purlin:

        2 rafters:  y = r w - r' F / 2     joist:  y = j q + j' F

    A rafter of slope length l moves square to itself; the vertical part is its cosine.
    """
    cos = 1 / SLOPE
    a, b, span = (12 * v * SLOPE for v in (A, B, SPAN))
    w = ROOF[combination] / 12 * cos**2
    roof = w * a * (span**3 - 2 * span * a**2 + a**3) / (24 * E * INERTIA) * cos
    roof_unit = cos * a**2 * b**2 / (3 * E * INERTIA * span) * cos / 2
    a, b, span = (12 * v for v in (A, B, SPAN))
    floor = CEILING / 12 * a * (span**3 - 2 * span * a**2 + a**3) / (24 * E * INERTIA)
    floor_unit = a**2 * b**2 / (3 * E * INERTIA * span)
    down = 4 * WEIGHT  # the purlin's own weight is on the strut from the start
    return (roof - floor - floor_unit * down) / (roof_unit + floor_unit) + down


@pytest.mark.parametrize(("combination", "within"), [(D, 0.12), (ALL, 0.06)])
def test_the_strut_of_the_frame_carries_what_the_joist_lets_it(
    found, combination, within
):
    """The joist is soft: a third of the hand method's load or less.

    What paper leaves out: rafters and ties give along their length, so the ridge sinks
    a little, and the purlin bends between struts. Both press the struts down.
    """
    strut = found["struts"][STRUT]["frame_axial_by_combination"]
    estimate = shared_load(combination)
    assert strut[combination] == pytest.approx(estimate, rel=within)
    assert strut[combination] < strut_load(combination) / 3


def test_the_joist_of_the_frame_by_statics_alone(found):
    """Given the force of its strut, the joist is a simple span; no stiffness is needed.

    The strut's own weight, half at its foot, is on the joist besides.
    """
    m = found["members"][JOIST]
    weight = DENSITY * AREA_STRUT / 144 * A * 5 / 12
    load = found["struts"][STRUT]["frame_axial"] + weight / 2
    moment = joist_moment(load)
    assert m["moment"] == pytest.approx(moment, rel=EXACT)
    bending = moment / (FB * C_D[ALL] * S / 12)
    by = {k: v[ALL] for k, v in m["utilisation_by_combination"].items()}
    assert by["bending"] == pytest.approx(bending, rel=EXACT)
    # NDS 3.9.1: it ties the rafters as well; both edges held, so C_L is 1.
    pull = by["bending_tension"] - bending
    assert pull * FT * C_D[ALL] * AREA == pytest.approx(m["axial"], rel=1e-3)
    assert m["governing_check"] == "bending_tension"
    assert m["station"] == pytest.approx(A)


def test_the_rafter_takes_back_what_the_joist_lets_go(found):
    """The lesson: a rafter that was never sized to span so far bends far more."""
    hand = found["hand"]["rafters"]["S"]
    frame = found["members"][RAFTER]["utilisation_by_combination"]["bending"][ALL]
    assert hand["utilisation"][ALL] < 0.5
    assert (
        2 * hand["utilisation"][ALL] < frame < hand["utilisation_without_purlin"][ALL]
    )
