"""The hand method as results.json holds it, under stable keys."""

from __future__ import annotations

import math
from typing import Any

from ..hand.hips import HandHips
from ..hand.model import HandResult, HandThrust
from ..units import FOOT, INCH, PLF, POUND, POUND_FOOT, PSF
from .numbers import by_name, number


def hand_results(hand: HandResult) -> dict[str, Any]:
    """Return the hand method."""
    names = hand.combinations
    return {
        "combinations": list(names),
        "rafters": {
            r.slope: {
                "spans": [number(s, FOOT) for s in r.spans.tolist()],
                "line_load": by_name(names, r.line_load, PLF),
                "reactions": {
                    n: [number(v, POUND) for v in row]
                    for n, row in zip(names, r.reactions.tolist(), strict=True)
                },
                "moment": by_name(names, r.moment, POUND_FOOT),
                "utilisation": by_name(names, r.utilisation, 1.0),
                "moment_without_purlin": by_name(names, r.moment_alone, POUND_FOOT),
                "utilisation_without_purlin": by_name(names, r.utilisation_alone, 1.0),
                "utilisation_longest_span": by_name(
                    names, r.utilisation_longest_span, 1.0
                ),
            }
            for r in hand.rafters
        },
        "purlins": {
            key: {
                "line_load": by_name(names, p.line_load, PLF),
                "span": number(p.span, FOOT),
                "moment_simple_span": by_name(names, p.moment_simple, POUND_FOOT),
                "utilisation_simple_span": by_name(names, p.utilisation_simple, 1.0),
                "utilisation_continuous": by_name(names, p.utilisation_continuous, 1.0),
            }
            for key, p in hand.purlins.items()
        },
        "joists": {
            key: {
                "span": number(j.span, FOOT),
                "width": number(j.width, FOOT),
                "strut_feet": [
                    {"at": number(a, FOOT), "force": by_name(names, f, POUND)}
                    for a, f in j.points
                ],
                "moment": by_name(names, j.moment, POUND_FOOT),
                "utilisation": by_name(names, j.utilisation, 1.0),
                "sag_now": by_name(names, j.sag_now, INCH),
                "sag_long_term": by_name(names, j.sag_long_term, INCH),
                "sag_dead": number(j.sag_dead, INCH),
                "allowed_by_bending": number(j.allowed_by_bending, PSF),
                "allowed_by_sag": {
                    n: number(v, PSF) for n, v in j.allowed_by_sag.items()
                },
            }
            for key, j in hand.joists.items()
        },
        "beams": {
            key: {"line_load": by_name(names, b.line_load, PLF)}
            for key, b in hand.beams.items()
        },
        **_hand_hips(names, hand.hips),
        "thrust": None if hand.thrust is None else _thrust(names, hand.thrust),
    }


def _hand_hips(names: tuple[str, ...], hand: HandHips) -> dict[str, Any]:
    """Return hips, ridge ends and their braces by hand; nothing over a gable."""
    if not hand.hips:
        return {}
    hips = {
        key: {
            "plan_length": number(h.plan_length, FOOT),
            "angle": number(math.degrees(h.angle)),
            "jack_load": by_name(names, h.jack_load, POUND),
            "total_load": by_name(names, h.total_load, POUND),
            "places": [number(v) for v in h.places.tolist()],
            "reactions": {
                n: [number(v, POUND) for v in row]
                for n, row in zip(names, h.reactions.tolist(), strict=True)
            },
            "moment": by_name(names, h.moment, POUND_FOOT),
            "moment_over_brace": by_name(names, h.moment_over_brace, POUND_FOOT),
            "brace_heights": [number(v, FOOT) for v in h.brace_heights.tolist()],
            "utilisation": by_name(names, h.utilisation, 1.0),
        }
        for key, h in hand.hips.items()
    }
    peaks = {
        end: {
            "hips": list(p.hips),
            "end_common_reaction": by_name(names, p.end_common, POUND),
            "load": by_name(names, p.load, POUND),
            "brace": p.brace,
        }
        for end, p in hand.peaks.items()
    }
    braces = {
        key: {
            "vertical": by_name(names, b.vertical, POUND),
            "axial": by_name(names, b.axial, POUND),
            "capacity": by_name(names, b.capacity, POUND),
            "utilisation": by_name(names, b.utilisation, 1.0),
            "slenderness": number(b.slenderness),
        }
        for key, b in hand.braces.items()
    }
    return {
        "roof_load": by_name(names, hand.roof_load, PSF),
        "hips": hips,
        "peaks": peaks,
        "hip_braces": braces,
    }


def _thrust(names: tuple[str, ...], thrust: HandThrust) -> dict[str, Any]:
    """Return the thrust at the plates, what holds it, and its nails."""
    return {
        "line_load": by_name(names, thrust.line_load, PLF),
        "tie_height": number(thrust.tie_height, FOOT),
        "tie_force": by_name(names, thrust.tie_force, POUND),
        "raised_tie_factor": number(thrust.raised_tie_factor),
        "thrust_per_length": by_name(names, thrust.thrust, PLF),
        "rafter_moment_at_tie": by_name(names, thrust.rafter_moment_at_tie, POUND_FOOT),
        "utilisation_at_tie": by_name(names, thrust.utilisation_at_tie, 1.0),
        "nail": thrust.nail,
        "nail_value": by_name(names, thrust.nail_value, POUND),
        "nails_needed": thrust.nails_needed,
        "plate_span": number(thrust.plate_span, FOOT),
        "plate_moment": by_name(names, thrust.plate_moment, POUND_FOOT),
        "plate_utilisation": by_name(names, thrust.plate_utilisation, 1.0),
    }
