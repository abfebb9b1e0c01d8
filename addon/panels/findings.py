"""What was found: members that do not pass, and rules that are broken."""

import bpy

from ..bridge import readings, view
from ..names import Op
from ..properties import find_roof, roof_of
from .base import Panel, write

_MOST_RULES = 12
_ICONS = {"no load path": "CANCEL", "over its limit": "ERROR", "breaks a rule": "INFO"}


class LOADFALL_PT_findings(Panel, bpy.types.Panel):
    """Members that do not pass, and rules that are broken"""

    bl_idname = "LOADFALL_PT_findings"
    bl_label = "Findings"

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active."""
        roof = find_roof(context.object)
        return roof is not None and view.outcome_of(roof) is not None

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        layout, roof = self.layout, find_roof(context.object)
        summary = view.summary(view.outcome_of(roof))
        layout.active = not view.is_out_of_date(roof)
        if roof_of(roof).message:
            alert = layout.box()
            alert.alert = True
            write(alert, context, roof_of(roof).message, "CANCEL")
        if summary.refusal:
            write(layout, context, summary.refusal, "CANCEL")
        for n, one in enumerate(readings.told(view.outcome_of(roof)), start=1):
            box = layout.box()
            icon = _ICONS.get(str(one.weight), "CHECKMARK")
            write(box, context, f"{n}  {one.head}", icon)
            write(box, context, one.seen)
            if one.section:
                box.label(text=one.section)
            if one.members:
                words = view.named(one.members, 2)
                made = box.operator(
                    Op.PICK_MEMBER.value, text=words, icon="RESTRICT_SELECT_OFF"
                )
                made.key, made.look = one.members[0], True


class LOADFALL_PT_meaning(Panel, bpy.types.Panel):
    """What each finding means, and what to do"""

    bl_idname = "LOADFALL_PT_meaning"
    bl_parent_id = "LOADFALL_PT_findings"
    bl_label = "What It Means"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        outcome = view.outcome_of(find_roof(context.object))
        for n, one in enumerate(readings.told(outcome), start=1):
            box = self.layout.box()
            write(box, context, f"{n}  {one.head}")
            write(box, context, one.means)
            write(box, context, one.do, "FORWARD")


class LOADFALL_PT_rules(Panel, bpy.types.Panel):
    """Prescriptive rules that the roof breaks, each with its section"""

    bl_idname = "LOADFALL_PT_rules"
    bl_parent_id = "LOADFALL_PT_findings"
    bl_label = "Rules Broken"
    bl_options = {"DEFAULT_CLOSED"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A broken rule must be there."""
        return bool(view.summary(view.outcome_of(find_roof(context.object))).rules)

    def draw_header(self, context: bpy.types.Context) -> None:
        """Draw how many there are."""
        summary = view.summary(view.outcome_of(find_roof(context.object)))
        self.layout.label(text=str(len(summary.rules)))

    def draw(self, context: bpy.types.Context) -> None:
        """Draw them, the first dozen."""
        layout = self.layout
        summary = view.summary(view.outcome_of(find_roof(context.object)))
        for line in summary.rules[:_MOST_RULES]:
            box = layout.box()
            write(box, context, line.words, line.icon)
            row = box.row()
            row.label(text=line.detail)
            if line.key:
                row.operator(Op.PICK_MEMBER.value, text=line.key).key = line.key
        if len(summary.rules) > _MOST_RULES:
            rest = len(summary.rules) - _MOST_RULES
            write(layout, context, f"And {rest} more, in the report.")


class LOADFALL_PT_not_checked(Panel, bpy.types.Panel):
    """What nobody looked at here"""

    bl_idname = "LOADFALL_PT_not_checked"
    bl_parent_id = "LOADFALL_PT_findings"
    bl_label = "Not Checked"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        for words in view.NOT_CHECKED:
            write(self.layout, context, words[0].upper() + words[1:], "DOT")


CLASSES = (
    LOADFALL_PT_findings,
    LOADFALL_PT_meaning,
    LOADFALL_PT_rules,
    LOADFALL_PT_not_checked,
)
