"""Read a roof from a brief's JSON file, and write one."""

from pathlib import Path

import bpy
from bpy.props import BoolProperty, StringProperty
from bpy_extras.io_utils import ExportHelper, ImportHelper

from ...solver.errors import SolverError
from ..bridge import briefs, roofs
from ..names import Op
from ..properties import find_roof, settings_of


class LOADFALL_OT_import_brief(bpy.types.Operator, ImportHelper):
    """Read a roof from a brief, the JSON file that the command line reads too"""

    bl_idname = Op.IMPORT_BRIEF.value
    bl_label = "Import Brief"
    bl_options = {"REGISTER", "UNDO"}

    filename_ext = ".json"
    filter_glob: StringProperty(default="*.json", options={"HIDDEN"})
    replace: BoolProperty(
        name="Into the Active Roof",
        description="Change the active roof instead of adding one",
    )

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Read it; what is refused leaves the scene as it was."""
        roof = find_roof(context.object)
        try:
            brief = briefs.load(self.filepath)
            if self.replace and roof is not None:
                roofs.change(roof, brief, context.scene)
            else:
                roof = roofs.create(brief, context.scene)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        for obj in context.selected_objects:
            obj.select_set(False)
        roof.select_set(True)
        context.view_layer.objects.active = roof
        settings_of(context.scene).show = True
        return {"FINISHED"}


class LOADFALL_OT_export_brief(bpy.types.Operator, ExportHelper):
    """Write the roof as a brief, the JSON file that the command line reads"""

    bl_idname = Op.EXPORT_BRIEF.value
    bl_label = "Export Brief"

    filename_ext = ".json"
    filter_glob: StringProperty(default="*.json", options={"HIDDEN"})

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return find_roof(context.object) is not None

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write it."""
        try:
            brief = roofs.brief_of(find_roof(context.object), context.scene)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        try:
            Path(self.filepath).write_text(briefs.text_of(brief), encoding="utf-8")
        except OSError as error:
            self.report({"ERROR"}, f"{self.filepath}: {error.strerror}")
            return {"CANCELLED"}
        return {"FINISHED"}


CLASSES = (LOADFALL_OT_import_brief, LOADFALL_OT_export_brief)
