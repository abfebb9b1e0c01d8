"""Plan and form of the roof."""

import bpy

from ..names import Op
from ..properties import find_roof
from .base import Fields, Panel
from .lists import draw_list


class LOADFALL_PT_shape(Panel, bpy.types.Panel):
    """Plan and form of the roof"""

    bl_idname = "LOADFALL_PT_shape"
    bl_label = "Shape"

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        roof = find_roof(context.object)
        fields = Fields(self.layout, roof)
        stated = fields.stated
        self.layout.operator_menu_enum(Op.HOUSE.value, "house", icon="HOME")
        drawn = stated.footprint.shape == "OUTLINE"
        if not drawn:
            fields.show(stated.footprint, "footprint", "length", "width")
            fields.show(stated.roof, "roof", "form")
        fields.show(stated.roof, "roof", "pitch", "overhang")
        if stated.roof.form in ("HIP", "DUTCH_GABLE") and not drawn:
            fields.show_optional(stated.roof, "roof", "end_pitch")
        else:
            fields.show(stated.roof, "roof", "rake_overhang")
        if _has(stated, "DUTCH_GABLE"):
            fields.show(stated.roof, "roof", "setback")
        if _has(stated, "GAMBREL"):
            self._draw_breaks(fields)
        fields.show(stated, "", "units")
        if drawn:
            self._draw_sides(fields)

    def _draw_breaks(self, fields: Fields) -> None:
        """Draw what the slopes do above their breaks, and what holds these."""
        gambrel = fields.stated.roof.gambrel
        names = ["upper_pitch", "from_plate", "knee_walls"]
        names += ["lined"] if gambrel.knee_walls else []
        names += ["ties", "gussets", "size", "piece_size"]
        fields.show(gambrel, "roof.gambrel", *names)

    def _draw_sides(self, fields: Fields) -> None:
        """Draw the sides of a drawn outline, each with what its roof does."""
        box = fields.layout.box()
        box.use_property_split = False
        for n, corner in enumerate(fields.stated.footprint.outline, start=1):
            row = box.row(align=True)
            row.label(text=f"C{n} on")
            row.prop(corner, "edge", text="")
            if corner.edge in ("EAVE", "GAMBREL", "DUTCH_GABLE"):
                row.prop(corner, "use_pitch", text="", icon="MOD_SIMPLIFY")
                pitch = row.row(align=True)
                pitch.active = corner.use_pitch
                pitch.prop(corner, "pitch", text="")
            box.row().prop(corner, "at", text="")


class LOADFALL_PT_wings(Panel, bpy.types.Panel):
    """Parts of the house that stand out of a side of its rectangle, each with a roof"""

    bl_idname = "LOADFALL_PT_wings"
    bl_parent_id = "LOADFALL_PT_shape"
    bl_label = "Wings"
    bl_options = {"DEFAULT_CLOSED"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A drawn outline has its wings in its corners."""
        roof = find_roof(context.object)
        return roof is not None and roof.loadfall.footprint.shape != "OUTLINE"

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        plan = fields.stated.footprint
        found = draw_list(fields, plan, "WING", "wings", "active_wing")
        if found is None:
            return
        wing, n = found
        name = f"footprint.wings[{n}]"
        fields.show(wing, name, "side", "start", "width", "length", "end")
        fields.show_optional(wing, name, "pitch")


def _has(stated: bpy.types.PropertyGroup, kind: str) -> bool:
    """Return whether the roof, or a side of its drawn outline, is of a kind."""
    if stated.footprint.shape != "OUTLINE":
        return stated.roof.form == kind
    return any(corner.edge == kind for corner in stated.footprint.outline)


CLASSES = (LOADFALL_PT_shape, LOADFALL_PT_wings)
