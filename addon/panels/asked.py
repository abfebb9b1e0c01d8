"""Answers to what was asked by a click, side by side where there are several."""

import bpy

from ..bridge import asking, view
from ..bridge.pipeline import Outcome
from ..names import Op
from ..properties import find_roof, roof_of
from .base import Panel, write, write_pairs

_ICONS = {"MEMBER": "MOD_LENGTH", "WALL": "MOD_BUILD", "PATCH": "MESH_PLANE"}


def answer(outcome: Outcome, item: bpy.types.PropertyGroup) -> asking.Answer | None:
    """Return the answer about one thing that was asked, None where it is gone."""
    if item.kind == "MEMBER":
        return asking.member(outcome, item.key)
    if item.kind == "WALL":
        return asking.wall(outcome, item.key)
    patch = asking.patch(outcome, tuple(item.point))
    return asking.about_patch(outcome, patch) if patch else None


class LOADFALL_PT_asked(Panel, bpy.types.Panel):
    """Click a member, a wall or the roof, and read where its load goes"""

    bl_idname = "LOADFALL_PT_asked"
    bl_label = "Pick and Ask"

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active."""
        roof = find_roof(context.object)
        return roof is not None and view.outcome_of(roof) is not None

    def draw(self, context: bpy.types.Context) -> None:
        """Draw the ways to ask, then every answer; the last one in full."""
        layout, roof = self.layout, find_roof(context.object)
        row = layout.row(align=True)
        for what, text, icon in (
            ("THING", "Member, Wall", "EYEDROPPER"),
            ("PATCH", "Patch of Roof", "MESH_PLANE"),
        ):
            row.operator(Op.ASK_CLICK.value, text=text, icon=icon).what = what
        items = roof_of(roof).asked
        outcome = view.outcome_of(roof)
        for n, item in enumerate(items):
            found = answer(outcome, item)
            box = layout.box()
            if found is None:
                write(box, context, f"{item.key}: no longer in this roof", "CANCEL")
                continue
            write(box, context, found.title, _ICONS[item.kind])
            if found.verdict:
                words = found.verdict[0].upper() + found.verdict[1:]
                write(box, context, words, view.icon_of(found.verdict))
            if n < len(items) - 1:  # beside the others: the few numbers to compare
                write_pairs(box, found.heads)
                continue
            for sentence in found.sentences:
                write(box, context, sentence)
        if items:
            layout.operator(Op.ASK_CLEAR.value, icon="X")


class LOADFALL_PT_asked_numbers(Panel, bpy.types.Panel):
    """Every number of what was asked, side by side"""

    bl_idname = "LOADFALL_PT_asked_numbers"
    bl_parent_id = "LOADFALL_PT_asked"
    bl_label = "Numbers"
    bl_options = {"DEFAULT_CLOSED"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """Something must have been asked."""
        return bool(roof_of(find_roof(context.object)).asked)

    def draw(self, context: bpy.types.Context) -> None:
        """Draw them."""
        roof = find_roof(context.object)
        for item in roof_of(roof).asked:
            found = answer(view.outcome_of(roof), item)
            if found is not None:
                write(self.layout, context, found.title)
                for name, value in found.numbers:
                    write(self.layout, context, f"{name}: {value}")


CLASSES = (LOADFALL_PT_asked, LOADFALL_PT_asked_numbers)
