"""Says that Blender is busy, where something takes longer than a blink."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

import bpy

BLINK = 0.2  # s


@contextmanager
def busy(seconds: float, steps: int) -> Iterator[Callable[[], None]]:
    """Show progress at the mouse while something is done; yields the next step.

    Args:
        seconds: that it will take, 0 where nobody knows.
        steps: of it.
    """
    manager, done = bpy.context.window_manager, 0

    def step() -> None:
        nonlocal done
        done += 1
        manager.progress_update(done)

    if bpy.app.background or 0 < seconds < BLINK:
        yield lambda: None
        return
    manager.progress_begin(0, steps)
    try:
        yield step
    finally:
        manager.progress_end()
