"""Story boards: what they say comes from the solved roof, and their scenes play."""

import re

import bpy
import numpy as np
import pytest
from bpy_extras.object_utils import world_to_camera_view
from loadfall.addon.bridge.pipeline import Pipeline
from loadfall.addon.cli_explain import HIP
from loadfall.addon.explain import lessons, theatre, timeline
from loadfall.addon.explain.ink import Style
from loadfall.solver.brief import read_brief
from loadfall.solver.units import show_force
from loadfall.tests.solve.houses import BUNGALOW, COTTAGE, changed
from mathutils import Vector


@pytest.fixture(scope="module")
def pipeline():
    return Pipeline()


@pytest.fixture(scope="module")
def cottage(pipeline):
    return pipeline.run(read_brief(changed(COTTAGE)))


def texts(scene):
    return [o.data.body for o in scene.objects if o.type == "FONT"]


def told(lesson):
    return " ".join(line for step in lesson.steps for line in step.caption)


def test_what_a_strut_does_names_its_own_force(cottage, pipeline):
    lesson = lessons.lesson("strut", cottage, pipeline)
    struts = [m for m in cottage.solution.members.values() if m.role == "strut"]
    most = show_force(max(-m.axial for m in struts), cottage.brief.units)
    assert most in told(lesson)


@pytest.mark.parametrize("key", list(lessons.LESSONS))
def test_a_lesson_ends_with_the_cautions_and_never_calls_a_roof_safe(
    key, cottage, pipeline
):
    if key == "hip":
        with pytest.raises(lessons.LessonError, match="no hip"):
            lessons.lesson(key, cottage, pipeline)
        return
    if key == "snow":
        snowy = changed(COTTAGE, loads={"snow": {"ground": "30 psf"}})
        cottage = pipeline.run(read_brief(snowy))
    lesson = lessons.lesson(key, cottage, pipeline)
    assert lesson.steps[-1].name == "Cautions"
    assert "engineer" in " ".join(lesson.steps[-1].caption)
    assert not re.search(r"\bsafe\b", told(lesson), re.IGNORECASE)
    assert "engineer" in lesson.caution


def test_the_scene_plays_without_the_extension(cottage, pipeline, tmp_path):
    made = theatre.build(lessons.lesson("strut", cottage, pipeline))
    scene = bpy.context.window.scene = bpy.data.scenes[made.scene]
    assert len(scene.timeline_markers) == len(made.lesson.steps)
    assert all(m.camera == scene.camera for m in scene.timeline_markers)
    words = texts(scene)
    assert any("times as large as they are" in text for text in words)
    assert sum("engineer" in text for text in words) >= 2
    path = tmp_path / "lesson.blend"
    bpy.ops.wm.save_as_mainfile(filepath=str(path), check_existing=False)
    bpy.ops.wm.open_mainfile(filepath=str(path))
    scene = bpy.context.scene
    casts = [o for o in scene.objects if "members" in o]
    assert casts
    for obj in casts:
        assert not obj.data.shape_keys.animation_data.drivers
    beat = made.beats[1]
    scene.frame_set(beat.start)
    alone = scene.objects["Rafter alone"]
    assert alone.data.shape_keys.key_blocks["Now"].value == 0
    scene.frame_set(beat.settled)
    assert alone.data.shape_keys.key_blocks["Now"].value == pytest.approx(1)
    assert not alone.hide_render
    scene.frame_set(made.beats[2].middle)
    assert alone.hide_render


def test_every_action_moves_one_thing_alone(cottage, pipeline):
    """Blender 4.2 and 4.3 read but the first slot of an action from 4.4 on."""
    made = theatre.build(lessons.lesson("strut", cottage, pipeline), size=(64, 36))
    users = {}
    for obj in bpy.data.scenes[made.scene].objects:
        for data in (obj, getattr(obj.data, "shape_keys", None)):
            held = data.animation_data if data is not None else None
            if held is not None and held.action is not None:
                users.setdefault(held.action.name, []).append(data.name)
    assert len(users) > 12
    assert all(len(names) == 1 for names in users.values())


@pytest.mark.parametrize("key", ["strut", "ways", "years"])
def test_all_words_stand_within_nine_tenths_of_the_picture(key, cottage, pipeline):
    """A screen may cut off a twentieth of each side (SMPTE ST 2046-1)."""
    made = theatre.build(lessons.lesson(key, cottage, pipeline), size=(1280, 720))
    scene = bpy.data.scenes[made.scene]
    graph = bpy.context.evaluated_depsgraph_get()
    words = [o for o in scene.objects if o.type == "FONT"]
    assert len(words) > 20
    for obj in words:
        for corner in obj.evaluated_get(graph).bound_box:
            seen = world_to_camera_view(
                scene, scene.camera, obj.matrix_world @ Vector(corner)
            )
            assert 0.048 <= seen.x <= 0.952, obj.data.body
            assert 0.045 <= seen.y <= 0.955, obj.data.body


def test_a_lesson_that_is_stopped_leaves_nothing(cottage, pipeline):
    before = {len(bpy.data.scenes), len(bpy.data.objects)}
    lesson = lessons.lesson("strut", cottage, pipeline)
    with pytest.raises(theatre.StoppedError):
        theatre.build(lesson, Style.LINES, tell=lambda part, _words: part < 0.5)
    assert {len(bpy.data.scenes), len(bpy.data.objects)} == before


def test_a_roof_without_struts_is_told_so(pipeline):
    house = changed(BUNGALOW, purlins=[], struts=[])
    outcome = pipeline.run(read_brief(house))
    with pytest.raises(lessons.LessonError, match="no strut"):
        lessons.lesson("strut", outcome, pipeline)


def test_a_brace_under_a_hip_is_no_strut_under_a_purlin(pipeline):
    outcome = pipeline.run(read_brief(HIP))
    assert any(m.role == "strut" for m in outcome.solution.members.values())
    for key in ("strut", "purlin"):
        with pytest.raises(lessons.LessonError, match="no strut under a purlin"):
            lessons.lesson(key, outcome, pipeline)


def test_what_arrives_below_names_its_load(cottage, pipeline):
    steps = lessons.lesson("load", cottage, pipeline).steps
    last = next(step for step in steps if step.name == "Where it ends")
    assert last.note.startswith("Load: dead load + ")


def test_factors_are_round_and_draw_a_twentieth_at_most():
    for largest in (0.0007, 0.004, 0.031, 0.2, 3.0):
        factor = timeline.nice_factor(largest, 9.0)
        assert factor == 1 or factor * largest <= 0.0551 * 9.0
        assert f"{factor:g}"[0] in "125"
    assert timeline.nice_factor(0.0, 9.0) == 1


def test_an_aimed_camera_sees_all_points_in_its_room():
    rng = np.random.default_rng(7)
    for _ in range(40):
        points = rng.uniform(-5, 5, (30, 3))
        look = rng.normal(size=3) * [1, 1, 0.3]
        angles = (0.8, 0.48)
        room = (0.1, 0.9, 0.3, 0.85)
        found = timeline.aim(points, look, angles, room)
        forward = np.subtract(found.target, found.eye)
        forward = forward / np.linalg.norm(forward)
        assert forward == pytest.approx(look / np.linalg.norm(look), abs=1e-9)
        right = np.cross(forward, [0, 0, 1])
        right /= np.linalg.norm(right)
        up = np.cross(right, forward)
        from_eye = points - np.array(found.eye)
        deep = from_eye @ forward
        assert (deep > 0).all()
        x = (from_eye @ right / deep / np.tan(0.4) + 1) / 2
        y = (from_eye @ up / deep / np.tan(0.24) + 1) / 2
        gap = x.min() - 0.1, 0.9 - x.max(), y.min() - 0.3, 0.85 - y.max()
        assert min(gap) > -1e-9
        assert min(gap) < 1e-6  # as near as it can
