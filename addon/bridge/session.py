"""What is known of every roof in this Blender session, found again whenever needed.

Holds no reference to Blender data: roofs are known by the session id of their object.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import bpy

from ...solver.brief import Brief
from ...solver.errors import FramingError, SolverError
from ..properties import DIRTY, roof_of
from . import brief_io, members
from .busy import busy
from .pipeline import AT_ONCE, Outcome, Pipeline
from .shape import Shape

_A_TIME = 120  # members that are marked between two looks at the user's hand


@dataclass
class Known:
    """What is known of a roof.

    Attributes:
        outcome: the last good one.
        moved: where its members lie now, None while that is where the outcome says.
        unmarked: keys of members whose objects do not tell the outcome's results yet.
    """

    outcome: Outcome
    moved: Shape | None = None
    unmarked: tuple[str, ...] = ()


class Session:
    """The outcomes of the roofs, by session id; disposable."""

    def __init__(self) -> None:
        self.pipeline = Pipeline()
        self._known: dict[int, Known] = {}
        self._placed: dict[int, members.Placed] = {}
        self.serial = 0  # goes up with every change, so that drawings know

    def outcome(self, roof: bpy.types.Object) -> Outcome | None:
        """Return the last good outcome of a roof, or None when it was never built."""
        known = self._known.get(roof.session_uid)
        return known.outcome if known else None

    def moved(self, roof: bpy.types.Object) -> Shape | None:
        """Return where the members of a roof lie when its numbers are out of date."""
        known = self._known.get(roof.session_uid)
        return known.moved if known else None

    def unsettled(self) -> set[int]:
        """Return the roofs whose numbers or marks wait, by session id."""
        return {
            uid
            for uid, known in self._known.items()
            if known.moved is not None or known.unmarked
        }

    def rebuild(self, roof: bpy.types.Object, scene: bpy.types.Scene) -> Outcome:
        """Read, solve and write a roof; one that is linked is read and solved alone.

        Raises:
            SolverError: the brief is refused; the last good roof stays.
        """
        if roof.library is not None:
            outcome = self.pipeline.run(_read(roof, scene))
            self._keep(roof, Known(outcome))
            return outcome
        with busy(self._expected(roof), 3) as step:
            try:
                with _told(roof):
                    outcome = self.pipeline.run(_read(roof, scene))
                    _can_hold(roof, outcome.shape)
            except SolverError:
                self._put_back(roof, scene)
                raise
            step()
            with DIRTY.paused():
                _keep_to_sticks(roof, outcome, scene)
                placed = members.place(roof, outcome.shape, scene)
                step()
                members.mark(roof, outcome, scene, outcome.shape.roles)
                self._note(roof, placed)
        self._keep(roof, Known(outcome))
        return outcome

    def _expected(self, roof: bpy.types.Object) -> float:
        """Return the s that rebuilding a roof will take, 0 where nobody knows."""
        old = self.outcome(roof)
        return self.pipeline.predicted(len(old.shape.roles)) if old else 0.0

    def settle(self, roof: bpy.types.Object, scene: bpy.types.Scene) -> None:
        """Go one short step towards the numbers and marks of a roof that rests.

        A roof that takes long is solved beside the interface, then its members are put
        exactly, then marked, some at a time. Call it until the roof is settled.

        Raises:
            SolverError: the brief is refused; the last good roof stays.
        """
        known = self._known[roof.session_uid]
        count = len(known.outcome.solution.members)
        if self.pipeline.predicted(count) < AT_ONCE:
            self.rebuild(roof, scene)
            return
        try:
            with _told(roof):
                brief = _read(roof, scene)
                if not self.pipeline.is_ready(brief):
                    return
                outcome = self.pipeline.run(brief)
                _can_hold(roof, outcome.shape)
        except SolverError:
            self._put_back(roof, scene)
            raise
        placed = self._placed.get(roof.session_uid)
        is_new = known.moved is not None or known.outcome is not outcome
        with DIRTY.paused():
            if is_new or placed is None or placed.is_carried:
                _keep_to_sticks(roof, outcome, scene)
                self._note(roof, members.place(roof, outcome.shape, scene, placed))
                self._keep(roof, Known(outcome, unmarked=tuple(outcome.shape.roles)))
                return
            now, later = known.unmarked[:_A_TIME], known.unmarked[_A_TIME:]
            members.mark(roof, outcome, scene, now)
        self._keep(roof, Known(outcome, unmarked=later))

    def follow(self, roof: bpy.types.Object, scene: bpy.types.Scene) -> None:
        """Let the members follow an edit at once; what takes long waits for settling.

        A roof that solves quickly is solved, and only its marks wait. The members of
        one that does not are moved alone, and its numbers are out of date until then.

        Raises:
            SolverError: the brief is refused; the last good roof stays.
        """
        old = self.outcome(roof)
        if old is None or roof.library is not None:
            self.rebuild(roof, scene)
            return
        with _told(roof):
            brief = _read(roof, scene)
            expected = self.pipeline.predicted(len(old.solution.members))
            if self.pipeline.knows(brief) or expected < AT_ONCE:
                outcome = self.pipeline.run(brief)
                shape = outcome.shape
                known = Known(outcome, unmarked=tuple(shape.roles))
            else:
                shape = self.pipeline.shape_soon(brief)
                known = Known(old, moved=shape)
            _can_hold(roof, shape)
        with DIRTY.paused():
            before = self._placed.get(roof.session_uid)
            if before is None or before.shape is not shape:
                placed = members.place(roof, shape, scene, before, carry=True)
                self._note(roof, placed)
        self._keep(roof, known)

    def _put_back(self, roof: bpy.types.Object, scene: bpy.types.Scene) -> None:
        """Show the last good outcome of a roof again where its members moved on."""
        known = self._known.get(roof.session_uid)
        if known is not None and (known.moved is not None or known.unmarked):
            with DIRTY.paused():
                self._note(roof, members.write(roof, known.outcome, scene))
            self._keep(roof, Known(known.outcome))

    def drop(self, uids: set[int]) -> None:
        """Forget roofs that are no more, by session id."""
        for uid in uids:
            self._known.pop(uid, None)
            self._placed.pop(uid, None)

    def distrust(self) -> None:
        """Compare every object anew, as after an undo that has moved them."""
        self._placed.clear()

    def _note(self, roof: bpy.types.Object, placed: members.Placed | None) -> None:
        """Remember where the members of a roof were put."""
        if placed is None:
            self._placed.pop(roof.session_uid, None)
        else:
            self._placed[roof.session_uid] = placed

    def _keep(self, roof: bpy.types.Object, known: Known) -> None:
        """Remember what is known of a roof now."""
        self._known[roof.session_uid] = known
        self.serial += 1

    def forget(self) -> None:
        """Forget every roof, as after loading another file."""
        self._known.clear()
        self._placed.clear()
        self.serial += 1


def _can_hold(roof: bpy.types.Object, shape: Shape) -> None:
    """Refuse other members than an overridden roof's collections can hold.

    Raises:
        FramingError: members would come or go.
    """
    if roof.override_library is None:
        return
    if set(members.members_of(roof)) != set(shape.roles):
        raise FramingError(
            "This roof is a library override: its members can change, but none can be "
            "added or taken away. Make it local first (Object menu, Relations)."
        )


def _keep_to_sticks(
    roof: bpy.types.Object, outcome: Outcome, scene: bpy.types.Scene
) -> None:
    """Note which sticks the changes of single members go with."""
    framing, scale = outcome.solution.framing, brief_io.scale_of(scene)
    brief_io.keep_to_sticks(roof_of(roof), framing, scale)


def _read(roof: bpy.types.Object, scene: bpy.types.Scene) -> Brief:
    """Return the brief that a roof states now; it is no longer marked as changed."""
    DIRTY.uids.discard(roof.session_uid)
    return brief_io.read(roof_of(roof), brief_io.scale_of(scene))


@contextmanager
def _told(roof: bpy.types.Object) -> Iterator[None]:
    """Keep what a refusal says on the roof, or clear what the last one said."""
    stated = roof_of(roof)
    message = field = ""
    try:
        yield
    except SolverError as error:
        message, field = str(error), str(getattr(error, "field", ""))
        raise
    finally:
        if (stated.message, stated.message_field) != (message, field):
            with DIRTY.paused():
                stated.message, stated.message_field = message, field


SESSION = Session()
