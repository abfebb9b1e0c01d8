"""A real roof through the whole flow, stage by stage, by members rather than nodes."""

import itertools
import json
from dataclasses import replace

from loadfall.solver.analysis import solve as solve_frame
from loadfall.solver.brief import example_text, parse_brief
from loadfall.solver.framing import frame_roof
from loadfall.solver.framing.load_path import find_load_path
from loadfall.solver.idealise import build_model
from loadfall.solver.loads import combinations, member_loads
from loadfall.solver.solve import solve
from loadfall.solver.units import PSF
from loadfall.solver.verdict.judge import run_checks

from .measure import clock, peak_memory

FEET = {"S": 38, "M": 140, "L": 400}


def long_roof(feet, **more):
    """The example brief, so many feet long (400 at most) and framed at 16 in.

    Snow in place of live load makes eight combinations; ``more`` puts in parts.
    """
    text = json.loads(example_text()) | more
    text["loads"] |= {"snow": {"ground": "25 psf"}, "roof_live": "0 psf"}
    text["footprint"]["length"] = f"{feet} ft"
    text["walls"][0]["end"][0] = f"{feet} ft"
    text["rafters"]["spacing"] = text["ceiling_joists"]["spacing"] = "16 in"
    return parse_brief(json.dumps(text))


def _foot_moved(feet):
    """The same roof with the foot of one strut a foot farther in."""
    change = {
        "member": "ST-S-03",
        "foot": {"on": "ceiling_joist", "from_plate": "8 ft"},
    }
    return long_roof(feet, overrides=[change])


def _post_added(feet):
    """The same roof with a post under the foot of that strut."""
    post = {"name": "new", "at": ["112 in", "78 in"]}
    change = {"member": "ST-S-03", "foot": {"on": "post", "name": "new"}}
    return long_roof(feet, posts=[post], overrides=[change])


def _steeper(brief):
    """The same roof, a little steeper."""
    return replace(brief, roof=replace(brief.roof, pitch=1.02 * brief.roof.pitch))


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

    heavier = [
        replace(brief, loads=replace(brief.loads, roof_dead=k * PSF)) for k in (11, 12)
    ]
    last = [solve(brief)]
    turn = itertools.cycle(heavier)

    def loads_changed():
        last[0] = solve(next(turn), last[0])
        return last[0].overall

    moved, propped = _foot_moved(FEET[size]), _post_added(FEET[size])
    steeper = _steeper(brief)
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
        "brief to verdicts": clock(lambda: solve(brief).overall, fewest=2),
        "loads changed": clock(loads_changed),
        "foot moved": clock(lambda: solve(moved, last[0]).overall, fewest=2),
        "foot moved, from scratch": clock(lambda: solve(moved).overall, fewest=2),
        "post added": clock(lambda: solve(propped, last[0]).overall, fewest=2),
        "post added, from scratch": clock(lambda: solve(propped).overall, fewest=2),
        "pitch changed": clock(lambda: solve(steeper, last[0]).overall, fewest=2),
        "pitch changed, from scratch": clock(lambda: solve(steeper).overall, fewest=2),
        "memory": peak_memory(),
    }
