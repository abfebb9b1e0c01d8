"""Sheds, gambrels and Dutch gables, framed and solved whole, beside statics."""

from __future__ import annotations

import numpy as np

from ..brief.io import read_brief
from ..solve import Solution, solve
from ..units import POUND, POUND_FOOT
from .model import FORMULA, Record

BEAM = "Simple beam under an even load: M = w l^2 / 8, R = w l / 2 (AWC Design Aid 6)"
ARCH = "Three-hinged arch under an even load on plan: H = w L^2 / (8 f) (statics)"
JOINT = "Equilibrium of one joint of hinged bars (statics)"
_LOAD = 32.0  # psf on plan: 12 dead and 20 live
_EVERY, _LENGTH = 2.0, 20.0  # ft between rafters, and of the house


def _solved(length: int, width: int, roof: dict[str, object]) -> Solution:
    """Return a roof without tails and weights of its own, 32 psf on plan."""
    return solve(
        read_brief(
            {
                "footprint": {"length": f"{length} ft", "width": f"{width} ft"},
                "roof": {"overhang": "0 in"} | roof,
                "rafters": {"size": "2x8", "spacing": "24 in"},
                "ceiling_joists": {"size": "2x10", "spacing": "24 in"},
                "loads": {
                    "roof_dead": "12 psf", "roof_dead_on": "plan",
                    "roof_live": "20 psf", "ceiling_dead": "0 psf",
                    "self_weight": False,
                },
            }
        )
    )  # fmt: skip


def shed_rafter(out: Record) -> None:
    """64 lb/ft on plan over 12 ft from wall to wall."""
    roof = _solved(20, 12, {"form": "shed", "pitch": "4:12"})
    row, w, span = roof.combinations.row("D+Lr"), _LOAD * _EVERY, 12.0
    assert roof.model is not None
    assert roof.frame is not None
    ends = roof.frame.end_force_global[row, roof.model.rows_of("R-S1-05")]
    out.check(
        "CV-907", BEAM, FORMULA, "shed: what a rafter brings to either wall",
        w * span / 2, float(ends[0, 0, 2]) / POUND, rel=1e-6, unit="lb",
    )  # fmt: skip
    out.check(
        "CV-907", BEAM, FORMULA, "shed: largest moment of a rafter",
        w * span**2 / 8, roof.members["R-S1-05"].moment / POUND_FOOT, rel=1e-6,
        unit="lb ft",
    )  # fmt: skip


def gambrel_on_gussets(out: Record) -> None:
    """Stiff breaks make two bent legs, hinged at plates and ridge; all pairs summed."""
    roof = _gambrel(knee_walls=False, gussets=True)
    w, span, run, rise = _LOAD * _LENGTH, 24.0, 5.0, 7.5
    thrust = w * span**2 / (8 * (rise + (span / 2 - run) * 0.5))
    out.check(
        "CV-908", ARCH, FORMULA, "gambrel on gussets: push of all rafters of a side",
        thrust, abs(_summed(roof, "R-S1-", (0, 0, 1))) / POUND, rel=1e-6, unit="lb",
    )  # fmt: skip
    moment = w * run * (span - run) / 2 - thrust * rise
    out.check(
        "CV-908", ARCH, FORMULA, "gambrel on gussets: moment at all breaks of a side",
        abs(moment), abs(_summed(roof, "R-S1-", (-1, 1, 3))) / POUND_FOOT, rel=1e-6,
        unit="lb ft",
    )  # fmt: skip


def gambrel_on_knee_walls(out: Record) -> None:
    """Hinged breaks: the upper pairs push down the steep rafters and lift the studs."""
    roof = _gambrel()
    w, run, half = _LOAD * _LENGTH, 5.0, 12.0
    reach = half - run
    thrust = w * reach**2 / (2 * reach * 0.5)
    out.check(
        "CV-909", ARCH, FORMULA, "gambrel on knee walls: push of all upper rafters",
        thrust, abs(_summed(roof, "R-S1U-", (0, 0, 1))) / POUND, rel=1e-6, unit="lb",
    )  # fmt: skip
    push = w * (run / 2 + reach) - thrust * 1.5
    out.check(
        "CV-909", JOINT, FORMULA, "gambrel on knee walls: push on all studs of a side "
        "(a pull is below 0)",
        push, -_summed(roof, "KS-S1-", (0, 0, 2)) / POUND, rel=1e-6, unit="lb",
    )  # fmt: skip


def dutch_gable_ledger(out: Record) -> None:
    """Rafters of the end, 6 ft long on plan, bring half their load to the ledger.

    Plates and hips give a little and pass a part on, which the simple beam leaves out.
    """
    roof = _solved(30, 20, {"form": "dutch_gable", "pitch": "6:12", "setback": "6 ft"})
    w, run, inner = _LOAD * _EVERY, 6.0, 20.0 - 2 * 6.0
    load = w * run / 2
    row = roof.combinations.row("D+Lr")
    assert roof.model is not None
    assert roof.frame is not None
    force = roof.frame.end_force_global[row]
    top = force[roof.model.rows_of("R-W1-05")][-1, 1, 2]
    out.check(
        "CV-911", BEAM, FORMULA, "Dutch gable: what a rafter of the end brings to the "
        "ledger",
        load, abs(float(top)) / POUND, rel=1e-2, unit="lb",
    )  # fmt: skip
    thirds = inner / 4  # three such rafters, 2 ft apart, over 8 ft
    out.check(
        "CV-911", "Simple beam under three equal loads at its quarters: M = P l / 2 "
        "(AWC Design Aid 6)", FORMULA, "Dutch gable: largest moment of the ledger",
        load * 4 * thirds / 2, _moment(roof, row, "LEDGER-1"), rel=2e-2, unit="lb ft",
    )  # fmt: skip


def _moment(roof: Solution, row: int, key: str) -> float:
    """Return the largest moment of a level member at its joints, lb ft."""
    assert roof.model is not None
    assert roof.frame is not None
    force = roof.frame.end_force_global[row, roof.model.rows_of(key)]
    return float(np.abs(force[:, :, 3:5]).max()) / POUND_FOOT


def _gambrel(**how: bool) -> Solution:
    """Return a gambrel of 18:12 and 6:12 that breaks 5 ft from its plates."""
    upper = {"upper_pitch": "6:12", "from_plate": "5 ft"} | how
    roof = {"form": "gambrel", "pitch": "18:12", "gambrel": upper}
    return _solved(int(_LENGTH), 24, roof)


def _summed(roof: Solution, stem: str, at: tuple[int, int, int]) -> float:
    """Return one end force of all members of a row, summed, N or N m.

    Args:
        roof: the roof.
        stem: of their keys.
        at: element of the member, its end, and which of its six forces.
    """
    assert roof.model is not None
    assert roof.frame is not None
    force = roof.frame.end_force_global[roof.combinations.row("D+Lr")]
    keys = [key for key in roof.model.members if key.startswith(stem)]
    return sum(float(force[roof.model.rows_of(key)][at]) for key in keys)


GROUPS = (
    shed_rafter,
    gambrel_on_gussets,
    gambrel_on_knee_walls,
    dutch_gable_ledger,
)
