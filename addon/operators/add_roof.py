"""Add a stick-framed roof at the cursor."""

import bpy
from bpy.props import EnumProperty

from ...solver.errors import SolverError
from ...solver.units import System
from ..bridge import brief_io, roofs
from ..bridge.starts import FeetOn, Start, new_roof
from ..names import Op
from ..properties import settings_of
from . import fields

FEET = (
    (
        "JOISTS",
        "Ceiling Joists",
        "Struts stand plumb on the ceiling joists, as in many attics",
    ),
    ("WALL", "Spine Wall", "Struts lean to a bearing wall along the middle"),
    (
        "NONE",
        "No Struts",
        "Neither purlins nor struts: rafters span from plate to ridge",
    ),
)


class LOADFALL_OT_add_roof(bpy.types.Operator):
    """Add a stick-framed gable roof with its ceiling, solved and shaded"""

    bl_idname = Op.ADD_ROOF.value
    bl_label = "Stick-Framed Roof"
    bl_options = {"REGISTER", "UNDO"}

    length: fields.length(
        "Length", "Length of the house along the ridge", fields.IMPERIAL["length"]
    )
    width: fields.length(
        "Width",
        "Width of the house across the ridge, plate to plate",
        fields.IMPERIAL["width"],
    )
    pitch: fields.pitch("Rise of the roof in 12 of run: 6 is the carpenter's 6:12")
    overhang: fields.overhang()
    spacing: fields.spacing()
    size: fields.size("2x6")
    feet: EnumProperty(
        name="Struts Stand on",
        description="What the struts under the purlins stand on",
        items=FEET,
        default="JOISTS",
    )

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """Objects can be added in object mode alone."""
        return context.mode == "OBJECT"

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Make the roof."""
        scene = context.scene
        scale = brief_io.scale_of(scene)
        metric = scene.unit_settings.system == "METRIC"
        fields.begin(self, metric=metric, scale=scale)
        start = Start(
            length=brief_io.typed_length(self.length, scale),
            width=brief_io.typed_length(self.width, scale),
            pitch=round(self.pitch, 4) / 12,
            overhang=brief_io.typed_length(self.overhang, scale),
            spacing=brief_io.typed_length(self.spacing, scale),
            size=self.size,
            feet=FeetOn(self.feet.lower()),
            units=System.METRIC if metric else System.IMPERIAL,
        )
        try:
            roof = roofs.create(brief_io.checked(new_roof(start)), scene)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        roof.location = scene.cursor.location
        for obj in context.selected_objects:
            obj.select_set(False)
        roof.select_set(True)
        context.view_layer.objects.active = roof
        settings_of(scene).show = True
        return {"FINISHED"}


def draw_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    """Draw the entry of the Add menu."""
    menu.layout.operator(
        Op.ADD_ROOF.value, text=LOADFALL_OT_add_roof.bl_label, icon="HOME"
    )


CLASSES = (LOADFALL_OT_add_roof,)
