"""Pick the worst member, a named member, or the roof itself."""

import bpy
from bpy.props import BoolProperty, StringProperty

from ..bridge import members
from ..bridge.session import SESSION
from ..names import Op
from ..properties import find_roof


def _make_active(context: bpy.types.Context, obj: bpy.types.Object) -> None:
    """Select one object alone and make it active."""
    for other in context.selected_objects:
        other.select_set(False)
    obj.select_set(True)
    context.view_layer.objects.active = obj


def _look(context: bpy.types.Context) -> None:
    """Frame what is selected in the 3D view, if there is one."""
    if bpy.app.background or context.screen is None:
        return
    for area in context.screen.areas:
        for region in area.regions if area.type == "VIEW_3D" else ():
            if region.type == "WINDOW":
                with context.temp_override(area=area, region=region):
                    bpy.ops.view3d.view_selected()


class _OnRoof:
    """What the operators here share."""

    bl_options = {"REGISTER", "UNDO"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return find_roof(context.object) is not None

    def _pick(self, context: bpy.types.Context, key: str) -> set[str]:
        """Make a member active, or say why not."""
        obj = members.members_of(find_roof(context.object)).get(key)
        if obj is None or obj.name not in context.view_layer.objects:
            self.report({"ERROR"}, f"No member {key} is in this view layer")
            return {"CANCELLED"}
        _make_active(context, obj)
        return {"FINISHED"}


class LOADFALL_OT_pick_worst(_OnRoof, bpy.types.Operator):
    """Pick the member that is used the most, measured by its limit"""

    bl_idname = Op.PICK_WORST.value
    bl_label = "Pick the Worst Member"

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Find it in the last outcome."""
        outcome = SESSION.outcome(find_roof(context.object))
        worst = outcome.solution.worst if outcome else None
        if worst is None:
            self.report({"WARNING"}, "No member of this roof has been rated")
            return {"CANCELLED"}
        return self._pick(context, worst.key)


class LOADFALL_OT_pick_member(_OnRoof, bpy.types.Operator):
    """Pick this member and read its story"""

    bl_idname = Op.PICK_MEMBER.value
    bl_label = "Pick Member"

    key: StringProperty(name="Member", description="Key of the member")
    look: BoolProperty(name="Look at It", description="Turn the view to it")

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Make it active, and look at it where that is asked."""
        done = self._pick(context, self.key)
        if self.look and done == {"FINISHED"}:
            _look(context)
        return done


class LOADFALL_OT_pick_roof(_OnRoof, bpy.types.Operator):
    """Go back from a member to the roof that it belongs to"""

    bl_idname = Op.PICK_ROOF.value
    bl_label = "Back to the Roof"

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Make the roof active."""
        _make_active(context, find_roof(context.object))
        return {"FINISHED"}


CLASSES = (LOADFALL_OT_pick_worst, LOADFALL_OT_pick_member, LOADFALL_OT_pick_roof)
