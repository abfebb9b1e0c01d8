"""The explainers' operators, and the command without a window."""

import argparse
import json

import bpy
import pytest
from loadfall import addon
from loadfall.addon import cli_explain
from loadfall.addon.bridge.pipeline import Pipeline
from loadfall.addon.explain import cli, edits, jobs, theatre
from loadfall.solver.brief import read_brief
from loadfall.tests.solve.houses import COTTAGE

SMALL = ["--size", "64x64"]


@pytest.fixture
def brief(tmp_path):
    path = tmp_path / "brief.json"
    path.write_text(json.dumps({"schema_version": 1, **COTTAGE}), "utf-8")
    return path


def test_the_command_writes_stills_and_a_page(brief, tmp_path, capsys):
    out = tmp_path / "out"
    argv = [str(brief), "--out", str(out), "--lesson", "purlin", "--stills", "--page"]
    assert cli.run([*argv, *SMALL]) == 0
    names = {p.name for p in out.iterdir()}
    assert names == {"roof.html", *(f"purlin-{n}.png" for n in range(1, 5))}
    assert "5 files" in capsys.readouterr().out
    assert not [s for s in bpy.data.scenes if theatre.LESSON in s]


def test_a_scene_of_its_own_opens_with_the_lesson(brief, tmp_path):
    argv = [str(brief), "--out", str(tmp_path), "--lesson", "purlin", "--scene"]
    assert cli.run([*argv, *SMALL]) == 0
    bpy.ops.wm.open_mainfile(filepath=str(tmp_path / "purlin.blend"))
    scenes = [s for s in bpy.data.scenes if theatre.LESSON in s]
    assert len(scenes) == 1
    assert scenes[0].camera is not None
    assert bpy.context.window.scene == scenes[0]


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        (["--lesson", "hip"], "no hip"),
        (["--lesson", "none"], "invalid choice"),
        (["--size", "1280"], "two even numbers"),
        (["--size", "1281x721"], "two even numbers"),
    ],
)
def test_what_cannot_be_is_told(argv, told, brief, tmp_path, capsys):
    assert cli.run([str(brief), "--out", str(tmp_path / "out"), *argv]) != 0
    assert told in capsys.readouterr().err


def test_a_missing_brief_is_told(tmp_path, capsys):
    assert cli.run([str(tmp_path / "none.json")]) == 1
    assert "none.json" in capsys.readouterr().err


def test_sizes_are_read():
    assert cli.size("1280X720") == (1280, 720)
    with pytest.raises(argparse.ArgumentTypeError, match="wide"):
        cli.size("wide")


def test_build_py_explains_invented_houses(tmp_path):
    addon.unregister()
    try:
        said = []
        cli_explain.main(tmp_path, said.append, ["--lesson", "hip", *SMALL])
    finally:
        addon.register()
    assert "hip-1.png" in {p.name for p in tmp_path.iterdir()}
    assert any("hip" in words for words in said)


def test_the_operators_make_write_and_leave_a_lesson(roof, tmp_path):
    first = bpy.context.scene
    with pytest.raises(RuntimeError, match=r"no strut|no hip"):
        bpy.ops.loadfall.explain(lesson="hip")
    assert bpy.ops.loadfall.explain(lesson="years", style="lines") == {"FINISHED"}
    scene = bpy.context.window.scene
    assert scene != first
    assert scene[theatre.LESSON] == "years"
    scene.render.resolution_percentage = 8
    scene.cycles.samples = 1
    assert bpy.ops.loadfall.explain_write(directory=str(tmp_path)) == {"FINISHED"}
    assert len(list(tmp_path.glob("years-*.png"))) >= 5
    assert bpy.ops.loadfall.explain_leave() == {"FINISHED"}
    assert bpy.context.window.scene == first
    bpy.context.view_layer.objects.active = roof
    path = tmp_path / "roof.html"
    assert bpy.ops.loadfall.explain_page(filepath=str(path)) == {"FINISHED"}
    assert path.exists()


def body(scene, start):
    """The text object of a lesson that began with some words when it was made."""
    (found,) = [
        o for o in scene.objects
        if o.type == "FONT" and o[edits.SAID].startswith(start)
    ]  # fmt: skip
    return found


def test_changed_words_come_along_or_are_told_of(roof, flush):
    """The roof's first lesson, words changed; made again; made of a changed roof."""
    home, first = bpy.context.scene, "The ceiling on the day"
    figure = "When the load comes"
    bpy.ops.loadfall.explain(lesson="years")
    old = bpy.context.window.scene
    body(old, first).data.body = "My own words"
    body(old, figure).data.body = "So much it sags"
    bpy.ops.loadfall.explain_leave()
    bpy.context.view_layer.objects.active = roof
    bpy.ops.loadfall.explain(lesson="years")
    again = bpy.context.window.scene
    assert again != old
    assert body(again, first).data.body == "My own words"
    assert body(again, figure).data.body == "So much it sags"
    assert edits.carry(old, again) == []
    bpy.ops.loadfall.explain_leave()
    assert bpy.context.scene == home
    bpy.context.view_layer.objects.active = roof
    roof.loadfall.loads.ceiling_dead *= 3
    flush()
    bpy.ops.loadfall.explain(lesson="years")
    other = bpy.context.window.scene
    assert body(other, first).data.body == "My own words"
    assert body(other, figure).data.body != "So much it sags"  # other figures
    assert [e.words for e in edits.carry(again, other)] == ["So much it sags"]
    assert body(again, figure).data.body == "So much it sags"


def job_of(lesson, brief):
    """A job as the operator makes it, and the list that its end is put into."""
    pipeline = Pipeline()
    outcome = pipeline.run(read_brief(json.loads(brief.read_text("utf-8"))))
    ended = []

    def steps():
        told = yield from jobs.composing(lesson, outcome, pipeline)
        return (yield from theatre.building(told, size=(64, 36)))

    return jobs.Job("A lesson", steps(), ended.append), ended


def test_a_job_goes_on_little_by_little(brief):
    job, ended = job_of("purlin", brief)
    turns, parts = 0, []
    while job.go_on(0.0):
        turns += 1
        parts.append(job.part)
    assert turns > 6
    assert parts == sorted(parts)
    assert ended[0].lesson.key == "purlin"
    assert bpy.data.scenes[ended[0].scene][theatre.LESSON] == "purlin"


def test_a_job_that_is_stopped_leaves_nothing(brief):
    scenes, objects = len(bpy.data.scenes), len(bpy.data.objects)
    job, ended = job_of("purlin", brief)
    while job.part < 0.5:
        assert job.go_on(0.0)
    assert len(bpy.data.objects) > objects
    job.is_stopped = True
    assert not job.go_on(0.0)
    assert not ended
    assert (len(bpy.data.scenes), len(bpy.data.objects)) == (scenes, objects)


def test_a_job_that_cannot_be_says_so(brief):
    job, _ = job_of("hip", brief)
    with pytest.raises(cli.lessons.LessonError, match="no hip"):
        job.go_on(float("inf"))
