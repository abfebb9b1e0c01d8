"""Make a lesson, write it as pictures or film, write the page, stop, and go back."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import bpy
from bpy.props import EnumProperty, StringProperty

from ..bridge import kept, view
from ..bridge.choices import CHOICES
from ..bridge.session import SESSION
from ..names import Op
from ..properties import find_roof, roof_of
from . import edits, film, jobs, lessons, page, pair, theatre
from .ink import Style
from .jobs import JOBS, Job
from .theatre import LESSON, Made, Steps

_BEAT, _SHARE = 0.05, 0.08  # s between turns of work, and for each
_MADE: dict[str, Made] = {}  # scene name to what was built in this session

LESSONS = tuple((key, title, "") for key, (title, _) in lessons.LESSONS.items())
STYLES = (
    (Style.SHADED.value, "Shaded", "In the colours of use"),
    (Style.LINES.value, "Lines", "Black on white, for printing"),
)
QUALITIES = (
    ("fast", "Fast", "Few samples; a film holds each picture for two frames"),
    ("fine", "Fine", "Smooth edges, every frame of a film"),
)
KINDS = (
    ("STILLS", "Pictures", "A PNG for each step"),
    ("FILM", "Film", "One MP4"),
)


class _Works:
    """Runs a job beside the interface; a script's call runs it to its end."""

    _timer = None

    def start(self, context: bpy.types.Context, job: Job, *, wait: bool) -> set[str]:
        """Begin a job."""
        if JOBS.now is not None:
            self.report({"ERROR"}, f"Still at work: {JOBS.now.title}")
            return {"CANCELLED"}
        JOBS.now = job
        if wait:
            return self._turn(context, float("inf"))
        manager = context.window_manager
        self._timer = manager.event_timer_add(_BEAT, window=context.window)
        manager.progress_begin(0, 100)
        manager.modal_handler_add(self)
        return {"RUNNING_MODAL"}

    def modal(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Work a little at each beat; stop at Esc."""
        job = JOBS.now
        if job is not None and event.type == "ESC" and event.value == "PRESS":
            job.is_stopped = True
        if event.type != "TIMER" and not (job is None or job.is_stopped):
            return {"PASS_THROUGH"}
        return self._turn(context, _SHARE)

    def _turn(self, context: bpy.types.Context, seconds: float) -> set[str]:
        """Work for a while and tell how far it is."""
        job = JOBS.now
        if job is None:
            return self._end(context, {"CANCELLED"})
        try:
            more = job.go_on(seconds)
        except (lessons.SolverError, OSError, RuntimeError) as error:
            self.report({"ERROR"}, str(error))
            return self._end(context, {"CANCELLED"})
        if more:
            context.window_manager.progress_update(int(100 * job.part))
            context.workspace.status_text_set(f"{job.title}: {job.words}. Esc stops")
            _redraw(context)
            return {"RUNNING_MODAL"}
        if job.is_stopped:
            self.report({"INFO"}, f"{job.title}: stopped")
        return self._end(context, {"CANCELLED"} if job.is_stopped else {"FINISHED"})

    def cancel(self, context: bpy.types.Context) -> None:
        """Stop with Blender, or with the file."""
        if JOBS.now is not None:
            JOBS.now.steps.close()
        self._end(context, {"CANCELLED"})

    def _end(self, context: bpy.types.Context, status: set[str]) -> set[str]:
        """Give timer, cursor and status line back."""
        JOBS.now = None
        if self._timer is not None:
            context.window_manager.event_timer_remove(self._timer)
            context.window_manager.progress_end()
            context.workspace.status_text_set(None)
            self._timer = None
        _redraw(context)
        return status


def _redraw(context: bpy.types.Context) -> None:
    """Have the sidebars drawn again."""
    for area in context.screen.areas if context.screen else ():
        if area.type == "VIEW_3D":
            area.tag_redraw()


class LOADFALL_OT_explain(_Works, bpy.types.Operator):
    """Make a story board of this roof: a scene with camera, captions and keyframes"""

    bl_idname = Op.EXPLAIN.value
    bl_label = "Make Lesson"
    bl_options = {"REGISTER"}

    lesson: EnumProperty(name="Lesson", items=LESSONS)
    style: EnumProperty(name="Style", items=STYLES)

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active, and nothing at work."""
        roof = find_roof(context.object)
        return roof is not None and view.outcome_of(roof) is not None

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Make it at once, as a script wants it."""
        return self._begin(context, wait=True)

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Make it beside the interface."""
        return self._begin(context, wait=False)

    def _begin(self, context: bpy.types.Context, *, wait: bool) -> set[str]:
        """Compose and build."""
        roof = find_roof(context.object)
        outcome = view.outcome_of(roof)
        known = CHOICES.of(roof)
        if known is not None:
            outcome.once("remedies", lambda: known)
        title = lessons.LESSONS[self.lesson][0]
        job = Job(
            title, self._steps(outcome), lambda made: _show(context, made, self.report)
        )
        return self.start(context, job, wait=wait)

    def _steps(self, outcome: view.Outcome) -> Steps[Made]:
        """Work from the roof to the lesson's scene."""
        told = yield from jobs.composing(self.lesson, outcome, SESSION.pipeline)
        return (yield from theatre.building(told, Style(self.style)))


def _show(context: bpy.types.Context, made: object, tell: Callable) -> None:
    """Go to a lesson's scene, seen through its camera, changed words carried over.

    Args:
        context: of the operator.
        made: the lesson.
        tell: is the operator's ``report``.
    """
    assert isinstance(made, Made)
    scene = bpy.data.scenes[made.scene]
    scene[_FROM] = context.scene.name
    before = _before(scene)
    for edit in edits.carry(before, scene) if before else ():
        tell(
            {"WARNING"},
            f"Your words in {edit.step or 'the title'} stay in {before.name}: this "
            f"lesson says something else there now. They are: {edit.words}",
        )
    _MADE[made.scene] = made
    context.window.scene = scene
    for space in _views(context):
        scene[_VIEW] = [space.shading.type, space.shading.color_type]
        space.region_3d.view_perspective = "CAMERA"
        space.shading.type, space.shading.color_type = "SOLID", "MATERIAL"
        space.overlay.show_overlays = False


def _before(scene: bpy.types.Scene) -> bpy.types.Scene | None:
    """Return the last scene of the same lesson made before from the same place."""
    same = (scene[LESSON], scene[_FROM])
    found = [
        s
        for s in bpy.data.scenes
        if s != scene and LESSON in s and (s[LESSON], s.get(_FROM)) == same
    ]
    return max(found, key=lambda s: s.name, default=None)


def _views(context: bpy.types.Context) -> list[bpy.types.SpaceView3D]:
    """Return the 3D views of the window."""
    areas = context.screen.areas if context.screen else ()
    return [area.spaces.active for area in areas if area.type == "VIEW_3D"]


_VIEW = "loadfall_view"  # custom property of a lesson's scene: how its views were


_FROM = "loadfall_from"  # custom property of a lesson's scene: where the user came from


class LOADFALL_OT_explain_beside(_Works, bpy.types.Operator):
    """Show a kept variant of this roof beside it: one camera, one scale, one legend"""

    bl_idname = Op.EXPLAIN_BESIDE.value
    bl_label = "Side by Side"
    bl_options = {"REGISTER"}

    variant: StringProperty(name="Variant", description="Name of the kept variant")
    style: EnumProperty(name="Style", items=STYLES)

    poll = LOADFALL_OT_explain.poll

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Make it at once, as a script wants it."""
        return self._begin(context, wait=True)

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Make it beside the interface."""
        return self._begin(context, wait=False)

    def _begin(self, context: bpy.types.Context, *, wait: bool) -> set[str]:
        """Solve the variant, compose and build."""
        roof = find_roof(context.object)
        try:
            other = SESSION.pipeline.run(kept.brief_of(roof, self.variant))
            names = roof_of(roof).shown_variant or "As it is", self.variant
            told = pair.compose(view.outcome_of(roof), other, names)
        except lessons.SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        steps = theatre.building(told, Style(self.style))
        job = Job(told.title, steps, lambda made: _show(context, made, self.report))
        return self.start(context, job, wait=wait)


class LOADFALL_OT_render_variants(_Works, bpy.types.Operator):
    """Render this roof beside each other variant that is kept, into a folder"""

    bl_idname = Op.RENDER_VARIANTS.value
    bl_label = "Render Side by Side"
    bl_options = {"REGISTER"}

    directory: StringProperty(name="Folder", subtype="DIR_PATH")
    filter_folder: bpy.props.BoolProperty(default=True, options={"HIDDEN"})
    style: EnumProperty(name="Style", items=STYLES)
    quality: EnumProperty(name="Quality", items=QUALITIES)

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof with another variant must be active."""
        if not LOADFALL_OT_explain.poll(context):
            return False
        if not kept.others(find_roof(context.object)):
            cls.poll_message_set("Keep another variant of this roof first")
            return False
        return True

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Ask for the folder."""
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Render them: beside the interface where there is one."""
        roof = find_roof(context.object)
        shown = roof_of(roof).shown_variant or "As it is"
        try:
            told = [
                pair.compose(
                    view.outcome_of(roof),
                    SESSION.pipeline.run(kept.brief_of(roof, name)),
                    (shown, name),
                )
                for name in kept.others(roof)
            ]
        except lessons.SolverError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        steps = self._steps(told, Path(bpy.path.abspath(self.directory)))
        job = Job(self.bl_label, steps, self._tell)
        return self.start(context, job, wait=bpy.app.background)

    def _steps(self, told: list[lessons.Lesson], folder: Path) -> Steps[list[Path]]:
        """Build, render and leave one pair after the other."""
        written: list[Path] = []
        for one in told:
            made = yield from theatre.building(one, Style(self.style))
            try:
                into = folder / bpy.path.clean_name(one.title)
                written += yield from film.taking_stills(
                    made, into, film.PRESETS[self.quality]
                )
            finally:
                theatre.remove(bpy.data.scenes[made.scene])
        return written

    def _tell(self, written: object) -> None:
        """Say what was written."""
        assert isinstance(written, list)
        self.report({"INFO"}, f"Written: {len(written)} pictures in {self.directory}")


class _InLesson:
    """A lesson's scene must be shown."""

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A lesson's scene must be shown."""
        return LESSON in context.scene


class LOADFALL_OT_explain_write(_InLesson, _Works, bpy.types.Operator):
    """Write this lesson into a folder, as a picture of each step or as a film"""

    bl_idname = Op.EXPLAIN_WRITE.value
    bl_label = "Write Lesson"
    bl_options = {"REGISTER"}

    directory: StringProperty(name="Folder", subtype="DIR_PATH")
    filter_folder: bpy.props.BoolProperty(default=True, options={"HIDDEN"})
    kind: EnumProperty(name="As", items=KINDS)
    quality: EnumProperty(name="Quality", items=QUALITIES)
    clear: bpy.props.BoolProperty(
        name="Clear Background", description="Pictures without a background"
    )

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Ask for the folder."""
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write it: beside the interface where there is one."""
        made = _MADE.get(context.scene.name)
        if made is None:
            self.report(
                {"ERROR"}, "This lesson is from another session: make it again, or "
                "render the scene with Blender's own Render menu",
            )  # fmt: skip
            return {"CANCELLED"}
        folder = Path(bpy.path.abspath(self.directory))
        quality = film.PRESETS[self.quality]
        if self.kind == "FILM":
            steps = film.filming(made, folder / f"{made.lesson.key}.mp4", quality)
        else:
            steps = film.taking_stills(made, folder, quality, clear=self.clear)
        job = Job(made.lesson.title, steps, self._tell)
        return self.start(context, job, wait=bpy.app.background)

    def _tell(self, written: object) -> None:
        """Say what was written."""
        paths = written if isinstance(written, list) else [written]
        self.report({"INFO"}, "Written: " + ", ".join(p.name for p in paths))


class LOADFALL_OT_explain_page(bpy.types.Operator):
    """Write the roof in 3D into one HTML file that any phone opens without a network"""

    bl_idname = Op.EXPLAIN_PAGE.value
    bl_label = "Write Web Page"

    filepath: StringProperty(name="File", subtype="FILE_PATH")
    filter_glob: StringProperty(default="*.html", options={"HIDDEN"})

    poll = LOADFALL_OT_explain.poll

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Ask for the file."""
        self.filepath = "roof.html"
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write it."""
        outcome = view.outcome_of(find_roof(context.object))
        path = Path(bpy.path.abspath(self.filepath)).with_suffix(".html")
        try:
            page.write(outcome, path)
        except (lessons.SolverError, OSError) as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        self.report({"INFO"}, f"Written: {path.name}")
        return {"FINISHED"}


class LOADFALL_OT_explain_stop(bpy.types.Operator):
    """Stop what is being made; nothing of it is left"""

    bl_idname = Op.EXPLAIN_STOP.value
    bl_label = "Stop"

    def execute(self, _context: bpy.types.Context) -> set[str]:
        """Stop it."""
        if JOBS.now is not None:
            JOBS.now.is_stopped = True
        return {"FINISHED"}


class LOADFALL_OT_explain_leave(_InLesson, bpy.types.Operator):
    """Go back to the roof; the lesson's scene stays in the file"""

    bl_idname = Op.EXPLAIN_LEAVE.value
    bl_label = "Back to the Roof"

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Show the scene that the lesson was made from, or any that is no lesson."""
        wanted = bpy.data.scenes.get(str(context.scene.get(_FROM, "")))
        others = [s for s in bpy.data.scenes if LESSON not in s]
        if wanted is None and not others:
            self.report({"ERROR"}, "This file holds lessons alone")
            return {"CANCELLED"}
        kind, colour = context.scene.get(_VIEW, ("SOLID", "MATERIAL"))
        context.window.scene = wanted or others[0]
        for space in _views(context):
            space.region_3d.view_perspective = "PERSP"
            space.shading.type, space.shading.color_type = kind, colour
            space.overlay.show_overlays = True
        return {"FINISHED"}


CLASSES = (
    LOADFALL_OT_explain,
    LOADFALL_OT_explain_beside,
    LOADFALL_OT_render_variants,
    LOADFALL_OT_explain_write,
    LOADFALL_OT_explain_page,
    LOADFALL_OT_explain_stop,
    LOADFALL_OT_explain_leave,
)


def register() -> None:
    """Register the operators."""
    for cls in CLASSES:
        bpy.utils.register_class(cls)


def unregister() -> None:
    """Take them out again."""
    JOBS.now = None
    _MADE.clear()
    for cls in reversed(CLASSES):
        bpy.utils.unregister_class(cls)
