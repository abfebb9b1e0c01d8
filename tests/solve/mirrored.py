"""A brief seen in a mirror: south for north, or east for west."""

from __future__ import annotations

import copy

import numpy as np

from .strategies import value

_HIPS = {
    1: {"south_west": "north_west", "south_east": "north_east"},
    0: {"south_west": "south_east", "north_west": "north_east"},
}
_SIDES = {
    1: {"south": "north", "north": "south"},
    0: {"west": "east", "east": "west"},
}


def inches_of(text):
    """Inches of a text in inches, whole or not."""
    return float(text.removesuffix(" in"))


def across(text, size):
    """A place seen from the other end."""
    return f"{size - inches_of(text)!r} in"


def mirrored(brief, axis):
    """The mirror image of a brief's data without overrides.

    Args:
        brief: JSON data, lengths in inches.
        axis: 0 for east and west, 1 for south and north.
    """
    seen = copy.deepcopy(brief)
    plan = brief["footprint"]
    size = value(plan["length"] if axis == 0 else plan["width"])

    def turn(point):
        point[axis] = across(point[axis], size)

    for item in (*seen["walls"], *seen["beams"]):
        turn(item["start"])
        turn(item["end"])
    for post in seen["posts"]:
        turn(post["at"])
    for group in (*seen["struts"], *seen.get("hip_braces", ())):
        if "at" in group["foot"]:
            turn(group["foot"]["at"])
    back = {b: a for a, b in _HIPS[axis].items()} | _HIPS[axis]
    for brace in seen.get("hip_braces", ()):
        brace["hip"] = back.get(brace["hip"], brace["hip"])
    for purlin in seen["purlins"]:
        purlin["slope"] = _SIDES[axis].get(purlin["slope"], purlin["slope"])
    if axis == 1:
        return seen
    for item in (*seen["purlins"], *seen["struts"]):
        ends = {name: item.pop(name) for name in ("start", "end") if name in item}
        other = {"start": "end", "end": "start"}
        item |= {other[name]: across(text, size) for name, text in ends.items()}
    if "posts" in seen["ridge"]:
        seen["ridge"]["posts"] = [across(x, size) for x in seen["ridge"]["posts"]]
    return seen


def even(brief, axis):
    """The same brief with marks that lie alike from either end.

    Rafters, ties and struts are laid out from the west and joists along the ridge from
    the south; only a size that their spacing divides looks the same in the mirror.
    """
    made = copy.deepcopy(brief)
    made["overrides"], made["added_struts"] = [], []
    step, joists = value(made["rafters"]["spacing"]), made.get("ceiling_joists", {})
    if joists.get("direction") == "along":
        across = max(value(made["footprint"]["width"]) // step, 4)
        made["footprint"]["width"] = f"{across * step} in"
        joists["spacing"] = f"{step} in"
    if axis == 0:
        _even_along(made, step)
    _keep_inside(made)
    return made


def _even_along(made, step):
    """Lay what is laid out from the west alike from either end.

    Struts stand at every second rafter where those are odd, else at each.
    """
    bays = max(value(made["footprint"]["length"]) // step, 4)
    made["footprint"]["length"] = f"{bays * step} in"
    for name in ("ceiling_joists", "collar_ties", "rafter_ties"):
        if name in made:
            made[name]["spacing"] = f"{step} in"
    for purlin in made["purlins"]:
        purlin.pop("start", None)
        purlin.pop("end", None)
    apart = step * (1 + (bays % 2 == 0))
    ends = {p["name"] for p in made["purlins"] if p["slope"] in ("west", "east")}
    for group in made["struts"]:
        group["spacing"] = f"{apart} in"
        if group["purlin"] in ends:  # laid out from its middle
            group.pop("start", None)
            group.pop("end", None)
            continue
        group["start"] = f"{2 * step} in"
        group["end"] = f"{(bays - 2) * step} in"


def _keep_inside(made):
    """Move what a smaller plan leaves outside to its edge."""
    most = [value(made["footprint"][name]) for name in ("length", "width")]
    points = [item[end] for item in (*made["walls"], *made["beams"])
              for end in ("start", "end")]  # fmt: skip
    for point in [*points, *(post["at"] for post in made["posts"])]:
        point[:] = [
            f"{min(value(at), limit)} in" for at, limit in zip(point, most, strict=True)
        ]
    for wall in made["walls"]:
        span = sum(abs(value(b) - value(a)) for a, b in zip(wall["start"], wall["end"],
                                                            strict=True))  # fmt: skip
        fits = [gap for gap in wall["openings"] if value(gap["end"]) <= span]
        wall["openings"] = fits
    if "posts" in made["ridge"]:
        inside = [x for x in made["ridge"]["posts"] if value(x) <= most[0]]
        made["ridge"]["posts"] = inside


def images(framing, other, axis, size):
    """Keys of members with the keys of their mirror images, by where they stand.

    Args:
        framing: of a brief.
        other: of its mirror image.
        axis, size: of the mirror; m, the length or width of the plan.
    """

    there = {}
    for key, member in other.members.items():
        there.setdefault(member.role, []).append((key, _ends(other, member)))
    found = {}
    for key, member in framing.members.items():
        seen = _ends(framing, member)
        seen[:, axis] = size - seen[:, axis]
        known = there.get(member.role, [])
        off = [
            min(np.abs(ends - seen).max(), np.abs(ends - seen[::-1]).max())
            for _, ends in known
        ]
        best = int(np.argmin(off)) if off else 0
        found[key] = known.pop(best)[0] if off and off[best] < 1e-6 else None
    return found


def _ends(framing, member):
    """(2, 3) m, the first and the last joint of a member."""
    return framing.points[[member.nodes[0], member.nodes[-1]]].copy()
