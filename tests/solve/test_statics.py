"""Statics that hold for every roof: balance, shares, mirrors, doubling, units.

Random roofs come from ``strategies``; LOADFALL_ROOFS=500 tries many more of them.
"""

from __future__ import annotations

import copy
import json
import math

import numpy as np
import pytest
from hypothesis import given, settings
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.loads.cases import CASES
from loadfall.solver.report import results
from loadfall.solver.solve import solve
from loadfall.solver.trace.shares import support_shares
from loadfall.solver.units import INCH, POUND, Quantity, parse_quantity

from .houses import BUNGALOW, COTTAGE, changed, solved
from .strategies import briefs

ROOFS = settings(settings.get_profile("roofs"))
RANDOM_SHARE_ERROR = 1e-6  # of roofs that are nearly loose; plain ones reach 1e-9
LEANING = [{"purlin": "S", "spacing": "4 ft",
            "foot": {"on": "wall", "name": "spine"}}]  # fmt: skip
SNOWY = {"snow": {"ground": "30 psf"}, "attic_live": "10 psf", "wind_uplift": "20 psf"}
HOUSES = {
    "cottage": COTTAGE,
    "bungalow": BUNGALOW,
    "leaning struts": changed(COTTAGE, struts=LEANING),
    "snow and wind": changed(COTTAGE, loads=SNOWY),
    "ridge beam": changed(
        BUNGALOW,
        ridge={"kind": "beam", "size": "2x12", "plies": 3, "posts": ["11 ft"]},
    ),
    "joists along": changed(
        COTTAGE,
        ceiling_joists={"direction": "along"},
        walls=[{"name": "w", "start": ["16 ft", "0 ft"], "end": ["16 ft", "26 ft"]}],
        rafter_ties={"size": "2x6", "height_ratio": 0.0, "spacing": "4 ft"},
    ),
    "raised ties": changed(
        COTTAGE,
        ceiling_joists=None, purlins=[], struts=[], walls=[],
        rafter_ties={"size": "2x6", "height_ratio": 0.33, "spacing": "2 ft"},
        collar_ties={"height_ratio": 0.7, "acts": "pull_only"},
    ),
}  # fmt: skip


def read(data):
    """The brief, or None where random parts contradict one another."""
    try:
        return read_brief(data)
    except BriefError:
        return None


@pytest.fixture(scope="module", params=HOUSES, ids=list(HOUSES))
def house(request):
    return solved(HOUSES[request.param])


def applied(solution, row):
    """(3,) N: the sum of all loads of a combination that reach the model."""
    frame, loads = solution.model.frame, solution.model.loads
    factors = solution.combinations.factors[row]
    ends = frame.xyz[frame.ends]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    line = np.tensordot(factors, loads.element_load, 1)
    node = np.tensordot(factors, loads.node_load, 1)
    return line.T @ length + node[:, :3].sum(axis=0)


def ground(solution, row):
    """(3,) N: the sum of all that the ground gives in a combination."""
    frame = solution.frame
    total = np.where(frame.frame.fixed, frame.reaction[row], 0.0)[:, :3].sum(axis=0)
    links = frame.frame.links
    low = links.j < 0
    return total + frame.link_force[row, low] @ links.direction[low]


def balanced(solution, least=1e-9, shares=1e-9, most=99):
    """Reactions balance loads, shares add to one, members hand on what they get."""
    names = solution.combinations.names
    for row in range(len(names))[-most:]:
        name = names[row]
        load, given = applied(solution, row), ground(solution, row)
        size = np.abs(load).max() or 1.0
        assert np.abs(load[2] + given[2]) <= least * size, name
        assert np.abs(load[1] + given[1]) <= least * size, name
        flow = solution.flow(name)
        assert flow.ground_imbalance <= least, name
        assert flow.imbalance <= least, name
        found = solution.shares(name)
        assert found.error <= shares, name
        loaded = ~solution.model.frame.axial_only
        assert np.abs(found.element[:, loaded].sum(axis=0) - 1).max() <= shares, name
    assert solution.frame.residual.max() <= 1e-8


def test_reactions_balance_the_loads(house):
    balanced(house)


def test_owners_get_their_shares_of_the_loads(house):
    """Reaction of each owner = sum over patches of share times load."""
    supports = results(house)["supports"]
    frame, loads = house.model.frame, house.model.loads
    ends = frame.xyz[frame.ends]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    for row, name in enumerate(house.combinations.names):
        factors = house.combinations.factors[row]
        q = np.tensordot(factors, loads.element_load, 1)
        across = np.abs(q[:, :2]).max(initial=0.0)
        if across > 0:
            continue  # wind is no vertical load; its shares are not these
        p = np.tensordot(factors, loads.node_load, 1)[:, 2]
        shares = house.shares(name)
        down = -(shares.element @ (q[:, 2] * length) + shares.node @ p)
        for owner, force in zip(shares.owners, down, strict=True):
            found = supports[owner]["vertical"][name] * POUND
            assert found == pytest.approx(force, rel=1e-7, abs=1e-6), owner


def test_the_tributary_areas_make_up_the_roof_and_the_ceiling(house):
    """Rafters carry the plan of the roof; joists that of the ceiling."""
    size, roof = house.brief.footprint, house.brief.roof
    area = dict.fromkeys(("rafter", "ceiling_joist"), 0.0)
    for m in house.members.values():
        if m.role in area:
            area[m.role] += m.tributary_area
    whole = (size.length + 2 * roof.rake_overhang) * (size.width + 2 * roof.overhang)
    assert area["rafter"] == pytest.approx(whole, rel=1e-12)
    if house.brief.ceiling_joists is None:
        return
    if house.brief.ceiling_joists.direction.value == "across":
        assert area["ceiling_joist"] == pytest.approx(
            size.length * size.width, rel=1e-12
        )
    else:  # half a spacing beside each long wall rests on the wall
        assert area["ceiling_joist"] < size.length * size.width


def test_the_loads_of_the_brief_arrive(house):
    """The roof dead, live and ceiling loads, worked out from the plan alone."""
    brief = house.brief
    size, roof, loads = brief.footprint, brief.roof, brief.loads
    plan = (size.length + 2 * roof.rake_overhang) * (size.width + 2 * roof.overhang)
    names = [case.value for case in CASES]
    line, nodes = house.loads.load, house.framing.points[house.loads.nodes]
    length = np.linalg.norm(nodes[:, 1] - nodes[:, 0], axis=1)
    on_roof = np.array([s.startswith("roof") for s in house.loads.surface])
    total = -(line[:, :, 2] * length)
    live = total[names.index("Lr"), on_roof].sum()
    assert live == pytest.approx(house.loads.pressures.roof_live * plan, rel=1e-12)
    if loads.wind_uplift:
        up = -total[names.index("W"), on_roof].sum()
        assert up == pytest.approx(loads.wind_uplift * plan, rel=1e-12)
    if not loads.self_weight:
        dead = loads.roof_dead * plan * math.hypot(1, roof.pitch)
        assert total[names.index("D"), on_roof].sum() == pytest.approx(dead, rel=1e-12)


@ROOFS
@given(briefs())
def test_any_roof_ends_in_a_result_that_balances(data):
    """No crash, no NaN, statics in every combination, no number for what falls."""
    brief = read(data)
    if brief is None:
        return
    solution = solve(brief)
    found = results(solution)
    text = json.dumps(found, allow_nan=False)
    assert "Infinity" not in text
    for key, why in solution.path.faults.items():
        assert why, key
        assert solution.members[key].utilisation is None, key
        assert solution.members[key].verdict.value == "no load path", key
    assert bool(solution.path.faults or solution.refusal) == (
        found["overall"] == "no load path"
    )
    if solution.frame is not None:
        balanced(solution, least=1e-7, shares=RANDOM_SHARE_ERROR, most=2)


# ---- mirrors --------------------------------------------------------------------


def inches(text):
    return parse_quantity(text, Quantity.LENGTH) / INCH


def across(data):
    """The house seen in a mirror along its ridge: south and north change places."""
    data = copy.deepcopy(data)
    width = inches(data["footprint"]["width"])

    def turn(point):
        return [point[0], f"{width - inches(point[1])!r} in"]

    for name in ("walls", "beams"):
        for item in data.get(name, []):
            item["start"], item["end"] = turn(item["start"]), turn(item["end"])
    for post in data.get("posts", []):
        post["at"] = turn(post["at"])
    for purlin in data["purlins"]:
        purlin["slope"] = {"south": "north", "north": "south"}[purlin["slope"]]
    return data


def along(data):
    """The house seen in a mirror across its ridge: west and east change places."""
    data = copy.deepcopy(data)
    length = inches(data["footprint"]["length"])

    def back(text):
        return f"{length - inches(text)!r} in"

    for name in ("walls", "beams"):
        for item in data.get(name, []):
            start, end = ([back(p[0]), p[1]] for p in (item["start"], item["end"]))
            item["start"], item["end"] = end, start
            span = abs(inches(start[0]) - inches(end[0]))
            for gap in item.get("openings", []):
                low, high = inches(gap["start"]), inches(gap["end"])
                gap["start"], gap["end"] = f"{span - high!r} in", f"{span - low!r} in"
    for post in data.get("posts", []):
        post["at"] = [back(post["at"][0]), post["at"][1]]
    data["struts"] = [g for group in data["struts"] for g in _each(data, group, length)]
    return data


def _each(data, group, length):
    """A group of struts as single ones, mirrored."""
    low = inches(group.get("start", f"{inches(group['spacing']) / 2} in"))
    high, step = inches(group.get("end", f"{length} in")), inches(group["spacing"])
    while low <= high + 1e-6:
        yield group | {"start": f"{length - low!r} in", "end": f"{length - low!r} in"}
        low += step


def by_place(solution):
    """Utilisation, sag and forces of every member by role and middle, rounded."""
    out = {}
    for key, m in solution.members.items():
        a, b = solution.framing.ends(key)
        values = (m.utilisation, m.sag_long_term, m.axial, abs(m.moment), m.strut_load)
        place = (m.role, *np.round(np.abs((a + b) / 2), 4), round(abs(b[2] - a[2]), 4))
        out.setdefault(place, []).append(values)
    return {k: sorted(v, key=repr) for k, v in out.items()}


def same_by_place(ours, theirs, move):
    a, b = by_place(ours), by_place(theirs)
    moved = {
        (k[0], *np.round(np.abs(move(np.array(k[1:4]))), 4), k[4]): v
        for k, v in b.items()
    }
    assert set(a) == set(moved)
    for place, rows in a.items():
        for x, y in zip(rows, moved[place], strict=True):
            for p, q in zip(x, y, strict=True):
                if p is None or q is None:
                    assert p == q, place
                else:
                    assert q == pytest.approx(p, rel=1e-6, abs=1e-6), place


@pytest.mark.parametrize("name", ["cottage", "bungalow", "snow and wind"])
def test_a_roof_in_a_mirror_along_its_ridge(name):
    data = HOUSES[name]
    ours, theirs = solved(data), solved(across(data))
    width = ours.brief.footprint.width
    same_by_place(ours, theirs, lambda p: np.array([p[0], width - p[1], p[2]]))


@pytest.mark.parametrize("name", ["cottage", "bungalow", "ridge beam"])
def test_a_roof_in_a_mirror_across_its_ridge(name):
    data = copy.deepcopy(HOUSES[name])
    if name == "ridge beam":
        data["ridge"]["posts"] = ["22 ft"]  # its own mirror image
    ours, theirs = solved(data), solved(along(data))
    length = ours.brief.footprint.length
    same_by_place(ours, theirs, lambda p: np.array([length - p[0], p[1], p[2]]))


# ---- doubling -------------------------------------------------------------------


def test_twice_the_loads_make_twice_the_results():
    """In one contact state the roof is linear; the state itself does not change."""
    light = {"roof_dead": "8 psf", "roof_live": "12 psf", "ceiling_dead": "4 psf",
             "attic_live": "10 psf", "self_weight": False}  # fmt: skip
    heavy = {k: f"{2 * inches_of(v)} psf" if isinstance(v, str) else v
             for k, v in light.items()}  # fmt: skip
    once, twice = (solved(BUNGALOW, loads=loads) for loads in (light, heavy))
    assert (once.frame.link_active == twice.frame.link_active).all()
    for name in ("displacement", "end_force_global", "link_force", "reaction"):
        a, b = getattr(once.frame, name), getattr(twice.frame, name)
        assert np.abs(b - 2 * a).max() <= 1e-9 * np.abs(b).max(), name
    for key, m in once.members.items():
        other = twice.members[key]
        if m.sag_long_term is not None:
            assert other.sag_long_term == pytest.approx(2 * m.sag_long_term, rel=1e-8)
        if m.utilisation and m.by_check["bending"]:
            ratio = other.by_check["bending"] / m.by_check["bending"]
            assert ratio == pytest.approx(2, rel=1e-8), key
    for key, strut in once.hand.struts.items():
        np.testing.assert_allclose(twice.hand.struts[key].axial, 2 * strut.axial)


def inches_of(text):
    return float(text.split()[0])


# ---- units ----------------------------------------------------------------------


def metric(data):
    """The same brief written in metres, millimetres and kilopascals."""
    if isinstance(data, dict):
        return {k: metric(v) if k != "size" else v for k, v in data.items()}
    if isinstance(data, list):
        return [metric(v) for v in data]
    if isinstance(data, str) and data.endswith(" psf"):
        return f"{inches_of(data) * 4.4482216152605 / 0.3048**2 / 1000!r} kPa"
    if isinstance(data, str) and data.endswith((" in", " ft")):
        return f"{inches(data) * 25.4!r} mm"
    return data


@pytest.mark.parametrize("name", ["bungalow", "snow and wind", "joists along"])
def test_metric_words_for_one_roof_change_nothing(name):
    data = metric(HOUSES[name])
    assert "ft" not in json.dumps(data["footprint"])
    data |= {"units": "imperial"}  # else those of the footprint, in words too
    ours, theirs = results(solved(HOUSES[name])), results(solve(read_brief(data)))
    for key in ("name", "brief", "basis"):
        ours.pop(key, None)
        theirs.pop(key, None)
    alike(ours, theirs, "")


def alike(a, b, path):
    """Equal in everything; numbers to 1e-9 of their size, and of a pound or inch."""
    if isinstance(a, dict):
        assert list(a) == list(b), path
        for k in a:
            alike(a[k], b[k], f"{path}.{k}")
    elif isinstance(a, list):
        assert len(a) == len(b), path
        for n, (x, y) in enumerate(zip(a, b, strict=True)):
            alike(x, y, f"{path}[{n}]")
    elif isinstance(a, float) and isinstance(b, float):
        assert b == pytest.approx(a, rel=1e-8, abs=1e-7), path
    else:
        assert a == b, path


# ---- more load ------------------------------------------------------------------


@pytest.mark.parametrize("name", ["cottage", "joists along"])
def test_more_on_the_attic_never_helps_a_joist(name):
    """In bending of joists that struts do not relieve, and in every hand result."""
    last = None
    for psf in (0, 10, 20, 40):
        loads = HOUSES[name].get("loads", {}) | {"attic_live": f"{psf} psf"}
        here = solved(HOUSES[name], loads=loads)
        use = {
            k: (m.utilisation, max(here.hand.joists[k].utilisation))
            for k, m in here.members.items()
            if m.role == "ceiling_joist" and m.utilisation is not None
        }
        assert use
        if last is not None:
            for key, (frame, hand) in use.items():
                assert frame >= last[key][0] - 1e-9, (key, psf)
                assert hand >= last[key][1] - 1e-9, (key, psf)
        last = use


# ---- verdicts -------------------------------------------------------------------


def test_one_is_the_limit():
    """Every member passes up to a use of 1.0 and no further."""
    seen = set()
    for dead in (5, 8, 11):
        for m in solved(COTTAGE, loads={"roof_dead": f"{dead} psf"}).members.values():
            if m.utilisation is None:
                continue
            assert m.utilisation == max(0.0, *_that_govern(m.by_check))
            assert m.analysis_passes is (m.utilisation <= 1)
            over = ("over its limit", "keeps the rule but fails by analysis")
            assert (m.verdict.value in over) is (m.utilisation > 1)
            seen.add(round(m.utilisation, 1))
    assert {0.8, 0.9} <= seen
    assert seen & {1.1, 1.2, 1.3, 1.4}


def _that_govern(checks):
    """Uses of a member; a slenderness within its limit is no load."""
    for name, value in checks.items():
        if "slenderness" not in name or value > 1:
            yield value


# ---- the same again ---------------------------------------------------------------


def test_a_roof_solved_twice_gives_the_very_same_words():
    first, second = (json.dumps(results(solved(BUNGALOW))) for _ in range(2))
    assert first == second


# ---- contact --------------------------------------------------------------------


def test_struts_never_pull_and_contacts_never_stick():
    """Under uplift the struts go slack; no strut is ever in tension."""
    solution = solved(COTTAGE, loads={"wind_uplift": "60 psf", "roof_dead": "6 psf"})
    frame, model = solution.frame, solution.model
    struts = [model.rows_of(k).start for k in model.members if k.startswith("ST-")]
    axial = solution.checked.stations.N[:, struts, 0]
    assert axial.max() <= 1e-6
    assert not frame.element_active[:, struts].all()
    one_sided = frame.frame.links.one_sided > 0
    assert frame.link_force[:, one_sided].min() >= -1e-6
    lifted = results(solution)["equilibrium"]["lifted"]
    assert any("0.6D+0.6W" in name for name in lifted)


def test_shares_of_another_combination_keep_its_own_contact_state():
    solution = solved(COTTAGE, loads={"wind_uplift": "60 psf", "roof_dead": "6 psf"})
    rows = [solution.combinations.row(n) for n in ("D", "0.6D+0.6W")]
    found = [support_shares(solution.model, solution.frame, row) for row in rows]
    assert np.abs(found[0].element - found[1].element).max() > 0.01
    assert max(f.error for f in found) < 1e-9
