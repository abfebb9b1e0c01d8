"""Search the members of a roof by key, kind or use, and pick one."""

import bpy
from bpy.props import EnumProperty

from ..bridge import view
from ..bridge.session import SESSION
from ..names import Op
from ..properties import find_roof

_KEPT: list[tuple[str, str, str]] = []  # Blender needs the texts to stay alive


def _items(
    _operator: object, context: bpy.types.Context | None
) -> list[tuple[str, str, str]]:
    """Return every member of the active roof, the most used first."""
    roof = find_roof(context.object) if context else None
    outcome = SESSION.outcome(roof) if roof else None
    if outcome is None:
        return []
    members = outcome.solution.members.values()
    ranked = sorted(members, key=lambda m: -(m.utilisation or 0.0))
    _KEPT[:] = [
        (
            m.key,
            f"{m.key}, {view.role_word(m.role)}{_use(m.utilisation)}",
            str(m.verdict),
        )
        for m in ranked
    ]
    return _KEPT


def _use(use: float | None) -> str:
    """Return a use as the end of a line."""
    return "" if use is None else f", {use:.2f}"


class LOADFALL_OT_search_member(bpy.types.Operator):
    """Search the members by key, kind or use, and pick one; the most used come first"""

    bl_idname = Op.SEARCH_MEMBER.value
    bl_label = "Search Members"
    bl_options = {"REGISTER", "UNDO"}
    bl_property = "key"

    key: EnumProperty(name="Member", items=_items)

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active."""
        roof = find_roof(context.object)
        return roof is not None and SESSION.outcome(roof) is not None

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Open the list to type in."""
        context.window_manager.invoke_search_popup(self)
        return {"RUNNING_MODAL"}

    def execute(self, _context: bpy.types.Context) -> set[str]:
        """Pick it and look at it."""
        return bpy.ops.loadfall.pick_member(key=self.key, look=True)


CLASSES = (LOADFALL_OT_search_member,)
