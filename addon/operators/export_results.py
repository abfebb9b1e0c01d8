"""Write brief, results and report of the roof into a folder."""

import bpy
from bpy.props import StringProperty

from ..bridge import export
from ..bridge.session import SESSION
from ..names import Op
from ..properties import find_roof


class LOADFALL_OT_export_results(bpy.types.Operator):
    """Write brief.json, results.json and report.html into a folder"""

    bl_idname = Op.EXPORT_RESULTS.value
    bl_label = "Export Report"

    directory: StringProperty(name="Folder", subtype="DIR_PATH")
    filter_folder: bpy.props.BoolProperty(default=True, options={"HIDDEN"})

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active."""
        roof = find_roof(context.object)
        return roof is not None and SESSION.outcome(roof) is not None

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Ask for the folder."""
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write the files of the last good outcome."""
        outcome = SESSION.outcome(find_roof(context.object))
        try:
            written = export.write(outcome.solution, bpy.path.abspath(self.directory))
        except OSError as error:
            self.report({"ERROR"}, f"{self.directory}: {error.strerror}")
            return {"CANCELLED"}
        self.report({"INFO"}, "Written: " + ", ".join(p.name for p in written))
        return {"FINISHED"}


CLASSES = (LOADFALL_OT_export_results,)
