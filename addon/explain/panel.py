"""The Explain panel: lessons, how far one is, and what can be written of it."""

import bpy

from ..bridge import kept, view
from ..names import TAB, Op
from ..panels.base import write
from ..properties import find_roof
from . import lessons
from .jobs import JOBS
from .theatre import LESSON


class LOADFALL_PT_explain(bpy.types.Panel):
    """Lessons made of this roof: story boards, film and a web page"""

    bl_idname = "LOADFALL_PT_explain"
    bl_label = "Explain"
    bl_space_type = "VIEW_3D"
    bl_region_type = "UI"
    bl_category = TAB
    bl_options = {"DEFAULT_CLOSED"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active, or a lesson shown."""
        if LESSON in context.scene:
            return True
        roof = find_roof(context.object)
        return roof is not None and view.outcome_of(roof) is not None

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        if JOBS.now is not None:
            self._progress(JOBS.now.title, JOBS.now.part, JOBS.now.words)
        elif LESSON in context.scene:
            self._lesson(context)
        else:
            self._lessons(context)

    def _progress(self, title: str, part: float, words: str) -> None:
        """Draw how far the work is, and how to stop it."""
        self.layout.label(text=title)
        self.layout.progress(factor=part, text=words)
        self.layout.operator(Op.EXPLAIN_STOP.value, icon="CANCEL")

    def _lessons(self, context: bpy.types.Context) -> None:
        """Draw what can be made of the roof."""
        column = self.layout.column(align=True)
        for key, (title, _) in lessons.LESSONS.items():
            button = column.operator(
                Op.EXPLAIN.value, text=title, icon="PLAY", translate=False
            )
            button.lesson = key
        column = self.layout.column(align=True)
        for name in kept.others(find_roof(context.object)):
            button = column.operator(
                Op.EXPLAIN_BESIDE.value, text=f"Beside {name}", icon="MOD_MIRROR"
            )
            button.variant = name
        self.layout.operator(Op.EXPLAIN_PAGE.value, icon="WORLD")

    def _lesson(self, context: bpy.types.Context) -> None:
        """Draw what can be done with the lesson that is shown."""
        write(
            self.layout,
            context,
            "Space plays the lesson. Its captions are text objects: change them.",
        )
        column = self.layout.column(align=True)
        for kind, text in (("STILLS", "Write Pictures"), ("FILM", "Write Film")):
            button = column.operator(
                Op.EXPLAIN_WRITE.value, text=text, icon="RENDER_ANIMATION"
            )
            button.kind = kind
        self.layout.operator(Op.EXPLAIN_LEAVE.value, icon="LOOP_BACK")
        write(self.layout, context, view.CAUTION)


def register() -> None:
    """Register the panel."""
    bpy.utils.register_class(LOADFALL_PT_explain)


def unregister() -> None:
    """Take it out again."""
    bpy.utils.unregister_class(LOADFALL_PT_explain)
