"""Roofs of other files: appended, linked, and linked with a library override."""

import bpy
import pytest
from loadfall.addon import handlers
from loadfall.addon.bridge import members, view
from loadfall.addon.bridge.session import SESSION


def empty():
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=True)
    bpy.context.scene.unit_settings.system = "IMPERIAL"


@pytest.fixture(scope="module")
def library(tmp_path_factory):
    """A file with one small roof."""
    empty()
    bpy.ops.loadfall.add_roof(length=2.4, width=4.8, feet="NONE")
    path = tmp_path_factory.mktemp("library") / "library.blend"
    bpy.ops.wm.save_as_mainfile(filepath=str(path))
    return str(path)


def take(library, *, link):
    """Bring the roof of the library into this file."""
    with bpy.data.libraries.load(library, link=link) as (_source, target):
        target.collections = ["Roof"]
    collection = target.collections[0]
    bpy.context.scene.collection.children.link(collection)
    handlers.mark_all()
    handlers.flush()
    return collection


def roofs_here():
    return [o for o in bpy.context.scene.objects if o.loadfall.is_roof]


def test_an_appended_roof_is_like_any_other(library):
    take(library, link=False)
    (roof,) = roofs_here()
    count = len(roof.children)
    roof.loadfall.roof.pitch = 9.0
    handlers.flush()
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(0.75)
    assert len(roof.children) == count


def test_an_appended_object_brings_its_members(library):
    with bpy.data.libraries.load(library, link=False) as (_source, target):
        target.objects = ["Roof"]
    bpy.context.scene.collection.objects.link(target.objects[0])
    handlers.mark_all()
    handlers.flush()
    (roof,) = roofs_here()
    assert set(members.members_of(roof)) == set(SESSION.outcome(roof).shape.roles)


def test_a_linked_roof_is_read_and_never_written(library):
    take(library, link=True)
    (roof,) = roofs_here()
    bpy.context.view_layer.objects.active = roof
    assert SESSION.outcome(roof) is not None
    before = {o.name: o.get("utilisation") for o in roof.children}
    roof.loadfall.roof.pitch = 10.0
    handlers.flush()
    assert {o.name: o.get("utilisation") for o in roof.children} == before
    assert bpy.ops.loadfall.pick_worst() == {"FINISHED"}
    for call in (bpy.ops.loadfall.rebuild, bpy.ops.loadfall.delete_roof):
        with pytest.raises(RuntimeError, match="library override"):
            call()
    assert view.LINKED


def test_an_override_is_changed_and_kept(library, tmp_path):
    collection = take(library, link=True)
    collection.override_hierarchy_create(bpy.context.scene, bpy.context.view_layer)
    handlers.mark_all()
    handlers.flush()
    (roof,) = [o for o in roofs_here() if o.override_library]
    roof.loadfall.roof.pitch = 9.0
    handlers.flush()
    assert SESSION.outcome(roof).brief.roof.pitch == pytest.approx(0.75)
    path = tmp_path / "scene.blend"
    bpy.ops.wm.save_as_mainfile(filepath=str(path))
    bpy.ops.wm.open_mainfile(filepath=str(path))
    handlers.flush()
    (again,) = [o for o in roofs_here() if o.override_library]
    assert again.loadfall.roof.pitch == pytest.approx(9.0)
    assert SESSION.outcome(again).brief.roof.pitch == pytest.approx(0.75)
    count = len(again.children)
    again.loadfall.rafters.spacing = 16 * 0.0254  # other members than the library's
    handlers.flush()
    assert "Make it local" in again.loadfall.message
    assert len(again.children) == count
