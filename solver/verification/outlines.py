"""Hips and valleys over a drawn outline beside the published triangle of load."""

from __future__ import annotations

import math

from ..brief.io import read_brief
from ..solve import solve
from ..units import FOOT, POUND, POUND_FOOT
from .model import FORMULA, MEMORY, Record

SOURCE = "AWC Design Aid 6, simple beam, load increasing uniformly to one end"
_CORNERS = ((0, 0), (40, 0), (40, 44), (16, 44), (16, 24), (0, 24))


def hip_and_valley_of_an_l(out: Record) -> None:
    """Two planes 12 ft deep meet at 45 degrees on plan: 72 sq ft rest on the line."""
    solution = solve(
        read_brief(
            {
                "footprint": {
                    "outline": [{"at": [f"{x} ft", f"{y} ft"]} for x, y in _CORNERS]
                },
                "roof": {"pitch": "6:12"},
                "rafters": {"size": "2x8"},
                "ridge": {"size": "2x10"},
                "ceiling_joists": {"size": "2x8"},
                "loads": {
                    "roof_dead": "30 psf", "roof_dead_on": "plan",
                    "roof_live": "0 psf", "self_weight": False,
                },
            }
        )
    )  # fmt: skip
    n = solution.hand.combinations.index("D")
    load, run = 30 * 72, 12 * math.sqrt(2)
    for name, key, heavy in (("hip", "HP-1", 1), ("valley", "VL-5", 0)):
        hand = solution.hand.hips.hips[key]
        found = hand.reactions[n] / POUND
        out.check(
            "CV-905", SOURCE, MEMORY, f"{name}: reaction at its light end, W / 3",
            load / 3, float(found[1 - heavy]), rel=1e-6, unit="lb",
        )  # fmt: skip
        out.check(
            "CV-905", SOURCE, MEMORY, f"{name}: reaction at its heavy end, 2 W / 3",
            2 * load / 3, float(found[heavy]), rel=1e-6, unit="lb",
        )  # fmt: skip
        out.check(
            "CV-905", SOURCE, MEMORY, f"{name}: largest moment, 0.1283 W l",
            0.1283 * load * run, float(hand.moment[n]) / POUND_FOOT, rel=4e-4,
            unit="lb ft",
        )  # fmt: skip
    _areas(out, solution.framing.form)


def _areas(out: Record, form: object) -> None:
    """Check the slope area: the plan's over the cosine of the one pitch."""
    plan = (40 * 44 - 16 * 20) * FOOT**2
    slope = math.hypot(1.0, 0.5) * plan
    out.check(
        "CV-906", "Roof area by the secant of its pitch (trade mathematics)", FORMULA,
        "area on the slope of an L, sq ft", slope / FOOT**2,
        float(form.slope_area) / FOOT**2, rel=1e-9,  # type: ignore[attr-defined]
    )  # fmt: skip


def strut_under_a_ring(out: Record) -> None:
    """A purlin line half way up 12 ft of rafter, struts 4 ft apart, 30 psf on plan.

    Two equal spans of 6 ft: 10/8 w l arrives in the middle, so 1.25 x 30 x 6 = 225 lb
    on each foot of the line, and 900 lb on a strut between others.
    """
    brief = {
        "footprint": {"outline": [{"at": [f"{x} ft", f"{y} ft"]} for x, y in _CORNERS]},
        "roof": {"pitch": "6:12"},
        "rafters": {"size": "2x8"},
        "ridge": {"size": "2x10"},
        "ceiling_joists": {"size": "2x8"},
        "purlins": [{"name": "ring", "slope": "all", "height": "3 ft", "size": "2x8"}],
        "struts": [{"purlin": "ring", "foot": {"on": "point"}}],
        "loads": {
            "roof_dead": "30 psf", "roof_dead_on": "plan",
            "roof_live": "0 psf", "self_weight": False,
        },
    }  # fmt: skip
    solution = solve(read_brief(brief))
    n = solution.hand.combinations.index("D")
    found = solution.hand.struts["ST-ring-S1-03"]
    out.check(
        "CV-919", "AWC Design Aid 6, continuous beam, two equal spans", MEMORY,
        "strut under a purlin line of an L, 10/8 w l times 4 ft", 1.25 * 30 * 6 * 4,
        float(found.vertical[n]) / POUND, rel=1e-6, unit="lb",
    )  # fmt: skip


GROUPS = (hip_and_valley_of_an_l, strut_under_a_ring)
