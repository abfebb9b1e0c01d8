"""Add a stick-framed roof at the cursor."""

import bpy
from bpy.props import EnumProperty, FloatProperty, StringProperty

from ...solver.errors import SolverError
from ...solver.units import FOOT, INCH, System
from ..bridge import brief_io, roofs
from ..bridge.starts import FeetOn, Start, new_roof
from ..names import Op
from ..properties import settings_of
from ..properties.kinds import suggest_sizes

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


_METRIC = {"length": 10.0, "width": 8.0, "overhang": 0.4, "spacing": 0.6}
_IMPERIAL = {
    "length": 32 * FOOT,
    "width": 26 * FOOT,
    "overhang": 16 * INCH,
    "spacing": 24 * INCH,
}


class LOADFALL_OT_add_roof(bpy.types.Operator):
    """Add a stick-framed gable roof with its ceiling, solved and shaded"""

    bl_idname = Op.ADD_ROOF.value
    bl_label = "Stick-Framed Roof"
    bl_options = {"REGISTER", "UNDO"}

    length: FloatProperty(
        name="Length",
        description="Length of the house along the ridge",
        unit="LENGTH",
        subtype="DISTANCE",
        default=32 * FOOT,
        soft_min=0.0,
        precision=3,
    )
    width: FloatProperty(
        name="Width",
        description="Width of the house across the ridge, plate to plate",
        unit="LENGTH",
        subtype="DISTANCE",
        default=26 * FOOT,
        soft_min=0.0,
        precision=3,
    )
    pitch: FloatProperty(
        name="Pitch",
        description="Rise of the roof in 12 of run: 6 is the carpenter's 6:12",
        default=6.0,
        soft_min=1.0,
        soft_max=24.0,
        precision=2,
        step=25,
    )
    overhang: FloatProperty(
        name="Eave Overhang",
        description="Rafter tails past the outer wall, on plan",
        unit="LENGTH",
        subtype="DISTANCE",
        default=16 * INCH,
        soft_min=0.0,
        precision=3,
    )
    spacing: FloatProperty(
        name="Spacing",
        description="Spacing of rafters and ceiling joists on centre",
        unit="LENGTH",
        subtype="DISTANCE",
        default=24 * INCH,
        soft_min=0.0,
        precision=3,
    )
    size: StringProperty(
        name="Size",
        description="Size of rafters and ceiling joists, such as 2x6",
        default="2x6",
        search=suggest_sizes,
        search_options={"SUGGESTION"},
    )
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

    def _begin(self, *, metric: bool, scale: float) -> None:
        """Give lengths that nobody stated round values in the scene's own units."""
        for name, metres in (_METRIC if metric else _IMPERIAL).items():
            if not self.properties.is_property_set(name):
                setattr(self, name, metres / scale)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Make the roof."""
        scene = context.scene
        scale = brief_io.scale_of(scene)
        metric = scene.unit_settings.system == "METRIC"
        self._begin(metric=metric, scale=scale)
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
