"""What is handed over beside plain arithmetic: lists, plans, bodies and paper.

The roof is small enough to be counted with a pencil: a shed-plain gable whose rafters,
joists and plates are known before the program sees it.
"""

from __future__ import annotations

import math

import numpy as np

from ..brief.io import read_brief
from ..drawings.ink import Layer, Stroke
from ..drawings.plans import ceiling_plan
from ..framing.solids import solids
from ..schedule import cut_pieces
from ..sheet.paper import PAPERS, POINT
from ..solve import solve
from ..units import FOOT
from .model import FORMULA, MEMORY, Record

BOARD_FEET = "American Softwood Lumber Standard PS 20, board measure, by hand"
PLAN = "Area of a polygon by its corners (trade mathematics)"
BODIES = "Volume of cut prisms: section times mean edge (geometry)"
SIZES = {"letter": (8.5 * 72, 11 * 72), "a4": (210 / 25.4 * 72, 297 / 25.4 * 72)}
PAPER = {
    "letter": "ANSI/ASME Y14.1, size A, 8.5 by 11 in",
    "a4": "ISO 216, A4, 210 by 297 mm",
}
_BRIEF = {
    "footprint": {"length": "12 ft", "width": "20 ft"},
    "roof": {"pitch": "6:12", "overhang": "1 ft"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ridge": {"size": "2x8"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
}


def lists_plans_and_bodies(out: Record) -> None:
    """Fourteen rafters 11 ft long on plan to the middle of a 1 1/2 in ridge."""
    brief = read_brief(_BRIEF)
    solution = solve(brief)
    framing = solution.framing
    pieces = cut_pieces(brief, framing)
    rafters = [p for p in pieces if p.role.value == "rafter"]
    run = 10 + 1 - 0.75 / 12  # ft on plan to the face of the ridge
    slope = math.hypot(1, 0.5)
    long = run * slope + 5.5 / 12 * 0.5  # long point to long point of plumb cuts
    out.check("CV-910", BOARD_FEET, FORMULA, "rafters of a 12 ft gable, 24 in apart",
              14, len(rafters), unit="")  # fmt: skip
    out.check("CV-910", BOARD_FEET, FORMULA, "all rafters end to end", 14 * long,
              sum(p.length for p in rafters) / FOOT, rel=1e-6, unit="ft")  # fmt: skip
    out.check("CV-910", BOARD_FEET, FORMULA, "board feet of them, 2 x 6 / 12 a foot",
              14 * long, sum(p.board_feet for p in rafters), rel=1e-6,
              unit="bd ft")  # fmt: skip
    plan = ceiling_plan(solution, {})
    walls = next(s for s in plan.items
                 if isinstance(s, Stroke) and s.layer is Layer.WALLS)  # fmt: skip
    x, y = walls.points.T * plan.scale / 1000
    area = abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2
    out.check("CV-911", PLAN, FORMULA, "plate line as drawn, times its scale", 240,
              float(area) / FOOT**2, rel=1e-9, unit="sq ft")  # fmt: skip
    bodies = solids(brief, framing)
    volume = sum(_volume(bodies[p.member].vertices) for p in rafters if p.number == 1)
    by_hand = 14 * 1.5 * 5.5 / 144 * run * slope
    out.check("CV-912", BODIES, FORMULA, "bodies of the rafters", by_hand,
              volume / FOOT**3, rel=1e-6, unit="cu ft")  # fmt: skip


def _volume(corners: np.ndarray) -> float:
    """Return the volume of the plies of a piece, m3."""
    plies = corners.reshape(-1, 8, 3)
    edges = plies[:, 4:] - plies[:, :4]
    along = edges[:, 0] / np.linalg.norm(edges[:, 0], axis=1)[:, None]
    wide, deep = (
        np.linalg.norm(np.cross(plies[:, k] - plies[:, 0], along), axis=1)
        for k in (1, 3)
    )
    length = np.linalg.norm(edges, axis=2).mean(axis=1)
    return float((wide * deep * length).sum())


def sizes_of_paper(out: Record) -> None:
    """The page that the sheet and the calculation are set on, in points."""
    for name, (wide, tall) in SIZES.items():
        paper = PAPERS[name]
        for what, printed, ours in (
            ("width", wide, paper.width / POINT),
            ("height", tall, paper.height / POINT),
        ):  # fmt: skip
            out.check("CV-913", PAPER[name], MEMORY, f"page {what}", printed,
                      ours, tol=0.01, unit="pt")  # fmt: skip


GROUPS = (lists_plans_and_bodies, sizes_of_paper)
