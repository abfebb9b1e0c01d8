"""What a user states, as Blender properties; properties only, no work.

Registers the groups and hangs them on objects, collections and scenes.
"""

import bpy

from . import framing, loads, plan, roof
from .dirty import DIRTY
from .roof import find_roof, is_roof, owner_of, roof_of, settings_of

__all__ = ["DIRTY", "find_roof", "is_roof", "owner_of", "roof_of", "settings_of"]

CLASSES = (*plan.CLASSES, *framing.CLASSES, *loads.CLASSES, *roof.CLASSES)


def register() -> None:
    """Register the groups."""
    for cls in CLASSES:
        bpy.utils.register_class(cls)
    for holder, cls in roof.HOLDERS:
        holder.loadfall = bpy.props.PointerProperty(
            type=cls, override={"LIBRARY_OVERRIDABLE"}
        )


def unregister() -> None:
    """Take the groups off again; the values stay in the file."""
    for holder, _ in roof.HOLDERS:
        del holder.loadfall
    for cls in reversed(CLASSES):
        bpy.utils.unregister_class(cls)
