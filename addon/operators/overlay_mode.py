"""Switch the overlay to a mode, or off."""

import bpy
from bpy.props import EnumProperty

from ..names import Op
from ..properties import settings_of
from ..properties.roof import MODES


class LOADFALL_OT_overlay(bpy.types.Operator):
    """Show the overlay in this mode; once more to hide it"""

    bl_idname = Op.OVERLAY.value
    bl_label = "Roof Overlay"
    bl_options = {"REGISTER", "UNDO"}

    mode: EnumProperty(name="Shows", items=MODES)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Switch it."""
        settings = settings_of(context.scene)
        settings.show = not (settings.show and settings.mode == self.mode)
        settings.mode = self.mode
        return {"FINISHED"}


CLASSES = (LOADFALL_OT_overlay,)
