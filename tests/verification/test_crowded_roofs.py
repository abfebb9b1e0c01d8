"""Walls, beams, posts, purlins and feet nearer to one another than joints can be.

What was settled as one place is one joint; what was not is two, an inch or more apart.
Once a post an inch beside a beam gave that beam a joint beside its own line.
"""

import numpy as np
from hypothesis import given
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.solve import solve
from loadfall.solver.units import INCH

from ..solve.crowded import crowded
from .trying import assume, solved, tries

ON_HIPS = (Role.JACK_RAFTER, Role.RAFTER)  # they end on the middle line of a hip


def who(framing, node):
    """The members that meet at a node."""
    return [m.key for m in framing.members.values() if node in m.nodes]


@tries(60)
@given(crowded())
def test_joints_stay_on_their_members_and_apart(data):
    try:
        framing = frame_roof(read_brief(data))
    except BriefError:
        assume(False)
    for member in framing.members.values():
        points = framing.points[list(member.nodes)]
        way = points[-1] - points[0]
        length = float(np.linalg.norm(way))
        along = (points - points[0]) @ way / length
        off = np.linalg.norm(points - points[0] - np.outer(along / length, way), axis=1)
        assert off.max() < 1e-6, member.key
        close = np.flatnonzero(np.diff(along) <= INCH / 2)
        where = [who(framing, member.nodes[k + i]) for k in close for i in (0, 1)]
        assert not where, (member.key, where)
    solution = solved(data)
    if solution.frame is not None:
        assert np.isfinite(solution.frame.displacement).all()


def test_a_post_beside_a_beam_is_not_under_it():
    """An inch from one beam and right under the other."""
    data = {
        "footprint": {"length": "20 ft", "width": "20 ft"},
        "roof": {"pitch": "6:12"},
        "rafters": {"size": "2x8", "spacing": "24 in"},
        "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
        "beams": [
            {"name": name, "size": "2x10", "carries_joists": False,
             "start": ["0 ft", at], "end": ["10 ft", at]}
            for name, at in (("a", "120 in"), ("b", "121 in"))
        ],
        "posts": [{"name": "p", "at": ["10 ft", "121 in"]}],
    }  # fmt: skip
    solution = solve(read_brief(data))
    framing = solution.framing
    tops = set(framing.members["PO-p"].nodes)
    assert tops & set(framing.members["B-b"].nodes)
    assert not tops & set(framing.members["B-a"].nodes)
    assert [e.member for e in framing.loose_ends] == ["B-a"]
