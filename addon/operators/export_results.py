"""Write what others can open: report and lists, the sheet, and the roof in 3D."""

from pathlib import Path

import bpy
from bpy.props import StringProperty

from ...solver.errors import SolverError
from ..bridge import export, gltf
from ..bridge.choices import CHOICES
from ..bridge.session import SESSION
from ..names import Op
from ..properties import find_roof, roof_of
from .polls import has_choices


class LOADFALL_OT_export_results(bpy.types.Operator):
    """Write report, results, brief, and the lists of pieces as CSV into a folder"""

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


class LOADFALL_OT_export_sheet(bpy.types.Operator):
    """Write one page to hand over, before, after and what to do, and its calculation"""

    bl_idname = Op.EXPORT_SHEET.value
    bl_label = "Export Sheet"

    directory: StringProperty(name="Folder", subtype="DIR_PATH")
    filter_folder: bpy.props.BoolProperty(default=True, options={"HIDDEN"})

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """What to do must have been found for the active roof."""
        return has_choices(cls, context)

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Ask for the folder."""
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write the files of the remedy that is looked at."""
        roof = find_roof(context.object)
        folder = bpy.path.abspath(self.directory)
        found, key = CHOICES.of(roof), roof_of(roof).remedy
        try:
            written = export.write_sheet_of(found, folder, key)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        except OSError as error:
            self.report({"ERROR"}, f"{self.directory}: {error.strerror}")
            return {"CANCELLED"}
        self.report({"INFO"}, "Written: " + ", ".join(p.name for p in written))
        return {"FINISHED"}


class LOADFALL_OT_export_gltf(bpy.types.Operator):
    """Write the roof in 3D, shaded by use, as one glTF file that most viewers open"""

    bl_idname = Op.EXPORT_GLTF.value
    bl_label = "Export 3D (glTF)"

    filepath: StringProperty(name="File", subtype="FILE_PATH")
    filter_glob: StringProperty(default="*.glb", options={"HIDDEN"})

    poll = LOADFALL_OT_export_results.poll

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Ask for the file."""
        self.filepath = "roof.glb"
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write the last good outcome."""
        outcome = SESSION.outcome(find_roof(context.object))
        path = Path(bpy.path.abspath(self.filepath)).with_suffix(".glb")
        try:
            gltf.write(outcome, path)
        except OSError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        self.report({"INFO"}, f"Written: {path.name}")
        return {"FINISHED"}


CLASSES = (
    LOADFALL_OT_export_results,
    LOADFALL_OT_export_sheet,
    LOADFALL_OT_export_gltf,
)
