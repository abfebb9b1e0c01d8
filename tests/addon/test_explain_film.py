"""Stills and films of lessons: what is written, and that frames are not wasted."""

from itertools import pairwise

import bpy
import numpy as np
import pytest
from loadfall.addon.bridge.pipeline import Pipeline
from loadfall.addon.explain import film, lessons, theatre
from loadfall.addon.explain.ink import Style
from loadfall.solver.brief import read_brief
from loadfall.tests.solve.houses import COTTAGE

SIZE = (96, 54)
ROUGH = film.Quality(samples=1, moving=1, hold=2)


@pytest.fixture
def made(scene):
    pipeline = Pipeline()
    outcome = pipeline.run(read_brief(COTTAGE))
    return theatre.build(lessons.lesson("joist", outcome, pipeline), size=SIZE)


def pixels(path):
    """(h, w, c) 0 to 255 of a PNG, by Blender."""
    image = bpy.data.images.load(str(path))
    held = np.empty(len(image.pixels), dtype=np.float32)
    image.pixels.foreach_get(held)
    return held.reshape(image.size[1], image.size[0], -1) * 255


def test_stills_are_one_for_each_step(made, tmp_path):
    written = film.stills(made, tmp_path / "new", ROUGH)
    assert len(written) == len(made.lesson.steps)
    pictures = [pixels(path) for path in written]
    for one, other in pairwise(pictures):
        assert one.shape[:2] == (SIZE[1], SIZE[0])
        assert np.abs(one - other).max() > 20


def test_a_clear_background_is_clear(made, tmp_path):
    path = film.stills(made, tmp_path, ROUGH, clear=True)[0]
    alpha = pixels(path)[..., 3]
    assert alpha.min() < 1
    assert alpha.max() > 254


def test_a_film_makes_no_picture_twice_and_is_as_long_as_asked(made, tmp_path):
    scene = bpy.data.scenes[made.scene]
    shown = film.pictures_of(scene, 1, scene.frame_end, 2, film.Layer.STAGE)
    assert sum(count for _, count in shown) == scene.frame_end
    assert len(shown) < scene.frame_end / 4
    first = made.beats[1].start
    path = film.film(
        made, tmp_path / "a" / "lesson.mp4", ROUGH, frames=(first, first + 11)
    )
    data = path.read_bytes()
    assert data[4:8] == b"ftyp"
    clip = bpy.data.movieclips.load(str(path))
    assert clip.frame_duration == 12
    assert tuple(clip.size) == SIZE
    assert "Loadfall Cutting" not in bpy.data.scenes


def test_a_stopped_film_leaves_no_file(made, tmp_path):
    path = tmp_path / "lesson.mp4"
    with pytest.raises(theatre.StoppedError):
        film.film(made, path, ROUGH, frames=(1, 30), tell=lambda part, _w: part < 0.1)
    assert not path.exists()


def test_the_line_drawing_is_black_on_white(scene, tmp_path):
    pipeline = Pipeline()
    outcome = pipeline.run(read_brief(COTTAGE))
    lesson = lessons.lesson("years", outcome, pipeline)
    made = theatre.build(lesson, Style.LINES, size=(320, 180))
    path = film.stills(made, tmp_path, ROUGH)[1]
    picture = pixels(path)[60:160, :, :3]
    spread = picture.max(axis=2) - picture.min(axis=2)
    assert np.median(picture) > 250
    assert np.quantile(spread, 0.9) < 40  # greys, but for the red of one label
    assert picture.min() < 60
