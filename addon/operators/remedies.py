"""Find what to build instead, look at one of the remedies, and build it."""

import sys
from pathlib import Path

import bpy
from bpy.props import StringProperty

from ...solver.errors import SolverError
from ..bridge import choices, export, kept
from ..bridge.choices import CHOICES
from ..bridge.search_job import SearchJob
from ..bridge.session import SESSION
from ..names import Op
from ..properties import DIRTY, find_roof, roof_of
from ..properties.roof import redraw
from .polls import has_choices, may_change

_BEAT = 0.1  # s between looks at the search
_COMPARISON = "loadfall-comparison"  # file in Blender's temporary folder
_SHARE = 0.001  # s after which the search lets the interface go on


class _Solved:
    """A solved roof must be active."""

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active."""
        roof = find_roof(context.object)
        return roof is not None and SESSION.outcome(roof) is not None


class _Changes:
    """An operator that changes a solved roof."""

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof that may be changed must be active."""
        if not may_change(cls, context):
            return False
        return SESSION.outcome(find_roof(context.object)) is not None


class LOADFALL_OT_find_remedies(_Solved, bpy.types.Operator):
    """Build, solve and check what could be built instead, remedy by remedy"""

    bl_idname = Op.FIND_REMEDIES.value
    bl_label = "Find What to Build"
    bl_options = {"REGISTER"}

    _timer = None
    _roof = ""
    _told = -1
    _interval = 0.0

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Search to the end at once, as a script wants it."""
        roof = find_roof(context.object)
        job = CHOICES.begin(roof, SESSION.outcome(roof))
        job.work()
        return self._ended(context, roof)

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Search beside the interface."""
        roof = find_roof(context.object)
        self._roof = roof.name
        CHOICES.begin(roof, SESSION.outcome(roof)).start()
        manager = context.window_manager
        self._interval = sys.getswitchinterval()
        sys.setswitchinterval(_SHARE)
        self._timer = manager.event_timer_add(_BEAT, window=context.window)
        manager.progress_begin(0, 100)
        manager.modal_handler_add(self)
        return {"RUNNING_MODAL"}

    def modal(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Show how far it is; end with it."""
        roof = bpy.data.objects.get(self._roof)
        job = CHOICES.job(roof) if roof is not None else None
        if event.type == "ESC" and event.value == "PRESS" and job is not None:
            CHOICES.stop(roof)
            job = None
        if job is None:
            self._leave(context)
            return {"CANCELLED"}
        if event.type == "TIMER":
            self._tell(context, job)
            if not job.is_running:
                self._leave(context)
                return self._ended(context, roof)
        return {"PASS_THROUGH"}

    def _tell(self, context: bpy.types.Context, job: SearchJob) -> None:
        """Show how many roofs are solved, where that has changed."""
        if job.solved == self._told:
            return
        self._told = job.solved
        context.window_manager.progress_update(int(100 * job.part))
        context.workspace.status_text_set(
            f"Solving roofs: {job.solved} of about {job.expected}. Esc stops"
        )
        for area in context.screen.areas:
            for region in area.regions if area.type == "VIEW_3D" else ():
                if region.type == "UI":
                    region.tag_redraw()

    def cancel(self, context: bpy.types.Context) -> None:
        """Stop with Blender, or with the file."""
        roof = bpy.data.objects.get(self._roof)
        if roof is not None:
            CHOICES.stop(roof)
        self._leave(context)

    def _leave(self, context: bpy.types.Context) -> None:
        """Give timer, cursor and status line back."""
        manager = context.window_manager
        sys.setswitchinterval(self._interval)
        manager.event_timer_remove(self._timer)
        manager.progress_end()
        context.workspace.status_text_set(None)
        redraw(None, context)

    def _ended(self, context: bpy.types.Context, roof: bpy.types.Object) -> set[str]:
        """Keep what was found and tell it."""
        job = CHOICES.job(roof)
        found = CHOICES.take(roof)
        redraw(None, context)
        if found is None:
            self.report({"ERROR"}, job.error or "The search was stopped")
            return {"CANCELLED"}
        solving = sum(one.solves for one in found.remedies)
        words = f"{len(found.remedies)} remedies tried, {solving} pass these checks"
        self.report({"INFO"}, words if found.remedies else "Nothing to mend was found")
        with DIRTY.paused():
            best = next((one for one in found.remedies if one.unbeaten), None)
            roof_of(roof).remedy = best.key if best else ""
        return {"FINISHED"}


class LOADFALL_OT_stop_search(bpy.types.Operator):
    """Stop the search; what was found before stays"""

    bl_idname = Op.STOP_SEARCH.value
    bl_label = "Stop"

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Stop it."""
        roof = find_roof(context.object)
        if roof is not None:
            CHOICES.stop(roof)
        return {"FINISHED"}


class LOADFALL_OT_pick_remedy(_Solved, bpy.types.Operator):
    """Read what this remedy is, what it costs and what it leaves"""

    bl_idname = Op.PICK_REMEDY.value
    bl_label = "Look at Remedy"
    bl_options = {"REGISTER", "UNDO"}

    key: StringProperty(name="Remedy")

    @classmethod
    def description(
        cls, context: bpy.types.Context, properties: bpy.types.OperatorProperties
    ) -> str:
        """Return the whole title, which a narrow sidebar cuts short."""
        found = CHOICES.of(find_roof(context.object))
        titles = {one.key: one.title for one in found.remedies} if found else {}
        return f"{titles.get(properties.key, 'The roof as it is')}. {cls.__doc__}"

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Look at it."""
        roof_of(find_roof(context.object)).remedy = self.key
        return {"FINISHED"}


class LOADFALL_OT_apply_remedy(_Changes, bpy.types.Operator):
    """Build this remedy into the roof, and keep the roof as it was as a variant"""

    bl_idname = Op.APPLY_REMEDY.value
    bl_label = "Build This"
    bl_options = {"REGISTER", "UNDO"}

    key: StringProperty(name="Remedy", description="Empty: the roof as it was")

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Change the roof to the remedy's brief."""
        roof = find_roof(context.object)
        found = CHOICES.of(roof)
        one = choices.remedy_of(found, self.key) if found else None
        if found is None or (self.key and one is None):
            self.report({"ERROR"}, "No such remedy; find what to build first")
            return {"CANCELLED"}
        brief, name = found.before.brief, kept.EXISTING
        if one is not None:
            brief, name = one.brief, one.title
            SESSION.pipeline.learn(one.solution)
        try:
            outcome = kept.apply(roof, context.scene, name, brief)
        except SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        context.view_layer.objects.active = roof
        self.report({"INFO"}, f"{name}: {outcome.solution.overall}")
        return {"FINISHED"}


class LOADFALL_OT_show_comparison(bpy.types.Operator):
    """Open the chart, table and pictures of every remedy in the web browser"""

    bl_idname = Op.SHOW_COMPARISON.value
    bl_label = "Compare in Browser"

    filepath: StringProperty(
        name="File", subtype="FILE_PATH", description="Empty: a temporary file"
    )

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """What to do must have been found for the active roof."""
        return has_choices(cls, context)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write the page and open it; without a window it is written alone."""
        roof = find_roof(context.object)
        stated = bpy.path.abspath(self.filepath)
        path = Path(stated or Path(bpy.app.tempdir) / f"{_COMPARISON}.html")
        try:
            export.write_comparison(CHOICES.of(roof), path)
        except OSError as error:
            self.report({"ERROR"}, f"{path}: {error.strerror}")
            return {"CANCELLED"}
        self.report({"INFO"}, f"Written: {path}")
        if not bpy.app.background:
            bpy.ops.wm.url_open(url=path.resolve().as_uri())
        return {"FINISHED"}


CLASSES = (
    LOADFALL_OT_find_remedies,
    LOADFALL_OT_stop_search,
    LOADFALL_OT_pick_remedy,
    LOADFALL_OT_apply_remedy,
    LOADFALL_OT_show_comparison,
)
