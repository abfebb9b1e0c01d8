"""Contact states find their joints again by what touches there, not by number."""

from __future__ import annotations

import numpy as np
from loadfall.solver.idealise.states import Analysed, carried_states

from ..solve.houses import COTTAGE, changed, solved

UPLIFT = {"wind_uplift": "25 psf", "attic_live": "10 psf"}


def by_members(solution, links):
    """(combination, upper, lower) to whether the first such contact acts."""
    out = {}
    rows = solution.model.contact_links[:, 0]
    for n, link in zip(solution.model.contacts, rows, strict=True):
        contact = solution.framing.contacts[n]
        for c, name in enumerate(solution.combinations.names):
            out.setdefault((name, contact.upper, contact.lower), bool(links[c, link]))
    return out


def test_states_go_with_their_joints_when_a_strut_is_taken_out():
    house = changed(COTTAGE, loads=UPLIFT)
    gone = changed(house, overrides=[{"member": "ST-S-02", "removed": True}])
    before, after = solved(house), solved(gone)
    assert len(before.frame.system.contacts) != len(after.frame.system.contacts)
    was = Analysed(framing=before.framing, model=before.model, frame=before.frame)
    elements, links = carried_states(
        was, after.framing, after.model, after.combinations.names
    )
    there = by_members(before, before.frame.link_active)
    assert not all(there.values())  # the wind lifts some
    assert by_members(after, links) == there
    for key in after.model.members:
        row = after.model.rows_of(key).start
        old = before.model.rows_of(key).start
        if after.model.frame.one_sided[row]:
            acted = before.frame.element_active[:, old]
            assert (elements[:, row] == acted).all()


def test_a_combination_that_was_not_there_begins_pressed():
    before = solved(COTTAGE)
    was = Analysed(framing=before.framing, model=before.model, frame=before.frame)
    elements, links = carried_states(was, before.framing, before.model, ("new",))
    assert np.all(elements)
    assert np.all(links)
