"""What a user can do; one operator a file, each only reads, calls and reports."""

import bpy

from . import (
    add_roof,
    adjust,
    ask,
    briefs,
    delete_roof,
    export_results,
    items,
    outline,
    overlay_mode,
    override,
    pick,
    presets,
    rebuild,
    remedies,
    search,
    variants,
)

MODULES = (
    add_roof,
    adjust,
    ask,
    briefs,
    delete_roof,
    export_results,
    items,
    outline,
    overlay_mode,
    override,
    pick,
    presets,
    rebuild,
    remedies,
    search,
    variants,
)


def register() -> None:
    """Register the operators and the Add menu's entry."""
    for module in MODULES:
        for cls in module.CLASSES:
            bpy.utils.register_class(cls)
    bpy.types.VIEW3D_MT_mesh_add.append(add_roof.draw_menu)
    bpy.types.VIEW3D_MT_object.append(adjust.draw_menu)
    bpy.types.VIEW3D_MT_mesh_add.append(outline.draw_menu)


def unregister() -> None:
    """Take the operators and the menu's entry out again."""
    bpy.types.VIEW3D_MT_object.remove(adjust.draw_menu)
    bpy.types.VIEW3D_MT_mesh_add.remove(outline.draw_menu)
    bpy.types.VIEW3D_MT_mesh_add.remove(add_roof.draw_menu)
    for module in reversed(MODULES):
        for cls in reversed(module.CLASSES):
            bpy.utils.unregister_class(cls)
