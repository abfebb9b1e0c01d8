"""What to do: remedies searched, looked at, built and undone; variants switched."""

import bpy
import pytest
from loadfall.addon.bridge import choices, kept
from loadfall.addon.bridge.choices import CHOICES
from loadfall.addon.bridge.search_job import SearchJob
from loadfall.addon.bridge.session import SESSION
from loadfall.addon.explain import film
from loadfall.solver.solve import solve
from loadfall.solver.units import System


@pytest.fixture
def roof(scene):
    """A short roof, which is searched quickly."""
    assert bpy.ops.loadfall.add_roof(length=4.8, spacing=0.6) == {"FINISHED"}
    return bpy.context.object


@pytest.fixture
def found(roof):
    assert bpy.ops.loadfall.find_remedies() == {"FINISHED"}
    return CHOICES.of(roof)


def first(found):
    return next(one for one in found.remedies if one.unbeaten)


def test_the_table_is_the_solvers_comparison(roof, found):
    outcome = SESSION.outcome(roof)
    rows = choices.rows(found, outcome, System.IMPERIAL)
    assert [row.key for row in rows] == ["", *(r.key for r in found.remedies)]
    assert rows[0].is_built
    for row, one in zip(rows[1:], found.remedies, strict=True):
        assert row.use == f"{one.measures.utilisation:.2f}"
        assert (row.icon == "ERROR") == (not one.solves)
    assert roof.loadfall.remedy == first(found).key
    assert SESSION.outcome(roof).solution.worst.utilisation > 1.0, "nothing was built"


def test_a_remedy_is_built_as_it_was_solved(roof, found):
    one = first(found)
    assert bpy.ops.loadfall.apply_remedy(key=one.key) == {"FINISHED"}
    outcome = SESSION.outcome(roof)
    assert outcome.brief == one.brief
    use = outcome.solution.worst.utilisation
    assert use == pytest.approx(one.measures.utilisation, abs=1e-12)
    assert use == pytest.approx(solve(one.brief).worst.utilisation, rel=1e-9)
    keys = {o["member"] for o in roof.children if "member" in o}
    assert keys == set(one.solution.members)
    assert [v.name for v in roof.loadfall.variants] == ["Existing", one.title]
    assert roof.loadfall.shown_variant == one.title
    assert choices.is_about(found, outcome)


def test_variants_switch_both_ways_and_keep_edits(roof, found, flush):
    one = first(found)
    before = SESSION.outcome(roof).brief
    bpy.ops.loadfall.apply_remedy(key=one.key)
    roof.loadfall.loads.roof_live = 25.0
    flush()
    bpy.ops.loadfall.show_variant(name="Existing")
    assert SESSION.outcome(roof).brief == before
    bpy.ops.loadfall.show_variant()
    assert roof.loadfall.shown_variant == one.title
    assert roof.loadfall.loads.roof_live == pytest.approx(25.0)
    bpy.ops.loadfall.remove_variant(name="Existing")
    assert [v.name for v in roof.loadfall.variants] == [one.title]
    with pytest.raises(RuntimeError, match="no variant"):
        bpy.ops.loadfall.show_variant(name="Existing")


def test_what_sets_variants_apart(roof, found):
    before = SESSION.outcome(roof)
    bpy.ops.loadfall.apply_remedy(key=first(found).key)
    said = kept.differences(before, SESSION.outcome(roof))
    assert any("over its limit to passes these checks" in words for words in said)
    same = kept.differences(before, before)
    assert same == ("Every member has the same verdict in both",)


def test_a_changed_roof_makes_the_table_old(roof, found, flush):
    roof.loadfall.roof.pitch = 9.0
    flush()
    assert not choices.is_about(found, SESSION.outcome(roof))


def test_variants_survive_saving(roof, tmp_path):
    bpy.ops.loadfall.keep_variant()
    roof.loadfall.roof.pitch = 9.0
    bpy.ops.loadfall.keep_variant(name="Steeper")
    path = str(tmp_path / "variants.blend")
    bpy.ops.wm.save_as_mainfile(filepath=path)
    bpy.ops.wm.open_mainfile(filepath=path)
    roof = next(o for o in bpy.data.objects if o.loadfall.is_roof)
    bpy.context.view_layer.objects.active = roof
    assert [v.name for v in roof.loadfall.variants] == ["Existing", "Steeper"]
    bpy.ops.loadfall.show_variant(name="Existing")
    assert roof.loadfall.roof.pitch == pytest.approx(6.0)


def test_a_search_stops_after_the_roof_it_is_at(roof):
    outcome, seen = SESSION.outcome(roof), []

    def run(brief):
        seen.append(brief)
        if len(seen) == 3:
            job.stop()
        return solve(brief)

    job = SearchJob(outcome.solution, run)
    job.work()
    assert job.comparison is None
    assert job.is_stopped
    assert len(seen) == 3
    assert 0 < job.part <= 1


def test_a_search_beside_the_interface_finds_the_same(roof):
    outcome = SESSION.outcome(roof)
    job = CHOICES.begin(roof, outcome)
    job.start()
    job._thread.join(60)
    assert CHOICES.take(roof) is job.comparison
    assert job.solved > 0
    again = SearchJob(outcome.solution)
    again.work()
    assert [r.key for r in again.comparison.remedies] == [
        r.key for r in job.comparison.remedies
    ]


def test_every_remedy_says_what_it_leaves_and_costs(roof, found):
    for one in found.remedies:
        assert choices.says(one)[0] == one.build
        numbers = dict(choices.numbers(one, System.IMPERIAL))
        assert numbers["Needs an Engineer"].startswith("yes") == bool(one.engineer)
        assert numbers["Members That Fail"] == str(one.measures.failing)


def test_the_sheet_is_written_of_the_remedy_looked_at(roof, found, tmp_path):
    assert bpy.ops.loadfall.export_sheet(directory=str(tmp_path)) == {"FINISHED"}
    said = (tmp_path / "sheet.html").read_text("utf-8")
    assert first(found).title in said
    assert (tmp_path / "calculation.html").exists()


def test_variants_are_rendered_side_by_side_by_one_command(roof, tmp_path, monkeypatch):
    """Every kept variant beside the shown one; which pictures, not how they look."""
    bpy.ops.loadfall.keep_variant()
    roof.loadfall.roof.pitch = 9.0
    bpy.ops.loadfall.keep_variant(name="Steeper")
    roof.loadfall.roof.pitch = 4.0
    bpy.ops.loadfall.keep_variant(name="Flatter")
    drawn = []
    monkeypatch.setattr(
        film, "_picture", lambda _scene, _frame, path: drawn.append(path)
    )
    scenes = set(bpy.data.scenes.keys())
    made = bpy.ops.loadfall.render_variants(directory=str(tmp_path))
    assert made == {"FINISHED"}
    folders = {path.parent.name.lower() for path in drawn}
    assert len(folders) == 2
    assert any("existing" in name for name in folders)
    assert any("steeper" in name for name in folders)
    assert all("flatter" in name for name in folders)
    assert set(bpy.data.scenes.keys()) == scenes


def test_the_comparison_opens_as_a_page(roof, found, tmp_path):
    path = tmp_path / "side" / "comparison.html"
    assert bpy.ops.loadfall.show_comparison(filepath=str(path)) == {"FINISHED"}
    said = path.read_text("utf-8")
    assert 'class="chart"' in said
    assert all(one.title in said for one in found.remedies)


def test_without_a_search_there_is_no_sheet(roof):
    CHOICES.forget()
    assert not bpy.ops.loadfall.export_sheet.poll()
