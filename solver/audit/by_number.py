"""Changes that go by their stick's number alone, which another layout gives another."""

from __future__ import annotations

from collections.abc import Iterator

from ..brief.model import Brief
from ..framing.changes import goes_by_number, place_of
from ..framing.model import Framing
from ..units import show_length
from .model import Finding, FindingKind, key_range


def number_notes(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield one note on all changes that state no place of their stick."""
    holders = framing.change_holders
    keys = tuple(
        holders[change.member]
        for change in brief.overrides
        if goes_by_number(change) and holders.get(change.member) in framing.members
    )
    if not keys:
        return
    x, y = (show_length(v, brief.units) for v in place_of(framing, keys[0]))
    yield Finding(
        kind=FindingKind.NOTE,
        rule="override_by_number",
        section="brief",
        members=keys,
        passed=None,
        value="the number alone",
        limit="near, a plan point that the stick passes",
        words=(
            f"Changes stated for {key_range(keys)} go by number: another spacing or "
            f"outline would give them to other sticks. State near ({keys[0]} stands at "
            f"{x}, {y}) and they stay with theirs, or are dropped by name."
        ),
    )
