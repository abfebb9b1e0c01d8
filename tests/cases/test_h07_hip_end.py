"""Worked case, computed independently by statics and NDS formulas: a hip end with
nothing under the hips, and with one brace at half their plan length. Every expected
value, by the command line.
"""

import math

import pytest

from .running import Case, agree, facts

FACTS = facts("h07")
ALL = "D+Lr"
HIPS = ("HP-SW", "HP-SE", "HP-NE", "HP-NW")
SIZES = {"1ply_2x8": ("2x8", 1), "1ply_2x10": ("2x10", 1),
         "2ply_2x10": ("2x10", 2), "2ply_2x12": ("2x12", 2)}  # fmt: skip


def hips(size="1ply_2x8"):
    name, plies = SIZES[size]
    return {"hips.size": name, "hips.plies": plies}


def brace(hip, wall):
    return {"hip": hip, "at": 0.5, "foot": {"on": "wall", "name": wall}}


BRACED = {
    "hip_braces": [
        brace("south_west", "west room"), brace("north_west", "west room"),
        brace("south_east", "east room"), brace("north_east", "east room"),
    ]
}  # fmt: skip
POSTS = {"hip_braces": [{"at": 1, "foot": {"on": "wall", "name": "spine"}}]}


def each(run, name, changes=None):
    """One value of all four hips, which are alike."""
    found = run(changes or hips())["hand"]["hips"]
    assert set(found) == set(HIPS)
    return [found[key][name] for key in HIPS]


def of_all(run, name, changes=None):
    return [value[ALL] for value in each(run, name, changes)]


def reaction(run, n, changes=None):
    return [row[n] for row in of_all(run, "reactions", changes)]


def verdict(run, changes):
    """Of the smallest size, by hand."""
    return "fail" if max(of_all(run, "utilisation", changes)) > 1 else "pass"


def sums(run):
    """Reactions over load, without and with a brace."""
    return [
        sum(row) / total
        for change in (hips(), hips() | BRACED)
        for row, total in zip(
            of_all(run, "reactions", change), of_all(run, "total_load", change),
            strict=True,
        )
    ]  # fmt: skip


READ = {
    "roof_total_on_plan": lambda run: run(hips())["hand"]["roof_load"][ALL],
    "hip_total_load": lambda run: of_all(run, "total_load"),
    "hip_plan_length": lambda run: each(run, "plan_length"),
    "hip_slope_angle": lambda run: each(run, "angle"),
    "hip_beam.reaction_at_corner": lambda run: reaction(run, 0),
    "hip_beam.reaction_at_peak": lambda run: reaction(run, -1),
    "hip_beam.max_moment": lambda run: of_all(run, "moment"),
    "end_common.reaction_at_peak": lambda run: [
        run(hips())["hand"]["peaks"][end]["end_common_reaction"][ALL] for end in "WE"
    ],
    "peak_load_two_hips_and_end_common": lambda run: (
        [
            run(hips() | change)["hand"]["peaks"][end]["load"][ALL]
            for end in "WE"
            for change in ({}, POSTS)
        ]
        + [
            run(hips() | POSTS)["hand"]["hip_braces"][key]["vertical"][ALL]
            for key in ("HB-W-01", "HB-E-01")
        ]
    ),
    "hip_braced_at_half.reaction_corner": lambda run: reaction(run, 0, hips() | BRACED),
    "hip_braced_at_half.reaction_brace": lambda run: (
        reaction(run, 1, hips() | BRACED)
        + [
            run(hips() | BRACED)["hand"]["hip_braces"][f"HB-{c}-01"]["vertical"][ALL]
            for c in ("SW", "SE", "NE", "NW")
        ]
    ),
    "hip_braced_at_half.reaction_peak": lambda run: reaction(run, 2, hips() | BRACED),
    "hip_braced_at_half.moment_over_brace": lambda run: of_all(
        run, "moment_over_brace", hips() | BRACED
    ),
    "hip_braced_at_half.max_moment": lambda run: of_all(run, "moment", hips() | BRACED),
    "hip_braced_at_half.brace_height": lambda run: (
        [h for (h,) in each(run, "brace_heights", hips() | BRACED)]
        + [
            run(hips() | BRACED)["members"][f"HB-{c}-01"]["length"]
            for c in ("SW", "SE", "NE", "NW")
        ]
    ),
    "equilibrium_check.hip_reactions_sum": sums,
    "hip_without_brace_smallest_size": lambda run: verdict(run, hips()),
    "hip_with_brace_at_half_smallest_size": lambda run: verdict(run, hips() | BRACED),
}
for size in SIZES:
    READ |= {
        f"hip_{size}.util_bending": lambda run, size=size: of_all(
            run, "utilisation", hips(size)
        ),
        f"hip_braced_at_half_{size}.util_bending": lambda run, size=size: of_all(
            run, "utilisation", hips(size) | BRACED
        ),
    }


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    return Case("h07-hip.json", tmp_path_factory.mktemp("h07"))


@pytest.mark.parametrize("fact", FACTS, ids=[f["key"] for f in FACTS])
def test_expected_value(run, fact):
    """Where there are several values they are of hips that are alike."""
    found = READ[fact["key"]](run)
    for value in found if isinstance(found, list) else [found]:
        agree(value, fact)


def test_every_expected_value_is_read():
    assert len(FACTS) == 26
    assert sorted(READ) == sorted(f["key"] for f in FACTS)


def test_a_braced_hip_in_the_frame_is_near_the_hand(run):
    """The frame adds what jacks and plates do, which under a braced hip is little."""
    r = run(hips("2ply_2x10") | BRACED)
    for corner in ("SW", "SE", "NE", "NW"):
        axial = -r["members"][f"HB-{corner}-01"]["axial"]
        hand = r["hand"]["hip_braces"][f"HB-{corner}-01"]["axial"][ALL]
        assert 0.85 * hand < axial < 1.05 * hand


def test_a_hip_with_nothing_under_it_breaks_the_rule(run):
    held = {False: run(hips()), True: run(hips() | POSTS)}
    for keeps, r in held.items():
        found = [f for f in r["audit"] if f["rule"] == "hip_at_ridge"]
        assert len(found) == 4
        assert all(f["passed"] is keeps for f in found)
        assert all(f["section"] == "IRC 2018 R802.4.3" for f in found)


def test_the_feet_of_the_end_rafters_are_reported_until_they_are_tied(run):
    note = [f for f in run(hips())["audit"] if f["rule"] == "end_feet"]
    assert len(note) == 1
    assert "R-W-06" in note[0]["words"]
    tied = run(hips() | {"hips.stub_joists": True})
    assert not [f for f in tied["audit"] if f["rule"] == "end_feet"]
    assert tied["members"]["PL-W"]["utilisation"] < 0.5
    assert run(hips())["members"]["PL-W"]["utilisation"] > 1


def test_lengths_of_hip_and_jacks(run):
    """A 6:12 hip of 14 ft run is 14 sqrt(2.25) ft long; jacks step by their common
    difference, 24 in times sqrt(1.25) (framing square tables, common practice).
    """
    members = run(hips())["members"]
    for key in HIPS:
        assert members[key]["length"] == pytest.approx(14 * math.sqrt(2.25))
    step = 2 * math.sqrt(1.25)
    for n in range(1, 7):
        assert members[f"J-S-{n:02d}"]["length"] == pytest.approx(n * step)
