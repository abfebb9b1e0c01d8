"""One-sided elements and links: right states, coming back, cycles, lifting off."""

from itertools import product

import numpy as np
import pytest
from loadfall.solver.analysis import (
    PULL_ONLY,
    PUSH_ONLY,
    LiftOffError,
    Links,
    LoadSet,
    solve,
)
from loadfall.solver.analysis import contact as contact_module
from loadfall.solver.analysis.assembly import System, gather
from loadfall.solver.analysis.builder import make_layout
from loadfall.solver.analysis.damped import minimise
from loadfall.solver.errors import ContactError

from .frames import line, make_frame, solve_one
from .roof import roof_frame


def beam_on_pads(pads=5, stiffness=2e6, one_sided=PUSH_ONLY):
    """A beam built in at its i end, on one-sided pads at equal distances."""
    points = [[k * 0.8, 0, 0] for k in range(pads + 1)]
    nodes = np.arange(1, pads + 1)
    links = Links(
        nodes, [-1] * pads, [[0, 0, 1.0]] * pads, [stiffness] * pads,
        [one_sided] * pads,
    )  # fmt: skip
    return line(points, {0: range(6)}, links=links)


def consistent(result):
    """Open contacts are apart, closed contacts press, all forces of the right sign."""
    contacts = result.system.contacts
    state = np.array([s.state for s in result.solved])
    press = contacts.press(result.displacement)
    size = np.abs(press).max()
    assert (press[state] >= -1e-11 * size).all()
    assert (press[~state] <= 1e-11 * size).all()
    links = result.frame.links
    assert (result.link_force * links.one_sided >= -1e-6).all()


def every_state(frame, q):
    """Energy of the best state, by trying all of them with two-sided springs."""
    best = None
    k = len(frame.links)
    for active in product([False, True], repeat=k):
        on = np.flatnonzero(active)
        links = frame.links
        some = Links(
            links.i[on], links.j[on], links.direction[on], links.stiffness[on],
            np.zeros(len(on)),
        )  # fmt: skip
        other = make_frame(
            frame.xyz, frame.ends, links=some, I_strong=frame.I_strong, A=frame.A
        )
        other.fixed[:] = frame.fixed
        result = solve_one(other, q=q)
        press = -result.displacement[0, links.i, 2]
        if (press[on] >= -1e-12).all() and (np.delete(press, on) <= 1e-12).all():
            assert best is None or np.allclose(best, result.displacement)
            best = result.displacement
    return best


@pytest.mark.parametrize("seed", range(6))
def test_state_is_the_only_consistent_one(seed):
    """Against all 2^5 states, one by one: exactly one is consistent (convexity)."""
    rng = np.random.default_rng(seed)
    frame = beam_on_pads()
    q = rng.normal(size=(5, 3)) * [0, 0, 800] - [0, 0, 150]
    result = solve_one(frame, q=q)
    consistent(result)
    assert result.displacement == pytest.approx(every_state(frame, q), abs=1e-12)


def test_pull_only_is_the_mirror_of_push_only():
    frame = beam_on_pads()
    tied = beam_on_pads(one_sided=PULL_ONLY)
    q = np.array([[0, 0, w] for w in (-500, 300, -200, 900, -100.0)])
    a, b = solve_one(frame, q=q), solve_one(tied, q=-q)
    assert b.displacement == pytest.approx(-a.displacement)
    assert (a.link_active == b.link_active).all()


def test_a_contact_comes_back():
    """Pattern loads take contacts out that a later step needs again."""
    frame, loads, factors = roof_frame(stations=14, one_sided=True)
    rng = np.random.default_rng(5)
    patchy = loads.element_load * rng.uniform(0, 3, size=(1, frame.n_elements, 1))
    result = solve(frame, LoadSet(loads.names, patchy, loads.node_load), factors)
    consistent(result)
    every = np.ones(len(result.system.contacts), bool)
    base = contact_module.Base(result.system, result.layout, every)
    u = base.factor.solve(gather(result.layout, result.applied))
    first = base.press(u) >= 0
    final = np.array([s.state for s in result.solved])
    assert (final & ~first).any(), "no contact came back: the test shows nothing"


def test_start_does_not_change_the_answer():
    frame, loads, factors = roof_frame(stations=8, one_sided=True)
    cold = solve(frame, loads, factors)
    reversed_ = solve(frame, loads, factors[::-1])
    warm = solve(frame, loads, factors, start=reversed_)
    size = np.abs(cold.displacement).max()
    assert warm.displacement == pytest.approx(cold.displacement, abs=1e-11 * size)
    assert (warm.element_active == cold.element_active).all()


def test_damped_phase_alone_finds_the_same_states():
    frame, loads, factors = roof_frame(stations=8, one_sided=True)
    result = solve(frame, loads, factors)
    f = gather(result.layout, result.applied)
    for c in range(len(factors)):
        _, state, u, _ = minimise(result.system, result.layout, f[:, c], c)
        assert (state == result.solved[c].state).all()
        assert u == pytest.approx(result.solved[c].u, abs=1e-10 * np.abs(u).max())


def test_a_cycle_leaves_the_plain_phase(monkeypatch):
    """With the plain phase cut to one step the damped phase must finish the work."""
    frame, loads, factors = roof_frame(stations=6, one_sided=True)
    expected = solve(frame, loads, factors)
    monkeypatch.setattr(contact_module, "MAX_PLAIN", 1)
    calls = []

    def counted(*args):
        calls.append(args)
        return minimise(*args)

    monkeypatch.setattr(contact_module, "minimise", counted)
    result = solve(frame, loads, factors)
    assert calls
    size = np.abs(expected.displacement).max()
    assert result.displacement == pytest.approx(expected.displacement, abs=1e-10 * size)


def test_low_rank_and_new_factorisation_agree(monkeypatch):
    frame, loads, factors = roof_frame(stations=8, one_sided=True)
    expected = solve(frame, loads, factors).displacement
    monkeypatch.setattr(contact_module, "LOW_RANK", 0)
    result = solve(frame, loads, factors).displacement
    assert result == pytest.approx(expected, abs=1e-11 * np.abs(expected).max())


def test_lift_off_is_named():
    """A beam that stands on pads alone flies off under uplift: no numbers."""
    points = [[k, 0, 0] for k in range(4)]
    nodes = np.arange(4)
    links = Links(nodes, [-1] * 4, [[0, 0, 1.0]] * 4, [1e6] * 4, [1] * 4)
    frame = line(points, {0: (0, 1, 3, 5), 3: (1,)}, links=links)
    assert solve_one(frame, q=[0, 0, -100.0]).link_active.all()
    with pytest.raises(LiftOffError) as caught:
        solve_one(frame, q=[0, 0, 100.0])
    assert isinstance(caught.value, ContactError)
    assert caught.value.links.tolist() == [0, 1, 2, 3]
    assert caught.value.combination == 0
    assert "nothing holds nodes" in str(caught.value)


def test_one_loose_end_is_found_not_refused():
    """Uplift on half of the beam tips it: three pads open, the rest balances."""
    points = [[k, 0, 0] for k in range(5)]
    links = Links(range(5), [-1] * 5, [[0, 0, 1.0]] * 5, [1e6] * 5, [1] * 5)
    frame = line(points, {0: (0, 1, 3, 5), 4: (1,)}, links=links)
    q = {0: [0, 0, -900.0], 1: [0, 0, -900.0], 3: [0, 0, 300.0]}
    result = solve_one(frame, q=q)
    consistent(result)
    assert result.reaction.size
    assert np.abs(result.imbalance()).max() < 1e-8 * 900
    assert not result.link_active.all()


def test_no_load_gives_nothing():
    frame, loads, factors = roof_frame(stations=3, one_sided=True)
    result = solve(frame, loads, 0 * factors)
    assert not result.displacement.any()
    assert not result.residual.any()


def test_states_are_found_together(monkeypatch):
    """Combinations that share a state share its factorisation."""
    frame, loads, factors = roof_frame(stations=8, one_sided=True)
    made = []
    real = contact_module.Base

    def counting(*args):
        made.append(1)
        return real(*args)

    monkeypatch.setattr(contact_module, "Base", counting)
    monkeypatch.setattr(contact_module, "LOW_RANK", 0)
    result = solve(frame, loads, np.repeat(factors, 3, axis=0))
    states = {s.state.tobytes() for s in result.solved}
    assert len(made) <= int(result.passes.max()) * len(states)
    assert len(made) < len(result.solved)


def test_contacts_of_a_system_press_the_way_their_sign_says():
    frame = beam_on_pads(pads=2)
    system = System(frame)
    u = np.zeros((1, 3, 6))
    u[0, 1, 2], u[0, 2, 2] = -1e-3, 2e-3
    assert system.contacts.press(u)[0] == pytest.approx([1e-3, -2e-3])
    free = system.natural_freedoms()
    assert make_layout(frame, free, free).fits(make_layout(frame, free, free).key)


def test_a_state_held_by_next_to_nothing_is_factorised_by_itself():
    """A lever lifts off a pad 5e9 times stiffer than the spring that then holds it.

    By hand: the lever turns about its hinge without bending, so its tip rises P/k. By
    a change of low rank alone nearly ten digits would be lost.
    """
    soft, push = 0.2, 0.1
    links = Links(
        [1, 1], [-1, -1], [[0, 0, 1.0]] * 2, [1e9, soft], [PUSH_ONLY, 0]
    )  # fmt: skip
    frame = line([[0, 0, 0], [2.0, 0, 0]], {0: (0, 1, 2, 3, 5), 1: (1,)}, links=links)
    result = solve_one(frame, p={1: [0, 0, push, 0, 0, 0]})
    assert not result.link_active[0, 0]
    assert result.displacement[0, 1, 2] == pytest.approx(push / soft, rel=1e-9)
    assert result.residual.max() < 1e-11
