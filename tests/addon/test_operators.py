"""Every button, called as a script would."""

import json

import bpy
import pytest
from loadfall.addon.bridge.session import SESSION
from loadfall.solver.units import FOOT


def test_a_metric_scene_begins_with_round_metres(scene):
    scene.unit_settings.system = "METRIC"
    assert bpy.ops.loadfall.add_roof() == {"FINISHED"}
    brief = SESSION.outcome(bpy.context.object).brief
    assert (brief.footprint.length, brief.footprint.width) == (10.0, 8.0)
    assert brief.rafters.spacing == 0.6
    assert brief.units == "metric"


@pytest.mark.parametrize("feet", ["JOISTS", "WALL", "NONE"])
@pytest.mark.parametrize("pitch", [3.0, 6.0, 12.0])
def test_every_start_makes_a_roof(scene, feet, pitch):
    assert bpy.ops.loadfall.add_roof(feet=feet, pitch=pitch) == {"FINISHED"}
    solution = SESSION.outcome(bpy.context.object).solution
    assert not solution.refusal
    assert bool(solution.brief.struts) == (feet != "NONE")
    no_path = [m for m in solution.members.values() if m.reason]
    assert not no_path


def test_a_roof_that_cannot_be_leaves_nothing_behind(scene):
    with pytest.raises(RuntimeError, match=r"roof\.pitch"):
        bpy.ops.loadfall.add_roof(pitch=40.0)
    with pytest.raises(RuntimeError, match=r"rafters\.size"):
        bpy.ops.loadfall.add_roof(size="2x7")
    assert not bpy.data.objects
    assert not bpy.data.collections


def test_a_roof_stands_at_the_cursor_and_is_picked_and_shown(scene):
    scene.cursor.location = (3.0, 4.0, 5.0)
    bpy.ops.loadfall.add_roof()
    roof = bpy.context.object
    assert tuple(roof.location) == (3.0, 4.0, 5.0)
    assert bpy.context.selected_objects == [roof]
    assert scene.loadfall.show


def test_picking(roof, solution):
    assert bpy.ops.loadfall.pick_worst() == {"FINISHED"}
    assert bpy.context.object["member"] == solution().worst.key
    assert bpy.ops.loadfall.pick_member(key="ST-S-02") == {"FINISHED"}
    assert bpy.context.object["member"] == "ST-S-02"
    assert bpy.context.selected_objects == [bpy.context.object]
    assert bpy.ops.loadfall.pick_roof() == {"FINISHED"}
    assert bpy.context.object == roof
    with pytest.raises(RuntimeError, match="No member XX"):
        bpy.ops.loadfall.pick_member(key="XX")


def test_the_overlay_goes_on_and_off(roof, scene):
    settings = scene.loadfall
    assert (settings.show, settings.mode) == (True, "UTILISATION")
    bpy.ops.loadfall.overlay(mode="PATH")
    assert (settings.show, settings.mode) == (True, "PATH")
    bpy.ops.loadfall.overlay(mode="PATH")
    assert not settings.show
    bpy.ops.loadfall.overlay(mode="UTILISATION")
    assert (settings.show, settings.mode) == (True, "UTILISATION")


def test_lists_grow_and_shrink_with_entries_that_fit(roof, solution):
    stated = roof.loadfall
    for kind, entries in (
        ("WALL", "walls"), ("BEAM", "beams"), ("POST", "posts"),
    ):  # fmt: skip
        count = len(getattr(stated, entries))
        bpy.ops.loadfall.item_add(kind=kind)
        assert len(getattr(stated, entries)) == count + 1
    assert stated.message == ""
    assert len(solution().brief.posts) == 1
    bpy.ops.loadfall.item_remove(kind="POST")
    bpy.ops.loadfall.item_remove(kind="BEAM")
    stated.active_wall = 0
    bpy.ops.loadfall.item_add(kind="OPENING")
    assert solution().brief.walls[0].openings
    bpy.ops.loadfall.item_add(kind="BEAM")  # into the gap
    beam, gap = solution().brief.beams[0], solution().brief.walls[0].openings[0]
    assert (beam.start[0], beam.end[0]) == pytest.approx((gap.start, gap.end))
    bpy.ops.loadfall.item_remove(kind="OPENING")
    assert not solution().brief.walls[0].openings


def test_a_purlin_more_lies_where_there_is_room(roof):
    """Half the width is 13 ft, a line at 6 ft 6 in: the next at 3 ft 3 or 9 ft 9."""
    for slope in ("south", "north", "south"):
        bpy.ops.loadfall.item_add(kind="PURLIN")
        assert roof.loadfall.message == ""
        assert SESSION.outcome(roof).brief.purlins[-1].slope == slope
    places = [p.from_plate / FOOT for p in SESSION.outcome(roof).brief.purlins]
    assert places == pytest.approx([6.5, 6.5, 3.25, 3.25, 9.75])


def test_purlins_and_struts_are_added_where_there_are_none(scene):
    bpy.ops.loadfall.add_roof(feet="NONE")
    roof = bpy.context.object
    for kind in ("PURLIN", "STRUTS", "PURLIN", "STRUTS"):
        bpy.ops.loadfall.item_add(kind=kind)
    brief = SESSION.outcome(roof).brief
    assert [p.slope for p in brief.purlins] == ["south", "north"]
    assert [g.purlin for g in brief.struts] == [p.name for p in brief.purlins]
    bpy.ops.loadfall.item_remove(kind="STRUTS")
    bpy.ops.loadfall.item_remove(kind="STRUTS")
    assert bpy.ops.loadfall.item_remove(kind="STRUTS") == {"CANCELLED"}


def test_removing_a_purlin_under_struts_is_refused_by_name(roof, solution):
    good = solution()
    bpy.ops.loadfall.item_remove(kind="PURLIN")
    assert roof.loadfall.message_field == "struts[0].purlin"
    assert solution() is good


def test_the_report_is_written(roof, tmp_path, solution):
    folder = tmp_path / "out"
    assert bpy.ops.loadfall.export_results(directory=str(folder)) == {"FINISHED"}
    assert sorted(p.name for p in folder.iterdir()) == [
        "brief.json", "buy_list.csv", "cut_list.csv",
        "report.html", "results.json", "schedule.csv",
    ]  # fmt: skip
    results = json.loads((folder / "results.json").read_text("utf-8"))
    assert results["worst_member"] == solution().worst.key


def test_a_folder_that_cannot_be_written_is_an_error(roof, tmp_path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(RuntimeError, match="file"):
        bpy.ops.loadfall.export_results(directory=str(tmp_path / "file"))


def test_rebuild_says_what_the_roof_is_worth(roof):
    assert bpy.ops.loadfall.rebuild() == {"FINISHED"}
    roof.loadfall.roof.pitch = 0.0
    with pytest.raises(RuntimeError, match=r"roof\.pitch"):
        bpy.ops.loadfall.rebuild()


def test_nothing_can_be_asked_of_an_empty_scene(scene):
    for name in ("rebuild", "pick_worst", "delete_roof", "export_results"):
        assert not getattr(bpy.ops.loadfall, name).poll()


def test_a_change_stated_by_number_is_kept_to_its_stick(roof, scene):
    """Once solved it knows its place, so that another spacing cannot take it."""
    change = roof.loadfall.overrides.add()
    change.member, change.use_plies, change.plies = "CJ-05-1", True, 3
    before = SESSION.rebuild(roof, scene).solution.framing
    assert change.use_near
    roof.loadfall.ceiling_joists.spacing /= 2
    roof.loadfall.rafters.spacing /= 2
    after = SESSION.rebuild(roof, scene).solution.framing
    held = after.change_holders["CJ-05-1"]
    assert held != "CJ-05-1"
    assert abs(after.ends(held)[0][0] - before.ends("CJ-05-1")[0][0]) < 0.0254
