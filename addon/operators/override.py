"""Change the active member alone: take it out, or give it one more ply."""

import bpy
from bpy.props import EnumProperty

from ...solver.errors import SolverError
from ..bridge import brief_io, members, starts
from ..bridge.session import SESSION
from ..names import Op
from ..properties import DIRTY, find_roof, roof_of
from .polls import may_change

CHANGES = (
    ("PLY", "Add a Ply", "Nail one more piece of the same size to it"),
    ("REMOVE", "Take Out", "Take it out and see who carries its load instead"),
    ("RESET", "As Its Kind", "Make it like the others of its kind again"),
)


class LOADFALL_OT_override_member(bpy.types.Operator):
    """Change this member alone; the change is kept by its key through every rebuild"""

    bl_idname = Op.OVERRIDE.value
    bl_label = "Change This Member"
    bl_options = {"REGISTER", "UNDO"}

    change: EnumProperty(name="Change", items=CHANGES)

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A member must be active."""
        is_member = members.member_key(context.object) is not None
        return is_member and may_change(cls, context)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write the override and solve."""
        roof, key = find_roof(context.object), members.member_key(context.object)
        stated, outcome = roof_of(roof), SESSION.outcome(roof)
        found = [n for n, o in enumerate(stated.overrides) if o.member == key]
        with DIRTY.paused():
            if self.change == "RESET":
                for n in reversed(found):
                    stated.overrides.remove(n)
            else:
                entry = stated.overrides[found[0]] if found else stated.overrides.add()
                entry.member = key
                if outcome and not found:
                    change = starts.new_override(outcome.solution.framing, key)
                    scale = brief_io.scale_of(context.scene)
                    brief_io.write_entry(stated, entry, change, scale)
                if self.change == "REMOVE":
                    entry.removed = True
                else:
                    now = outcome.solution.members[key].plies if outcome else 1
                    entry.use_plies, entry.plies = True, now + 1
        try:
            SESSION.rebuild(roof, context.scene)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"FINISHED"}
        if self.change == "REMOVE":
            context.view_layer.objects.active = roof
        return {"FINISHED"}


CLASSES = (LOADFALL_OT_override_member,)
