"""Blender's module with the add-on in it; every test begins with an empty file."""

from __future__ import annotations

import bpy
import pytest
from loadfall import addon
from loadfall.addon import handlers
from loadfall.addon.bridge.session import SESSION


@pytest.fixture(scope="session", autouse=True)
def registered():
    """Register once: the 4.2 module crashes at exit on what is left registered."""
    addon.register()
    yield
    addon.unregister()


@pytest.fixture(autouse=True)
def scene():
    """The scene of an empty file, in feet and pounds."""
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=True)
    scene = bpy.context.scene
    scene.unit_settings.system = "IMPERIAL"
    return scene


@pytest.fixture
def roof(scene):
    """A roof as the Add menu makes it."""
    assert bpy.ops.loadfall.add_roof() == {"FINISHED"}
    return bpy.context.object


@pytest.fixture
def member(roof):
    """A member's object by its key."""

    def find(key, of=None):
        found = [o for o in (of or roof).children if o.get("member") == key]
        assert len(found) == 1, (key, found)
        return found[0]

    return find


@pytest.fixture
def solution(roof):
    """The solved roof that the objects show, as it is when asked."""
    return lambda: SESSION.outcome(roof).solution


@pytest.fixture
def flush():
    """What the timer does after an edit."""
    return handlers.flush
