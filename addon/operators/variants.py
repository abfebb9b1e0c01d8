"""Keep, show and forget named variants of a roof."""

import bpy
from bpy.props import StringProperty

from ...solver.errors import SolverError
from ..bridge import kept, roofs
from ..bridge.starts import free_name
from ..names import Op
from ..properties import find_roof, roof_of
from .polls import may_change


class _OnRoof:
    """A roof or one of its members must be active."""

    bl_options = {"REGISTER", "UNDO"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return may_change(cls, context)


class LOADFALL_OT_keep_variant(_OnRoof, bpy.types.Operator):
    """Keep the roof as it is now as a variant with a name"""

    bl_idname = Op.KEEP_VARIANT.value
    bl_label = "Keep as Variant"

    name: StringProperty(name="Name", description="Empty: a name that is free")

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Keep it; the variant that was shown keeps what it was, too."""
        roof = find_roof(context.object)
        taken = [v.name for v in roof_of(roof).variants]
        stem = "Proposed" if taken else kept.EXISTING
        try:
            brief = roofs.brief_of(roof, context.scene)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        kept.keep(roof, self.name or free_name(taken, stem), brief)
        return {"FINISHED"}


class LOADFALL_OT_show_variant(_OnRoof, bpy.types.Operator):
    """Show this variant; the one that was shown keeps every edit"""

    bl_idname = Op.SHOW_VARIANT.value
    bl_label = "Show Variant"

    name: StringProperty(name="Name", description="Empty: the next one")

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Change the roof to it."""
        roof = find_roof(context.object)
        names = [v.name for v in roof_of(roof).variants]
        if not names:
            self.report({"ERROR"}, "This roof has no variants; keep one first")
            return {"CANCELLED"}
        shown = roof_of(roof).shown_variant
        after = (names.index(shown) + 1) % len(names) if shown in names else 0
        try:
            outcome = kept.show(roof, context.scene, self.name or names[after])
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        if context.object is None:
            context.view_layer.objects.active = roof
        self.report(
            {"INFO"}, f"{self.name or names[after]}: {outcome.solution.overall}"
        )
        return {"FINISHED"}


class LOADFALL_OT_remove_variant(_OnRoof, bpy.types.Operator):
    """Forget this variant; the roof stays as it is"""

    bl_idname = Op.REMOVE_VARIANT.value
    bl_label = "Forget Variant"

    name: StringProperty(name="Name")

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Forget it."""
        kept.remove(find_roof(context.object), self.name)
        return {"FINISHED"}


CLASSES = (
    LOADFALL_OT_keep_variant,
    LOADFALL_OT_show_variant,
    LOADFALL_OT_remove_variant,
)
