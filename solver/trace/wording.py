"""The trade's words for roles, checks, loads, places and uses, in one place.

Everything that speaks to people takes its phrases from here. Holds no number of its
own.
"""

from __future__ import annotations

import re

import numpy as np

from ..framing.model import Framing, Member, Role
from ..framing.spans import SLOPING
from ..loads.cases import CASES
from ..loads.combine import Combinations
from ..units import FOOT, System, show_force, show_small_length, show_stress

CAUTION = (
    "Loadfall explains and pre-checks. A licensed engineer or architect and the local "
    "code decide."
)

ROLES: dict[str, tuple[str, str]] = {
    "rafter": ("rafter", "rafters"),
    "jack_rafter": ("jack rafter", "jack rafters"),
    "hip_rafter": ("hip rafter", "hip rafters"),
    "valley_rafter": ("valley rafter", "valley rafters"),
    "ridge_board": ("ridge board", "ridge boards"),
    "ridge_beam": ("ridge beam", "ridge beams"),
    "purlin": ("purlin", "purlins"),
    "strut": ("strut (brace)", "struts (braces)"),
    "ceiling_joist": ("ceiling joist", "ceiling joists"),
    "collar_tie": ("collar tie", "collar ties"),
    "rafter_tie": ("rafter tie", "rafter ties"),
    "web": ("web", "webs"),
    "beam": ("beam", "beams"),
    "post": ("post", "posts"),
    "plate": ("wall plate", "wall plates"),
    "stub_joist": ("stub joist", "stub joists"),
    "header": ("header", "headers"),
    "jack_stud": ("jack stud", "jack studs"),
    "curb": ("curb", "curbs"),
    "ledger": ("ledger", "ledgers"),
    "knee_stud": ("knee-wall stud", "knee-wall studs"),
}

# What is checked, and in a few words what comes of too much.
CHECKS: dict[str, tuple[str, str]] = {
    "bending": ("bending", "the stretched edge breaks"),
    "biaxial_bending": ("bending both ways at once", "the stretched corner breaks"),
    "shear": ("shear", "the wood splits along the grain near a support"),
    "notched_shear": ("shear at a notch", "the wood splits from the notch"),
    "plate_bending": ("bending of its steel plate", "the plate bends for good"),
    "plate_shear": ("shear of its steel plate", "the plate yields at a support"),
    "person": ("a person standing on it", "it breaks under someone's weight"),
    "tension": ("pull along the grain", "the piece is torn apart"),
    "compression": ("push along the grain", "the piece crushes or buckles"),
    "slenderness": (
        "slenderness",
        "the piece is too thin for its length to be counted on to push",
    ),
    "beam_slenderness": (
        "slenderness as a beam",
        "so deep and thin a piece rolls over sideways",
    ),
    "bending_tension": ("bending and pull together", "the stretched edge breaks"),
    "bending_compression": (
        "bending and push together",
        "the piece buckles as it bends",
    ),
    "bearing": ("bearing", "the wood is crushed across the grain where it rests"),
    "deflection_live": (
        "sag under the load that comes and goes",
        "it bounces and finishes crack",
    ),
    "deflection_total": ("sag in the long run", "the bend stays for all to see"),
}

CASE_WORDS: dict[str, str] = {
    "D": "dead load",
    "L": "attic live load",
    "Lr": "roof live load",
    "S": "snow",
    "SuS": "snow drifted on the south slope",
    "SuN": "snow drifted on the north slope",
    "SuE": "snow drifted on the east slope",
    "SuW": "snow drifted on the west slope",
    "W": "wind uplift",
}

# What a prescriptive rule measures.
RULES: dict[str, str] = {
    "purlin_size": "the depth of the purlin",
    "brace_spacing": "the longest stretch of purlin without a brace",
    "brace_size": "the size of the brace",
    "brace_angle": "the angle of the brace from level",
    "brace_length": "the length of the brace between holds",
    "brace_foot": "what the brace stands on",
    "ridge_depth": "the depth of the ridge board",
    "ridge_thickness": "the thickness of the ridge board",
    "ridge_may_be_board": "the pitch, for a ridge that is a board",
    "tie_spacing": "the spacing of ties from plate to plate",
    "rafter_tie_height": "the height of the rafter ties",
    "collar_tie_height": "the height of the collar ties",
    "collar_tie_spacing": "the spacing of the collar ties",
    "hip_depth": "the depth of the hip rafters",
    "hip_thickness": "the thickness of the hip rafters",
    "hip_at_ridge": "what holds the hips at the ridge",
}

_OUTER = {
    "W-SOUTH": "the south wall",
    "W-NORTH": "the north wall",
    "W-WEST": "the west wall",
    "W-EAST": "the east wall",
    "W-SW": "the south-west corner",
    "W-SE": "the south-east corner",
    "W-NE": "the north-east corner",
    "W-NW": "the north-west corner",
    "H-CEILING": "the ceiling, sideways",
    "H-SHEATHING": "the sheathing, against drifting",
    "H-STUBS": "the straps over the ceiling joists",
}


def role_word(role: str, many: bool = False) -> str:
    """Return what a member of a role is called."""
    return ROLES[role][1 if many else 0]


def check_word(check: str) -> str:
    """Return what a check is called."""
    return CHECKS[check][0]


def rule_word(rule: str) -> str:
    """Return what a prescriptive rule measures."""
    return RULES.get(rule, rule.replace("_", " "))


_CORNER = re.compile(r"C\d+")  # of a drawn outline, where two walls meet


def owner_word(owner: str) -> str:
    """Return what a support owner is called, with its article."""
    if owner in _OUTER:
        return _OUTER[owner]
    kind, _, name = owner.partition("-")
    if kind == "W":
        return f"corner {name}" if _CORNER.fullmatch(name) else f"wall {name}"
    if kind == "F":
        post = name.removeprefix("RIDGE-")
        under = f"ridge post {post}" if post != name else f"post {name}"
        return f"the footing of {under}"
    if kind == "X":
        return f"the stated point under {name}"
    return owner


def is_owner(name: str) -> bool:
    """Return whether a name is a support owner and not a member key."""
    return name.partition("-")[0] in {"W", "F", "X", "H"}


def combination_words(combinations: Combinations, name: str) -> str:
    """Return a load combination in words."""
    row = combinations.factors[combinations.row(name)]
    parts = [
        CASE_WORDS[case.value] if factor == 1.0
        else f"{factor:.3g} of {CASE_WORDS[case.value]}"
        for case, factor in zip(CASES, row.tolist(), strict=True)
        if factor
    ]  # fmt: skip
    return " + ".join(parts)


def use_words(use: float) -> str:
    """Return a use (demand over capacity) as a reader says it.

    The words never round a use over to the limit, or one within it over.
    """
    if use > 1.0:
        digits = 2 if use >= 1.005 else 4
        return f"{use:.{digits}f} times its limit"
    digits = 0 if use < 0.995 else 2
    return f"{min(use, 0.9999) if use < 1 else use:.{digits}%} of its limit"


def value_words(value: float, unit: str, system: System) -> str:
    """Return a demand or a capacity as text.

    Args:
        value: in SI units.
        unit: as the checks name it: ``Pa``, ``N``, ``m`` or empty for a ratio.
        system: units to show.
    """
    if unit == "Pa":
        return show_stress(value, system)
    if unit == "N":
        return show_force(value, system)
    if unit == "m":
        return show_small_length(value, system)
    return f"{value:.3g}"


def area_words(area: float, system: System) -> str:
    """Return an area in m2 as text."""
    if system is System.METRIC:
        return f"{area:.1f} m2"
    return f"{area / FOOT**2:,.0f} sq ft"


def start_words(framing: Framing, member: Member) -> str:
    """Return which end of a member its stations are counted from."""
    if member.role in SLOPING:
        return "its foot at the plate"
    if member.role in (Role.STRUT, Role.WEB):
        return "its foot"
    if member.role in (Role.POST, Role.JACK_STUD, Role.KNEE_STUD):
        return "its top"
    start, end = framing.ends(member.key)
    run = np.abs(end - start)
    if run[0] >= run[1]:
        return "its west end" if start[0] <= end[0] else "its east end"
    return "its south end" if start[1] <= end[1] else "its north end"


def listed(items: list[str]) -> str:
    """Return items as a reader says them: a, b and c."""
    if len(items) < 2:
        return "".join(items)
    return ", ".join(items[:-1]) + " and " + items[-1]


def others(number: int) -> str:
    """Return ``1 other`` or ``6 others``."""
    return f"{number} other{'' if number == 1 else 's'}"


def counted(number: int, role: str) -> str:
    """Return a number of members of a role, e.g. ``1 rafter`` or ``6 rafters``."""
    return f"{number} {role_word(role, many=number != 1)}"


def sentence(text: str) -> str:
    """Return a text with a capital first letter and one full stop at its end."""
    text = text.strip().rstrip(".")
    return f"{text[:1].upper()}{text[1:]}."
