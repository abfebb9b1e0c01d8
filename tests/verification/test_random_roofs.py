"""What holds for every roof, tried on random ones.

By default a few hundred; LOADFALL_EXAMPLES=3000 tries so many for each property, other
ones each time. Work is that of the loads at the joints; the least of the potential
energy is minus half of it, also with one-sided contacts (a convex problem), and a
support or more stiffness can only raise that least.
"""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
from hypothesis import assume, event, given
from hypothesis import strategies as st
from loadfall.solver.analysis import Links, LoadSet
from loadfall.solver.analysis import solve as solve_frame
from loadfall.solver.basis.protocol import Check
from loadfall.solver.errors import ContactError, MechanismError
from loadfall.solver.report import results
from loadfall.solver.verdict.judge import run_checks
from loadfall.tests.influence.frozen import frozen
from loadfall.tests.solve.hip_strategies import roofs

from .trying import analysed, solved, tries


def work(result):
    """(ncomb,) J: the loads at the joints times the ways they go."""
    return (result.applied * result.displacement).sum(axis=(1, 2))


def size_of(result):
    """(ncomb,) J: the same without cancelling, what rounding is measured by."""
    return np.abs(result.applied * result.displacement).sum(axis=(1, 2))


@tries(80)
@given(roofs())
def test_equilibrium_finite_numbers_and_no_other_errors(data):
    """Forces balance at every joint and as a whole, in every combination."""
    solution = solved(data)
    for m in solution.members.values():
        numbers = [m.axial, m.moment, m.shear, m.strut_load, m.tributary_area]
        numbers += [m.utilisation or 0.0, m.sag_now or 0.0, m.sag_long_term or 0.0]
        assert np.isfinite(numbers).all(), m.key
    if solution.frame is None:
        event("not analysed")
        assert solution.refusal
        return
    result = solution.frame
    for name in ("displacement", "end_force_global", "link_force", "reaction"):
        assert np.isfinite(getattr(result, name)).all(), name
    assert result.residual.max() <= 1e-8
    force = np.abs(result.applied).max(axis=(1, 2)) * result.frame.n_nodes
    reach = np.abs(result.frame.xyz).max() + 1
    assert (np.abs(result.imbalance()).max(axis=1) <= 1e-8 * force * reach).all()
    utilisation = [m.utilisation for m in solution.members.values() if m.utilisation]
    assert all(u >= 0 for u in utilisation)


@tries(12)
@given(roofs())
def test_no_number_that_is_none_leaves_as_results(data):
    """Everything that is written of a roof is finite, ageing and sizing as well."""
    json.dumps(results(solved(data)), allow_nan=False)


_PLACE = np.array([1.0, -1.0, 1.0])
_MIRROR = np.concatenate([_PLACE, -_PLACE])  # a turn is seen the other way about


@tries(30)
@given(roofs())
def test_the_mirror_image_moves_as_the_mirror_shows(data):
    """The same frame seen in a mirror along the ridge, with its loads and supports."""
    base = analysed(data).frame
    frame, links, loads = base.frame, base.frame.links, base.loads
    image = replace(
        frame,
        xyz=frame.xyz * _PLACE,
        up=frame.up * _PLACE,
        links=replace(links, direction=links.direction * _PLACE),
    )
    turned = LoadSet(
        loads.names, loads.element_load * _PLACE, loads.node_load * _MIRROR
    )
    try:
        found = solve_frame(image, turned, base.factors, base.combination_names)
    except MechanismError:
        event("so nearly loose that rounding decides whether it is refused")
        assume(base.residual.max() < 1e-10)
        raise
    if not (found.link_active == base.link_active).all():
        event("a contact without force is in another state")
    for name, ours, theirs in (
        ("displacement", base.displacement[..., :3], found.displacement[..., :3]),
        ("force", base.link_force, found.link_force),
    ):
        seen = theirs * _PLACE if name == "displacement" else theirs
        size = np.abs(ours).max(initial=1e-9 if name == "displacement" else 1.0)
        assert np.abs(ours - seen).max(initial=0.0) <= 1e-6 * size, name


@tries(45)
@given(roofs(), st.integers(0, 10**6))
def test_superposition_in_a_fixed_contact_state(data, pick):
    """A combination is the sum of its cases, each solved in the state it ends in."""
    solution = analysed(data)
    result = solution.frame
    row = pick % len(result.factors)
    factors = result.factors[row]
    frame, keep, on = frozen(result, row)
    loads = LoadSet(
        result.loads.names, result.loads.element_load[:, keep], result.loads.node_load
    )
    # A slack piece keeps its weight: it is in the loads of the nodes.
    try:
        cases = solve_frame(frame, loads, np.eye(len(factors)))
    except MechanismError:
        event("a case alone moves what another holds still by friction of none")
        return
    for name, kept, least in (
        ("displacement", ..., 1e-9), ("end_force_global", keep, 1.0),
        ("link_force", on, 1.0),
    ):  # fmt: skip
        whole = getattr(result, name)[row][kept]
        parts = np.tensordot(factors, getattr(cases, name), 1)
        size = np.abs(factors[:, None] * np.abs(getattr(cases, name)).reshape(
            len(factors), -1)).sum(axis=0).max(initial=0.0)  # fmt: skip
        assert np.abs(whole - parts).max(initial=0.0) <= 1e-6 * max(size, least), name


@tries(40)
@given(roofs(), st.floats(1.1, 3.0))
def test_more_of_every_load_never_lowers_the_worst_utilisation(data, more):
    solution = analysed(data)
    model, combos, base = solution.model, solution.combinations, solution.frame
    loads = LoadSet(
        model.loads.names, more * model.loads.element_load, more * model.loads.node_load
    )
    try:
        result = solve_frame(
            model.frame, loads, combos.factors, combos.names, base.layout, base
        )
    except MechanismError:
        event("so nearly loose that rounding decides whether it is refused")
        assume(base.residual.max() < 1e-9)
        raise
    size = np.abs(more * base.displacement).max()
    if np.abs(result.displacement - more * base.displacement).max() > 1e-6 * size:
        event("a contact without force changed its state")
    checked = run_checks(solution.brief, solution.framing, model, result, combos)
    before, after = use_by_load(solution.checked), use_by_load(checked)
    assert np.isfinite(after).all()
    assert after.max() >= before.max() * (1 - 1e-6)
    assert (after >= before * (1 - 1e-5) - 1e-9).all()


def use_by_load(checked):
    """(n,) worst use of the checks of forces.

    Slenderness is a shape: it counts under any compression, of rounding as well.
    """
    shape = (Check.SLENDERNESS, Check.BEAM_SLENDERNESS)
    rows = [r.utilisation for c, r in checked.result.checks.items() if c not in shape]
    return np.max(rows, axis=0)


def never_more(before, after):
    """Whether the work of the loads has not grown in any combination."""
    slack = 1e-7 * size_of(before) + 1e-12
    return (work(after) <= work(before) + slack).all()


@tries(45)
@given(roofs(), st.integers(0, 10**6), st.floats(1.2, 10.0), st.sampled_from((1, 2)))
def test_stiffness_and_supports_never_raise_the_work_of_the_loads(
    data, pick, factor, axis
):
    """One member made stiffer; one joint more held up or sideways."""
    base = analysed(data).frame
    frame = base.frame
    own = frame.element_member == pick % (int(frame.element_member.max()) + 1)
    grown = np.where(own, factor, 1.0)
    names = ("A", "I_strong", "I_weak", "J")
    stiff = {name: getattr(frame, name) * grown for name in names}
    assert never_more(base, attempt(replace(frame, **stiff), base)), "stiffness"
    nodes = np.unique(frame.ends)
    node, links = nodes[pick % len(nodes)], frame.links
    more = Links(
        np.append(links.i, node), np.append(links.j, -1),
        np.concatenate([links.direction, np.eye(3)[[axis]]]),
        np.append(links.stiffness, 1e7), np.append(links.one_sided, 0),
    )  # fmt: skip
    assert never_more(base, attempt(replace(frame, links=more), base)), "support"


def attempt(frame, base):
    """Solve a changed frame under the same loads; documented refusals are let by."""
    try:
        return solve_frame(frame, base.loads, base.factors, base.combination_names)
    except (MechanismError, ContactError) as error:
        event(f"refused: {type(error).__name__}")
        assume(False)
