"""What presses where: the forces of the bearing places against the statics of each."""

from __future__ import annotations

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing.model import Role
from loadfall.solver.solve import solve
from loadfall.tests.solve.houses import COTTAGE


@pytest.fixture(scope="module")
def cottage():
    return solve(read_brief(COTTAGE))


def pressed(solution, key, node):
    """(ncomb, places) N on a member at a node, as the checks take it."""
    table = solution.checked.plan.bearings.table(solution.frame)
    row = solution.model.members.index(key)
    start, _ = solution.framing.ends(key)
    station = np.linalg.norm(solution.framing.points[node] - start)
    here = (table.member == row) & (np.abs(table.station - station) < 1e-9)
    return table.force[:, here]


def test_a_strut_presses_with_the_plumb_part_of_its_force(cottage):
    """Statics: N sin of its slope, at its foot on a joist and at its top alike."""
    seen = 0
    for strut in cottage.framing.of_role(Role.STRUT):
        start, end = cottage.framing.ends(strut.key)
        rise = abs(end[2] - start[2]) / np.linalg.norm(end - start)
        element = cottage.model.rows_of(strut.key).start
        plumb = -cottage.frame.stations(2).N[:, element, 0] * rise
        for node in (strut.nodes[0], strut.nodes[-1]):
            for key in cottage.framing.by_node[node]:
                member = cottage.framing.members[key]
                if member.axial_only or key not in cottage.model.members:
                    continue
                found = pressed(cottage, key, node)
                apart = np.abs(found - plumb[:, None]).max(axis=0).min()
                assert apart <= 1e-9 * np.abs(plumb).max(), (strut.key, key)
                seen += 1
    assert seen >= 2 * len(cottage.framing.of_role(Role.STRUT))


def test_a_rafter_presses_its_plate_with_what_the_plate_gives_back(cottage):
    """Over a plate the joist and the rafter together press what the ground holds."""
    ground = {row.node: 0.0 for row in cottage.model.ground if row.direction == 2}
    for support in cottage.framing.supports:
        if support.node not in ground or support.kind.value != "seat":
            continue
        up = cottage.frame.reaction[:, support.node, 2]
        down = sum(
            pressed(cottage, key, support.node)[:, 0]
            for key in cottage.framing.by_node[support.node]
            if key in cottage.model.members
            and not cottage.framing.members[key].axial_only
        )
        assert np.abs(up - down).max() <= 1e-8 * np.abs(up).max()
        return
    pytest.fail("no seat was found")
