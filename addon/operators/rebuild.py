"""Solve and build the roof again."""

import bpy

from ...solver.errors import SolverError
from ..bridge.session import SESSION
from ..names import Op
from ..properties import find_roof
from .polls import may_change


class LOADFALL_OT_rebuild(bpy.types.Operator):
    """Solve the roof again and put every member back where the roof says"""

    bl_idname = Op.REBUILD.value
    bl_label = "Rebuild Roof"
    bl_options = {"REGISTER", "UNDO"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return may_change(cls, context)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Read, solve, write."""
        roof = find_roof(context.object)
        try:
            outcome = SESSION.rebuild(roof, context.scene)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        self.report({"INFO"}, f"{roof.name}: {outcome.solution.overall}")
        return {"FINISHED"}


CLASSES = (LOADFALL_OT_rebuild,)
