"""The roof before its struts, kept: another foot or post need not frame it again.

Braces, trusses and posts come last and are what a hand moves most. All that was framed
before them depends on the rest of the brief alone, so it is copied where that is equal.
"""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass, replace

from ..brief.model import Brief, Checks, Loads
from .draft import Draft

_LATER = ("ST-", "HB-")  # keys of members that come after


@dataclass(frozen=True, eq=False, kw_only=True)
class Bare:
    """What a draft had built before its struts.

    Attributes:
        brief: what it depends on, settled.
        draft: nobody adds to it any more.
    """

    brief: Brief
    draft: Draft


def kept_bare(draft: Draft) -> Bare:
    """Return what a draft has built so far, to be taken over by another."""
    own = copy(draft)
    own.changes, own.lines = copy(draft.changes), copy(draft.lines)
    own.take_built(draft)
    return Bare(brief=_earlier(draft.brief), draft=own)


def took_bare(draft: Draft, before: Bare | None) -> bool:
    """Let a new draft take over an earlier one; return whether it could."""
    if before is None or _earlier(draft.brief) != before.brief:
        return False
    draft.take_built(before.draft)
    return True


def _earlier(brief: Brief) -> Brief:
    """Return a brief without what braces, trusses and posts alone depend on."""
    return replace(
        brief,
        name="",
        struts=(),
        added_struts=(),
        hip_braces=(),
        trusses=(),
        posts=brief.posts if brief.beams else (),
        checks=Checks(),
        loads=Loads(snow=brief.loads.snow),  # a drift ends at a joint
        overrides=tuple(o for o in brief.overrides if not o.member.startswith(_LATER)),
    )
