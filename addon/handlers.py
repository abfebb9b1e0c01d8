"""When roofs are rebuilt: after edits, undo, redo and loading; never inside a render.

Holds Blender's application handlers and the one timer; the work is the bridge's.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic

import bpy
from bpy.app.handlers import persistent

from ..solver.errors import SolverError
from .bridge import orphans
from .bridge.choices import CHOICES
from .bridge.session import SESSION
from .properties import DIRTY, is_roof
from .properties.roof import redraw

_WAIT = 0.25  # s, to look again while something renders
_BEAT = 0.03  # s between looks while roofs change
REST = 0.2  # s without a change after which the hand is taken to have let go


class _Guard:
    """Whether scene data may be written now."""

    def __init__(self) -> None:
        self.rendering = False
        self.working = False
        self.count = 0  # of the objects in this file, when they were last counted
        self.fewer = False  # whether some have gone since the last sweep

    @contextmanager
    def work(self) -> Iterator[None]:
        """Mark the time in which roofs are written."""
        self.working = True
        try:
            yield
        finally:
            self.working = False


GUARD = _Guard()


def roofs() -> Iterator[tuple[bpy.types.Object, bpy.types.Scene]]:
    """Yield every roof of this file, linked ones too, with a scene that shows it."""
    for scene in bpy.data.scenes:
        for obj in scene.objects:
            if is_roof(obj):
                yield obj, scene


def flush() -> None:
    """Rebuild every changed roof now; a refused brief leaves its roof as it was."""
    sweep()
    _each(DIRTY.uids | SESSION.unsettled(), SESSION.rebuild)


def sweep() -> None:
    """Take away the members of roofs that were deleted alone."""
    if GUARD.rendering or GUARD.working:
        return
    GUARD.fewer = False
    with GUARD.work():
        orphans.sweep()
    GUARD.count = 0  # counted anew at the next change


def follow() -> None:
    """Let every changed roof follow its edit; what takes long waits for a rest."""
    _each(DIRTY.uids, SESSION.follow)


def settle() -> None:
    """Let every roof that rests go one short step towards its numbers and marks."""
    _each(SESSION.unsettled(), SESSION.settle)


def _each(
    uids: set[int], work: Callable[[bpy.types.Object, bpy.types.Scene], object]
) -> None:
    """Do something for roofs by session id; nothing of them stays marked as changed."""
    if GUARD.rendering or GUARD.working:
        return
    serial, refused = SESSION.serial, False
    with GUARD.work():
        waiting = set(uids)
        for obj, scene in list(roofs()):
            if obj.session_uid in waiting:
                waiting.discard(obj.session_uid)
                try:
                    work(obj, scene)
                except SolverError:
                    refused = True  # the panel shows the message that the roof holds
        DIRTY.uids.clear()
        SESSION.drop(waiting)
    if refused or SESSION.serial != serial:
        redraw(None, bpy.context)


def on_timer() -> float | None:
    """Follow what has changed; solve and mark once nothing changes any more."""
    if GUARD.rendering:
        return _WAIT
    if GUARD.fewer:
        sweep()
    if DIRTY.uids:
        follow()
    elif SESSION.unsettled() and monotonic() - DIRTY.last >= REST:
        settle()
    return _BEAT if DIRTY.uids or SESSION.unsettled() else None


def mark_all() -> None:
    """Mark every roof of the file as changed."""
    for obj, _ in roofs():
        DIRTY.mark(obj)


@persistent
def on_load(_path: str) -> None:
    """Forget the last file and solve the roofs of this one."""
    DIRTY.uids.clear()
    GUARD.rendering = False
    SESSION.forget()
    CHOICES.forget()
    mark_all()


@persistent
def on_step(_scene: bpy.types.Scene) -> None:
    """Follow an undo or a redo: the properties are the truth."""
    SESSION.distrust()
    GUARD.fewer = True
    DIRTY.schedule()
    if not GUARD.working:
        mark_all()


@persistent
def on_update(scene: bpy.types.Scene, _graph: bpy.types.Depsgraph) -> None:
    """Notice that objects have gone; only counts, for it runs at every change."""
    count = len(bpy.data.objects) + len(scene.objects)
    if count < GUARD.count and not GUARD.working:
        GUARD.fewer = True
        DIRTY.schedule()
    GUARD.count = count


@persistent
def on_save(_path: str) -> None:
    """Settle what waits, so that the file holds the numbers of its own roof."""
    flush()


@persistent
def on_render_begins(_scene: bpy.types.Scene) -> None:
    """Write nothing from now on."""
    GUARD.rendering = True


@persistent
def on_render_ends(_scene: bpy.types.Scene) -> None:
    """Write again."""
    GUARD.rendering = False
    if DIRTY.uids:
        DIRTY.schedule()


HANDLERS = (
    ("load_post", on_load),
    ("depsgraph_update_post", on_update),
    ("save_pre", on_save),
    ("undo_post", on_step),
    ("redo_post", on_step),
    ("render_init", on_render_begins),
    ("render_complete", on_render_ends),
    ("render_cancel", on_render_ends),
)


def on_enabled() -> None:
    """Solve the roofs of a file that was open before the extension was enabled."""
    mark_all()


def register() -> None:
    """Add the handlers, and let changes start the timer."""
    for name, function in HANDLERS:
        getattr(bpy.app.handlers, name).append(function)
    DIRTY.work = on_timer
    # Blender hides its data while it enables an extension.
    bpy.app.timers.register(on_enabled, first_interval=0.0)


def unregister() -> None:
    """Remove handlers and timer, and forget every roof."""
    DIRTY.work = None
    for timer in (on_timer, on_enabled):
        if bpy.app.timers.is_registered(timer):
            bpy.app.timers.unregister(timer)
    for name, function in HANDLERS:
        listed = getattr(bpy.app.handlers, name)
        if function in listed:
            listed.remove(function)
    DIRTY.uids.clear()
    CHOICES.forget()
    SESSION.forget()
    SESSION.pipeline.clear()
