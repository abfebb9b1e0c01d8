"""Arrows in the view that the roof's handles are dragged by.

Each arrow starts the operator that moves its handle, so that undo, typing and snapping
are the same by mouse, by menu and by keyboard.
"""

import bpy
from mathutils import Matrix, Vector

from ..bridge import brief_io, handles
from ..names import Op
from ..properties import find_roof, settings_of
from . import palette

_SIZE = 0.85  # of an arrow, in the gizmos' own measure
_COLOUR = "#ffe45a"


class LOADFALL_GGT_handles(bpy.types.GizmoGroup):
    """Handles of the active roof"""

    bl_idname = "LOADFALL_GGT_handles"
    bl_label = "Roof Handles"
    bl_space_type = "VIEW_3D"
    bl_region_type = "WINDOW"
    bl_options = {"3D", "PERSISTENT", "SHOW_MODAL_ALL"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """The overlay must be on, with handles, and a roof itself active."""
        settings = settings_of(context.scene)
        roof = find_roof(context.object)
        on = settings.show and settings.handles and roof is not None
        return on and roof == context.object and context.mode == "OBJECT"

    def setup(self, context: bpy.types.Context) -> None:
        """Make the arrows."""
        self.refresh(context)

    def refresh(self, context: bpy.types.Context) -> None:
        """Make an arrow for every handle, where there are others than before."""
        found = self._found(context)
        wanted = [(h.kind.value, h.index) for h in found]
        if wanted == getattr(self, "made", None):
            return
        self.gizmos.clear()
        for kind, index in wanted:
            arrow = self.gizmos.new("GIZMO_GT_arrow_3d")
            target = arrow.target_set_operator(Op.ADJUST.value)
            target.what, target.index = kind, index
            arrow.color = palette.srgb(_COLOUR).tolist()
            arrow.color_highlight = palette.srgb(palette.HATCHED).tolist()
            arrow.alpha, arrow.alpha_highlight = 0.95, 1.0
            arrow.line_width = 3.0
            arrow.scale_basis = _SIZE
        self.made = wanted
        self.draw_prepare(context)

    def draw_prepare(self, context: bpy.types.Context) -> None:
        """Put every arrow where its handle is now."""
        roof = find_roof(context.object)
        if roof is None:
            return
        scale = brief_io.scale_of(context.scene)
        world = roof.matrix_world.normalized()
        for arrow, one in zip(self.gizmos, self._found(context), strict=False):
            turn = Vector((0, 0, 1)).rotation_difference(Vector(one.direction))
            place = roof.matrix_world @ Vector(one.place / scale)
            turned = world.to_quaternion() @ turn
            arrow.matrix_basis = Matrix.LocRotScale(place, turned, None)

    def _found(self, context: bpy.types.Context) -> list[handles.Handle]:
        """Return the handles of the active roof."""
        roof = find_roof(context.object)
        if roof is None:
            return []
        return handles.handles_of(roof, brief_io.scale_of(context.scene))


def register() -> None:
    """Add the arrows."""
    bpy.utils.register_class(LOADFALL_GGT_handles)


def unregister() -> None:
    """Take them out."""
    bpy.utils.unregister_class(LOADFALL_GGT_handles)
