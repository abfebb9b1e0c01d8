"""A roof over an outline that the user drew as mesh faces or as a curve."""

import bpy

from ...solver.errors import SolverError
from ...solver.units import System
from ..bridge import brief_io, outlines, roofs
from ..bridge.starts import FeetOn, Start
from ..names import Op
from ..properties import find_roof, settings_of
from . import fields

_DRAWN = ("MESH", "CURVE")


class LOADFALL_OT_roof_from_outline(bpy.types.Operator):
    """Add a roof over the selected faces of a mesh, or over a closed curve"""

    bl_idname = Op.ROOF_FROM_OUTLINE.value
    bl_label = "Roof over Outline"
    bl_options = {"REGISTER", "UNDO"}

    pitch: fields.pitch("Rise in 12 of run over every side; change single sides after")
    overhang: fields.overhang()
    spacing: fields.spacing()
    size: fields.size("2x8")

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """Something drawn must be active that is no member of a roof."""
        obj = context.object
        if obj is None or obj.type not in _DRAWN or find_roof(obj) is not None:
            cls.poll_message_set("Pick a mesh or a closed curve that is drawn on plan")
            return False
        return context.mode in ("OBJECT", "EDIT_MESH", "EDIT_CURVE")

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Read the outline and make the roof."""
        scene, drawn = context.scene, context.object
        scale = brief_io.scale_of(scene)
        metric = scene.unit_settings.system == "METRIC"
        fields.begin(self, metric=metric, scale=scale)
        start = Start(
            length=0.0,
            width=0.0,
            pitch=round(self.pitch, 4) / 12,
            overhang=brief_io.typed_length(self.overhang, scale),
            spacing=brief_io.typed_length(self.spacing, scale),
            size=self.size,
            feet=FeetOn.NONE,
            units=System.METRIC if metric else System.IMPERIAL,
        )
        try:
            corners, place = outlines.corners_of(drawn, scene)
            brief = brief_io.checked(outlines.outlined_roof(start, corners))
            roof = roofs.create(brief, scene)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        roof.location = place
        if context.mode != "OBJECT":
            bpy.ops.object.mode_set(mode="OBJECT")
        for obj in context.selected_objects:
            obj.select_set(False)
        roof.select_set(True)
        context.view_layer.objects.active = roof
        settings_of(scene).show = True
        return {"FINISHED"}


def draw_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    """Draw the entry of the Add menu."""
    menu.layout.operator(
        Op.ROOF_FROM_OUTLINE.value,
        text=LOADFALL_OT_roof_from_outline.bl_label,
        icon="HOME",
    )


CLASSES = (LOADFALL_OT_roof_from_outline,)
