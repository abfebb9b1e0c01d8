"""Sizes, loads, spans and spacings of whole roofs, by hand and by solving again."""

import copy
import json
import math
from pathlib import Path

import pytest
from loadfall.solver.basis.protocol import Check
from loadfall.solver.brief import read_brief
from loadfall.solver.sizing import (
    allowed_loads,
    joist_sizing,
    joist_spans,
    purlin_places,
    purlin_reaches,
    rafter_sizing,
    strut_reaches,
)
from loadfall.solver.sizing.allowed import MOST
from loadfall.solver.sizing.joist_span import _Beams
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, PSF

BRIEFS = Path(__file__).parents[1] / "cases" / "briefs"
SAG = ("deflection_live", "deflection_total")


def brief(name, **loads):
    data = json.loads((BRIEFS / name).read_text("utf-8"))
    data["loads"] |= loads
    return data


@pytest.fixture(scope="module")
def braced():
    """Braces on the middle of 14 ft ceiling joists (worked case H-01), one bay long."""
    data = brief("h01-braces-on-joists.json")
    data["footprint"]["length"] = "16 ft"
    data["walls"][0]["end"][0] = "16 ft"
    return data


@pytest.fixture(scope="module")
def roof(braced):
    return solve(read_brief(braced))


@pytest.fixture(scope="module")
def garage():
    """2x6 at 16 in on 20 ft, 5 psf (worked case H-03)."""
    return solve(read_brief(brief("h03-garage-ceiling.json")))


def test_rafters_reach_by_the_root_of_their_use(roof):
    """14 ft is 1.483 x the limit without the purlin, so 14 / sqrt(1.483) = 11.5 ft."""
    found = rafter_sizing(roof.brief, roof.framing)
    alone = [float(r.utilisation_alone.max()) for r in roof.hand.rafters]
    assert found.largest / FOOT == pytest.approx(14 / math.sqrt(alone[0]), rel=1e-6)
    assert found.limit is Check.BENDING
    assert found.span / FOOT == pytest.approx(7)
    assert (found.smallest, found.next_below) == ("2x6", "2x4")
    spans = [row.span for row in found.sizes]
    assert spans == sorted(spans)


def test_the_longer_of_two_roof_loads_stops_a_rafter(braced):
    data = copy.deepcopy(braced)
    data["loads"]["snow"] = {"roof": "40 psf", "unbalanced": False}
    snow = rafter_sizing(read_brief(data), solve(read_brief(data)).framing)
    data["loads"]["roof_live"] = "0 psf"
    alone = rafter_sizing(read_brief(data), solve(read_brief(data)).framing)
    assert snow.largest == pytest.approx(alone.largest, rel=1e-9)


def test_joists_of_a_garage(garage):
    """H-03: 12.37 psf in all by bending at C_D 1.0 on 20 ft; dead alone at 0.9."""
    found = joist_sizing(garage.brief, garage.framing)
    by_bending = 20 * math.sqrt(12.37 * 0.9 / 5)
    assert found.by_check[Check.BENDING] / FOOT == pytest.approx(by_bending, rel=0.002)
    assert found.span / FOOT == pytest.approx(20)
    assert found.smallest == "2x6"


def test_how_much_a_garage_joist_may_bear(garage):
    """Bending alone would leave 12.37 - 5 = 7.37 psf; the pull of the roof takes some.

    Sag: 5 w L^3 240 / (384 E I) = 1 at 6.066 psf; live counts whole, so 6.066 psf, and
    L/180 on live and half of the dead leaves 8.088 - 2.5 = 5.59 psf.
    """
    found = allowed_loads(garage)["CJ-06-1"]
    assert found.by_strength / PSF < 7.37
    assert found.by_strength / PSF == pytest.approx(7.37, abs=0.5)
    assert found.strength_check is Check.BENDING_TENSION
    assert found.by_sag / PSF == pytest.approx(8.088 - 2.5, rel=0.002)
    assert found.sag_check is Check.DEFLECTION_TOTAL


@pytest.mark.parametrize("key", ["CJ-00-1", "CJ-02-2", "CJ-04-1"])
def test_allowed_loads_are_where_the_roof_itself_reaches_its_limit(braced, roof, key):
    """Struts, ties and contacts included: the roof solved again under that load."""
    found = allowed_loads(roof)[key]
    for load, sags in ((found.by_strength, False), (found.by_sag, True)):
        assert 0 < load < MOST
        data = copy.deepcopy(braced)
        data["loads"]["attic_live"] = f"{load / PSF!r} psf"
        again = solve(read_brief(data)).members[key].by_check
        uses = [
            use for name, use in again.items()
            if (name in SAG) == sags and not name.endswith("slenderness")
        ]  # fmt: skip
        assert max(uses) == pytest.approx(1.0, abs=2e-3)


def test_a_joist_over_its_limit_may_bear_nothing_more(roof):
    found = allowed_loads(roof)["CJ-03-1"]
    assert roof.members["CJ-03-1"].utilisation > 1
    assert found.by_strength == 0
    assert found.strength_check is not None


@pytest.mark.parametrize(("key", "sags"), [("CJ-01-1", False), ("CJ-03-2", True)])
def test_states_that_change_are_solved_again(braced, key, sags):
    """2x8 joists, no roof live load: struts go slack on the way to the limit.

    Straight lines between the first loads would miss by 1.6 % and 0.7 %.
    """
    data = copy.deepcopy(braced)
    data["ceiling_joists"]["size"] = "2x8"
    data["loads"]["roof_live"] = "0 psf"
    found = allowed_loads(solve(read_brief(data)))[key]
    load = found.by_sag if sags else found.by_strength
    data["loads"]["attic_live"] = f"{load / PSF!r} psf"
    again = solve(read_brief(data)).members[key].by_check
    worst = max(
        u for n, u in again.items() if (n in SAG) == sags and "slender" not in n
    )
    assert worst == pytest.approx(1.0, abs=1e-4)


def test_a_stout_joist_bears_all_that_is_tried(braced):
    data = copy.deepcopy(braced)
    data["struts"] = [
        g | {"foot": {"on": "wall", "name": "middle"}} for g in data["struts"]
    ]
    data["ceiling_joists"] |= {"size": "4x12", "spacing": "24 in"}
    roof = solve(read_brief(data))
    found = allowed_loads(roof)["CJ-04-1"]
    assert found.by_strength <= MOST
    assert (found.strength_check is None) == (found.by_strength >= MOST * (1 - 1e-9))


def test_simple_beams_repeat_the_frame_at_their_own_span(roof):
    beams = _Beams(roof)
    checks = beams.checks(beams.span)
    for n, key in enumerate(beams.keys):
        own = roof.members[key].by_check
        for check, rows in checks.items():
            if check is not Check.BEARING:  # under the strut's foot, another matter
                assert rows.utilisation[n] == pytest.approx(
                    own[check.value], rel=2e-3, abs=2e-3
                ), (key, check)


def test_a_plain_joist_passes_as_far_as_its_sag(garage):
    """5 psf: half of it creeps; 5 w L^3 180 / (384 E I) = 1 with w for 2.5 psf.

    8.088 psf reach L/180 at 20 ft, so 20 x (8.088 / 2.5)^(1/3) = 29.58 ft by sag; the
    pull of the roof stops it a little sooner.
    """
    found = joist_spans(garage)["CJ-06-1"]
    assert found.span / FOOT == pytest.approx(20)
    assert found.largest / FOOT == pytest.approx(29.58, rel=0.02)
    assert found.largest / FOOT < 29.58


def test_a_joist_under_a_strut_passes_up_to_less_than_it_spans(roof):
    found = joist_spans(roof)["CJ-03-1"]
    assert 1 * FOOT < found.largest < found.span
    beams = _Beams(roof)
    n = beams.keys.index("CJ-03-1")
    span = beams.span.copy()
    span[n] = found.largest
    assert beams.use(span)[n] == pytest.approx(1.0, abs=2e-5)


def test_braces_by_hand(roof):
    """Strut: 4 ft use 0.5166 of it, so 7.74 ft; purlin: w L^2 / 8 or P L / 4."""
    strut = strut_reaches(roof)["ST-S-02"]
    hand = roof.hand.struts["ST-S-02"]
    use = float(hand.utilisation.max())
    assert use == pytest.approx(0.5166, rel=0.05)
    assert strut.largest == pytest.approx(hand.tributary_length / use, rel=1e-6)
    assert strut.check is Check.COMPRESSION
    purlin = purlin_reaches(roof)["P-S"]
    row = roof.model.members.index("P-S")
    s, table = roof.checked.result.strengths, roof.checked.result.table
    Fb = min(s.bending_sag[1, row], s.bending_hog[1, row])
    w = roof.hand.purlins["P-S"].line_load[1]
    M = Fb * table.section_modulus[row]
    simple = min(math.sqrt(8 * M / w), 4 * M / (w * roof.brief.rafters.spacing))
    assert purlin.simple == pytest.approx(simple, rel=1e-9)
    assert purlin.simple < purlin.continuous
    assert purlin.rule == pytest.approx(4 * FOOT)


def test_a_strut_too_slender_carries_no_spacing():
    data = brief("h05-braces.json")
    data["footprint"]["length"] = "12 ft"
    data["walls"][0]["end"][0] = "12 ft"
    data["purlins"][0]["from_plate"] = "12 ft"
    found = strut_reaches(solve(read_brief(data)))
    assert all(s.largest == 0 for s in found.values())
    assert {s.check for s in found.values()} == {Check.SLENDERNESS}


def test_where_a_purlin_passes(braced):
    """Struts on the wall: from some place up, rafters and struts pass both."""
    data = copy.deepcopy(braced)
    data["footprint"]["length"] = "8 ft"
    data["walls"][0]["end"][0] = "8 ft"
    data["rafters"]["size"] = "2x8"
    data["purlins"] = [dict(p, size="2x8") for p in data["purlins"]]
    data["struts"] = [
        {"purlin": n, "size": "2x4", "held_at_mid": True, "spacing": "4 ft",
         "foot": {"on": "wall", "name": "middle"}} for n in "SN"
    ]  # fmt: skip
    stated = read_brief(data)
    found = purlin_places(stated, "S", count=5)
    assert found.passes
    low, high = found.passes[-1]
    assert low < high
    worst = {p.from_plate: p for p in found.places}
    assert worst[low].passes
    before = [p for p in found.places if p.from_plate < low]
    if before:
        assert not before[-1].passes
        assert low - before[-1].from_plate < 0.03
    assert found.best.use == min(p.use for p in found.places if p.use is not None)


def test_a_purlin_that_is_not_there(braced):
    from loadfall.solver.errors import BriefError

    with pytest.raises(BriefError, match="one of S, N"):
        purlin_places(read_brief(braced), "X")
