"""The vectorised checks against plain clauses, and what must hold for any forces."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from loadfall.solver.basis.nds import combined
from loadfall.solver.basis.nds.design import NDS
from loadfall.solver.basis.protocol import Check
from loadfall.solver.basis.sections import section
from loadfall.solver.checks.detail import explain
from loadfall.solver.checks.inputs import MemberRow, member_table
from loadfall.solver.checks.members import check_members
from loadfall.solver.errors import FieldError

from .beams import random_forces

C_D = np.array([0.9, 1.15, 1.6])
NAMES = ("D", "D+S", "D+0.6W")
STOCK = (
    ("2x6", "SPF", "No.2", 1), ("2x10", "SP", "No.1", 2), ("4x4", "HF", "SS", 1),
    ("6x6", "DF-L", "No.1", 1), ("1.75x11.875", "LVL", "2.0E", 2),
)  # fmt: skip


def rows():
    """Five members with different bracing."""
    bracing = (
        {"unbraced_bottom": math.inf, "le_strong": 3.0},
        {"unbraced_top": 2.0, "unbraced_bottom": 4.0, "le_strong": 4, "le_weak": 2},
        {"le_strong": 2.5, "le_weak": 2.5, "axial_is_primary": True},
        {"unbraced_top": math.inf, "unbraced_bottom": 0.0, "is_repetitive": True},
        {"unbraced_top": 0.6, "le_weak": 0.6, "le_strong": 5.0},
    )
    return [
        MemberRow(
            key=f"M{k}", role="member", section=section(size, plies), species=species,
            grade=grade, length=5.0, **more,
        )
        for k, ((size, species, grade, plies), more) in enumerate(
            zip(STOCK, bracing, strict=True)
        )
    ]  # fmt: skip


ELEMENTS = np.array([0, 0, 0, 1, 2, 2, 3, 3, 3, 3, 4])


def run(forces):
    return check_members(member_table(rows()), forces, ELEMENTS, NAMES, C_D, NDS)


@pytest.mark.parametrize("weak", [True, False])
def test_every_check_equals_a_plain_loop(weak):
    """Member by member, combination by combination, station by station."""
    forces = random_forces(np.random.default_rng(7), len(ELEMENTS), weak=weak)
    result = run(forces)
    table, s = result.table, result.strengths
    full = {
        name: np.broadcast_to(getattr(s, name), s.shear.shape)
        for name in (
            "bending_sag", "bending_hog", "bending_star", "bending_weak", "shear",
            "bending_sag_no_volume", "bending_hog_no_volume",
            "tension", "compression", "euler_strong", "euler_weak", "lateral_sag",
            "lateral_hog",
        )
    }  # fmt: skip
    expected = {name: np.zeros((3, 5)) for name in Check}
    for c in range(3):
        for e, n in enumerate(ELEMENTS):
            f = {name: value[c, n] for name, value in full.items()}
            S, S2 = table.section_modulus[n], table.section_modulus_weak[n]
            for k in range(forces.x.shape[1]):
                M, N = forces.M_strong[c, e, k], forces.N[c, e, k]
                fb, fb2 = abs(M) / S, abs(forces.M_weak[c, e, k]) / S2
                Fb = f["bending_sag"] if M > 0 else f["bending_hog"]
                FbE = f["lateral_sag"] if M > 0 else f["lateral_hog"]
                no_volume = (
                    "bending_sag_no_volume" if M > 0 else "bending_hog_no_volume"
                )
                axial = abs(N) / table.area[n]
                found = {Check.BENDING: fb / Fb}
                found[Check.SHEAR] = (
                    1.5 * abs(forces.V_strong[c, e, k]) / table.area[n] / f["shear"]
                )
                if N > 0:
                    found[Check.TENSION] = axial / f["tension"]
                    found[Check.BENDING_TENSION] = max(
                        axial / f["tension"] + fb / f["bending_star"]
                        + fb2 / f["bending_weak"],
                        (fb - axial) / f[no_volume],
                    )  # fmt: skip
                else:
                    found[Check.COMPRESSION] = axial / f["compression"]
                    found[Check.BENDING_COMPRESSION] = _both(axial, fb, fb2, Fb, FbE, f)
                found[Check.BIAXIAL_BENDING] = _both(0.0, fb, fb2, Fb, FbE, f)
                for name, value in found.items():
                    expected[name][c, n] = max(expected[name][c, n], value)
    compared = 0
    for name, rows_ in result.checks.items():
        if name in (Check.SLENDERNESS, Check.BEAM_SLENDERNESS):
            continue
        assert np.allclose(rows_.every, expected[name], rtol=1e-9), name
        compared += 1
    assert compared == (7 if weak else 6)


def _both(fc, fb1, fb2, Fb1, FbE, f):
    """Eq. 3.9-3 and 3.9-4 written out."""
    strong = max(1 - fc / f["euler_strong"], combined.LEAST_RESERVE)
    second = fc / f["euler_weak"] + (fb1 / FbE) ** 2
    weak = max(1 - second, combined.LEAST_RESERVE)
    ratio = (fc / f["compression"]) ** 2 + fb1 / Fb1 / strong
    ratio += fb2 / f["bending_weak"] / weak
    return max(ratio, second) if fb2 > 0 else ratio


def test_extreme_moments_of_an_element_stand_for_its_stations():
    """With constant axial force the short way gives what every station gives."""
    forces = random_forces(
        np.random.default_rng(3), len(ELEMENTS), weak=False, constant_axial=True
    )
    short = run(forces)
    forces.N[:, :, -1] *= 1 + 1e-7  # no longer constant: every station is looked at
    long = run(forces)
    for name, rows_ in short.checks.items():
        assert np.allclose(rows_.every, long.checks[name].every, rtol=1e-6), name
    for name in (Check.BENDING, Check.BENDING_TENSION, Check.BENDING_COMPRESSION):
        assert np.allclose(short.checks[name].station, long.checks[name].station), name


def test_stations_are_where_the_utilisation_is():
    """Put in alone, the governing station gives the governing utilisation."""
    forces = random_forces(np.random.default_rng(11), len(ELEMENTS))
    result = run(forces)
    start = np.zeros(len(ELEMENTS))
    for e in range(1, len(ELEMENTS)):
        if ELEMENTS[e] == ELEMENTS[e - 1]:
            start[e] = start[e - 1] + forces.x[e - 1].max()
    places = start[:, None] + forces.x
    rows_ = result.checks[Check.BENDING]
    for n in range(5):
        own = np.flatnonzero(n == ELEMENTS)
        at = np.abs(places[own] - rows_.station[n]) < 1e-9
        M = forces.M_strong[rows_.combination[n]][own][at]
        fb = np.abs(M).max() / result.table.section_modulus[n]
        assert fb >= rows_.demand[n] * (1 - 1e-9)


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 2**32 - 1), scale=st.floats(1e-6, 1e6),
    factor=st.floats(1.0, 50.0),
)  # fmt: skip
def test_more_load_is_never_less_utilisation(seed, scale, factor):
    """All forces up by one factor: no utilisation falls, none stops being finite."""
    forces = random_forces(np.random.default_rng(seed), len(ELEMENTS))
    for name in ("N", "V_strong", "M_strong", "M_weak"):
        setattr(forces, name, getattr(forces, name) * scale)
    before = run(forces)
    for name in ("N", "V_strong", "M_strong", "M_weak"):
        setattr(forces, name, getattr(forces, name) * factor)
    after = run(forces)
    assert np.isfinite(after.utilisation).all()
    for name, rows_ in before.checks.items():
        more = after.checks[name].every
        assert np.isfinite(more).all()
        assert (more >= rows_.every * (1 - 1e-9)).all(), name


def test_past_buckling_is_far_over_one_and_finite():
    """A column at five times its critical load with hardly any bending."""
    forces = random_forces(np.random.default_rng(1), len(ELEMENTS), weak=False)
    table = member_table(rows())
    critical = NDS.strengths(table, C_D).euler_strong[0, 0] * table.area[0]
    forces.N[:] = -5 * critical
    forces.M_strong[:] = 5.0
    result = run(forces)
    assert result.checks[Check.BENDING_COMPRESSION].utilisation[0] > 20
    assert np.isfinite(result.utilisation).all()


def test_no_force_is_no_utilisation():
    forces = random_forces(np.random.default_rng(1), len(ELEMENTS))
    for name in ("N", "V_strong", "M_strong", "M_weak"):
        getattr(forces, name)[:] = 0.0
    result = run(forces)
    assert not result.utilisation.any()
    assert all(result.governing_check(n) is None for n in range(5))


def test_forces_that_are_no_numbers_are_refused():
    forces = random_forces(np.random.default_rng(1), len(ELEMENTS))
    forces.M_strong[1, 2, 0] = np.nan
    with pytest.raises(FieldError, match="finite"):
        run(forces)


def test_a_member_without_elements_is_refused():
    forces = random_forces(np.random.default_rng(1), len(ELEMENTS))
    with pytest.raises(FieldError, match="element_member"):
        check_members(
            member_table(rows()), forces, np.minimum(ELEMENTS, 3), NAMES, C_D, NDS
        )


def test_every_record_ends_in_its_utilisation():
    result = run(random_forces(np.random.default_rng(5), len(ELEMENTS)))
    for name, rows_ in result.checks.items():
        for n in range(5):
            lines = explain(result, n, name)
            assert lines[-1].value == rows_.utilisation[n]
            assert all(math.isfinite(line.value) for line in lines)


def test_bending_record_multiplies_to_its_capacity():
    result = run(random_forces(np.random.default_rng(5), len(ELEMENTS)))
    for n in range(5):
        lines = {line.symbol: line.value for line in explain(result, n, Check.BENDING)}
        product = 1.0
        for symbol in ("Fb", "C_D", "C_F", "C_r", "C_L C_V"):
            product *= lines[symbol]
        assert product == pytest.approx(lines["capacity"], rel=1e-12)
        assert lines["M"] / lines["S"] == pytest.approx(lines["f_b"], rel=1e-12)


def test_hogging_uses_the_bottom_edge():
    """Top edge held, bottom edge 4 m apart: hogging has the smaller strength."""
    row = MemberRow(
        key="A", role="rafter", section=section("2x10"), species="SPF", grade="No.2",
        length=5.0, unbraced_top=0.0, unbraced_bottom=4.0,
    )  # fmt: skip
    s = NDS.strengths(member_table([row]), C_D)
    assert (s.bending_sag == s.bending_star).all()
    assert (s.bending_hog < 0.6 * s.bending_star).all()


@pytest.mark.parametrize("depth", ["9.5", "16"])
def test_stability_and_volume_of_composite_lumber(depth):
    """NDS 8.3.6: the smaller of C_L and C_V where C_V is at most 1, else both."""
    row = MemberRow(
        key="A", role="beam", section=section(f"1.75x{depth} in"), species="LVL",
        grade="2.0E", length=5.0, unbraced_top=1.5,
    )  # fmt: skip
    s = NDS.strengths(member_table([row]), C_D)
    C_V, C_L = (12 / float(depth)) ** 0.136, s.factors["C_L (sagging)"]
    assert (C_L < 1).all()
    factor = C_L * C_V if C_V > 1 else np.minimum(C_L, C_V)
    whole = s.bending_star / C_V
    assert np.allclose(s.bending_sag, whole * factor)
    assert np.allclose(s.bending_sag_no_volume, whole * C_L)


@pytest.mark.parametrize(
    ("size", "held"), [("2x6", True), ("2x8", True), ("2x10", False), ("4x10", True)]
)
def test_unknown_bracing_falls_back_on_proportions(size, held):
    """NDS 4.4.1.2: to 4:1 held ends will do; 2x10 is 5:1 and asks for a held edge."""
    row = MemberRow(
        key="A", role="rafter", section=section(size), species="SPF", grade="No.2",
        length=5.0, unbraced_top=0.0, unbraced_bottom=math.inf,
    )  # fmt: skip
    s = NDS.strengths(member_table([row]), C_D)
    assert ((s.bending_hog == s.bending_star).all()) == held
