"""Edits by low rank against the edited frame solved from scratch."""

from dataclasses import replace

import numpy as np
import pytest
from loadfall.solver.analysis import (
    GROUND,
    PUSH_ONLY,
    Bar,
    Edit,
    Force,
    FrameError,
    Links,
    LoadSet,
    UnstableFrameError,
    apply_edit,
    influence,
    solve,
    station_force,
)
from loadfall.solver.analysis import edit as edit_module

from .frames import continuous, make_frame, solve_one
from .roof import roof_frame

EXACT = 1e-9


@pytest.fixture(scope="module")
def roof():
    frame, loads, factors = roof_frame(stations=10, one_sided=True)
    return solve(frame, loads, factors)


def without(frame, loads, elements):
    """The frame and loads with some elements really gone."""
    keep = ~np.isin(np.arange(frame.n_elements), elements)
    names = ("ends", "up", "A", "I_strong", "I_weak", "J", "E", "G", "release",
             "axial_only", "one_sided", "element_member")  # fmt: skip
    frame = replace(frame, **{n: getattr(frame, n)[keep] for n in names})
    return frame, replace(loads, element_load=loads.element_load[:, keep])


def with_bar(frame, loads, i, j, like):
    """The frame and loads with one more bar, a copy of element ``like``."""
    names = ("up", "A", "I_strong", "I_weak", "J", "E", "G", "release", "axial_only",
             "one_sided")  # fmt: skip
    grown = {
        n: np.concatenate([getattr(frame, n), getattr(frame, n)[[like]]]) for n in names
    }
    last = frame.element_member.max() + 1
    frame = replace(
        frame, ends=np.vstack([frame.ends, [i, j]]),
        element_member=np.append(frame.element_member, last), **grown,
    )  # fmt: skip
    q = loads.element_load
    return frame, replace(loads, element_load=np.concatenate([q, q[:, [like]]], axis=1))


def bar_like(frame, loads, i, j, like):
    """The bar that `with_bar` puts in."""
    return Bar(
        i=i, j=j, A=frame.A[like], E=frame.E[like], one_sided=frame.one_sided[like],
        I_strong=frame.I_strong[like], I_weak=frame.I_weak[like],
        load=loads.element_load[:, like], up=frame.up[like],
    )  # fmt: skip


def agrees(edited, fresh):
    """Equal displacements, reactions and link forces to 1e-9."""
    for name in ("displacement", "reaction"):
        a, b = getattr(edited, name), getattr(fresh, name)
        assert np.abs(a - b).max() <= EXACT * np.abs(b).max()
    assert edited.residual.max() < 1e-10
    assert np.abs(edited.imbalance()).max() < 1e-9 * np.abs(edited.applied).sum()


def moved_strut(result):
    """A strut on a joist, and the wall node that its foot can move to."""
    frame = result.frame
    struts = np.flatnonzero(frame.axial_only)
    feet = frame.ends[struts, 1]
    on_joist = frame.xyz[feet, 1] < 3
    strut = int(struts[on_joist][0])
    head, foot = frame.ends[strut]
    same = np.isclose(frame.xyz[:, 0], frame.xyz[foot, 0])
    wall = np.flatnonzero(same & np.isclose(frame.xyz[:, 1], 3.6576) & (
        frame.xyz[:, 2] == 0))  # fmt: skip
    return strut, int(head), int(wall[0])


def test_a_strut_taken_out(roof):
    strut, _, _ = moved_strut(roof)
    edited = apply_edit(roof, Edit(remove_elements=(strut,)))
    assert edited.layout is roof.layout
    fresh = solve(*without(roof.frame, roof.loads, [strut]), roof.factors)
    agrees(edited, fresh)
    assert not edited.element_active[:, strut].any()
    changed = np.abs(edited.displacement - roof.displacement).max()
    assert changed > 1e-3 * np.abs(roof.displacement).max()


def test_a_strut_moved(roof):
    strut, head, wall = moved_strut(roof)
    bar = bar_like(roof.frame, roof.loads, head, wall, strut)
    edited = apply_edit(roof, Edit(remove_elements=(strut,), bars=(bar,)))
    assert edited.layout is roof.layout
    frame, loads = with_bar(roof.frame, roof.loads, head, wall, strut)
    fresh = solve(*without(frame, loads, [strut]), roof.factors)
    agrees(edited, fresh)
    force = edited.end_force_global[:, -1]
    assert force == pytest.approx(
        fresh.end_force_global[:, -1], abs=EXACT * np.abs(force).max()
    )
    stations = edited.stations(5)
    other = fresh.stations(5)
    keep = ~np.isin(np.arange(edited.frame.n_elements), [strut])
    size = np.abs(other.M_strong).max()
    assert stations.M_strong[:, keep] == pytest.approx(other.M_strong, abs=1e-9 * size)


def test_a_post_put_in(roof):
    strut, _, _ = moved_strut(roof)
    foot = int(roof.frame.ends[strut, 1])
    post = Links([foot], [GROUND], [[0, 0, 1.0]], [4e6], [PUSH_ONLY])
    edited = apply_edit(roof, Edit(links=post))
    links = roof.frame.links
    joined = Links(
        *(
            np.concatenate([getattr(links, n), getattr(post, n)])
            for n in ("i", "j", "direction", "stiffness", "one_sided")
        )
    )
    fresh = solve(replace(roof.frame, links=joined), roof.loads, roof.factors)
    agrees(edited, fresh)
    assert edited.link_force == pytest.approx(fresh.link_force, abs=1e-6)
    assert edited.link_force[:, -1].max() > 0


def test_an_edit_of_an_edit_is_the_other_way_back(roof):
    strut, head, wall = moved_strut(roof)
    bar = bar_like(roof.frame, roof.loads, head, wall, strut)
    there = apply_edit(roof, Edit(remove_elements=(strut,), bars=(bar,)))
    new = there.frame.n_elements - 1
    foot = int(roof.frame.ends[strut, 1])
    back_bar = bar_like(roof.frame, roof.loads, head, foot, strut)
    back = apply_edit(there, Edit(remove_elements=(new,), bars=(back_bar,)))
    size = np.abs(roof.displacement).max()
    assert back.displacement == pytest.approx(roof.displacement, abs=EXACT * size)


def test_a_link_taken_out(roof):
    edited = apply_edit(roof, Edit(remove_links=(4,)))
    keep = np.arange(len(roof.frame.links)) != 4
    links = roof.frame.links
    fewer = Links(
        *(getattr(links, n)[keep] for n in
          ("i", "j", "direction", "stiffness", "one_sided"))
    )  # fmt: skip
    fresh = solve(replace(roof.frame, links=fewer), roof.loads, roof.factors)
    agrees(edited, fresh)
    assert not edited.link_force[:, 4].any()


def test_influence_holds_in_an_edited_frame(roof):
    strut, head, wall = moved_strut(roof)
    bar = bar_like(roof.frame, roof.loads, head, wall, strut)
    edited = apply_edit(roof, Edit(remove_elements=(strut,), bars=(bar,)))
    q = np.tensordot(edited.factors[3], edited.loads.element_load, 1)
    p = np.tensordot(edited.factors[3], edited.loads.node_load, 1)
    stations = edited.stations(9)
    functional = station_force(edited, 3, Force.M_STRONG, 5, stations.x[5, 4])
    value = influence(edited, 3, [functional]).value(q, p)[0]
    assert value == pytest.approx(stations.M_strong[3, 5, 4], rel=1e-9)


def test_a_big_change_is_solved_afresh(roof, monkeypatch):
    strut, head, wall = moved_strut(roof)
    bar = bar_like(roof.frame, roof.loads, head, wall, strut)
    edit = Edit(remove_elements=(strut,), bars=(bar,))
    low = apply_edit(roof, edit)

    def refuse(*args):
        raise edit_module.SingularPivot

    monkeypatch.setattr(edit_module, "_by_low_rank", refuse)
    fresh = apply_edit(roof, edit)
    assert fresh.layout is not roof.layout
    size = np.abs(low.displacement).max()
    assert fresh.displacement == pytest.approx(low.displacement, abs=EXACT * size)


def test_taking_out_the_only_support_is_a_mechanism():
    links = Links([1], [GROUND], [[0, 0, 1.0]], [1e6], [0])
    frame = make_frame([[0, 0, 0], [2, 0, 0]], [[0, 1]], {0: (0, 1, 2, 3, 5)}, links)
    result = solve_one(frame, q=[0, 0, -100.0])
    with pytest.raises(UnstableFrameError):
        apply_edit(result, Edit(remove_links=(0,)))


def test_only_axial_elements_are_taken_out_this_way():
    result = solve_one(continuous([3.0]), q=[0, 0, -100.0])
    with pytest.raises(FrameError, match="axial"):
        apply_edit(result, Edit(remove_elements=(0,)))


def test_a_bar_to_a_missing_node_is_refused(roof):
    bar = Bar(i=0, j=10**6, A=1e-3, E=1e10, one_sided=0)
    with pytest.raises(FrameError, match="ends"):
        apply_edit(roof, Edit(bars=(bar,)))


def test_loads_of_what_is_taken_out_go_with_it(roof):
    strut, _, _ = moved_strut(roof)
    edited = apply_edit(roof, Edit(remove_elements=(strut,)))
    length = roof.system.elements.L[strut]
    weight = -(roof.factors @ roof.loads.element_load[:, strut, 2]) * length
    before = roof.applied[..., 2].sum(axis=1)
    after = edited.applied[..., 2].sum(axis=1)
    assert after - before == pytest.approx(weight)
    assert isinstance(edited.loads, LoadSet)
