"""Whole roofs over the years."""

import numpy as np
import pytest
from loadfall.solver.ageing import age_roof
from loadfall.solver.ageing.effective import aged_results
from loadfall.solver.ageing.materials import model_creep
from loadfall.solver.ageing.model import TIMES
from loadfall.solver.basis.nds.creep import creep_share
from loadfall.solver.errors import FieldError
from loadfall.solver.idealise.carried import carried_load
from loadfall.solver.verdict.judge import lasting_weights
from loadfall.tests.solve.houses import BUNGALOW, COTTAGE, changed, solved

TEN, FIFTY = (list(TIMES).index(f"{n} years") for n in (10, 50))


@pytest.fixture(scope="module")
def bungalow():
    return solved(BUNGALOW)


@pytest.fixture(scope="module")
def aged(bungalow):
    return age_roof(bungalow)


@pytest.fixture(scope="module")
def unlike(bungalow):
    """The bungalow with a header that does not creep."""
    return age_roof(bungalow, by_kind={"scl": 0.0})


def test_at_fifty_years_it_is_the_sag_of_the_checks(bungalow, aged):
    """NDS 2018 3.5.2: K_cr 1.5 on what stays, and the rest as it is."""
    sags = bungalow.checked.sags
    expected = sags.long_term[sags.worst, np.arange(len(sags.worst))]
    assert aged.spans.sag[FIFTY] == pytest.approx(expected, abs=1e-12)
    rest, lasting = aged.spans.rest, aged.spans.lasting
    assert aged.spans.sag[FIFTY] == pytest.approx(rest + 1.5 * lasting, abs=1e-12)


def test_follows_the_labelled_curve(aged):
    for n, years in enumerate(TIMES.values()):
        expected = aged.spans.rest + aged.spans.lasting * (
            1 + 0.5 * (years / 50) ** 0.21
        )
        assert aged.spans.sag[n] == pytest.approx(expected, abs=1e-12)
    assert "Toratti" in aged.label
    assert "fifty years" in aged.label


def test_the_band_holds_the_curve_and_is_a_quarter_to_the_whole(aged):
    spans = aged.spans
    low, high = np.minimum(spans.low, spans.high), np.maximum(spans.low, spans.high)
    assert (low <= spans.sag + 1e-12).all()
    assert (spans.sag <= high + 1e-12).all()
    assert spans.high[TEN] == pytest.approx(spans.rest + 2 * spans.lasting, abs=1e-12)
    assert spans.low[TEN] == pytest.approx(spans.rest + 1.25 * spans.lasting, abs=1e-12)


def test_creep_alike_moves_no_force_in_a_roof(bungalow):
    """Effective moduli, equal in all members: forces stay, sags grow by 1 + phi."""
    model, combos = bungalow.model, bungalow.combinations
    element, link = model_creep(model, dict.fromkeys(model.members, 0.5))
    weights = lasting_weights(bungalow.brief, combos)
    first, later = aged_results(
        model.frame, model.loads, weights @ combos.factors, element, link,
        np.array([0.0, 1.0]),
    )  # fmt: skip
    moved = later.end_force_global - first.end_force_global
    assert np.abs(moved).max() <= 1e-9 * np.abs(first.end_force_global).max()
    grown = later.displacement - 1.5 * first.displacement
    assert np.abs(grown).max() <= 1e-9 * np.abs(later.displacement).max()
    assert (first.link_active == later.link_active).all()


def test_alike_needs_no_second_analysis_and_unlike_needs_one(aged, unlike):
    assert aged.redistribution is None
    assert aged.spans.sag is aged.spans.by_itself
    assert unlike.redistribution is not None
    assert unlike.residual < 1e-8


def test_the_two_ways_agree_where_the_difference_is_next_to_nothing(bungalow, aged):
    """The effective-modulus way, with one member hardly unlike, is the plain way."""
    nearly = age_roof(bungalow, by_member={"B-living": 0.5 + 1e-9})
    assert nearly.redistribution is not None
    for name in ("sag", "low", "high"):
        assert getattr(nearly.spans, name) == pytest.approx(
            getattr(aged.spans, name), abs=1e-9
        )
    for a, b in zip(aged.neighbours, nearly.neighbours, strict=True):
        assert (a.first, a.second) == (b.first, b.second)
        for name in ("lasting", "worst", "growth"):
            assert getattr(a, name) == pytest.approx(getattr(b, name), abs=1e-9)


def test_a_beam_that_does_not_creep_takes_over(unlike):
    """It gains, step by step; what creeps is relieved where both meet."""
    found = unlike.redistribution
    moved = found.moved("B-living")
    assert (np.diff(moved) > 0).all()
    assert 0.005 < moved[TEN] < 0.1
    assert found.moment["B-living"][-1] > found.moment["B-living"][0] > 0
    assert found.reactions["W-spine"][-1] > found.reactions["W-spine"][0]
    total = sum(found.reactions.values())
    assert total == pytest.approx(total[0], rel=1e-9)


def test_a_beam_that_does_not_creep_sags_less_than_by_itself(unlike):
    spans = unlike.spans
    n = [k for k, key in enumerate(spans.member) if key == "B-living"]
    assert n
    assert spans.by_itself[TEN, n] == pytest.approx((spans.rest + spans.lasting)[n])
    assert (spans.sag[TEN, n] > spans.by_itself[TEN, n]).all()  # it took load over


def test_a_joist_without_struts_hands_down_its_own_strip(bungalow):
    model, combos = bungalow.model, bungalow.combinations
    factors = combos.factors[combos.row("D")]
    elements, links = model.frame.n_elements, len(model.frame.links)
    dead = aged_results(
        model.frame, model.loads, factors, np.zeros(elements), np.zeros(links),
        np.zeros(1),
    )[0]  # fmt: skip
    carried = carried_load(model, dead)
    load = np.tensordot(factors, model.loads.element_load, 1)[:, 2]
    weight = -load * dead.system.elements.L
    bare = [
        m.key
        for m in bungalow.members.values()
        if m.role == "ceiling_joist" and m.strut_load == 0
    ]
    assert bare
    for key in bare:
        own = weight[model.rows_of(key)].sum()
        assert carried[model.members.index(key)] == pytest.approx(own, rel=1e-6)


def test_neighbours_of_the_opening_move_apart(bungalow, aged):
    """Joists over the header go down with it; those over the wall beside it do not."""
    pairs = {(p.first, p.second): p for p in aged.neighbours}
    joists = [m for m in bungalow.members.values() if m.role == "ceiling_joist"]
    worst = max(aged.neighbours, key=lambda p: p.worst[TEN])
    assert worst.worst[FIFTY] > 0.005
    assert {worst.first, worst.second} <= {m.key for m in joists}
    assert ("CJ-00-1", "CJ-01-1") in pairs
    for p in aged.neighbours:
        assert p.apart == pytest.approx(0.6096, rel=1e-6)
        assert (np.diff(p.lasting) >= -1e-15).all()
        assert p.limit == pytest.approx(p.apart / 300)


def test_a_beam_beside_joists_is_a_neighbour_of_both_sides():
    """A beam between two joists, on the outer walls, holding a strut's foot."""
    house = changed(
        COTTAGE,
        beams=[{
            "name": "relief", "start": ["9 ft", "0 ft"], "end": ["9 ft", "13 ft"],
            "size": "4x12", "carries_joists": False,
        }],
    )  # fmt: skip
    found = age_roof(solved(house))
    beside = [p for p in found.neighbours if p.second == "B-relief"]
    apart = {round(p.apart / 0.3048, 6) for p in beside}
    assert apart >= {1.0}
    assert all(p.worst[TEN] > 0 for p in beside)


def test_the_difference_of_neighbours_by_hand(bungalow, aged):
    """Vertical movement of both at the same place, read off the stations."""
    model, frame = bungalow.model, bungalow.frame
    row = bungalow.combinations.row("D")
    pair = next(p for p in aged.neighbours if p.first == "CJ-15-1")
    stations = frame.stations(33)

    def movement(key):
        rows = model.rows_of(key)
        x = (model.start[rows, None] + stations.x[rows]).ravel()
        return x, stations.displacement[row, rows, :, 2].ravel()

    (x, first), (x2, second) = movement(pair.first), movement(pair.second)
    there = np.interp(x, x2, second)
    by_hand = np.abs(there - first).max() * (1 + 0.5 * creep_share(50.0))
    assert pair.lasting[FIFTY] == pytest.approx(by_hand, rel=0.02)


def test_no_finish_no_limit():
    bare = solved(changed(COTTAGE, checks={"ceiling_finish": "none"}))
    assert {p.limit for p in age_roof(bare).neighbours} == {None}
    assert not any(any(p.may_crack) for p in age_roof(bare).neighbours)


def test_a_roof_without_analysis_has_no_age():
    untied = solved(changed(COTTAGE, ceiling_joists=None, struts=[], purlins=[]))
    if untied.model is None or untied.frame is None:
        assert age_roof(untied) is None


@pytest.mark.parametrize("creep", [-0.1, float("nan"), float("inf")])
def test_a_creep_that_cannot_be_is_refused_by_name(bungalow, creep):
    with pytest.raises(FieldError, match="sawn"):
        age_roof(bungalow, by_kind={"sawn": creep})
