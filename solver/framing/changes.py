"""Changes of single members: which stick each belongs to, and which found none.

A change is stated by member key. Keys are numbers along a row, so another spacing gives
the same number to another stick. A change that says where its stick stood stays with
the stick of that row that passes there; one that finds none is dropped by name.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

import numpy as np

from ..brief.braces import check_purlins, check_struts
from ..brief.model import Brief, Foot, FootOn, Override
from ..brief.outline import is_outline
from ..errors import BriefError
from .model import Framing, Role
from .plan import TOUCH

_NEAR = TOUCH + 1e-9
_NUMBERED = ("R", "J", "CJ", "CT", "RT", "ST", "HB", "SJ")


def row_of(key: str) -> str:
    """Return the row that a member stands in: its key without its number.

    A jack and a common of one plane are of one row, because a steeper end makes one
    of the other.
    """
    parts = key.split("-")
    if parts[0] not in _NUMBERED or len(parts) < 2:
        return key
    at = 1 if parts[0] == "CJ" else len(parts) - 1  # CJ-05-1: line 5, first bay
    if not parts[at].isdigit():
        return key
    first = "R" if parts[0] == "J" else parts[0]
    return "-".join([first, *parts[1:at], "#", *parts[at + 1 :]])


@dataclass
class Changes:
    """The changes of a brief while it is framed.

    Attributes:
        given: as stated.
        holder: stated key to the key of the member that has the change.
        why: stated key to why the change, or a part of it, was dropped.
    """

    given: tuple[Override, ...]
    holder: dict[str, str] = field(default_factory=dict)
    why: dict[str, str] = field(default_factory=dict)
    _rows: dict[str, list[Override]] = field(init=False)
    _kinds: set[str] = field(init=False)  # first letters of the rows, to skip the rest

    def __post_init__(self) -> None:
        self._rows = {}
        for change in self.given:
            self._rows.setdefault(row_of(change.member), []).append(change)
        self._kinds = {row.split("-", 1)[0] for row in self._rows}

    def of(
        self, key: str, start: Iterable[float], end: Iterable[float]
    ) -> Override | None:
        """Return the change of a member, which has it from now on, or None.

        Args:
            key: of the member.
            start: a point of the line that marks its place in its row.
            end: another one.
        """
        if _canonical(key).split("-", 1)[0] not in self._kinds:
            return None
        row = row_of(key)
        mine = [c for c in self._rows.get(row, ()) if self._may(c, key)]
        exact = [c for c in mine if c.near is None or "#" not in row]
        line = tuple(start)[:2], tuple(end)[:2]
        passing = [c for c in mine if c.near and _apart(c.near, *line) < _NEAR]
        passing.sort(key=lambda change: change.member != key)
        found = next(iter(exact + passing), None)
        if found is not None:
            self.holder[found.member] = key
        return found

    def _may(self, change: Override, key: str) -> bool:
        """Return whether a change is free for a member."""
        holder = self.holder.get(change.member)
        if holder is not None:
            return holder == key
        return change.near is not None or _canonical(change.member) == _canonical(key)

    def drop(self, stated: str, why: str) -> None:
        """Note why a change, or a part of it, comes to nothing."""
        self.why.setdefault(stated, why)

    def foot_of(self, brief: Brief, change: Override | None, own: Foot) -> Foot:
        """Return the foot that a change gives a strut, or its own with a note.

        Args:
            brief: has the walls, beams and posts that a foot can name.
            change: of the strut, if any.
            own: what its group states.
        """
        if change is None or change.foot is None:
            return own
        why = foot_fault(brief, change.foot)
        if why is None:
            return change.foot
        self.drop(change.member, f"its foot stays as the others': {why}")
        return own

    def finish(self) -> None:
        """Note every change that no member has."""
        for change in self.given:
            if change.member in self.holder:
                continue
            why = "no member has this key"
            if change.near is not None:
                why = "no stick of its row passes the place where it stood any more"
            self.drop(change.member, why)

    @property
    def dropped(self) -> tuple[str, ...]:
        """Stated keys of the changes that no member has."""
        return tuple(c.member for c in self.given if c.member not in self.holder)


def _canonical(key: str) -> str:
    """Return the key with a jack named as a common of its plane would be."""
    return f"R{key[1:]}" if key.startswith("J-") else key


def _apart(
    near: tuple[float, ...], start: tuple[float, ...], end: tuple[float, ...]
) -> float:
    """Return the plan distance of a point from a line; from a point where it is one."""
    way, gap = np.subtract(end, start), np.subtract(near, start)
    length = float(np.hypot(*way))
    if length < 1e-6:
        return float(np.hypot(*gap))
    return abs(float(way[0] * gap[1] - way[1] * gap[0])) / length


def foot_fault(brief: Brief, foot: Foot) -> str | None:
    """Return why a foot that was stated for one strut cannot be, or None."""
    named = {
        FootOn.WALL: [wall.name for wall in brief.walls],
        FootOn.BEAM: [beam.name for beam in brief.beams],
        FootOn.POST: [post.name for post in brief.posts],
    }
    if foot.on in named and foot.name not in named[foot.on]:
        return f"there is no {foot.on.value} {foot.name or 'without a name'}"
    if foot.on is FootOn.CEILING_JOIST and brief.ceiling_joists is None:
        return "there are no ceiling joists"
    size, (x, y) = brief.footprint, foot.at or (0.0, foot.from_plate or 0.0)
    slack = 1e-6
    if not (-slack <= x <= size.length + slack and -slack <= y <= size.width + slack):
        return "the place stated for it lies outside the plan"
    return None


def with_pinned_purlins(brief: Brief, changes: Changes) -> Brief:
    """Return the brief with each purlin line where a change pins it.

    A place that the roof has no room for any more drops that part of the change.

    Args:
        brief: as stated.
        changes: that note what is dropped.
    """
    for change in brief.overrides:
        if change.from_plate is None or is_outline(brief):
            continue  # over a drawn outline its plane says whether there is room
        name = change.member.removeprefix("P-")
        if name not in [p.name for p in brief.purlins] or name == change.member:
            changes.drop(change.member, "its place is that of no purlin line")
            continue
        moved = tuple(
            replace(p, from_plate=change.from_plate, height=None)
            if p.name == name
            else p
            for p in brief.purlins
        )
        try:
            pinned = replace(brief, purlins=moved)
            check_purlins(pinned)
            check_struts(pinned)
        except BriefError as error:
            why = f"its place stays as stated, for the roof asks {error.allowed}"
            changes.drop(change.member, why)
        else:
            brief = pinned
    return brief


def goes_by_number(change: Override) -> bool:
    """Return whether a change would go to another stick in another layout."""
    return change.near is None and "#" in row_of(change.member)


def placed(brief: Brief, framing: Framing) -> Brief:
    """Return the brief with every change kept to the stick that has it in a framing.

    A change that was stated by number alone gets the place of its stick, so that
    another spacing or outline gives it to that stick or drops it by name.

    Args:
        brief: as stated.
        framing: of the same brief.
    """
    holders = framing.change_holders
    overrides = tuple(
        replace(change, near=place_of(framing, holders[change.member]))
        if goes_by_number(change) and holders.get(change.member) in framing.members
        else change
        for change in brief.overrides
    )
    return replace(brief, overrides=overrides)


def place_of(framing: Framing, key: str) -> tuple[float, float]:
    """Return a plan point that tells a member from the others of its row, m.

    Of a strut its top, which marks its place along the purlin; of others the middle.
    """
    start, end = framing.ends(key)
    member = framing.members[key]
    point = end if member.role is Role.STRUT else (start + end) / 2
    return float(point[0]), float(point[1])
