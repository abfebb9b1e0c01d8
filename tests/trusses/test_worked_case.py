"""Trusses by the method of joints and by the frame, beside worked numbers and statics.

Every number of the worked case H-08 within its own tolerance.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError, FieldError
from loadfall.solver.framing.model import Role
from loadfall.solver.framing.solids import member_solid
from loadfall.solver.solve import solve
from loadfall.solver.trusses import PinTruss, pin_forces
from loadfall.solver.units import FOOT, INCH, PLF, POUND, POUND_FOOT
from loadfall.solver.verdict.model import Verdict

from .houses import MIDDLE, WORKED, by_hand, solved


@pytest.fixture(scope="module")
def king():
    return solved("king_post")


@pytest.fixture(scope="module")
def fan():
    return solved("king_post_and_struts")


def test_king_post_by_hand(king):
    t = by_hand(king)
    assert t.top_load[0] / PLF == pytest.approx(71.67, rel=0.01)
    assert t.bottom_load[0] / PLF == pytest.approx(30, rel=0.01)
    apex = t.joint_loads["peak"][0] + t.forces["K"][0]
    assert apex / POUND == pytest.approx(1220, rel=0.02)
    assert t.forces["bottom S"][0] / POUND == pytest.approx(1464, rel=0.02)
    assert t.forces["S top"][0] / POUND == pytest.approx(-1586, rel=0.02)
    assert t.forces["K"][0] / POUND == pytest.approx(360, rel=0.02)
    assert t.top_moment[0] / POUND_FOOT == pytest.approx(1290, rel=0.02)
    assert t.use["top"][0] == pytest.approx(2.32, rel=0.04)
    assert t.use["bottom"][0] == pytest.approx(0.8334, rel=0.04)


def test_king_post_with_struts_by_hand(fan):
    t = by_hand(fan)
    assert t.joint_loads["S panel"][0] / POUND == pytest.approx(430, rel=0.02)
    for bar, force in (
        ("bottom N", 1980), ("N lower", -2145), ("N upper", -1586), ("N strut", -559),
        ("K", 790),
    ):  # fmt: skip
        assert t.forces[bar][0] / POUND == pytest.approx(force, rel=0.02), bar
    assert t.use["top"][0] == pytest.approx(0.4387, rel=0.05)
    assert t.use["strut"][0] == pytest.approx(0.8236, rel=0.05)
    assert t.slenderness == pytest.approx(52, rel=0.01)
    ends = [np.array(t.truss.pins[p]) for p in t.truss.bars["S strut"]]
    assert np.linalg.norm(ends[1] - ends[0]) / FOOT == pytest.approx(6.5, rel=0.01)


def test_the_frame_gives_the_same_verdicts(king, fan):
    """King post alone: the rafter fails. With struts it passes, but they are thin."""
    assert king.members[f"R-S-{MIDDLE:02d}"].analysis_passes is False
    assert fan.members[f"R-S-{MIDDLE:02d}"].analysis_passes is True
    strut = fan.members[f"TW-{MIDDLE:02d}-S"]
    assert strut.by_check["slenderness"] == pytest.approx(52 / 50, rel=0.01)
    assert strut.verdict is Verdict.OVER_LIMIT
    held = solved("king_post_and_struts", held_at_mid=True)
    assert held.members[f"TW-{MIDDLE:02d}-S"].by_check.get("slenderness", 0) < 1
    assert held.overall not in (Verdict.OVER_LIMIT, Verdict.NO_LOAD_PATH)


@pytest.mark.parametrize("webs", ["king_post", "king_post_and_struts"])
def test_the_frame_is_in_balance_about_the_peak(webs):
    """A cut through the peak: T h = M of everything on one half, less the chord's M.

    Statics, whatever is continuous: half of the roof is R = w 12 + v 12 at the plate
    with arm 12 ft; loads w and v act 6 ft from the peak. With struts in the cut the
    peak still is a hinge, and king post and struts pass through the foot below it.
    """
    roof = solved(webs)
    row = roof.combinations.row("D+S")
    stations = roof.frame.stations(9)
    chord = roof.model.rows_of(f"CJ-{MIDDLE:02d}-1")
    half = 12 * FOOT
    w, v = 71.67 * PLF, 10 * PLF
    rise = half * 5 / 12
    across = (w + v) * half**2 / 2
    elements = range(chord.start, chord.stop)
    middle = stations.M_strong[row, chord.start, -1]
    pull = stations.N[row, chord.start, 0]
    if webs == "king_post_and_struts":
        strut = roof.model.rows_of(f"TW-{MIDDLE:02d}-S").start
        push = -stations.N[row, strut, 0]
        lean = math.hypot(6, 2.5)
        across += push * (6 / lean) * rise  # it pushes outward below the peak
    assert len(elements) == 2
    assert pull * rise + middle == pytest.approx(across, rel=1e-3)


def test_bars_in_balance_at_every_pin_or_refused():
    """Three bars over 6 m, 2 m high, 9 kN at the peak: T = P L / (4 h) (statics)."""
    pins = {"a": (0.0, 0.0), "b": (6.0, 0.0), "c": (3.0, 2.0)}
    bars = {"tie": ("a", "b"), "left": ("a", "c"), "right": ("c", "b")}
    truss = PinTruss(pins=pins, bars=bars, seat="a", roller="b")
    found = pin_forces(truss, {"c": np.array([9e3])})
    assert found["tie"][0] == pytest.approx(9e3 * 6 / 8)
    assert found["left"][0] == pytest.approx(-9e3 / 2 * math.hypot(3, 2) / 2)
    short = PinTruss(pins=pins, bars={"tie": ("a", "b")}, seat="a", roller="b")
    with pytest.raises(FieldError):
        pin_forces(short, {"c": np.array([1.0])})


def test_gusset_nails_by_the_yield_equations(fan):
    """8d common through 1/2 in plywood (G 0.42) into SPF 1.5 in (G 0.42), mode IIIs.

    NDS 2018 12.3-9 worked out here: F_e = 16600 G^1.84 psi, F_yb = 100 ksi,
    K_D = 2.2 under 0.17 in, reduction K_D.
    """
    D, ls, Fyb = 0.131, 0.5, 100_000.0
    Fe = 16600 * 0.42**1.84
    k3 = -1 + math.sqrt(4 + 2 * Fyb * 3 * D**2 / (3 * Fe * ls**2))
    Z = k3 * D * ls * Fe / (3 * 2.2)
    joints = {j.key: j for j in fan.gussets}
    foot = joints[f"TW-{MIDDLE:02d}-S foot"]
    C_D = {"D+S": 1.15, "D+0.75L+0.75S": 1.15, "D+L": 1.0, "D": 0.9}
    assert foot.each / POUND == pytest.approx(Z * C_D[foot.combination], rel=0.02)
    assert foot.needed == math.ceil(foot.force / foot.each - 1e-9)
    king = joints[f"TW-{MIDDLE:02d}-K peak"]
    axial = fan.members[f"TW-{MIDDLE:02d}-K"].axial
    assert king.force == pytest.approx(axial, rel=1e-6)


def test_gusset_plywood_by_hand(fan):
    """Half of the king post's pull on each side, across the face grain of 32/16.

    Width from 1,250 lb/ft with C_S 1/2 up to 8 in, length from 62 lb/in, C_D 1.15 (APA
    Panel Design Specification, from memory).
    """
    joints = {j.key: j for j in fan.gussets}
    foot = joints[f"TW-{MIDDLE:02d}-K foot"]
    assert "S" in foot.combination, "snow governs, C_D 1.15"
    half = foot.force / POUND / 2 / 1.15
    need = foot.plywood
    assert need.rating == "32/16"
    assert need.width / INCH == pytest.approx(half / (1250 / 12 * 0.5), rel=1e-6)
    assert need.length / INCH == pytest.approx(half / 62, rel=1e-6)
    assert joints[f"TW-{MIDDLE:02d}-S top"].plywood is None


def test_too_few_nails_are_over_the_limit():
    few = solved("king_post_and_struts", held_at_mid=True, gusset_nails=2)
    assert few.overall is Verdict.OVER_LIMIT
    assert any(j.passes is False for j in few.gussets)


def test_drawn_webs_stand_on_the_joist_and_lap_the_rafter(fan):
    framing, brief = fan.framing, fan.brief
    for place in "KSN":
        web = member_solid(brief, framing, f"TW-{MIDDLE:02d}-{place}").vertices
        assert web[:, 2].min() == pytest.approx(5.5 * INCH, abs=2e-3)
        joist = member_solid(brief, framing, f"CJ-{MIDDLE:02d}-1").vertices
        assert web[:, 0].mean() == pytest.approx(joist[:, 0].mean(), abs=1e-3)
    rafter = member_solid(brief, framing, f"R-S-{MIDDLE:02d}").vertices
    strut = member_solid(brief, framing, f"TW-{MIDDLE:02d}-S").vertices
    assert strut[:, 0].min() >= rafter[:, 0].max() - 1e-6, "flat against its side"


def test_webs_without_a_joist_are_refused_or_named():
    bare = {**WORKED, "ceiling_joists": None, "trusses": [{"name": "all"}]}
    bare.pop("ceiling_joists")
    with pytest.raises(BriefError, match="run across"):
        read_brief(bare)
    gone = {**WORKED, "trusses": [{"name": "all"}],
            "overrides": [{"member": "CJ-03-1", "removed": True}]}  # fmt: skip
    solution = solve(read_brief(gone))
    assert all(
        m.key in solution.path.faults
        for m in solution.framing.of_role(Role.WEB)
        if m.station == MIDDLE
    )
