"""Handles: where they lie, what they set and snap to, and the one operator for them."""

import bpy
import numpy as np
import pytest
from loadfall.addon.bridge import handles
from loadfall.addon.bridge.handles import Kind
from loadfall.addon.bridge.session import SESSION

FOOT, INCH = 0.3048, 0.0254


def of(roof, kind, index=0):
    return handles.handle(roof, 1.0, kind, index)


def test_every_handle_lies_on_what_it_moves(roof):
    """A 6:12 roof 26 ft wide rises 6.5 ft; its purlin at mid-run lies at 3.25 ft."""
    found = {(h.kind, h.index): h for h in handles.handles_of(roof, 1.0)}
    assert set(found) == {
        (Kind.PITCH, 0), (Kind.OVERHANG, 0), (Kind.PURLIN, 0), (Kind.PURLIN, 1),
        (Kind.WALL, 0), (Kind.FOOT, 0), (Kind.FOOT, 1),
    }  # fmt: skip
    ridge = found[Kind.PITCH, 0].place
    assert ridge == pytest.approx([16 * FOOT, 13 * FOOT, 6.5 * FOOT])
    south, north = found[Kind.PURLIN, 0].place, found[Kind.PURLIN, 1].place
    assert south[1:] == pytest.approx([6.5 * FOOT, 3.25 * FOOT])
    assert north[1:] == pytest.approx([19.5 * FOOT, 3.25 * FOOT])
    assert found[Kind.FOOT, 1].place[1:] == pytest.approx([19.5 * FOOT, 0.0])
    assert found[Kind.WALL, 0].place[1:] == pytest.approx([13 * FOOT, 0.0])
    eave = found[Kind.OVERHANG, 0].place
    assert eave[1:] == pytest.approx([-16 * INCH, -8 * INCH])


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind != "SIDE_PITCH"])
def test_a_handle_put_somewhere_is_found_there(roof, kind):
    one = of(roof, kind)
    before = handles.stated_by(roof, one)
    wanted = one.offset + 2 * INCH
    handles.put(roof, 1.0, one, wanted)
    again = of(roof, kind)
    assert again.offset == pytest.approx(wanted, abs=1e-6)
    handles.put_back(roof, again, before)
    assert handles.stated_by(roof, again) == before
    assert of(roof, kind).offset == pytest.approx(one.offset, abs=1e-6)


def test_pitch_snaps_to_quarters_and_lengths_to_inches(roof):
    pitch = of(roof, Kind.PITCH)
    for near, wanted in ((6.6, 6.5), (6.3, 6.25), (6.9, 7.0)):
        rise = handles.snapped(roof, 1.0, pitch, 13 * FOOT * near / 12, None)
        assert rise / (13 * FOOT) * 12 == pytest.approx(wanted)
    purlin = of(roof, Kind.PURLIN)
    at = handles.snapped(roof, 1.0, purlin, 5 * FOOT + 0.4 * INCH, None)
    assert at == pytest.approx(5 * FOOT)
    roof.loadfall.units = "METRIC"
    assert handles.snapped(roof, 1.0, purlin, 1.537, None) == pytest.approx(1.54)


def test_feet_take_to_a_bearing_wall_and_leave_it(roof, flush):
    foot = of(roof, Kind.FOOT)
    at = handles.snapped(roof, 1.0, foot, 13 * FOOT - 6 * INCH, None)
    assert at == pytest.approx(13 * FOOT)
    handles.put(roof, 1.0, foot, at)
    stated = roof.loadfall.struts[0].foot
    assert (stated.on, stated.name) == ("WALL", "Spine")
    flush()
    solution = SESSION.outcome(roof).solution
    assert solution.members["ST-S-03"].stands_on.kind == "wall"
    assert "on wall Spine" in handles.say(roof, 1.0, of(roof, Kind.FOOT))
    handles.put(roof, 1.0, of(roof, Kind.FOOT), 9 * FOOT)
    assert (stated.on, stated.use_from_plate) == ("CEILING_JOIST", True)
    roof.loadfall.walls[0].bearing = False
    far = handles.snapped(roof, 1.0, of(roof, Kind.FOOT), 13 * FOOT - 6 * INCH, None)
    assert far == pytest.approx(12.5 * FOOT), "a partition carries nothing"


def test_a_wall_across_takes_to_the_joists(roof):
    wall = roof.loadfall.walls[0]
    wall.start, wall.end = (3.0, 0.0), (3.0, 26 * FOOT)
    one = of(roof, Kind.WALL)
    assert one.direction == pytest.approx([1, 0, 0])
    outcome = SESSION.outcome(roof)
    at = handles.snapped(roof, 1.0, one, 3.0, outcome)
    stations = outcome.solution.framing.joist_stations
    assert np.abs(np.array(stations) - at).min() < 1e-9
    assert abs(at - 3.0) <= 8 * INCH


def test_the_operator_moves_solves_and_refuses(roof):
    adjust = bpy.ops.loadfall.adjust
    assert adjust(what="PITCH", pitch=8.0) == {"FINISHED"}
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(8 / 12)
    assert adjust(what="PURLIN", index=1, at=5 * FOOT) == {"FINISHED"}
    brief = SESSION.outcome(roof).brief
    assert brief.purlins[1].from_plate == pytest.approx(5 * FOOT)
    adjust(what="OVERHANG", at=2 * FOOT)
    assert SESSION.outcome(roof).brief.roof.overhang == pytest.approx(2 * FOOT)
    adjust(what="PURLIN", index=0, at=90.0)
    assert roof.loadfall.message_field.startswith("purlins[0]")
    with pytest.raises(RuntimeError, match="no such handle"):
        adjust(what="WALL", index=7, at=1.0)


def test_the_scale_of_units_changes_no_handle(scene):
    scene.unit_settings.scale_length = 0.01
    bpy.ops.loadfall.add_roof()
    roof = bpy.context.object
    ridge = handles.handle(roof, 0.01, Kind.PITCH, 0)
    assert ridge.place == pytest.approx([16 * FOOT, 13 * FOOT, 6.5 * FOOT], rel=1e-5)


@pytest.fixture
def outlined(scene):
    """A roof over an L of 24 by 16 ft with a 12 by 8 ft notch, drawn clockwise."""
    corners = [(0, 0), (0, 16), (12, 16), (12, 8), (24, 8), (24, 0)]
    mesh = bpy.data.meshes.new("Plan")
    mesh.from_pydata([(x * FOOT, y * FOOT, 0) for x, y in corners], [], [range(6)])
    drawn = bpy.data.objects.new("Plan", mesh)
    scene.collection.objects.link(drawn)
    bpy.context.view_layer.objects.active = drawn
    assert bpy.ops.loadfall.roof_from_outline(pitch=6.0) == {"FINISHED"}
    return bpy.context.object


def test_an_outline_has_a_pitch_over_every_eave(outlined):
    found = {(h.kind, h.index): h for h in handles.handles_of(outlined, 1.0)}
    sides = [h for (kind, _), h in found.items() if kind is Kind.SIDE_PITCH]
    assert len(sides) == sum(
        c.edge == "EAVE" for c in outlined.loadfall.footprint.outline
    )
    for side in sides:
        inside = SESSION.outcome(outlined).brief.footprint.outline
        assert side.pitch == pytest.approx(6.0)
        assert 0 < side.place[0] < 24 * FOOT
        assert 0 < side.place[1] < 16 * FOOT
        assert not (side.place[0] > 12 * FOOT and side.place[1] > 8 * FOOT), inside
    ridge, over = found[Kind.PITCH, 0], found[Kind.OVERHANG, 0]
    assert ridge.run == pytest.approx(8 * FOOT)
    assert ridge.pitch == pytest.approx(6.0)
    assert over.place[2] == pytest.approx(-0.5 * over.offset)


def test_one_side_of_an_outline_takes_a_pitch_of_its_own(outlined):
    side = next(
        h for h in handles.handles_of(outlined, 1.0) if h.kind is Kind.SIDE_PITCH
    )
    before = handles.stated_by(outlined, side)
    assert bpy.ops.loadfall.adjust(what="SIDE_PITCH", index=side.index, pitch=8.0) == {
        "FINISHED"
    }
    brief = SESSION.outcome(outlined).brief
    own = [corner.pitch for corner in brief.footprint.outline]
    assert own[side.index] == pytest.approx(8 / 12)
    assert sum(pitch is not None for pitch in own) == 1
    assert brief.roof.pitch == pytest.approx(0.5)
    moved = of(outlined, Kind.SIDE_PITCH, side.index)
    assert handles.say(outlined, 1.0, moved) == f"{side.name}: 8 in 12"
    assert handles.snapped(outlined, 1.0, moved, moved.at_pitch(8.1), None) == (
        pytest.approx(moved.at_pitch(8.0))
    )
    handles.put_back(outlined, moved, before)
    assert handles.stated_by(outlined, side) == before


def test_a_ring_of_purlins_has_its_handle_under_the_longest_eave(outlined):
    bpy.ops.loadfall.item_add(kind="PURLIN")
    assert outlined.loadfall.message == ""
    ring = of(outlined, Kind.PURLIN)
    assert ring.offset == pytest.approx(2 * FOOT)  # an eighth of 16 ft
    assert ring.place[2] == pytest.approx(1 * FOOT)  # at 6 in 12
    assert bpy.ops.loadfall.adjust(what="PURLIN", at=2.5 * FOOT) == {"FINISHED"}
    brief = SESSION.outcome(outlined).brief
    assert brief.purlins[0].from_plate == pytest.approx(2.5 * FOOT)


def test_purlins_of_hip_ends_have_theirs_at_the_ends(roof):
    stated = roof.loadfall
    stated.roof.form, stated.purlins[0].slope = "HIP", "WEST"
    west = of(roof, Kind.PURLIN)
    assert west.direction == pytest.approx([1, 0, 0])
    assert west.place == pytest.approx([6.5 * FOOT, 13 * FOOT, 3.25 * FOOT])
