"""Worked case, computed independently by statics and NDS formulas: braces that are too
flat or too long. Every expected value, by the command line.

The loads of the brief give every brace 900 lb: 1.25 x 25.714 psf x 7 ft x 4 ft.
"""

import math

import pytest

from .running import Case, agree, facts

FACTS = facts("h05")
STRUT, ALL = "ST-S-05", "D+Lr"
# The purlin stands 4 ft high, 7 ft from the plate; a lean puts the foot farther in.
LEANS = {
    angle: {"struts.0.foot.from_plate": f"{7 + 4 / math.tan(math.radians(angle))!r} ft"}
    for angle in (75, 60, 45, 30)
}
LENGTHS = {feet: {"roof.pitch": f"{feet / 7 * 12!r}:12"} for feet in (4, 6, 8, 10)}
HELD = {"struts.0.held_at_mid": True}
TEE = {"struts.0.stiffener": True}
ROOM = {"struts.0.foot": {"on": "wall", "name": "middle"}}


def strut(r):
    return r["struts"][STRUT]


def rule(r, name):
    found = next(f for f in r["audit"] if f["rule"] == name and STRUT in f["members"])
    return "pass" if found["passed"] else "fail"


def slenderness_limit(r):
    """By the analysis and by the greatest length that the limit lets stand."""
    ratio = r["members"][STRUT]["utilisation_by_check"]["slenderness"]
    found = strut(r)
    within = found["length"] <= found["longest_within_slenderness"] + 1e-9
    assert within == (ratio <= 1)
    return "pass" if within else "fail"


def strength(r):
    """By hand and by the frame; the frame's force may be less, its capacity not."""
    m = r["members"][STRUT]
    passes = m["utilisation_by_check"]["compression"] <= 1
    assert passes == (strut(r)["hand_utilisation"] <= 1)
    return "pass" if passes else "fail"


def longest(run):
    return [strut(run(change))["longest_within_slenderness"] for change in
            LENGTHS.values()]  # fmt: skip


READ = {
    "longest_2x4_brace_at_le/d_50": longest,
    "len_10ft_held_at_mid_weak_way.capacity": lambda run: strut(
        run(LENGTHS[10] | HELD)
    )["hand_capacity"],
    "len_10ft_T_brace.slenderness_weak_way": lambda run: strut(run(LENGTHS[10] | TEE))[
        "slenderness"
    ],
    "len_10ft_T_brace.capacity": lambda run: strut(run(LENGTHS[10] | TEE))[
        "hand_capacity"
    ],
    "room.brace_angle": lambda run: strut(run(ROOM))["angle"],
    "room.brace_length": lambda run: strut(run(ROOM))["length"],
    "room.axial": lambda run: strut(run(ROOM))["hand_axial"],
    "room.sideways_push_each_wall_top": lambda run: strut(run(ROOM))["hand_push"],
    "room.util_compression": lambda run: strut(run(ROOM))["hand_utilisation"],
    "room.angle_rule": lambda run: rule(run(ROOM), "brace_angle"),
    "room.brace_strength": lambda run: strength(run(ROOM)),
    "room.purlin_height_for_45deg": lambda run: strut(run(ROOM))[
        "purlin_height_for_45"
    ],
}
for angle, change in LEANS.items():
    READ |= {
        f"axial_at_{angle}deg": lambda run, change=change: strut(run(change))[
            "hand_axial"
        ],
        f"sideways_push_at_{angle}deg": lambda run, change=change: strut(run(change))[
            "hand_push"
        ],
    }
for feet, change in LENGTHS.items():
    READ |= {
        f"len_{feet}ft.slenderness": lambda run, change=change: strut(run(change))[
            "slenderness"
        ],
        f"len_{feet}ft.capacity_weak_axis": lambda run, change=change: strut(
            run(change)
        )["hand_capacity"],
        f"len_{feet}ft.le/d<=50": lambda run, change=change: slenderness_limit(
            run(change)
        ),
        f"len_{feet}ft.prescriptive_8ft": lambda run, change=change: rule(
            run(change), "brace_length"
        ),
    }


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    return Case("h05-braces.json", tmp_path_factory.mktemp("h05"))


@pytest.mark.parametrize("fact", FACTS, ids=[f["key"] for f in FACTS])
def test_expected_value(run, fact):
    found = READ[fact["key"]](run)
    for value in found if isinstance(found, list) else [found]:
        agree(value, fact)


def test_every_expected_value_is_read():
    assert len(FACTS) == 36
    assert sorted(READ) == sorted(f["key"] for f in FACTS)


@pytest.mark.parametrize("angle", LEANS)
def test_the_brief_gives_each_brace_900_lb(run, angle):
    found = strut(run(LEANS[angle]))
    assert found["hand_vertical"] == pytest.approx(900, rel=1e-9)
    assert found["angle"] == pytest.approx(angle, rel=1e-9)


@pytest.mark.parametrize(
    "change",
    [*LENGTHS.values(), LENGTHS[10] | HELD, LENGTHS[10] | TEE, ROOM],
    ids=["4ft", "6ft", "8ft", "10ft", "held", "tee", "room"],
)
def test_frame_and_hand_give_the_strut_one_capacity(run, change):
    """Column stability in the checks and in the hand method, composed apart."""
    r = run(change)
    use = r["members"][STRUT]["utilisation_by_combination"]["compression"][ALL]
    force = strut(r)["frame_axial_by_combination"][ALL]
    assert force / use == pytest.approx(strut(r)["hand_capacity"], rel=1e-6)


def test_eight_feet_keeps_the_rule_and_fails_by_analysis(run):
    """The two limits disagree for 1.5 in of thickness: both are reported."""
    r = run(LENGTHS[8] | {"struts.0.foot": {"on": "point"}})
    assert rule(r, "brace_length") == "pass"
    assert r["members"][STRUT]["analysis_passes"] is False
