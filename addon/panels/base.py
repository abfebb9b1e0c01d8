"""What all panels share: the tab, wrapped text, and fields that show a refusal."""

import textwrap
from collections.abc import Iterable
from typing import Any

import bpy

from ..names import TAB
from ..properties import find_roof, roof_of

_CHARACTER = 5.7  # pixels of a usual character at a scale of 1
_MARGIN = 52  # pixels beside the text at a scale of 1: tabs and padding


class Panel:
    """A panel of the tab that shows the active roof, or that of the active member."""

    bl_space_type = "VIEW_3D"
    bl_region_type = "UI"
    bl_category = TAB

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return find_roof(context.object) is not None


def write(
    layout: bpy.types.UILayout,
    context: bpy.types.Context,
    text: str,
    icon: str = "NONE",
) -> None:
    """Draw text over as many lines as the region's width needs."""
    scale = context.preferences.system.ui_scale or 1.0
    room = int((context.region.width / scale - _MARGIN) / _CHARACTER)
    if icon != "NONE":
        room -= 5
    column = layout.column(align=True)
    column.scale_y = 0.8
    for n, line in enumerate(textwrap.wrap(text, max(room, 18)) or [""]):
        if icon == "NONE":
            column.label(text=line)
        else:
            column.label(text=line, icon=icon if n == 0 else "BLANK1")


def write_pairs(layout: bpy.types.UILayout, pairs: Iterable[tuple[str, str]]) -> None:
    """Draw names beside their values."""
    column = layout.column(align=True)
    for name, value in pairs:
        row = column.row()
        row.label(text=name)
        row.label(text=value)


class Fields:
    """Draws stated fields; the one that was refused stands out.

    Attributes:
        stated: the roof's properties.
    """

    def __init__(self, layout: bpy.types.UILayout, roof: bpy.types.Object) -> None:
        layout.use_property_split = True  # labels left, fields right
        layout.use_property_decorate = False
        self.layout, self.stated = layout, roof_of(roof)
        self._refused = self.stated.message_field

    def within(self, layout: bpy.types.UILayout) -> "Fields":
        """Return the same drawing into another layout."""
        return Fields(layout, self.stated.id_data)

    def show(self, group: Any, path: str, *names: str) -> None:
        """Draw properties of a group whose fields lie under a path of the brief."""
        for name in names:
            row = self.layout.row()
            where = f"{path}.{name}".lstrip(".")
            refused = self._refused in (where, f"{where}[0]", f"{where}[1]")
            row.alert = refused
            row.prop(group, name)
            self._explain(refused)

    def show_loads(self, group: Any, path: str, *names: str) -> None:
        """Draw surface loads with their unit in the label."""
        unit = "kPa" if self.stated.loads_in == "METRIC" else "psf"
        for name in names:
            row = self.layout.split(factor=0.54)
            refused = self._refused == f"{path}.{name}"
            row.alert = refused
            words = row.row()
            words.alignment = "RIGHT"
            words.label(text=f"{group.bl_rna.properties[name].name} ({unit})")
            row.prop(group, name, text="")
            self._explain(refused)

    def show_lumber(self, group: Any, path: str, *, plies: bool = True) -> None:
        """Draw size, species, grade and plies."""
        names = ("size", "species", "grade", "plies")
        self.show(group, path, *(names if plies else names[:-1]))

    def show_optional(self, group: Any, path: str, name: str) -> None:
        """Draw an optional field behind its tick."""
        row = self.layout.row(heading=group.bl_rna.properties[f"use_{name}"].name)
        refused = self._refused == f"{path}.{name}".lstrip(".")
        row.alert = refused
        row.prop(group, f"use_{name}", text="")
        sub = row.row()
        sub.active = getattr(group, f"use_{name}")
        sub.prop(group, name, text="")
        self._explain(refused)

    def _explain(self, refused: bool) -> None:
        """Say under a refused field why, and how to mend it."""
        if refused:
            column = self.layout.column()
            column.alert = True
            write(column, bpy.context, self.stated.message, "CANCEL")
