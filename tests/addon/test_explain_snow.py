"""Snow that comes and goes, and the whole roof bent: drawn as the solver says."""

import bpy
import numpy as np
import pytest
from loadfall.addon.bridge import bent, marking
from loadfall.addon.bridge.pipeline import Pipeline
from loadfall.addon.explain import cast, lessons, theatre
from loadfall.addon.explain.lessons import snow as snow_lesson
from loadfall.solver.ageing import winters
from loadfall.solver.brief import read_brief
from loadfall.tests.solve.houses import COTTAGE, changed

KEYS = ("Now", "In 10 years", "In 50 years")
STEADY = (0, 1, 3, 4, 5)  # steps with even snow or none
DRIFTED, YEARS = 2, 4


@pytest.fixture(scope="module")
def snowy():
    loads = {"snow": {"ground": "30 psf"}, "attic_live": "0 psf"}
    return Pipeline().run(read_brief(changed(COTTAGE, loads=loads)))


@pytest.fixture
def made(scene, snowy):
    return theatre.build(lessons.lesson("snow", snowy, Pipeline()), size=(64, 36))


def drawn(obj, frame):
    """Points of an object on a frame, from its shape keys alone, (v, 3) m."""
    bpy.context.scene.frame_set(frame)
    blocks = obj.data.shape_keys.key_blocks
    co = np.empty((len(blocks), 3 * len(obj.data.vertices)))
    for row, block in zip(co, blocks, strict=True):
        block.data.foreach_get("co", row)
    weight = np.array([block.value for block in blocks[1:]])
    return (co[0] + weight @ (co[1:] - co[0])).reshape(-1, 3)


def test_drawn_snow_is_the_solvers_snow_times_the_scale(made, snowy):
    """Winter less summer of the same year, at every corner of the worst member."""
    bpy.context.window.scene = bpy.data.scenes[made.scene]
    obj = bpy.data.objects["Roof"]
    summer, snow = (made.beats[n].middle for n in (3, 1))
    told = winters(snowy.solution)
    row = int(np.argmax(told.snow))
    made_of = bent.bent(snowy, obj["members"].split(", "))
    mine = made_of.owner == made_of.keys.index(told.member[row])
    moved = (drawn(obj, snow) - drawn(obj, summer))[mine]
    row_of = snowy.solution.combinations.row
    solved = snowy.solution.frame.displacement
    model = snowy.solution.model
    rows = model.rows_of(told.member[row])
    nodes = model.frame.ends[rows].ravel()
    apart = solved[row_of("D+S"), nodes, :3] - solved[row_of("D"), nodes, :3]
    most = made.lesson.factor * np.linalg.norm(apart, axis=1).max()
    assert np.linalg.norm(moved, axis=1).max() > 0.8 * most
    shape = bent.shapes_of(snowy, "D+S").members[told.member[row]]
    other = bent.shapes_of(snowy, "D").members[told.member[row]]
    sag = (shape.moved[0] - other.moved[0])[:, 2].min() * made.lesson.factor
    assert moved[:, 2].min() == pytest.approx(sag, rel=0.05)


def test_snow_adds_the_same_in_every_winter_while_creep_grows(made, snowy):
    bpy.context.window.scene = bpy.data.scenes[made.scene]
    obj, beats = bpy.data.objects["Roof"], made.beats
    at = [drawn(obj, beats[n].middle) for n in STEADY]
    first, later = at[1] - at[0], at[4] - at[3]
    assert np.abs(first - later).max() < 1e-4
    assert np.abs(at[2] - at[0]).max() < 1e-6
    assert (at[3] - at[0])[:, 2].min() < -1e-3


def test_ten_winters_come_and_go_on_plain_keyframes(made):
    obj = bpy.data.objects["Roof: Even snow"]
    keys = obj.data.shape_keys
    assert not keys.animation_data.drivers
    bpy.context.window.scene = bpy.data.scenes[made.scene]
    beat = made.beats[YEARS]
    snow, hidden, aged = [], [], []
    for frame in range(beat.start, beat.settled + 1):
        bpy.context.scene.frame_set(frame)
        snow.append(keys.key_blocks[snow_lesson.EVEN].value)
        aged.append(keys.key_blocks["In 10 years"].value)
        now = keys.key_blocks["Now"].value
        assert now + aged[-1] == pytest.approx(1.0, abs=1e-5)
        hidden.append(obj.hide_render)
        assert obj.hide_render != bpy.data.objects["Roof"].hide_render
    deep = np.array(snow) > 0.5
    assert (np.diff(deep.astype(int)) == 1).sum() == 10
    assert (np.diff(np.array(hidden).astype(int)) == -1).sum() == 10
    assert (np.diff(aged) > -1e-5).all()


def test_creep_comes_early():
    """By hand: the law is t^0.21, so a tenth of ten years brings 10^-0.21 of it."""
    assert bent.crept(0, 1, 0.1) == pytest.approx(0.1**0.21)
    assert bent.crept(1, 2, 0.0) == 0
    assert bent.crept(1, 2, 1.0) == 1


def test_snow_is_shaded_by_its_own_combination(made, snowy):
    colour = {}
    for name in ("Roof", "Roof: Even snow"):
        mesh = bpy.data.objects[name].data
        held = np.empty(4 * len(mesh.vertices), dtype=np.float32)
        mesh.color_attributes.active_color.data.foreach_get("color", held)
        colour[name] = held
    assert np.abs(colour["Roof"] - colour["Roof: Even snow"]).max() > 0.05
    for result in snowy.solution.members.values():
        if result.utilisation:
            assert marking.use_under(result, "D") <= result.utilisation + 1e-9


def test_snow_lies_on_rafters_as_deep_as_its_weight_says(made, snowy):
    """By hand, ASCE 7-16 7.7.1: 30 psf of ground snow weighs 0.13 x 30 + 14 pcf.

    23.1 psf of balanced snow (0.7 x 1.1 x 30) lie 23.1 / 17.9 ft deep. Over rafters on
    purlins drift lies to leeward alone on more than 0.3 of it.
    """
    bpy.context.window.scene = bpy.data.scenes[made.scene]
    obj = bpy.data.objects["Roof Snow"]
    blocks = obj.data.shape_keys.key_blocks
    up = {}
    for name in ("As framed", snow_lesson.EVEN, snow_lesson.DRIFTED):
        held = np.empty(3 * len(obj.data.vertices))
        blocks[name].data.foreach_get("co", held)
        up[name] = held.reshape(-1, 3)
    deep = {k: (v - up["As framed"])[:, 2].reshape(-1, 4) for k, v in up.items()}
    even = np.ptp(deep[snow_lesson.EVEN], axis=1)
    assert np.median(even) == pytest.approx(23.1 / 17.9 * 0.3048, abs=0.02)
    drifted = np.ptp(deep[snow_lesson.DRIFTED], axis=1)
    assert drifted.min() == pytest.approx(0.3 * even.min(), abs=0.02)
    assert drifted.max() > 1.2 * even.max()


def test_drifted_snow_is_the_solvers(made, snowy):
    """Every corner moves by the factor times the difference of D+Su and D."""
    bpy.context.window.scene = bpy.data.scenes[made.scene]
    obj = bpy.data.objects["Roof"]
    summer, drift = (drawn(obj, made.beats[n].middle) for n in (0, DRIFTED))
    case = made.lesson.actors[0].snows[snow_lesson.DRIFTED].combination
    assert case in ("D+SuS", "D+SuN")
    keys = obj["members"].split(", ")
    wet, dry = (bent.bent(snowy, keys, None, one).moved[0] for one in (case, "D"))
    moved = made.lesson.factor * (wet - dry)
    assert drift - summer == pytest.approx(moved, abs=1e-4)
    told = " ".join(made.lesson.steps[DRIFTED].caption)
    assert "Wind from the " in told


def test_the_camera_sees_the_slope_that_drift_lies_on(snowy):
    """By hand: wind from the north drifts the south slope, which falls along -y."""
    step = lessons.lesson("snow", snowy, Pipeline()).steps[DRIFTED]
    eye, target = np.array(step.aim.eye), np.array(step.aim.target)
    wind = next(w for w in ("north", "south") if f"from the {w}" in step.caption[0])
    fall = {"north": np.array([0.0, -1.0]), "south": np.array([0.0, 1.0])}[wind]
    assert (target - eye)[:2] @ fall < 0


def test_what_is_stored_in_the_attic_stays_in_summer():
    loads = {"snow": {"ground": "30 psf"}, "attic_live_lasting": 0.5}
    outcome = Pipeline().run(read_brief(changed(COTTAGE, loads=loads)))
    lesson = lessons.lesson("snow", outcome, Pipeline())
    assert "50% of what is stored in the attic" in lesson.steps[0].caption[1]


def test_a_roof_without_snow_is_told_so():
    outcome = Pipeline().run(read_brief(COTTAGE))
    with pytest.raises(lessons.LessonError, match="no snow"):
        lessons.lesson("snow", outcome, Pipeline())


def test_the_whole_roof_bends_at_three_times(scene, snowy):
    lesson = lessons.lesson("bend", snowy, Pipeline())
    assert set(lesson.actors[0].keys) == set(snowy.solution.members)
    made = theatre.build(lesson, size=(64, 36))
    bpy.context.window.scene = bpy.data.scenes[made.scene]
    obj = bpy.data.objects["Roof"]
    shapes = bent.shapes_of(snowy)
    low = [drawn(obj, beat.middle) for beat in made.beats[:4]]
    for n, name in enumerate(KEYS):
        assert cast.TIMES[n] == name
        moved = np.linalg.norm(low[n + 1] - low[0], axis=1).max()
        true = max(
            np.linalg.norm(m.moved[n], axis=1).max() for m in shapes.members.values()
        )
        assert moved == pytest.approx(lesson.factor * true, rel=0.1)
    words = [o.data.body for o in bpy.context.scene.objects if o.type == "FONT"]
    assert any(f"{lesson.factor:g} times as large" in text for text in words)
