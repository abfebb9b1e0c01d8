"""What to hand over: brief, results and report; and the roof as a whole."""

import bpy

from ..names import Op
from .base import Panel


class LOADFALL_PT_share(Panel, bpy.types.Panel):
    """Write the roof down for others"""

    bl_idname = "LOADFALL_PT_share"
    bl_label = "Export"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, _context: bpy.types.Context) -> None:
        """Draw it."""
        column = self.layout.column(align=True)
        column.operator(Op.EXPORT_RESULTS.value, icon="FILE_TEXT")
        column.operator(Op.EXPORT_SHEET.value, icon="DOCUMENTS")
        column.operator(Op.EXPORT_GLTF.value, icon="MESH_CUBE")
        column.operator(Op.EXPORT_BRIEF.value, icon="EXPORT")
        column.operator(Op.IMPORT_BRIEF.value, icon="IMPORT")
        column = self.layout.column(align=True)
        column.operator(Op.REBUILD.value, icon="FILE_REFRESH")
        column.operator(Op.DELETE_ROOF.value, icon="TRASH")


CLASSES = (LOADFALL_PT_share,)
