"""Struts added one by one, and changes of single members."""

import bpy

from ..properties import find_roof
from .base import Fields, Panel
from .lists import draw_list
from .supports import draw_foot


class LOADFALL_PT_added_struts(Panel, bpy.types.Panel):
    """Struts added one by one, each with a name, a place and a foot of its own"""

    bl_idname = "LOADFALL_PT_added_struts"
    bl_parent_id = "LOADFALL_PT_supports"
    bl_label = "Added Struts"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        stated = fields.stated
        found = draw_list(
            fields, stated, "ADDED_STRUT", "added_struts", "active_added_strut"
        )
        if found is None:
            return
        strut, index = found
        path = f"added_struts[{index}]"
        fields.show(strut, path, "name", "purlin", "at")
        draw_place(fields, strut.foot, f"{path}.foot")
        fields.show_lumber(strut, path)
        fields.show(strut, path, "held_at_mid", "stiffener", "toe_nail")
        for name in ("foot_nails", "top_nails"):
            fields.show_optional(strut, path, name)


class LOADFALL_PT_changes(Panel, bpy.types.Panel):
    """Changes of single members, kept with their sticks through every rebuild"""

    bl_idname = "LOADFALL_PT_changes"
    bl_parent_id = "LOADFALL_PT_framing"
    bl_label = "Single Members"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        found = draw_list(
            fields, fields.stated, "OVERRIDE", "overrides", "active_override"
        )
        if found is None:
            self.layout.label(text="Pick a member to change it alone")
            return
        change, index = found
        path = f"overrides[{index}]"
        fields.show(change, path, "member")
        fields.show_optional(change, path, "near")
        fields.show(change, path, "removed")
        if change.removed:
            return
        fields.show(change, path, "size", "species", "grade")
        fields.show_optional(change, path, "plies")
        if change.member.startswith("ST-"):
            self.layout.prop(change, "use_foot")
            if change.use_foot:
                draw_place(fields, change.foot, f"{path}.foot")
        if change.member.startswith("P-"):
            fields.show_optional(change, path, "from_plate")


def draw_place(fields: Fields, foot: bpy.types.PropertyGroup, path: str) -> None:
    """Draw what a single foot stands on, and where."""
    if draw_foot(fields, foot, path):
        fields.show_optional(foot, path, "from_plate")
    fields.show_optional(foot, path, "at")


CLASSES = (LOADFALL_PT_added_struts, LOADFALL_PT_changes)
