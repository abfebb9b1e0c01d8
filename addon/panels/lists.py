"""The lists of walls, beams, posts, purlins and struts, with their buttons."""

from typing import Any

import bpy

from ..names import Op
from .base import Fields

_ICONS = {
    "LoadfallWall": "MOD_BUILD",
    "LoadfallBeam": "FIXED_SIZE",
    "LoadfallPost": "EMPTY_SINGLE_ARROW",
    "LoadfallPurlin": "MOD_SIMPLIFY",
    "LoadfallStruts": "SORT_DESC",
}


class LOADFALL_UL_entries(bpy.types.UIList):
    """Entries by name, with what tells them apart"""

    def draw_item(
        self,
        _context: bpy.types.Context,
        layout: bpy.types.UILayout,
        _data: Any,
        item: Any,
        _icon: int,
        _active_data: Any,
        _active_property: str,
        _index: int = 0,
        _flag: int = 0,
    ) -> None:
        """Draw one entry."""
        kind = type(item).__name__
        icon = _ICONS.get(kind, "DOT")
        if kind == "LoadfallStruts":
            words = item.foot.bl_rna.properties["on"].enum_items[item.foot.on].name
            on = item.foot.name if item.foot.on in ("WALL", "BEAM", "POST") else words
            layout.label(text=f"{item.purlin} on {on}", icon=icon)
        elif kind == "LoadfallHipBrace":
            hip = item.bl_rna.properties["hip"].enum_items[item.hip].name
            layout.label(text=f"{hip} at {item.at:.2g}", icon="SORT_DESC")
        elif kind == "LoadfallOverride":
            changes = (
                "taken out" if item.removed else item.size or f"{item.plies} plies"
            )
            layout.label(text=f"{item.member}: {changes}", icon="MODIFIER")
        elif kind == "LoadfallWing":
            side = item.bl_rna.properties["side"].enum_items[item.side].name
            layout.label(text=f"Wing to the {side.lower()}", icon="MOD_BUILD")
        elif kind in ("LoadfallOpening", "LoadfallRidgePost"):
            for name in ("start", "end") if kind == "LoadfallOpening" else ("value",):
                layout.prop(item, name, text="", emboss=False)
        else:
            layout.prop(item, "name", text="", emboss=False, icon=icon)


def draw_list(
    fields: Fields, holder: Any, kind: str, entries: str, active: str
) -> tuple[Any, int] | None:
    """Draw a list with its buttons; return the active entry and its index."""
    listed = getattr(holder, entries)
    row = fields.layout.row()
    row.template_list(
        "LOADFALL_UL_entries", f"{kind}{entries}", holder, entries, holder, active,
        rows=max(2, min(len(listed), 4)),
    )  # fmt: skip
    buttons = row.column(align=True)
    buttons.operator(Op.ITEM_ADD.value, icon="ADD", text="").kind = kind
    buttons.operator(Op.ITEM_REMOVE.value, icon="REMOVE", text="").kind = kind
    index = getattr(holder, active)
    return (listed[index], index) if index < len(listed) else None


CLASSES = (LOADFALL_UL_entries,)
