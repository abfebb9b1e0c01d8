"""results.json: all that is known of a solved roof, under stable keys.

Reads a Solution and computes nothing of its own. Numbers are in the units that the key
``units`` names, whatever units the brief uses. The keys are described in
``docs/results.md``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from ..ageing.record import ageing_record
from ..audit.landings import from_foot, landing_of
from ..brief import write_record
from ..framing.changes import place_of
from ..framing.landing import no_landing
from ..schedule import lumber_of
from ..solve import Solution
from ..units import (
    FOOT,
    INCH,
    POUND,
    POUND_FOOT,
)
from ..verdict.model import MemberResult
from .cautions import CAUTIONS, NOT_CHECKED
from .hand_results import hand_results
from .joint_results import joint_results
from .numbers import by_name, number
from .plate_results import plate_results
from .sizing_results import sizing_results
from .truss_results import truss_results

RESULTS_VERSION = 1


def results(solution: Solution) -> dict[str, Any]:
    """Return the JSON-ready results of a roof."""
    brief = solution.brief
    out: dict[str, Any] = {
        "results_version": RESULTS_VERSION,
        "units": {
            "length": "ft", "sag": "in", "force": "lb", "moment": "lb-ft",
            "pressure": "psf", "line_load": "plf", "angle": "deg",
        },
        "name": brief.name,
        "basis": _basis(solution),
        "overall": solution.overall.value,
        "refusal": solution.refusal,
        "worst_member": solution.worst.key if solution.worst else None,
        "worst_utilisation": number(solution.worst.utilisation)
        if solution.worst
        else None,
        "combinations": [
            {"name": n, "C_D": float(c), "clause": w}
            for n, c, w in zip(
                solution.combinations.names,
                solution.combinations.C_D,
                solution.combinations.clauses,
                strict=True,
            )
        ],
        "equilibrium": _equilibrium(solution),
        "no_load_path": [
            {"member": key, "reason": reason}
            for key, reason in solution.path.faults.items()
        ],
        "members": {key: _member(m) for key, m in solution.members.items()},
        "struts": _struts(solution),
        "supports": _supports(solution),
        "connections": joint_results(solution),
        "trusses": truss_results(solution),
        "plate_bolts": plate_results(solution),
        "sizing": sizing_results(solution),
        "patches": _patches(solution),
        "lumber": _lumber(solution),
        "ageing": ageing_record(solution),
        "hand": hand_results(solution.hand),
        "audit": [
            {
                "kind": f.kind.value, "rule": f.rule, "section": f.section,
                "members": list(f.members), "passed": f.passed, "value": f.value,
                "limit": f.limit, "words": f.words,
            }
            for f in solution.findings
        ],
        "zone": _zone(solution),
        "dropped_overrides": list(solution.framing.dropped_overrides),
        "overrides": _overrides(solution),
        "not_checked": list(NOT_CHECKED),
        "cautions": list(CAUTIONS),
        "brief": write_record(brief),
    }  # fmt: skip
    return out


def _overrides(solution: Solution) -> dict[str, Any]:
    """Return every stated change: whose it is now, and what of it was dropped."""
    framing, brief = solution.framing, solution.brief
    added = [f"ST-{s.purlin}-{s.name}" for s in brief.added_struts]
    holders = {key: key for key in added if key in framing.members}
    holders |= framing.change_holders
    stated = [*(o.member for o in brief.overrides), *added]
    return {
        key: {
            "member": holders.get(key),
            "near": [number(v, FOOT) for v in place_of(framing, holders[key])]
            if holders.get(key) in framing.members
            else None,
            "dropped": framing.change_notes.get(key),
        }
        for key in stated
    }


def _lumber(solution: Solution) -> dict[str, Any]:
    """Return what the roof is cut from."""
    found = lumber_of(solution.brief, solution.framing)
    return {
        "pieces": found.pieces,
        "board_feet": number(found.board_feet),
        "sticks_to_buy": found.sticks,
        "board_feet_to_buy": number(found.board_feet_to_buy),
        "longest_piece": number(found.longest, FOOT),
    }


def _basis(solution: Solution) -> str:
    """Return the name of the design basis."""
    return solution.checked.result.basis.name if solution.checked else ""


def _equilibrium(solution: Solution) -> dict[str, Any]:
    """Return how well the analysis balances itself."""
    if solution.frame is None:
        return {}
    flow, shares = solution.flow(), solution.shares()
    assert flow is not None
    assert shares is not None
    lifted = {}
    for row, name in enumerate(solution.combinations.names):
        open_ = _lifted(solution, row)
        if open_:
            lifted[name] = open_
    return {
        "residual": number(float(np.max(solution.frame.residual))),
        "reactions_less_loads": number(flow.ground_imbalance),
        "member_in_less_out": number(flow.imbalance),
        "shares_less_one": number(shares.error),
        "lifted": lifted,
    }


def _lifted(solution: Solution, row: int) -> list[str]:
    """Return what does not act in a combination: slack members, open contacts."""
    model, frame = solution.model, solution.frame
    assert model is not None
    assert frame is not None
    out = [
        f"{model.members[model.frame.element_member[e]]} is slack"
        for e in np.flatnonzero(~frame.element_active[row])
    ]
    active = frame.link_active[row]
    for n, pair in zip(model.contacts, model.contact_links, strict=True):
        if not active[pair[0]]:
            contact = solution.framing.contacts[n]
            out.append(f"{contact.upper} lifts off {contact.lower}")
    out += [
        f"{ground.member} lifts off {ground.owner}"
        for ground in model.ground
        if ground.link >= 0 and not active[ground.link]
    ]
    return out


def _member(m: MemberResult) -> dict[str, Any]:
    """Return one member."""
    return {
        "role": m.role,
        "section": m.size,
        "plies": m.plies,
        "species": m.species,
        "grade": m.grade,
        "length": number(m.length, FOOT),
        "verdict": m.verdict.value,
        "analysis_passes": m.analysis_passes,
        "rule_passes": m.rule_passes,
        "reason": m.reason,
        "utilisation": number(m.utilisation),
        "utilisation_by_check": None
        if m.by_check is None
        else {name: number(value) for name, value in m.by_check.items()},
        "utilisation_by_combination": None
        if m.by_combination is None
        else {
            check: {name: number(v) for name, v in rows.items()}
            for check, rows in m.by_combination.items()
        },
        "governing_check": m.governing_check or None,
        "clause": m.clause or None,
        "combination": m.combination or None,
        "station": number(m.station, FOOT) if m.governing_check else None,
        "axial": number(m.axial, POUND),
        "moment": number(m.moment, POUND_FOOT),
        "shear": number(m.shear, POUND),
        "sag_now": number(m.sag_now, INCH),
        "sag_long_term": number(m.sag_long_term, INCH),
        "sag_dead": number(m.sag_dead, INCH),
        "sag_against_neighbour": number(m.sag_against_neighbour, INCH),
        "sag_span": number(m.sag_span, FOOT),
        "strut_load": number(m.strut_load, POUND),
        "tributary_area": number(m.tributary_area, FOOT**2),
        "stands_on": None
        if m.stands_on is None
        else {"kind": m.stands_on.kind, "name": m.stands_on.name},
        "findings": list(m.findings),
    }


def _struts(solution: Solution) -> dict[str, Any]:
    """Return every strut with its hand and frame force side by side."""
    out = {}
    names = solution.hand.combinations
    frame_names = solution.combinations.names
    for key, hand in solution.hand.struts.items():
        m = solution.members[key]
        worst = int(np.argmax(hand.axial))
        entry: dict[str, Any] = {
            "stands_on": {"kind": m.stands_on.kind, "name": m.stands_on.name}
            if m.stands_on
            else None,
            "verdict": m.verdict.value,
            "angle": number(math.degrees(hand.angle)),
            "length": number(hand.length, FOOT),
            "slenderness": number(hand.slenderness),
            "longest_within_slenderness": number(hand.longest, FOOT),
            "purlin_height_for_45": number(hand.height_for_45, FOOT),
            "tributary_length": number(hand.tributary_length, FOOT),
            "hand_combination": names[worst],
            "hand_vertical": number(hand.vertical[worst], POUND),
            "hand_axial": number(hand.axial[worst], POUND),
            "hand_push": number(hand.push[worst], POUND),
            "hand_capacity": number(hand.capacity[worst], POUND),
            "hand_utilisation": number(float(hand.utilisation.max())),
            "hand_axial_by_combination": by_name(names, hand.axial, POUND),
            "landing": _landing(solution, key),
            "frame_axial": None,
            "frame_axial_by_combination": None,
            "slack_in": None,
        }
        if solution.model is not None and key in solution.model.members:
            assert solution.frame is not None
            element = solution.model.rows_of(key).start
            axial = -_axial(solution, element)
            entry["frame_axial"] = number(float(axial.max()), POUND)
            entry["frame_axial_by_combination"] = by_name(frame_names, axial, POUND)
            entry["slack_in"] = [
                name
                for name, acts in zip(
                    frame_names, solution.frame.element_active[:, element], strict=True
                )
                if not acts
            ]
        out[key] = entry
    return out


def _landing(solution: Solution, key: str) -> dict[str, Any] | None:
    """Return the legal landing nearest to plumb under a strut, else the steepest."""
    brief, framing = solution.brief, solution.framing
    strut = framing.members[key]
    found = landing_of(brief, framing, strut)
    if found is None:
        return None
    return {
        "wall": found.wall,
        "legal": found.legal,
        "lateral_brace": found.held,
        "x": number(found.point[0], FOOT),
        "y": number(found.point[1], FOOT),
        "from_foot": number(from_foot(framing, strut, found), FOOT),
        "run": number(found.run, FOOT),
        "angle": number(math.degrees(found.angle)),
        "length": number(found.length, FOOT),
        "why_not": None if found.legal else no_landing(brief, found),
    }


def _axial(solution: Solution, element: int) -> np.ndarray:
    """Return the axial force of an element per combination, N, tension positive."""
    assert solution.checked is not None
    return solution.checked.stations.N[:, element, 0]


def _supports(solution: Solution) -> dict[str, Any]:
    """Return every support owner: reactions by combination, and what it collects."""
    model, frame = solution.model, solution.frame
    if model is None or frame is None:
        return {}
    out: dict[str, Any] = {}
    names = solution.combinations.names
    for owner in dict.fromkeys(row.owner for row in model.ground):
        vertical, sideways = np.zeros(len(names)), np.zeros(len(names))
        along, runs_along = np.zeros(len(names)), False
        slant = np.zeros((len(names), 2))
        for row in model.ground:
            if row.owner != owner:
                continue
            if row.link >= 0:
                force = frame.link_force[:, row.link]
            else:
                force = frame.reaction[:, row.node, row.direction]
            if row.direction == 2:
                vertical += force
            elif row.direction == 1:
                sideways += force
            elif row.direction > 2:
                slant += force[:, None] * np.array(row.way)[:2]
            else:
                along, runs_along = along + force, True
        if slant.any():
            along, sideways = along + slant[:, 0], sideways + slant[:, 1]
            runs_along = True
        out[owner] = {
            "vertical": by_name(names, vertical, POUND),
            "sideways": by_name(names, sideways, POUND),
            **({"along": by_name(names, along, POUND)} if runs_along else {}),
            "members": sorted({r.member for r in model.ground if r.owner == owner}),
        }
    return out


def _patches(solution: Solution) -> dict[str, Any]:
    """Return the shares of every patch of roof and ceiling in every support."""
    shares, model = solution.shares(), solution.model
    if shares is None or model is None:
        return {}
    loads, listed = solution.loads, []
    for element, stretch in enumerate(model.stretch.tolist()):
        if not loads.surface[stretch]:
            continue
        ends = solution.framing.points[loads.nodes[stretch]]
        listed.append(
            {
                "surface": loads.surface[stretch],
                "member": loads.member[stretch],
                "from": [number(v, FOOT) for v in ends[0].tolist()],
                "to": [number(v, FOOT) for v in ends[1].tolist()],
                "plan_area": number(loads.plan_area[stretch], FOOT**2),
                "shares": {
                    owner: number(value)
                    for owner, value in zip(
                        shares.owners, shares.element[:, element].tolist(), strict=True
                    )
                },
            }
        )
    return {"combination": shares.combination, "patches": listed}


def _zone(solution: Solution) -> list[Mapping[str, Any]]:
    """Return the strips of plan where purlins can be braced by the rules."""
    return [
        {
            "slope": z.slope,
            "wall": z.wall,
            "wall_from_plate": number(z.wall_from_plate, FOOT),
            "from_x": number(z.start, FOOT),
            "to_x": number(z.end, FOOT),
            "nearest": number(z.nearest, FOOT),
            "farthest": number(z.farthest, FOOT),
            "nearest_for_45": number(z.nearest_any_length, FOOT),
            "why_none": z.why_none,
        }
        for z in solution.zone
    ]
