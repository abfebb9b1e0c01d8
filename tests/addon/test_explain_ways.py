"""Bodies on their way: in the trace's shares; who stays is on an overused stick."""

from collections import Counter

import numpy as np
import pytest
from loadfall.addon.bridge import ways
from loadfall.addon.bridge.pipeline import Outcome, Pipeline
from loadfall.addon.explain import bodies, lessons, pair, theatre
from loadfall.addon.explain.timeline import Beat
from loadfall.solver.brief import read_brief
from loadfall.solver.trace.carries import ends_of
from loadfall.tests.solve.houses import COTTAGE, changed, solved


@pytest.fixture(scope="module")
def cottage():
    return Outcome(solved(COTTAGE))


@pytest.fixture(scope="module")
def strong():
    """Struts on the spine wall: nothing is over its limit."""
    wall = {"foot": {"on": "wall", "name": "spine"}, "spacing": "4 ft", "size": "4x4"}
    struts = [{"purlin": side, **wall} for side in "SN"]
    outcome = Outcome(solved(changed(COTTAGE, struts=struts)))
    uses = [m.utilisation or 0.0 for m in outcome.solution.members.values()]
    assert max(uses) < 1
    return outcome


def strut_of(outcome):
    members = outcome.solution.members.values()
    return min((m for m in members if m.role == "strut"), key=lambda m: m.axial)


def test_where_bodies_end_is_where_the_load_ends(strong):
    """Of 400 bodies from one rafter, each support gets its share, but for a few."""
    rafter = strong.solution.members["R-S-06"]
    run = ways.run_of(strong, [(rafter.key, 1.0)], 400, rafter.combination)
    shares = ends_of(strong.solution.flow(rafter.combination), rafter.key)
    counted = Counter(way.ends_on for way in run.ways)
    assert not counted[""]
    assert max(shares.values()) < 0.9
    for owner, share in shares.items():
        assert counted[owner] / 400 == pytest.approx(share, abs=0.02)


def test_an_overloaded_joist_lets_by_what_it_can_carry(cottage):
    """By hand: at a use of u, one of u goes on and the rest piles up."""
    strut = strut_of(cottage)
    joist = strut.stands_on.name
    use = cottage.solution.members[joist].utilisation
    assert use > 1.2
    run = ways.run_of(cottage, [(strut.key, 900.0)], 300, strut.combination)
    stopped = sum(way.stops_at == joist for way in run.ways)
    assert stopped / 300 == pytest.approx(1 - 1 / use, abs=0.02)
    assert run.each == pytest.approx(3.0)
    for way in run.ways:
        assert bool(way.stops_at) != bool(way.ends_on)
        if way.ends_on:
            assert way.points[-1, 2] < way.points[0, 2]


def test_the_ground_takes_all_that_rests_on_the_roof(cottage):
    """By hand: own loads of all members are the sum of what the supports take."""
    name = cottage.solution.main_combination
    own = sum(ways.own_loads(cottage, name).values())
    below = sum(force for _, force, _ in ways.grounds(cottage, name))
    flow = cottage.solution.flow(name)
    nodes = float(flow._node_load.sum())
    assert below == pytest.approx(own - nodes, rel=0.02)


def test_bodies_are_keyframed_and_those_that_stay_are_there_at_the_end(cottage, scene):
    strut = strut_of(cottage)
    run = ways.run_of(cottage, [(strut.key, 900.0)], 10, strut.combination)
    beat = Beat(1, 25, 25 + 24 * 8 - 1)
    bodies.add(run, beat, scene.collection)
    made = [o for o in scene.objects if o.name.startswith("Body")]
    assert len(made) == 10
    scene.frame_set(beat.until)
    seen = [o for o in made if not o.hide_render]
    assert len(seen) == sum(bool(way.stops_at) for way in run.ways)
    places = np.array([o.matrix_world.translation for o in seen])
    for n, place in enumerate(places):  # none lies in another
        others = np.delete(places, n, axis=0)
        assert np.linalg.norm(others - place, axis=1).min() > 0.05


def test_two_variants_share_camera_scale_and_legend(scene):
    pipeline = Pipeline()
    first = pipeline.run(read_brief(changed(COTTAGE)))
    deep = {"size": "2x12", "spacing": "24 in"}
    second = pipeline.run(read_brief(changed(COTTAGE, ceiling_joists=deep)))
    lesson = pair.compose(first, second, ("As it is", "Deep joists"))
    made = theatre.build(lesson, size=(320, 180))
    scene = theatre.bpy.data.scenes[made.scene]
    assert scene.camera.data.type == "ORTHO"
    words = [o.data.body for o in scene.objects if o.type == "FONT"]
    assert "As it is" in words
    assert "Deep joists" in words
    assert any("Use of each member" in text for text in words)
    over = sum(m.analysis_passes is False for m in first.solution.members.values())
    assert any(f"{over} members over their limit" in text for text in words)
    left, right = (scene.objects[a.name] for a in lesson.actors)
    across = np.array(right.location) - np.array(left.location)
    look = np.subtract(lesson.steps[0].aim.target, lesson.steps[0].aim.eye)
    assert abs(across @ look) < 1e-3  # a parallel view shows no other shift


def test_a_hips_load_can_be_followed(scene):
    from loadfall.addon.cli_explain import HIP

    pipeline = Pipeline()
    outcome = pipeline.run(read_brief(HIP))
    lesson = lessons.lesson("hip", outcome, pipeline)
    told = " ".join(line for step in lesson.steps for line in step.caption)
    assert "%" in told
    assert "jacks" in told
