"""Braces and posts under hips, valleys and ridges of a drawn outline."""

from __future__ import annotations

from ...errors import BriefError
from ..draft import Draft
from ..hip_braces import raise_brace
from .feet import outline_foot
from .lines import join
from .plan import OutlinePlan


def add_braces(draft: Draft, plan: OutlinePlan) -> None:
    """Add the braces that the brief states, numbered up along each line.

    Raises:
        BriefError: a brace under a line that the roof does not have.
    """
    count: dict[str, int] = {}
    for part, brace in enumerate(draft.brief.hip_braces):
        key = str(brace.under)
        if key not in plan.lines:
            raise BriefError(
                f"hip_braces[{part}].under",
                brace.under,
                "one of " + ", ".join(sorted(plan.lines)),
            )
        if not draft.has(key):
            continue
        count[key] = count.get(key, 0) + 1
        _add(draft, plan, key, part, f"HB-{key}-{count[key]:02d}")


def _add(draft: Draft, plan: OutlinePlan, line: str, part: int, key: str) -> None:
    """Add one brace under a line of the plan."""
    brace, form = draft.brief.hip_braces[part], plan.form.lines[plan.lines[line]]
    raise_brace(
        draft, key, part, line, form.start + brace.at * (form.end - form.start),
        foot_of=lambda stated, top: outline_foot(draft, stated, *top[:2].tolist()),
        head_of=lambda under, top: join(draft, under, top),
    )  # fmt: skip
