"""What is known of every roof in this Blender session, found again whenever needed.

Holds no reference to Blender data: roofs are known by the session id of their object.
"""

from dataclasses import dataclass

import bpy

from ...solver.errors import SolverError
from ..properties import DIRTY, roof_of
from . import brief_io, members
from .pipeline import Outcome, Pipeline


@dataclass
class Known:
    """The last good outcome of a roof."""

    outcome: Outcome


class Session:
    """The outcomes of the roofs, by session id; disposable."""

    def __init__(self) -> None:
        self.pipeline = Pipeline()
        self._known: dict[int, Known] = {}
        self.serial = 0  # goes up with every change, so that drawings know

    def outcome(self, roof: bpy.types.Object) -> Outcome | None:
        """Return the last good outcome of a roof, or None when it was never built."""
        known = self._known.get(roof.session_uid)
        return known.outcome if known else None

    def rebuild(self, roof: bpy.types.Object, scene: bpy.types.Scene) -> Outcome:
        """Read, solve and write a roof.

        Raises:
            SolverError: the brief is refused; the last good roof stays.
        """
        DIRTY.uids.discard(roof.session_uid)
        stated = roof_of(roof)
        try:
            brief = brief_io.read(stated, brief_io.scale_of(scene))
            outcome = self.pipeline.run(brief)
        except SolverError as error:
            with DIRTY.paused():
                stated.message = str(error)
                stated.message_field = str(getattr(error, "field", ""))
            raise
        with DIRTY.paused():
            stated.message = stated.message_field = ""
            members.write(roof, outcome, scene)
        self._known[roof.session_uid] = Known(outcome)
        self.serial += 1
        return outcome

    def forget(self) -> None:
        """Forget every roof, as after loading another file."""
        self._known.clear()
        self.serial += 1


SESSION = Session()
