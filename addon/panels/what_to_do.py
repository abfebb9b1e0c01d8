"""What to do: remedies side by side, each solved, and the variants of the roof."""

import bpy

from ...solver.units import System
from ..bridge import choices, view
from ..bridge.choices import CHOICES
from ..bridge.pipeline import Outcome
from ..names import Op
from ..properties import find_roof, roof_of
from .base import Panel, write, write_pairs


def _lengths(context: bpy.types.Context, outcome: Outcome) -> System:
    """Return the units of lengths: the scene's, else the roof's."""
    system = context.scene.unit_settings.system
    if system == "NONE":
        return view.system_of(outcome)
    return System.METRIC if system == "METRIC" else System.IMPERIAL


class LOADFALL_PT_what_to_do(Panel, bpy.types.Panel):
    """What could be built instead, each built, solved and checked, side by side"""

    bl_idname = "LOADFALL_PT_what_to_do"
    bl_label = "What to Do"
    bl_options = {"DEFAULT_CLOSED"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active."""
        roof = find_roof(context.object)
        return roof is not None and view.outcome_of(roof) is not None

    def draw(self, context: bpy.types.Context) -> None:
        """Draw the search, then the table of what it found."""
        layout, roof = self.layout, find_roof(context.object)
        outcome, job = view.outcome_of(roof), CHOICES.job(roof)
        if job is not None:
            words = f"{job.solved} of about {job.expected} roofs"
            layout.progress(factor=job.part, text=words)
            layout.operator(Op.STOP_SEARCH.value, icon="CANCEL")
        else:
            layout.operator(Op.FIND_REMEDIES.value, icon="VIEWZOOM")
        found = CHOICES.of(roof)
        if found is None:
            write(
                layout, context, "Every remedy is built and solved before it is shown"
            )
            return
        if not choices.is_about(found, outcome):
            write(layout, context, "The roof has changed since; find again", "INFO")
        if not found.remedies:
            write(layout, context, "Nothing to mend was found", "CHECKMARK")
            return
        self._draw_table(context, roof, outcome)

    def _draw_table(
        self, context: bpy.types.Context, roof: bpy.types.Object, outcome: Outcome
    ) -> None:
        """Draw a remedy and its measures; the one that is looked at is pressed."""
        column = self.layout.column(align=True)
        lengths = _lengths(context, outcome)
        for row in choices.rows(CHOICES.of(roof), outcome, lengths):
            name = f"{row.title}, built" if row.is_built else row.title
            made = column.operator(
                Op.PICK_REMEDY.value,
                text=name,
                icon=row.icon,
                depress=row.key == roof_of(roof).remedy,
            )
            made.key = row.key
            measures = column.row()
            measures.scale_y, measures.alignment = 0.8, "CENTER"
            measures.label(text=f"Use {row.use}, sag {row.sag}")
        words = "Star: none beats it in every measure. Sag: the ceiling's in ten years"
        write(self.layout, context, words)
        self.layout.operator(Op.SHOW_COMPARISON.value, icon="URL")


class LOADFALL_PT_remedy(Panel, bpy.types.Panel):
    """What the remedy is, what must be in place first, and what it costs"""

    bl_idname = "LOADFALL_PT_remedy"
    bl_parent_id = "LOADFALL_PT_what_to_do"
    bl_label = "This Remedy"

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A remedy must be looked at."""
        roof = find_roof(context.object)
        found = CHOICES.of(roof)
        return found is not None and (
            choices.remedy_of(found, roof_of(roof).remedy) is not None
        )

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it: the words, the button, then the numbers."""
        layout, roof = self.layout, find_roof(context.object)
        one = choices.remedy_of(CHOICES.of(roof), roof_of(roof).remedy)
        write(layout, context, one.title)
        words = "Passes these checks" if one.solves else "Does not pass these checks"
        write(layout, context, words, "CHECKMARK" if one.solves else "ERROR")
        for sentence in choices.says(one):
            write(layout, context, sentence)
        built = view.outcome_of(roof).brief == one.brief
        row = layout.row()
        row.enabled = not built
        row.operator(Op.APPLY_REMEDY.value, icon="MOD_BUILD").key = one.key
        first = choices.before_work(one)
        if first:
            box = layout.box()
            for sentence in first:
                write(
                    box, context, sentence, "ERROR" if sentence == first[0] else "NONE"
                )
        outcome = view.outcome_of(roof)
        write_pairs(layout, choices.numbers(one, _lengths(context, outcome)))


class LOADFALL_PT_variants(Panel, bpy.types.Panel):
    """Existing, proposed and other variants of this roof, switched by a click"""

    bl_idname = "LOADFALL_PT_variants"
    bl_parent_id = "LOADFALL_PT_what_to_do"
    bl_label = "Variants"

    def draw(self, context: bpy.types.Context) -> None:
        """Draw them, and what sets the shown one apart from the first."""
        layout, stated = self.layout, roof_of(find_roof(context.object))
        column = layout.column(align=True)
        for one in stated.variants:
            row = column.row(align=True)
            shown = one.name == stated.shown_variant
            icon = "RADIOBUT_ON" if shown else "RADIOBUT_OFF"
            made = row.operator(
                Op.SHOW_VARIANT.value, text=one.name, icon=icon, depress=shown
            )
            made.name = one.name
            row.operator(Op.REMOVE_VARIANT.value, text="", icon="X").name = one.name
        layout.operator(Op.KEEP_VARIANT.value, icon="ADD")
        if len(stated.variants) > 1:
            layout.operator(Op.RENDER_VARIANTS.value, icon="RENDER_STILL")
        for words in view.beside_first(find_roof(context.object)):
            write(layout, context, words, "DOT")


CLASSES = (LOADFALL_PT_what_to_do, LOADFALL_PT_remedy, LOADFALL_PT_variants)
