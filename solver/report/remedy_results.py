"""remedies.json: what could be built instead, in US units, described in docs."""

from __future__ import annotations

from typing import Any

from ..remedy import Comparison, Remedy
from ..remedy.hanging import Hanging
from ..remedy.measure import Measures, Sag
from ..remedy.nailing import PlyNailing
from ..remedy.shores import Shores
from ..remedy.spread import Spread
from ..units import FOOT, INCH, POUND
from .cautions import CAUTIONS, NOT_CHECKED
from .numbers import number
from .plate_results import plate_results
from .truss_results import nail_results


def remedy_results(found: Comparison) -> dict[str, Any]:
    """Return the content of remedies.json.

    Raises:
        ValueError: a number is not finite.
    """
    before = found.before
    return {
        "roof": before.brief.name,
        "verdict": before.overall.value,
        "as_it_is": _measures(found.measures),
        "remedies": [_remedy(one) for one in found.remedies],
        "not_checked": list(NOT_CHECKED),
        "cautions": list(CAUTIONS),
    }


def _remedy(one: Remedy) -> dict[str, Any]:
    """Return one remedy."""
    return {
        "key": one.key,
        "title": one.title,
        "build": one.build,
        "kinds": [kind.value for kind in one.kinds],
        "size": one.size,
        "brief": f"{one.key}.json",
        "verdict": one.solution.overall.value,
        "solves": one.solves,
        "why_not": list(one.why_not),
        "smaller": one.smaller,
        "unbeaten": one.unbeaten,
        "measures": _measures(one.measures),
        "does_not": list(one.leaves),
        "engineer": list(one.engineer),
        "nailing": None if one.nailing is None else _nailing(one.nailing),
        "hanging": [_hanging(found) for found in one.hanging],
        "gussets": {joint.key: nail_results(joint) for joint in one.gussets},
        "plate_bolts": plate_results(one.solution),
        "spread": [_spread(found) for found in one.spread],
        "shores": None if one.shores is None else _shores(one.shores),
    }


def _measures(m: Measures) -> dict[str, Any]:
    """Return what a roof is compared by."""
    return {
        "utilisation": number(m.utilisation),
        "worst": m.worst,
        "check": m.check,
        "failing": m.failing,
        "ceiling_sag": _sag(m.ceiling),
        "roof_sag": _sag(m.roof),
        "beside_neighbour": number(m.beside, INCH),
        "beside_members": list(m.beside_members),
        "ceiling_may_crack": m.may_crack,
        "board_feet": number(m.pieces.board_feet),
        "pieces": m.pieces.count,
        "longest_piece": number(m.pieces.longest, FOOT),
        "to_carry_in": [
            {
                "size": lot.size, "species": lot.species, "grade": lot.grade,
                "length": number(lot.length, FOOT), "pieces": lot.pieces,
                "to_buy": number(lot.bought, FOOT),
            }
            for lot in m.pieces.added
        ],
        "headroom": number(m.headroom, FOOT),
        "headroom_lost": number(m.headroom_lost, FOOT),
        "new_wall": number(m.walls, FOOT),
        "new_posts": m.posts,
        "floor_lost": number(m.floor_lost, FOOT**2),
        "foundations": {k: number(v, POUND) for k, v in m.foundations.items()},
        "rules_broken": list(m.rules_broken),
    }  # fmt: skip


def _sag(sag: Sag) -> dict[str, Any]:
    """Return sags in inches."""
    return {
        "now": number(sag.now, INCH),
        "ten_years": number(sag.ten_years, INCH),
        "long_term": number(sag.long_term, INCH),
        "member": sag.member,
    }


def _nailing(found: PlyNailing) -> dict[str, Any]:
    """Return the face nailing at the heaviest foot."""
    return {
        "joist": found.joist,
        "plies": found.plies,
        "load": number(found.load, POUND),
        "passed": number(found.passed, POUND),
        "nail": found.nail,
        "each": number(found.each, POUND),
        "count": found.count,
        "combination": found.combination,
        "clause": found.clause,
    }


def _hanging(found: Hanging) -> dict[str, Any]:
    """Return what a hanger and a strap have to hold."""
    return {
        "beam": found.beam,
        "joists": found.joists,
        "each": number(found.each, POUND),
        "joist": found.joist,
        "pull": number(found.pull, POUND),
        "combination": found.combination,
    }


def _spread(found: Spread) -> dict[str, Any]:
    """Return what each joist takes of what a cross-member brings."""
    return {
        "beam": found.beam,
        "combination": found.combination,
        "brought": number(found.brought, POUND),
        "joists": {key: number(force, POUND) for key, force in found.joists},
        "largest_share": number(found.largest_share),
        "lifted": list(found.lifted),
        "pull": number(found.pull, POUND),
    }


def _shores(shores: Shores) -> dict[str, Any]:
    """Return what must stand first."""
    return {
        "places": shores.places,
        "each": number(shores.each, POUND),
        "each_dead": number(shores.each_dead, POUND),
        "all_dead": number(shores.all_dead, POUND),
        "words": list(shores.words),
    }
