"""Which roofs have changed since they were last built, and the one timer for them.

Property updates only mark here; the work is done later, out of the update, by the
function that handlers.py sets. Knows nothing of that work.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic

import bpy

DELAY = 0.02  # s, so that one edit of ten properties is one rebuild


class Dirty:
    """The changed roofs, by the session id of their object."""

    def __init__(self) -> None:
        self.uids: set[int] = set()
        self.last = 0.0  # s on time.monotonic(), when the last change came
        self.work: Callable[[], float | None] | None = None
        self._paused = 0

    def mark(self, roof: bpy.types.ID) -> None:
        """Note that a roof has changed, and see to it that the timer runs."""
        if self._paused:
            return
        self.uids.add(roof.session_uid)
        self.last = monotonic()
        self.schedule()

    def schedule(self) -> None:
        """Start the timer unless it runs, or there is nobody to work."""
        if self.work is None or bpy.app.background:
            return
        if not bpy.app.timers.is_registered(self.work):
            bpy.app.timers.register(self.work, first_interval=DELAY)

    @contextmanager
    def paused(self) -> Iterator[None]:
        """Let properties be written without marking."""
        self._paused += 1
        try:
            yield
        finally:
            self._paused -= 1


DIRTY = Dirty()


def touch(group: bpy.types.PropertyGroup, _context: bpy.types.Context) -> None:
    """Mark the roof that a property group belongs to; the update of every property."""
    DIRTY.mark(group.id_data)
