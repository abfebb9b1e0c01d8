"""On, off and on again; whole or not at all."""

import bpy
import pytest
from loadfall import addon
from loadfall.addon import handlers, panels, registration
from loadfall.addon.names import Op
from loadfall.addon.operators import add_roof


def ours():
    return sorted(name for name in dir(bpy.types) if name.startswith("LOADFALL_"))


def handler_count():
    names = [name for name, _ in handlers.HANDLERS]
    return {name: len(getattr(bpy.app.handlers, name)) for name in names}


def test_off_leaves_nothing_and_on_again_is_the_same():
    first, counts = ours(), handler_count()
    assert first
    for _ in range(2):
        addon.unregister()
        try:
            assert not ours()
            assert not hasattr(bpy.types.Object, "loadfall")
            after = handler_count()
            assert {n: counts[n] - after[n] for n in counts} == dict.fromkeys(counts, 1)
        finally:
            addon.register()
        assert ours() == first
        assert handler_count() == counts


def test_a_failure_takes_everything_back(monkeypatch):
    addon.unregister()
    try:
        with monkeypatch.context() as patch:
            patch.setattr(panels, "register", lambda: 1 / 0)
            with pytest.raises(ZeroDivisionError):
                registration.register()
        assert not ours()
        assert not hasattr(bpy.types.Object, "loadfall")
    finally:
        addon.register()


def test_every_operator_exists_and_says_what_it_does():
    for name in Op:
        group, _, function = name.value.partition(".")
        rna = getattr(getattr(bpy.ops, group), function).get_rna_type()
        assert rna.description.strip(), name
        assert not rna.description.endswith("."), name


def test_every_property_that_a_user_sees_says_what_it_is():
    def walk(struct, path):
        for prop in struct.properties:
            if prop.identifier in {"rna_type", "name", "exact"} or prop.is_hidden:
                continue
            if prop.type in {"POINTER", "COLLECTION"}:
                if prop.fixed_type.identifier.startswith("Loadfall"):
                    walk(prop.fixed_type, prop.identifier)
                continue
            if prop.identifier.startswith("active_"):
                continue
            assert prop.description.strip(), f"{path}.{prop.identifier}"
            assert not prop.description.endswith("."), f"{path}.{prop.identifier}"

    walk(bpy.types.Object.bl_rna.properties["loadfall"].fixed_type, "roof")


def test_the_add_menu_has_the_roof():
    drawn = bpy.types.VIEW3D_MT_mesh_add._dyn_ui_initialize()
    assert add_roof.draw_menu in drawn
    addon.unregister()
    try:
        assert add_roof.draw_menu not in drawn
    finally:
        addon.register()
