"""The story of the picked member."""

import bpy

from ..bridge import members, view
from ..names import Op
from ..properties import find_roof, roof_of
from .base import Panel, write, write_pairs


def _story(context: bpy.types.Context) -> view.Story | None:
    """Return the story of the active member."""
    key = members.member_key(context.object)
    outcome = view.outcome_of(find_roof(context.object)) if key else None
    return view.story(outcome, key) if outcome else None


class LOADFALL_PT_member(Panel, bpy.types.Panel):
    """What the picked member carries, from where, and how much of its limit"""

    bl_idname = "LOADFALL_PT_member"
    bl_label = "Picked Member"

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A member of a solved roof must be active."""
        return _story(context) is not None

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        layout, story = self.layout, _story(context)
        write(layout, context, story.title)
        head = layout.column()
        head.alert = story.use is not None and story.use > 1.0
        words = story.verdict[0].upper() + story.verdict[1:]
        if story.use is not None:
            words += f" ({story.use:.2f})"
        head.label(text=words, icon=view.icon_of(story.verdict))
        for sentence in story.sentences:
            write(layout, context, sentence)
        layout.operator(Op.PICK_ROOF.value, icon="LOOP_BACK")


class LOADFALL_PT_member_numbers(Panel, bpy.types.Panel):
    """Lumber, forces and sags of the picked member"""

    bl_idname = "LOADFALL_PT_member_numbers"
    bl_parent_id = "LOADFALL_PT_member"
    bl_label = "Numbers"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw them."""
        write_pairs(self.layout, _story(context).numbers)


class LOADFALL_PT_member_checks(Panel, bpy.types.Panel):
    """Every check of the picked member, worst first"""

    bl_idname = "LOADFALL_PT_member_checks"
    bl_parent_id = "LOADFALL_PT_member"
    bl_label = "Checks"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        column = self.layout.column(align=True)
        for name, use in _story(context).checks:
            row = column.row()
            row.alert = use > 1.0
            row.label(text=name.capitalize())
            row.label(text=f"{use:.2f}")


class LOADFALL_PT_member_change(Panel, bpy.types.Panel):
    """Change this member alone"""

    bl_idname = "LOADFALL_PT_member_change"
    bl_parent_id = "LOADFALL_PT_member"
    bl_label = "Change It Alone"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        column = self.layout.column(align=True)
        column.operator_enum(Op.OVERRIDE.value, "change")
        stated = roof_of(find_roof(context.object))
        if stated.overrides:
            self.layout.label(text=f"Changed members: {len(stated.overrides)}")


CLASSES = (
    LOADFALL_PT_member,
    LOADFALL_PT_member_numbers,
    LOADFALL_PT_member_checks,
    LOADFALL_PT_member_change,
)
