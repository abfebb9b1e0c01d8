"""Random roofs with a second thing near one that stands, as drawings often have."""

from __future__ import annotations

import copy

from hypothesis import strategies as st

from .hip_strategies import roofs
from .strategies import value

STEPS = (0.0, 0.001, 0.4, 0.9, 0.999999, 1.0, 1.000001, 1.1, 2.0)  # in


@st.composite
def crowded(draw):
    """A roof in whose plan walls, beams, posts, purlins or feet stand close."""
    brief = draw(roofs())
    for _ in range(draw(st.integers(1, 4))):
        kind = draw(st.sampled_from(("walls", "beams", "posts", "purlins", "struts")))
        if brief[kind]:
            one = copy.deepcopy(draw(st.sampled_from(brief[kind])))
            step = draw(st.sampled_from(STEPS)) * draw(st.sampled_from((1, -1)))
            _near(draw, brief, kind, one, step)
    return brief


def _near(draw, brief, kind, one, step):
    """Add a copy of one thing a step beside, before or beyond it."""
    plan = brief["footprint"]
    size = [value(plan["length"]), value(plan["width"])]
    if kind in ("walls", "beams"):
        axis = draw(st.sampled_from((0, 1)))
        for end in ("start", "end"):
            one[end][axis] = _inside(one[end][axis], step, size[axis])
        one.pop("openings", None)
    elif kind == "posts":
        one["at"] = [
            _inside(at, draw(st.sampled_from((0.0, step))), most)
            for at, most in zip(one["at"], size, strict=True)
        ]
    elif kind == "purlins":
        one["from_plate"] = _inside(one["from_plate"], step, size[1] / 2 - 3)
    else:
        brief["struts"].append(one | {"start": f"{24 + step!r} in"})
        return
    one["name"] += f"x{len(brief[kind])}"
    brief[kind].append(one)


def _inside(text, step, most):
    """A length a step away, not outside the plan."""
    return f"{min(max(float(text.removesuffix(' in')) + step, 0.0), most)!r} in"
