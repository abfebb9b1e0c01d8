"""The drawn pieces over drawn outlines: none crosses another, what joins touches."""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.units import INCH

from ..outlines import RECTANGLES, outline, rectangle
from .test_hip_roof import SAW_KERF, overlap, pieces
from .test_outline_purlins import RING, STRUTS

SLOPING = (Role.RAFTER, Role.JACK_RAFTER)
LINES = (Role.HIP_RAFTER, Role.VALLEY_RAFTER, Role.RIDGE_BOARD, Role.CURB, Role.LEDGER)
RINGED = ("L", "T", "U", "cross", "bay", "drawn")
FORMS = [
    ("L", False), ("L", True), ("narrow L", False), ("narrow L", True), ("T", False),
    ("T", True), ("U", True), ("Z", False), ("cross", False), ("cross", True),
    ("bay", False), ("bay", True), ("drawn", False),
]  # fmt: skip
UNEQUAL = {0: "8:12", 1: "5:12", 4: "9:12"}
DROPPED = INCH / 4  # a hip is dropped under its planes, a valley beside it is not
CROWDED = 3 * INCH / 4  # a jack beside the point of a king is cut clear of all there


@pytest.fixture(
    scope="module",
    params=[
        *FORMS,
        ("L", "unequal"),
        *((name, "purlins") for name in RINGED),
        *((name, False) for name in RECTANGLES),
    ],
    ids=lambda p: f"{p[0]} {p[1]}",
)
def drawn(request):
    name, how = request.param
    brief = rectangle(name) if name in RECTANGLES else outline(name, how is True)
    if how == "unequal":
        brief = outline(name, pitches=UNEQUAL)
    if how == "purlins":
        brief |= {"purlins": [RING], "struts": [STRUTS]}
    framing = frame_roof(read_brief(brief))
    return framing, list(pieces(read_brief(brief), framing))


def is_left_out(framing, one, other):
    """Seats are drawn as if not yet cut; so are joist ends aslant under rafters."""
    pair = [framing.members[key] for key in (one, other)]
    roles = {m.role for m in pair}
    if one == other or (Role.PLATE in roles and len(roles) > 1):
        return True
    if Role.CEILING_JOIST not in roles or len(roles) == 1:
        return False
    edges = np.array([edge.way for edge in framing.plan.edges])
    turned = np.abs(edges[:, 0] * edges[:, 1]) > 1e-9
    return turned.sum() > len(edges) / 2


def test_no_piece_crosses_another_by_more_than_a_saw_kerf(drawn):
    framing, found = drawn
    low = np.array([p[1].min(0) for p in found])
    high = np.array([p[1].max(0) for p in found])
    for i, one in enumerate(found):
        apart = np.maximum(low[i], low) - np.minimum(high[i], high)
        for j in np.flatnonzero(apart.max(1) < 0):
            other = found[j]
            if j > i and not is_left_out(framing, one[0], other[0]):
                assert overlap(one, other) < SAW_KERF, (one[0], other[0])


def test_struts_touch_purlin_and_joist_and_purlins_the_rafters_on_them(drawn):
    framing, found = drawn
    blocks = {}
    for piece in found:
        blocks.setdefault(piece[0], []).append(piece)

    def gap(one, other):
        return max(overlap(a, b) for a in blocks[one] for b in blocks[other])

    for strut in framing.of_role(Role.STRUT):
        assert gap(strut.key, f"P-{strut.group}") > -INCH / 8, strut.key
        (under,) = [k for k in framing.by_node[strut.nodes[0]] if k[:2] == "CJ"]
        assert gap(strut.key, under) > -INCH / 8, (strut.key, under)
    for contact in framing.contacts:
        if contact.lower.startswith("P-") and contact.upper[:2] in ("R-", "J-"):
            near = gap(contact.upper, contact.lower)
            assert near > -INCH / 8, (contact.upper, contact.lower)


def test_every_piece_touches_one_that_it_is_joined_to(drawn):
    framing, found = drawn
    blocks = {}
    for piece in found:
        blocks.setdefault(piece[0], []).append(piece)
    held = {s.node for s in framing.supports}
    for member in framing.of_role(*SLOPING, *LINES):
        for node in {member.nodes[0], member.nodes[-1]} - held:
            others = [
                key
                for key in framing.by_node[node]
                if key != member.key and framing.members[key].role in (*SLOPING, *LINES)
            ]
            if others:
                near = max(
                    overlap(a, b)
                    for key in others
                    for a in blocks[member.key]
                    for b in blocks[key]
                )
                slack = CROWDED if len(others) > 4 else DROPPED
                assert near > -slack, (member.key, others)
