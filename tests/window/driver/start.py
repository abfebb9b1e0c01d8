"""Runs inside Blender's window: steps through one script's ``main`` from a timer."""

import os
import runpy
import sys
import traceback
from pathlib import Path

import bpy

sys.path.insert(0, str(Path(__file__).resolve().parent))
OUT = Path(os.environ["WINDOW_OUT"])


class Run:
    """One script's generator and how it ends."""

    def __init__(self) -> None:
        self.steps = None

    def start(self):
        space = runpy.run_path(os.environ["WINDOW_SCRIPT"], run_name="window_script")
        return space["main"]()

    def step(self):
        """Go on to the next yield; the timer's function."""
        try:
            if self.steps is None:
                self.steps = self.start()
            return float(next(self.steps) or 0.1)
        except StopIteration:
            self.finish(0)
        except BaseException as error:
            code = error.code if isinstance(error, SystemExit) else 1
            if code:
                traceback.print_exc()
            self.finish(code or 0)
        return None

    def finish(self, code):
        (OUT / "status.txt").write_text(str(code), encoding="utf-8")
        sys.stdout.flush()
        sys.stderr.flush()
        bpy.ops.wm.quit_blender()


bpy.context.preferences.view.show_splash = False
bpy.app.timers.register(Run().step, first_interval=0.5)
