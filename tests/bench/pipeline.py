"""A real roof through the whole flow, stage by stage, by members rather than nodes."""

import json
from dataclasses import replace

from loadfall.solver.analysis import solve as solve_frame
from loadfall.solver.brief import example_text, parse_brief
from loadfall.solver.framing import frame_roof
from loadfall.solver.framing.load_path import find_load_path
from loadfall.solver.idealise import build_model
from loadfall.solver.loads import combinations, member_loads
from loadfall.solver.solve import solve
from loadfall.solver.verdict.judge import run_checks

from .measure import clock, peak_memory

FEET = {"S": 38, "M": 140, "L": 400}


def long_roof(feet):
    """The example brief, so many feet long (400 at most) and framed at 16 in."""
    text = json.loads(example_text())
    text["footprint"]["length"] = f"{feet} ft"
    text["walls"][0]["end"][0] = f"{feet} ft"
    text["rafters"]["spacing"] = text["ceiling_joists"]["spacing"] = "16 in"
    return parse_brief(json.dumps(text))


def measure_roof(size):
    """Seconds of each stage of a real roof; empty for sizes beyond a brief."""
    if size not in FEET:
        return {}
    brief = long_roof(FEET[size])
    framing = frame_roof(brief)
    path = find_load_path(brief, framing)
    loads = member_loads(brief, framing)
    combos = combinations(loads)
    model = build_model(framing, path, loads)
    known = solve_frame(model.frame, model.loads, combos.factors, combos.names)

    stiffer = replace(model.frame, E=model.frame.E * 1.01)

    def analyse():
        return solve_frame(
            stiffer, model.loads, combos.factors, combos.names, start=known
        )

    def check(frame):
        return run_checks(brief, framing, model, frame, combos)

    return {
        "members": len(model.members),
        "freedoms": len(known.layout.dof),
        "combinations": len(combos.names),
        "one-sided": len(known.system.contacts),
        "frame and load": clock(
            lambda: member_loads(brief, frame_roof(brief)), fewest=2
        ),
        "analyse": clock(analyse),
        "check": clock(lambda: check(known)),
        "analyse and check": clock(lambda: check(analyse())),
        "brief to verdicts": clock(lambda: solve(brief), fewest=2),
        "memory": peak_memory(),
    }
