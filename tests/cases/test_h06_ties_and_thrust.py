"""Worked case, computed independently by statics and NDS formulas: ties at the plate,
ties a third of the way up, and no ties. Every expected value, by the command line.
"""

import pytest

from .running import Case, agree, facts

FACTS = facts("h06")
ALL, PAIR = "D+S", 10
PITCHES = {"4:12": {}, "12:12": {"roof.pitch": "12:12"}}
RAISED = {"rafter_ties.height_ratio": 1 / 3}
JOISTS = {
    "rafter_ties": None,
    "ceiling_joists": {"size": "2x8", "spacing": "24 in", "direction": "across"},
}
NO_TIE = {
    "rafter_ties": None,
    "ceiling_joists": {"size": "2x8", "spacing": "24 in", "direction": "along"},
}


def thrust(r):
    return r["hand"]["thrust"]


def tie_forces(run, pitch, *changes):
    """By hand, and in the frame as the tension of an inner pair's own tie."""
    found = []
    for change in changes:
        r = run(PITCHES[pitch] | change)
        key = f"RT-{PAIR:02d}" if f"RT-{PAIR:02d}" in r["members"] else f"CJ-{PAIR}-1"
        found += [thrust(r)["tie_force"][ALL], r["members"][key]["axial"]]
    return found


def nails(run, pitch, *changes):
    return [thrust(run(PITCHES[pitch] | change))["nails_needed"] for change in changes]


def bending_at_tie(run, pitch, name):
    """By hand, and in the frame."""
    r = run(PITCHES[pitch] | RAISED)
    rafter = r["members"][f"R-S-{PAIR}"]
    if name == "moment":
        return [thrust(r)["rafter_moment_at_tie"][ALL], rafter["moment"]]
    use = rafter["utilisation_by_combination"]["bending"][ALL]
    return [thrust(r)["utilisation_at_tie"][ALL], use]


def no_tie_verdict(run):
    r = run(NO_TIE)
    rafters = {k for k, m in r["members"].items() if m["role"] == "rafter"}
    named = {entry["member"] for entry in r["no_load_path"]}
    return "fail" if rafters <= named and r["overall"] == "no load path" else "pass"


def raised_factor(run):
    """As stated, and as the ratio of the frame's tie forces, at both pitches."""
    found = []
    for pitch in PITCHES:
        low = run(PITCHES[pitch])["members"][f"RT-{PAIR}"]["axial"]
        high = run(PITCHES[pitch] | RAISED)
        found += [high["members"][f"RT-{PAIR}"]["axial"] / low]
        found += [thrust(high)["raised_tie_factor"]]
    return found


READ = {
    "4:12.no_tie.top_plate_as_beam.moment": lambda run: thrust(run(NO_TIE))[
        "plate_moment"
    ][ALL],
    "4:12.no_tie.top_plate_as_beam.util_bending": lambda run: thrust(run(NO_TIE))[
        "plate_utilisation"
    ][ALL],
    "4:12.no_tie": no_tie_verdict,
    "raised_tie_factor": raised_factor,
}
for pitch in PITCHES:
    READ |= {
        f"{pitch}.tie_at_plate.tie_force": lambda run, pitch=pitch: tie_forces(
            run, pitch, {}, JOISTS
        ),
        f"{pitch}.tie_at_plate.nails": lambda run, pitch=pitch: nails(
            run, pitch, {}, JOISTS
        ),
        f"{pitch}.tie_at_one_third.tie_force": lambda run, pitch=pitch: tie_forces(
            run, pitch, RAISED
        ),
        f"{pitch}.tie_at_one_third.nails": lambda run, pitch=pitch: nails(
            run, pitch, RAISED
        ),
        f"{pitch}.tie_at_one_third.rafter_moment_at_tie": lambda run, pitch=pitch: (
            bending_at_tie(run, pitch, "moment")
        ),
        f"{pitch}.tie_at_one_third.util_bending_rafter": lambda run, pitch=pitch: (
            bending_at_tie(run, pitch, "use")
        ),
        f"{pitch}.thrust_per_foot_of_wall_if_no_tie_path": lambda run, pitch=pitch: (
            thrust(run(PITCHES[pitch] | NO_TIE))["thrust_per_length"][ALL]
        ),
    }


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    return Case("h06-ties.json", tmp_path_factory.mktemp("h06"))


@pytest.mark.parametrize("fact", FACTS, ids=[f["key"] for f in FACTS])
def test_expected_value(run, fact):
    """Where there are several values they are by hand and by the frame."""
    found = READ[fact["key"]](run)
    for value in found if isinstance(found, list) else [found]:
        agree(value, fact)


def test_every_expected_value_is_read():
    assert len(FACTS) == 18
    assert sorted(READ) == sorted(f["key"] for f in FACTS)


def test_the_untied_rafters_are_named_as_a_range_and_get_no_number(run):
    r = run(NO_TIE)
    words = [f["words"] for f in r["audit"] if f["kind"] == "no load path"]
    assert any("R-S-00 to R-S-20 and R-N-00 to R-N-20 have no tie" in w for w in words)
    for key, m in r["members"].items():
        if m["role"] == "rafter":
            assert m["verdict"] == "no load path", key
            assert m["utilisation"] is None
            assert m["utilisation_by_check"] is None


def test_a_nail_carries_138_lb_for_the_load_of_snow(run):
    """120 lb for 16d common in SPF, 1.5 in side (NDS 2018 Table 12N), times 1.15."""
    assert thrust(run())["nail_value"][ALL] == pytest.approx(138, rel=0.005)
