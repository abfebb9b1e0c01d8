"""Loads and the choices of the checks."""

import bpy

from ..names import Op
from ..properties import find_roof, roof_of
from .base import Fields, Panel


class LOADFALL_PT_loads(Panel, bpy.types.Panel):
    """Loads on the roof and the ceiling"""

    bl_idname = "LOADFALL_PT_loads"
    bl_label = "Loads"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        fields = Fields(self.layout, find_roof(context.object))
        loads = fields.stated.loads
        self.layout.operator_menu_enum(Op.LOADS.value, "loads", icon="PRESET")
        fields.show_loads(loads, "loads", "roof_dead")
        fields.show(loads, "loads", "roof_dead_on", "self_weight")
        fields.show_loads(loads, "loads", "roof_live")
        fields.show(loads, "loads", "roof_live_reduction")
        fields.show_loads(loads, "loads", "ceiling_dead", "attic_live")
        fields.show(loads, "loads", "attic_live_lasting")
        fields.show_loads(loads, "loads", "wind_uplift")


class LOADFALL_PT_snow(Panel, bpy.types.Panel):
    """Snow on the roof"""

    bl_idname = "LOADFALL_PT_snow"
    bl_parent_id = "LOADFALL_PT_loads"
    bl_label = "Snow"

    def draw_header(self, context: bpy.types.Context) -> None:
        """Draw the tick that brings it in."""
        stated = roof_of(find_roof(context.object))
        self.layout.prop(stated.loads, "use_snow", text="")

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        fields = Fields(self.layout, find_roof(context.object))
        self.layout.active = fields.stated.loads.use_snow
        snow, path = fields.stated.loads.snow, "loads.snow"
        fields.show(snow, path, "stated")
        fields.show_loads(snow, path, "ground" if snow.stated == "GROUND" else "roof")
        if snow.stated == "GROUND":
            fields.show(snow, path, "exposure", "thermal", "importance", "slippery")
        fields.show(snow, path, "unbalanced")


class LOADFALL_PT_checks(Panel, bpy.types.Panel):
    """Choices that the checks need"""

    bl_idname = "LOADFALL_PT_checks"
    bl_parent_id = "LOADFALL_PT_loads"
    bl_label = "Checks"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        fields = Fields(self.layout, find_roof(context.object))
        checks = fields.stated.checks
        fields.show(checks, "checks", "ceiling_finish", "repetitive_under_struts")
        fields.show_optional(checks, "checks", "cross_wall_spacing")


CLASSES = (LOADFALL_PT_loads, LOADFALL_PT_snow, LOADFALL_PT_checks)
