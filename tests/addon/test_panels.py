"""Presets, search, jumps and languages, and that no stated field lacks a place."""

import dataclasses
import inspect
import types
import typing

import bpy
import pytest
from loadfall.addon import panels, translations
from loadfall.addon.bridge import brief_io, presets, readings
from loadfall.addon.bridge.session import SESSION
from loadfall.addon.operators import search
from loadfall.addon.translations import spanish
from loadfall.solver.brief import Brief
from loadfall.solver.brief import model as m
from loadfall.solver.units import PSF


@pytest.mark.parametrize("key", presets.HOUSES)
@pytest.mark.parametrize("units", ["IMPERIAL", "METRIC"])
def test_every_common_house_stands(roof, scene, key, units, flush):
    roof.loadfall.units = units
    roof.loadfall.loads.ceiling_dead += 1.0
    flush()
    dead = SESSION.outcome(roof).brief.loads.ceiling_dead
    assert bpy.ops.loadfall.house(house=key) == {"FINISHED"}
    solution = SESSION.outcome(roof).solution
    assert not solution.refusal
    assert solution.brief.loads.ceiling_dead == dead, "loads stay"
    assert solution.brief.roof.form is presets.HOUSES[key].form
    assert solution.brief.roof.pitch == pytest.approx(presets.HOUSES[key].pitch / 12)


@pytest.mark.parametrize("key", presets.LOADS)
def test_common_loads_change_loads_alone(roof, key):
    before = SESSION.outcome(roof).brief
    assert bpy.ops.loadfall.loads(loads=key) == {"FINISHED"}
    after = SESSION.outcome(roof).brief
    assert dataclasses.replace(after, loads=before.loads) == before


def test_the_steps_of_the_span_tables(roof):
    """IRC 2018 R802.4.1: ground snow 30, 50, 70 psf; dead 10, 20 psf."""
    for psf in (30, 50, 70):
        bpy.ops.loadfall.loads(loads=f"SNOW_{psf}")
        assert SESSION.outcome(roof).brief.loads.snow.ground == pytest.approx(psf * PSF)
    bpy.ops.loadfall.loads(loads="NO_SNOW")
    assert SESSION.outcome(roof).brief.loads.snow is None


def test_the_search_lists_every_member_worst_first(roof):
    outcome = SESSION.outcome(roof)
    found = search._items(None, bpy.context)
    assert found[0][0] == outcome.solution.worst.key
    assert {key for key, _, _ in found} == set(outcome.solution.members)
    assert bpy.ops.loadfall.search_member(key="R-N-04") == {"FINISHED"}
    assert bpy.context.object["member"] == "R-N-04"


def test_findings_jump_to_a_member(roof):
    told = readings.told(SESSION.outcome(roof))
    key = told[0].members[0]
    assert bpy.ops.loadfall.pick_member(key=key, look=True) == {"FINISHED"}
    assert bpy.context.object["member"] == key


def source():
    """All that the panels' modules say."""
    return "\n".join(inspect.getsource(module) for module in panels.MODULES)


@pytest.mark.parametrize(
    ("cls", "names"),
    [
        (m.Override, ("near", "foot", "from_plate", "removed", "plies", "size")),
        (m.AddedStrut, ("at", "foot", "purlin", "held_at_mid", "foot_nails")),
        (m.Foot, ("at", "from_plate", "on", "name")),
    ],
)
def test_single_members_have_a_place_in_the_panels(cls, names):
    hints = typing.get_type_hints(cls)
    assert set(names) <= set(hints)
    said = inspect.getsource(panels.single) + inspect.getsource(panels.supports)
    for name in names:
        assert f'"{name}"' in said or f".{name}" in said, name


def test_a_single_foot_is_moved_by_its_properties(roof, flush, member):
    """What the panel shows is what the brief reads."""
    bpy.context.view_layer.objects.active = member("ST-S-03")
    bpy.ops.loadfall.override_member(change="PLY")
    change = roof.loadfall.overrides[0]
    change.use_plies = False
    change.use_foot = True
    change.foot.on = "WALL"
    change.foot.name = "Spine"
    flush()
    solution = SESSION.outcome(roof).solution
    assert solution.members["ST-S-03"].stands_on.kind == "wall"
    assert solution.members["ST-S-04"].stands_on.kind == "ceiling_joist"


def test_every_translated_word_is_said_somewhere(roof):
    """A word nobody says any more would rot in the dictionary."""
    said = source()
    for name in dir(bpy.types):
        if name.startswith(("LOADFALL_", "Loadfall")):
            said += inspect.getsource(inspect.getmodule(getattr(bpy.types, name)))
    from loadfall.addon.operators import MODULES
    from loadfall.addon.properties import choices, framing, loads, plan, stock
    from loadfall.addon.properties import roof as roof_properties

    for module in (*MODULES, choices, framing, loads, plan, stock, roof_properties):
        said += inspect.getsource(module)
    missing = [word for word in spanish.WORDS if f'"{word}"' not in said]
    assert not missing


def test_languages_are_handed_over_and_taken_back(monkeypatch):
    """The module knows no Spanish of its own; the window test reads the panels."""
    given = {}
    fake = types.SimpleNamespace(register=given.__setitem__, unregister=given.pop)
    monkeypatch.setattr(
        translations.bpy, "app", types.SimpleNamespace(translations=fake)
    )
    translations.register()
    (words,) = given.values()
    assert words["es"]["*", "Eave Overhang"] == "Vuelo del alero"
    assert words["es"]["Operator", "Search Members"] == "Buscar piezas"
    translations.unregister()
    assert not given


def test_a_brief_of_every_house_goes_through_the_properties(roof, scene):
    for key in presets.HOUSES:
        bpy.ops.loadfall.house(house=key)
        brief = SESSION.outcome(roof).brief
        assert isinstance(brief, Brief)
        assert brief_io.read(roof.loadfall, 1.0) == brief
