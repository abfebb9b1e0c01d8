"""Delete a roof with all of its members."""

import bpy

from ..bridge import members
from ..names import Op
from ..properties import find_roof
from .polls import may_change


class LOADFALL_OT_delete_roof(bpy.types.Operator):
    """Delete the roof with all of its members and their collections"""

    bl_idname = Op.DELETE_ROOF.value
    bl_label = "Delete Roof"
    bl_options = {"REGISTER", "UNDO"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return may_change(cls, context)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Remove everything of it."""
        members.remove_all(find_roof(context.object))
        return {"FINISHED"}


CLASSES = (LOADFALL_OT_delete_roof,)
