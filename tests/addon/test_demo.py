"""The demo and the samples, small and quick, and what they say."""

import json

import bpy
import pytest
from loadfall import addon
from loadfall.addon import cli_demo, handlers
from loadfall.addon.picture.shots import Format
from loadfall.solver.extras import has_extra
from loadfall.solver.solve import solve


@pytest.fixture
def unregistered():
    """The demo registers the add-on itself."""
    addon.unregister()
    yield
    addon.register()


def test_the_demo_writes_what_it_promises(unregistered, tmp_path, monkeypatch):
    monkeypatch.setattr(cli_demo, "FORMAT", Format(size=(96, 60), samples=1))
    said = []
    cli_demo.main(tmp_path, said.append)
    names = {p.name for p in tmp_path.iterdir()}
    pictures = {f"{kind}-{when}.png" for kind in ("overview", "close-up")
                for when in ("before", "after")}  # fmt: skip
    written = {"brief.json", "results.json", "report.html", "scene.blend", "after"}
    sheet = {"sheet.html", "calculation.html"}
    lists = {"schedule.csv", "cut_list.csv", "buy_list.csv"}
    printed = {"sheet.pdf", "calculation.pdf"} if has_extra("reportlab") else set()
    assert names == pictures | written | lists | sheet | printed
    page = (tmp_path / "sheet.html").read_text("utf-8")
    assert page.count("data:image/png;base64,") == 2
    results = json.loads((tmp_path / "results.json").read_text("utf-8"))
    assert results["overall"] == "over its limit"
    assert any("ceiling joists: over their limit" in line for line in said)
    assert handlers.SESSION.outcome  # the add-on is still importable


def test_before_the_joists_fail_and_after_they_do_not():
    before, after = (solve(cli_demo.bungalow(mended=m)) for m in (False, True))

    def over(solution, role):
        return [
            m for m in solution.members.values()
            if m.role == role and (m.utilisation or 0) > 1
        ]  # fmt: skip

    assert len(over(before, "ceiling_joist")) == 6
    assert not [m for m in after.members.values() if (m.utilisation or 0) > 1]
    assert not [m for s in (before, after) for m in s.members.values() if m.reason]


def test_the_pictures_leave_a_scene_that_renders_them_again(
    unregistered, tmp_path, monkeypatch
):
    monkeypatch.setattr(cli_demo, "FORMAT", Format(size=(96, 60), samples=1))
    cli_demo.main(tmp_path, lambda _words: None)
    bpy.ops.wm.open_mainfile(filepath=str(tmp_path / "scene.blend"))
    assert [s.name for s in bpy.data.scenes] == ["After", "Before"]
    for scene in bpy.data.scenes:
        assert scene.camera is not None
        texts = [o.data.body for o in scene.objects if o.type == "FONT"]
        assert any("engineer" in words for words in texts)
