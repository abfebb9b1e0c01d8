"""A rectangle with wings reads as the outline that they make."""

import pytest
from loadfall.solver.brief import read_brief, write_record
from loadfall.solver.brief.choices import EdgeKind, Shape
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.units import FOOT

from ..outlines import outline


def winged(*wings, form="hip", length=48, width=24, **roof):
    plan = {"length": f"{length} ft", "width": f"{width} ft", "wings": list(wings)}
    stated = {"form": form, "pitch": "6:12", "overhang": "16 in"} | roof
    return outline("T", footprint=plan, roof=stated)


def wing(side="north", start=14, width=20, length=16, **rest):
    sizes = {"start": start, "width": width, "length": length}
    return {"side": side} | {k: f"{v} ft" for k, v in sizes.items()} | rest


def places(brief):
    return [tuple(round(v / FOOT, 6) for v in c.at) for c in brief.footprint.outline]


def test_a_wing_makes_a_t():
    """The same members in the same places as over the T drawn corner by corner."""
    ours = frame_roof(read_brief(winged(wing(end="eave"))))
    drawn = frame_roof(read_brief(outline("T")))
    assert set(ours.members) == set(drawn.members)
    for key in ours.members:
        for one, other in zip(ours.ends(key), drawn.ends(key), strict=True):
            assert one == pytest.approx(other, abs=1e-9)


def test_a_lower_ridge_joins_the_main_roof_by_two_valleys():
    framing = frame_roof(read_brief(winged(wing(width=14), form="gable")))
    valleys = framing.of_role(Role.VALLEY_RAFTER)
    ridges = {round(float(framing.ends(m.key)[1][2]), 6)
              for m in framing.of_role(Role.RIDGE_BOARD)}  # fmt: skip
    assert len(valleys) == 2
    assert sorted(ridges) == pytest.approx([3.5 * FOOT, 6 * FOOT])


def test_wings_have_pitches_and_ends_of_their_own():
    stated = wing(pitch="9:12", end="gable")
    brief = read_brief(winged(stated))
    pitched = [c for c in brief.footprint.outline if c.pitch == pytest.approx(0.75)]
    assert len(pitched) == 2
    assert [c.edge for c in brief.footprint.outline].count(EdgeKind.GABLE) == 1
    assert brief.footprint.shape is Shape.OUTLINE
    assert read_brief(write_record(brief)) == brief


def test_wings_to_south_and_west_move_the_corner_of_the_plan():
    brief = read_brief(winged(wing("south", 10, 12, 8), wing("west", 6, 10, 5)))
    points = places(brief)
    assert min(x for x, _ in points) == 0
    assert min(y for _, y in points) == 0
    assert (0.0, 14.0) in points
    assert (15.0, 0.0) in points
    assert brief.footprint.length == pytest.approx(53 * FOOT)
    assert len(points) == 12


def test_a_wing_flush_with_a_corner_makes_an_l():
    brief = read_brief(winged(wing("north", 28, 20, 16, end="eave")))
    assert len(places(brief)) == 7  # the corner in line with the wing's flank stays
    assert frame_roof(brief).of_role(Role.VALLEY_RAFTER)


@pytest.mark.parametrize(
    ("field", "wings"),
    [
        ("footprint.wings[0].start", [wing(start=30)]),
        ("footprint.wings[1].start", [wing("south", 2), wing("south", 18, 10)]),
        ("footprint.wings[0].side", [wing("all")]),
    ],
)
def test_a_wing_that_does_not_fit_is_refused(field, wings):
    with pytest.raises(BriefError) as error:
        read_brief(winged(*wings))
    assert error.value.field == field
