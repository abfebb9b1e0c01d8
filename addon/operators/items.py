"""Add and remove entries of a roof's lists: walls, gaps, beams, purlins and more."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import bpy
from bpy.props import EnumProperty

from ...solver.errors import SolverError
from ..bridge import brief_io, roofs, starts
from ..bridge.session import SESSION
from ..names import Op
from ..properties import DIRTY, find_roof, roof_of
from .polls import may_change

ITEMS = (
    ("WING", "Wing", "Wings of a rectangular plan"),
    ("WALL", "Wall", "Interior walls"),
    ("OPENING", "Opening", "Gaps in the active wall"),
    ("BEAM", "Beam", "Beams at ceiling level"),
    ("POST", "Post", "Posts under beams and strut feet"),
    ("PURLIN", "Purlin", "Purlin lines"),
    ("STRUTS", "Struts", "Groups of struts (purlin braces)"),
    ("ADDED_STRUT", "Added Strut", "Struts added one by one"),
    ("HIP_BRACE", "Hip Brace", "Braces and posts under hips and ridge ends"),
    ("TRUSS", "Trusses", "Trusses built on the site"),
    ("RIDGE_POST", "Ridge Post", "Posts under a ridge beam"),
    ("OVERRIDE", "Override", "Changes of one member"),
)


@dataclass(frozen=True)
class _List:
    """One list of a roof.

    Attributes:
        holder: the group that has it, from the roof's properties.
        entries, active: names of the list and of its active index.
        new: the record of a new entry from brief and holder, None to leave it as is.
    """

    holder: Callable[[Any], Any]
    entries: str
    active: str
    new: Callable[[Any, Any], Any] | None


def _active_wall(roof: Any) -> Any:
    """Return the active wall of a roof, None where there is none."""
    index = roof.active_wall
    return roof.walls[index] if index < len(roof.walls) else None


LISTS = {
    "WING": _List(
        lambda r: r.footprint,
        "wings",
        "active_wing",
        lambda b, plan: starts.new_wing(b, len(plan.wings) - 1),
    ),
    "WALL": _List(
        lambda r: r, "walls", "active_wall", lambda b, _r: starts.new_wall(b)
    ),
    "OPENING": _List(
        _active_wall,
        "openings",
        "active_opening",
        lambda b, w: starts.new_opening(next(x for x in b.walls if x.name == w.name)),
    ),
    "BEAM": _List(
        lambda r: r, "beams", "active_beam", lambda b, _r: starts.new_beam(b)
    ),
    "POST": _List(
        lambda r: r, "posts", "active_post", lambda b, _r: starts.new_post(b)
    ),
    "PURLIN": _List(
        lambda r: r, "purlins", "active_purlin", lambda b, _r: starts.new_purlin(b)
    ),
    "STRUTS": _List(
        lambda r: r, "struts", "active_strut", lambda b, _r: starts.new_struts(b)
    ),
    "ADDED_STRUT": _List(
        lambda r: r,
        "added_struts",
        "active_added_strut",
        lambda b, _r: starts.new_added_strut(b),
    ),
    "HIP_BRACE": _List(
        lambda r: r,
        "hip_braces",
        "active_hip_brace",
        lambda b, _r: starts.new_hip_brace(b),
    ),
    "TRUSS": _List(
        lambda r: r, "trusses", "active_truss", lambda b, _r: starts.new_truss(b)
    ),
    "RIDGE_POST": _List(lambda r: r.ridge, "posts", "active_post", None),
    "OVERRIDE": _List(lambda r: r, "overrides", "active_override", None),
}


class _ListOperator:
    """What adding and removing share."""

    bl_options = {"REGISTER", "UNDO"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return may_change(cls, context)

    def _solve(self, context: bpy.types.Context, roof: bpy.types.Object) -> None:
        """Solve now, so that the step that undo remembers is whole."""
        try:
            SESSION.rebuild(roof, context.scene)
        except SolverError as error:
            self.report({"WARNING"}, str(error))


class LOADFALL_OT_item_add(_ListOperator, bpy.types.Operator):
    """Add an entry to this list"""

    bl_idname = Op.ITEM_ADD.value
    bl_label = "Add"

    kind: EnumProperty(name="List", items=ITEMS)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Add it with values that fit the roof as it is."""
        roof, which = find_roof(context.object), LISTS[self.kind]
        stated = roof_of(roof)
        holder = which.holder(stated)
        if holder is None:
            self.report({"ERROR"}, "Add a wall first")
            return {"CANCELLED"}
        outcome = SESSION.outcome(roof)
        try:
            brief = roofs.brief_of(roof, context.scene)
        except SolverError as error:
            if outcome is None:
                self.report({"ERROR"}, str(error))
                return {"CANCELLED"}
            brief = outcome.brief
        with DIRTY.paused():
            entry = getattr(holder, which.entries).add()
            setattr(holder, which.active, len(getattr(holder, which.entries)) - 1)
        if which.new is not None:
            record = which.new(brief, holder)
            scale = brief_io.scale_of(context.scene)
            brief_io.write_entry(stated, entry, record, scale)
        self._solve(context, roof)
        return {"FINISHED"}


class LOADFALL_OT_item_remove(_ListOperator, bpy.types.Operator):
    """Remove the active entry of this list"""

    bl_idname = Op.ITEM_REMOVE.value
    bl_label = "Remove"

    kind: EnumProperty(name="List", items=ITEMS)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Remove it and step back to the one before."""
        roof, which = find_roof(context.object), LISTS[self.kind]
        holder = which.holder(roof_of(roof))
        entries = getattr(holder, which.entries) if holder is not None else ()
        index = getattr(holder, which.active, 0)
        if index >= len(entries):
            self.report({"WARNING"}, "This list is empty")
            return {"CANCELLED"}
        with DIRTY.paused():
            entries.remove(index)
            setattr(holder, which.active, max(0, index - 1))
        self._solve(context, roof)
        return {"FINISHED"}


CLASSES = (LOADFALL_OT_item_add, LOADFALL_OT_item_remove)
