"""The first panel: what the roof is worth, and the door to a new one."""

import bpy

from ..bridge import view
from ..names import TAB, Op
from ..properties import find_roof, roof_of, settings_of
from ..properties.roof import MODES
from .base import write


class LOADFALL_PT_overview(bpy.types.Panel):
    """Verdict, overlay and caution"""

    bl_idname = "LOADFALL_PT_overview"
    bl_label = "Loadfall"
    bl_space_type = "VIEW_3D"
    bl_region_type = "UI"
    bl_category = TAB

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        layout = self.layout
        roof = find_roof(context.object)
        if roof is None:
            write(layout, context, "Pick a roof or one of its members, or add one.")
            layout.operator(Op.ADD_ROOF.value, icon="HOME")
            layout.operator(Op.IMPORT_BRIEF.value, icon="IMPORT")
        else:
            if roof.library is not None:
                write(layout, context, view.LINKED, "LINKED")
            _draw_verdict(layout, context, roof)
            _draw_overlay(layout, context)
        box = layout.column()
        box.active = False
        write(box, context, view.CAUTION)


def _draw_verdict(
    layout: bpy.types.UILayout, context: bpy.types.Context, roof: bpy.types.Object
) -> None:
    """Draw what the roof is worth, and a refusal above it."""
    stated, outcome = roof_of(roof), view.outcome_of(roof)
    box = layout.box()
    if outcome is None:
        if stated.message:
            write(box, context, stated.message, "CANCEL")
        box.label(text=roof.name, icon="HOME")
        box.operator(Op.REBUILD.value, icon="FILE_REFRESH")
        return
    summary = view.summary(outcome)
    head = box.column()
    if stated.message:  # in the verdict's place, so that no field moves away
        head.alert = True
        head.label(text="Refused; the last good roof is shown", icon="CANCEL")
    elif view.is_out_of_date(roof):
        head.label(text="Out of date: solved once you let go", icon="TIME")
    else:
        head.alert = summary.icon in ("CANCEL", "ERROR")
        write(head, context, f"{roof.name}: {summary.verdict}", summary.icon)
    if summary.worst:
        box.active = not view.is_out_of_date(roof)
        box.operator(
            Op.PICK_WORST.value,
            text=f"Worst: {summary.worst}, {summary.use:.2f} of its limit",
            icon="RESTRICT_SELECT_OFF",
        )
        box.operator(Op.SEARCH_MEMBER.value, icon="VIEWZOOM")


def _draw_overlay(layout: bpy.types.UILayout, context: bpy.types.Context) -> None:
    """Draw the overlay's modes, one at a time, and its switches."""
    settings = settings_of(context.scene)
    grid = layout.grid_flow(row_major=True, columns=2, even_columns=True, align=True)
    for mode, name, _, icon, _ in MODES:
        shown = settings.show and settings.mode == mode
        made = grid.operator(Op.OVERLAY.value, text=name, icon=icon, depress=shown)
        made.mode = mode
    row = layout.row(align=True)
    row.enabled = settings.show
    row.prop(settings, "labels", icon="SYNTAX_OFF")
    row.prop(settings, "handles", icon="EMPTY_SINGLE_ARROW")
    if settings.mode == "INFLUENCE":
        layout.prop(settings, "quantity")


CLASSES = (LOADFALL_PT_overview,)
