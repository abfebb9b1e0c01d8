"""Rafters, ridge, ceiling joists and ties."""

import bpy

from ..properties import find_roof, roof_of
from .base import Fields, Panel
from .lists import draw_list


class LOADFALL_PT_framing(Panel, bpy.types.Panel):
    """Rafters, ridge, ceiling joists and ties"""

    bl_idname = "LOADFALL_PT_framing"
    bl_label = "Framing"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw the rafters; the rest has panels of its own below."""
        fields = Fields(self.layout, find_roof(context.object))
        rafters = fields.stated.rafters
        self.layout.label(text="Rafters")
        fields.show_lumber(rafters, "rafters")
        fields.show(rafters, "rafters", "spacing")


class _Part(Panel):
    """A part of the framing under its own heading."""

    bl_parent_id = "LOADFALL_PT_framing"


class LOADFALL_PT_ridge(_Part, bpy.types.Panel):
    """Ridge board or ridge beam"""

    bl_idname = "LOADFALL_PT_ridge"
    bl_label = "Ridge"

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        fields = Fields(self.layout, find_roof(context.object))
        ridge = fields.stated.ridge
        fields.show(ridge, "ridge", "kind")
        fields.show_lumber(ridge, "ridge")
        if ridge.kind == "BEAM":
            self.layout.label(text="Posts besides its two ends")
            draw_list(fields, ridge, "RIDGE_POST", "posts", "active_post")


class LOADFALL_PT_hips(_Part, bpy.types.Panel):
    """Hip rafters; unless stated, one size deeper than the rafters"""

    bl_idname = "LOADFALL_PT_hips"
    bl_label = "Hips"

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A hip roof must be active."""
        roof = find_roof(context.object)
        return roof is not None and roof_of(roof).roof.form == "HIP"

    def draw_header(self, context: bpy.types.Context) -> None:
        """Draw the tick that states them."""
        stated = Fields(self.layout, find_roof(context.object)).stated
        self.layout.prop(stated, "use_hips", text="")

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        fields = Fields(self.layout, find_roof(context.object))
        self.layout.active = fields.stated.use_hips
        fields.show_lumber(fields.stated.hips, "hips")
        fields.show(fields.stated.hips, "hips", "stub_joists")


class LOADFALL_PT_ceiling_joists(_Part, bpy.types.Panel):
    """Ceiling joists"""

    bl_idname = "LOADFALL_PT_ceiling_joists"
    bl_label = "Ceiling Joists"

    def draw_header(self, context: bpy.types.Context) -> None:
        """Draw the tick that brings them in."""
        stated = roof_of(find_roof(context.object))
        self.layout.prop(stated, "use_ceiling_joists", text="")

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        fields = Fields(self.layout, find_roof(context.object))
        self.layout.active = fields.stated.use_ceiling_joists
        joists = fields.stated.ceiling_joists
        fields.show_lumber(joists, "ceiling_joists")
        names = ("plies_under_struts", "spacing", "direction", "over_walls")
        fields.show(joists, "ceiling_joists", *names)
        if fields.stated.footprint.shape == "OUTLINE":
            fields.show(joists, "ceiling_joists", "mouths")


class _Ties(_Part):
    """Collar ties or rafter ties."""

    bl_options = {"DEFAULT_CLOSED"}
    name = ""

    def draw_header(self, context: bpy.types.Context) -> None:
        """Draw the tick that brings them in."""
        stated = roof_of(find_roof(context.object))
        self.layout.prop(stated, f"use_{self.name}", text="")

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        fields = Fields(self.layout, find_roof(context.object))
        self.layout.active = getattr(fields.stated, f"use_{self.name}")
        ties = getattr(fields.stated, self.name)
        fields.show_lumber(ties, self.name)
        fields.show(ties, self.name, "height_ratio", "spacing", "acts")


class LOADFALL_PT_collar_ties(_Ties, bpy.types.Panel):
    """Ties near the ridge, against uplift; they hold little thrust"""

    bl_idname = "LOADFALL_PT_collar_ties"
    bl_label = "Collar Ties"
    name = "collar_ties"


class LOADFALL_PT_rafter_ties(_Ties, bpy.types.Panel):
    """Ties low in the attic, which hold the thrust of the rafters"""

    bl_idname = "LOADFALL_PT_rafter_ties"
    bl_label = "Rafter Ties"
    name = "rafter_ties"


class LOADFALL_PT_heel(_Part, bpy.types.Panel):
    """Nails between rafter foot and tie"""

    bl_idname = "LOADFALL_PT_heel"
    bl_label = "Heel Joint"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        fields = Fields(self.layout, find_roof(context.object))
        fields.show(fields.stated.heel_joint, "heel_joint", "nail")
        fields.show_optional(fields.stated.heel_joint, "heel_joint", "count")


CLASSES = (
    LOADFALL_PT_framing,
    LOADFALL_PT_ridge,
    LOADFALL_PT_hips,
    LOADFALL_PT_ceiling_joists,
    LOADFALL_PT_collar_ties,
    LOADFALL_PT_rafter_ties,
    LOADFALL_PT_heel,
)
