"""Framing of a roof, member by member in the order a framer would set them.

Each step receives the draft, adds its own members, joints and supports, and leaves
what stands alone.
"""

from __future__ import annotations

from dataclasses import replace

from ..brief.model import Brief
from .bare import kept_bare, took_bare
from .beams import add_beams, add_posts, add_spreader_joints
from .ceiling_joists import add_ceiling_joists
from .common_rafters import add_plates, add_rafters
from .draft import Draft
from .headers import add_headers
from .hip_braces import add_hip_braces, add_stub_joists
from .hips import add_hip_ridge, add_hips, add_plane_rafters, braced_nodes
from .model import Framing
from .outline.build import frame_outline
from .purlins import add_purlins
from .ridge import add_ridge
from .struts import add_struts
from .ties import add_ties
from .trusses import add_trusses


def frame_roof(brief: Brief, before: Framing | None = None) -> Framing:
    """Return the framing of a validated brief.

    Args:
        brief: a validated brief.
        before: of an earlier brief; what stands before the struts is taken over where
            it would come out the same.

    Raises:
        BriefError: a table lacks a size or grade, or no roof closes over the outline.
    """
    draft = Draft(brief)
    if draft.plan is not None:
        frame_outline(draft)
        return draft.finish()
    bare = None if before is None else before.bare
    if bare is None or not took_bare(draft, bare):
        _frame_bare(draft)
        bare = kept_bare(draft)
    add_struts(draft)
    add_trusses(draft)
    add_hip_braces(draft)
    add_stub_joists(draft)
    add_posts(draft)
    if draft.hip is not None:
        draft.free_along, draft.braced_across = braced_nodes(draft)
    return replace(draft.finish(), bare=bare)


def _frame_bare(draft: Draft) -> None:
    """Frame what stands before the struts."""
    if draft.hip is None:
        add_rafters(draft)
        add_ridge(draft)
    else:
        add_hips(draft)
        add_plane_rafters(draft)
        add_hip_ridge(draft)
    add_headers(draft)
    add_beams(draft)
    add_ceiling_joists(draft)
    add_spreader_joints(draft)
    add_ties(draft)
    add_plates(draft)
    add_purlins(draft)
