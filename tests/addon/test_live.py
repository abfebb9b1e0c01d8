"""Live editing: the members follow at once; numbers that take long wait for a rest."""

import time

import bpy
import numpy as np
import pytest
from loadfall import addon
from loadfall.addon import handlers
from loadfall.addon.bridge import drawing, members, pipeline, view
from loadfall.addon.bridge.members import members_of
from loadfall.addon.bridge.session import SESSION
from loadfall.addon.properties import dirty
from loadfall.solver.units import PSF
from mathutils import Matrix


class Clock:
    """Time that passes only when a test says so."""

    now = 100.0

    def rest(self):
        self.now += handlers.REST


@pytest.fixture(autouse=True)
def clock(monkeypatch):
    """The clock of changes and rests."""
    made = Clock()
    for module in (handlers, dirty):
        monkeypatch.setattr(module, "monotonic", lambda: made.now)
    return made


def let_rest(clock):
    """Let the hand rest, and Blender come back to its timer until all is settled."""
    clock.rest()
    end = time.monotonic() + 60  # a thread solves meanwhile
    while handlers.on_timer() is not None:
        assert time.monotonic() < end, "it never settles"
        time.sleep(0.01)


def top(obj):
    bpy.context.view_layer.update()
    return max((obj.matrix_world @ v.co).z for v in obj.data.vertices)


def shape_of(roof):
    """Where the members lie, whether their numbers are known yet or not."""
    return SESSION.moved(roof) or SESSION.outcome(roof).shape


@pytest.fixture
def slow(monkeypatch):
    """Every solve is expected to take too long for a slider."""
    SESSION.pipeline.clear()  # a roof solved before would be known at once
    monkeypatch.setattr(pipeline.Pipeline, "predicted", lambda _self, _count: 9.0)


@pytest.fixture
def quick(monkeypatch):
    """Every solve is expected to be over at once."""
    monkeypatch.setattr(pipeline.Pipeline, "predicted", lambda _self, _count: 0.0)


def test_a_quick_roof_is_solved_while_it_is_dragged(roof, member, quick, clock):
    rafter = member("R-S-03")
    before, use = top(rafter), rafter["utilisation"]
    roof.loadfall.roof.pitch = 9.0
    assert handlers.on_timer() is not None
    assert top(rafter) > before + 0.5
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(0.75)
    assert not view.is_out_of_date(roof)
    assert rafter["utilisation"] == use  # the marks wait for the hand to rest
    let_rest(clock)
    solved = SESSION.outcome(roof).solution.members["R-S-03"]
    assert rafter["utilisation"] == solved.utilisation != use


def test_a_heavy_roof_moves_and_is_solved_on_release(roof, member, slow, clock):
    rafter, old = member("R-S-03"), SESSION.outcome(roof)
    before = top(rafter)
    for pitch in (7.0, 8.0, 9.0):
        roof.loadfall.roof.pitch = pitch
        assert handlers.on_timer() is not None
        assert SESSION.outcome(roof) is old
        assert view.is_out_of_date(roof)
        assert top(rafter) > before + 0.2
        before = top(rafter)
    let_rest(clock)
    assert not view.is_out_of_date(roof)
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(0.75)


def test_out_of_date_members_are_drawn_where_they_lie(roof, member, slow):
    roof.loadfall.roof.pitch = 9.0
    handlers.on_timer()
    outcome, moved = SESSION.outcome(roof), view.moved_of(roof)
    lines, old = drawing.drawn_moved(outcome, moved), drawing.drawn(outcome)
    row = lines.row["R-S-03"]
    box = lines.boxes[lines.owner == row][0]
    assert box[:, 2].max() == pytest.approx(top(member("R-S-03")), abs=1e-5)
    assert lines.use[row] == old.use[old.row["R-S-03"]]
    assert not any(lines.words)


def test_new_members_of_a_heavy_roof_have_no_numbers_yet(roof, slow):
    roof.loadfall.rafters.spacing = 16 * 0.0254
    handlers.on_timer()
    outcome, moved = SESSION.outcome(roof), view.moved_of(roof)
    fresh = set(moved.roles) - set(outcome.solution.members)
    assert fresh
    for obj in roof.children:
        if obj.get("member") in fresh:
            assert "utilisation" not in obj
    lines = drawing.drawn_moved(outcome, moved)
    assert not any(lines.use[lines.row[key]] for key in fresh)
    handlers.flush()
    assert set(SESSION.outcome(roof).solution.members) == set(moved.roles)


def test_a_refused_edit_ends_the_wait(roof, member, slow):
    good = top(member("R-S-03"))
    roof.loadfall.roof.pitch = 9.0
    handlers.on_timer()
    roof.loadfall.purlins[0].from_plate = 20.0
    handlers.on_timer()
    assert roof.loadfall.message_field == "purlins[0].from_plate"
    handlers.flush()
    assert not SESSION.unsettled()
    assert handlers.on_timer() is None
    assert top(member("R-S-03")) == pytest.approx(good)


def shapes_of_touched(work):
    """Names of what Blender shapes again after some work: meshes, not mere moves."""
    touched = set()

    def note(_scene, graph):
        touched.update(u.id.name for u in graph.updates if u.is_updated_geometry)

    bpy.context.view_layer.update()
    bpy.app.handlers.depsgraph_update_post.append(note)
    try:
        work()
        bpy.context.view_layer.update()
    finally:
        bpy.app.handlers.depsgraph_update_post.remove(note)
    return {name for name in touched if name.startswith(("ST-S", "CJ-", "R-S"))}


def test_an_edit_touches_only_what_it_moves(roof, quick):
    """What Blender evaluates again is what was touched: no mesh while a hand drags."""
    roof.loadfall.purlins[0].from_plate = 1.5
    assert not shapes_of_touched(handlers.follow)
    shape, before = SESSION.outcome(roof).shape, SESSION._placed[roof.session_uid]
    scene = bpy.context.scene
    names = shapes_of_touched(lambda: members.place(roof, shape, scene, before))
    assert any(name.startswith("ST-S") for name in names)
    assert not [name for name in names if name.startswith(("CJ-", "R-S"))]


def test_a_drag_shows_members_where_they_will_lie(roof, scene, slow):
    """Carried by one matrix each, cuts and all, within the width of a pencil line."""
    for pitch in (6.5, 7.0, 7.5):
        roof.loadfall.roof.pitch = pitch
        SESSION.follow(roof, scene)
    bpy.context.view_layer.update()
    seen = {
        key: np.array([obj.matrix_local @ v.co for v in obj.data.vertices])
        for key, obj in members_of(roof).items()
    }
    handlers.flush()
    bpy.context.view_layer.update()
    for key, obj in members_of(roof).items():
        exact = np.array([obj.matrix_local @ v.co for v in obj.data.vertices])
        near = 0.002 if key.startswith(("R-", "CJ-")) else 0.03
        assert np.abs(seen[key] - exact).max() < near, key
        assert obj.matrix_parent_inverse == Matrix(), key


def test_a_file_is_saved_with_the_numbers_of_its_roof(roof, member, slow, tmp_path):
    roof.loadfall.roof.pitch = 9.0
    handlers.on_timer()
    assert view.is_out_of_date(roof)
    bpy.ops.wm.save_as_mainfile(filepath=str(tmp_path / "roof.blend"))
    assert not view.is_out_of_date(roof)
    solved = SESSION.outcome(roof).solution.members["R-S-03"]
    assert member("R-S-03")["utilisation"] == solved.utilisation


def test_a_rest_comes_only_after_the_last_change(roof, slow, clock):
    roof.loadfall.roof.pitch = 9.0
    handlers.on_timer()
    clock.now += 0.9 * handlers.REST
    roof.loadfall.roof.pitch = 9.1
    handlers.on_timer()
    clock.now += 0.9 * handlers.REST
    assert handlers.on_timer() is not None
    assert view.is_out_of_date(roof)
    let_rest(clock)
    assert not view.is_out_of_date(roof)


def test_places_do_not_depend_on_the_way(roof, member, slow, flush):
    roof.loadfall.roof.pitch = 9.0
    handlers.on_timer()
    flush()
    points = np.array([v.co for v in member("R-N-04").data.vertices])
    roof.loadfall.roof.pitch = 6.0
    flush()
    roof.loadfall.roof.pitch = 9.0
    flush()
    again = np.array([v.co for v in member("R-N-04").data.vertices])
    assert again == pytest.approx(points, abs=1e-5)


def test_an_edit_of_loads_moves_nothing(roof, scene, monkeypatch):
    """The shape is the last one; the numbers are the new loads'."""
    from loadfall.addon.bridge import members as written

    def never(*_args):
        raise AssertionError("members were placed again")

    before = SESSION.outcome(roof)
    monkeypatch.setattr(written, "place", never)
    roof.loadfall.loads.roof_live = 31.0
    SESSION.follow(roof, scene)
    monkeypatch.undo()
    handlers.flush()
    after = SESSION.outcome(roof)
    assert after.shape is before.shape
    assert after.solution.worst.utilisation > before.solution.worst.utilisation


def test_snow_and_shape_edits_frame_again(roof, scene):
    first = SESSION.outcome(roof).shape
    roof.loadfall.loads.use_snow = True
    handlers.flush()
    assert SESSION.outcome(roof).shape is not first
    second = SESSION.outcome(roof).shape
    roof.loadfall.roof.pitch = 7.0
    handlers.flush()
    assert SESSION.outcome(roof).shape is not second


@pytest.mark.parametrize("steps", [1, 40])
def test_small_steps_end_where_one_large_one_does(roof, scene, steps):
    """What is too little to write in one step is not lost in many."""
    for _ in range(steps):
        roof.loadfall.roof.pitch += 0.4 / steps
        SESSION.follow(roof, scene)
    bpy.context.view_layer.update()
    for key, obj in members_of(roof).items():
        solid = shape_of(roof).solids[key]
        found = np.array([obj.matrix_local @ v.co for v in obj.data.vertices])
        assert found == pytest.approx(solid.vertices, abs=2e-5), key


def test_an_undo_is_not_trusted(roof, scene, member):
    """Whatever an undo moved is put back, though the shape is the last one."""
    moved = member("R-S-03")
    moved.matrix_basis.translation.x += 1.0
    roof.loadfall.roof.pitch += 0.01
    SESSION.distrust()
    SESSION.follow(roof, scene)
    bpy.context.view_layer.update()
    solid = shape_of(roof).solids["R-S-03"]
    found = np.array([moved.matrix_local @ v.co for v in moved.data.vertices])
    assert found == pytest.approx(solid.vertices, abs=2e-5)


def test_a_member_thrown_away_comes_back_with_the_next_edit(roof, scene, member):
    bpy.data.objects.remove(member("R-S-03"))
    roof.loadfall.roof.pitch += 0.5
    SESSION.follow(roof, scene)
    bpy.context.view_layer.update()
    for key in ("R-S-03", "R-S-04", "P-S"):
        obj, solid = member(key), shape_of(roof).solids[key]
        found = np.array([obj.matrix_local @ v.co for v in obj.data.vertices])
        assert found == pytest.approx(solid.vertices, abs=2e-5), key


def test_a_heavy_roof_is_solved_beside_the_interface(roof, member, slow, clock):
    """Each look of the timer is short: solve in a thread, then place, then marks."""
    roof.loadfall.loads.roof_live = 31.0
    handlers.on_timer()
    clock.rest()
    old = SESSION.outcome(roof)
    assert handlers.on_timer() is not None
    assert SESSION.outcome(roof) is old, "nobody waits for it"
    let_rest(clock)
    solved = SESSION.outcome(roof).solution.members["R-S-03"]
    assert SESSION.outcome(roof).brief.loads.roof_live == pytest.approx(31 * PSF)
    assert member("R-S-03")["utilisation"] == solved.utilisation


def test_a_change_while_it_is_solved_is_not_lost(roof, member, slow, clock):
    roof.loadfall.roof.pitch = 9.0
    handlers.on_timer()
    clock.rest()
    handlers.on_timer()  # begins to solve
    roof.loadfall.roof.pitch = 4.0
    handlers.on_timer()
    let_rest(clock)
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(4 / 12)
    solved = SESSION.outcome(roof).solution.members["R-S-03"]
    assert member("R-S-03")["utilisation"] == solved.utilisation


def test_a_heavy_roof_that_is_refused_says_so(roof, member, slow, clock):
    good = top(member("R-S-03"))
    roof.loadfall.purlins[0].from_plate = 20.0
    handlers.on_timer()
    let_rest(clock)
    assert roof.loadfall.message_field == "purlins[0].from_plate"
    assert top(member("R-S-03")) == pytest.approx(good)


def test_roofs_that_were_there_before_the_extension_are_solved(roof, tmp_path):
    """Enabled over an open file: nobody must press Rebuild."""
    path = tmp_path / "roof.blend"
    bpy.ops.wm.save_as_mainfile(filepath=str(path))
    addon.unregister()
    try:
        bpy.ops.wm.open_mainfile(filepath=str(path))
    finally:
        addon.register()
    assert bpy.app.timers.is_registered(handlers.on_enabled)
    handlers.on_enabled()
    handlers.on_timer()
    (again,) = [o for o in bpy.data.objects if o.loadfall.is_roof]
    assert SESSION.outcome(again) is not None
