"""Begin from a common house, or from the loads of a kind of place or use."""

import bpy
from bpy.props import EnumProperty

from ...solver.errors import SolverError
from ..bridge import brief_io, presets, roofs
from ..names import Op
from ..properties import find_roof
from .polls import may_change

HOUSES = tuple((k, h.name, h.description) for k, h in presets.HOUSES.items())
LOADS = tuple((k, one.name, one.description) for k, one in presets.LOADS.items())


class _Preset:
    """What both have in common."""

    bl_options = {"REGISTER", "UNDO"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return may_change(cls, context)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Change the roof to the preset's brief."""
        roof = find_roof(context.object)
        try:
            brief = self.brief(roofs.brief_of(roof, context.scene))
            roofs.change(roof, brief_io.checked(brief), context.scene)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        context.view_layer.objects.active = roof
        return {"FINISHED"}


class LOADFALL_OT_house(_Preset, bpy.types.Operator):
    """Make this roof that of a common house; its loads stay"""

    bl_idname = Op.HOUSE.value
    bl_label = "Common Houses"

    house: EnumProperty(name="House", items=HOUSES)

    def brief(self, now: object) -> object:
        """Return the brief of the house."""
        return presets.house(self.house, now)


class LOADFALL_OT_loads(_Preset, bpy.types.Operator):
    """Set loads of the span tables' steps; the local authority states its own"""

    bl_idname = Op.LOADS.value
    bl_label = "Common Loads"

    loads: EnumProperty(name="Loads", items=LOADS)

    def brief(self, now: object) -> object:
        """Return the brief with the loads."""
        return presets.loads(self.loads, now)


CLASSES = (LOADFALL_OT_house, LOADFALL_OT_loads)
