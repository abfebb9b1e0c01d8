"""The ridge: a board to push against, or a beam that carries."""

from __future__ import annotations

from ..basis.sections import section
from ..brief.model import RidgeKind
from .common_rafters import SIDES, north_shift, rafter_key, rafter_rise, roof_point
from .draft import Draft
from .model import Role, SupportKind

RIDGE = "RIDGE"
_LAYER = "ridge"


def add_ridge(draft: Draft) -> None:
    """Add the ridge; a beam bears on both end walls and on its stated posts.

    A board is drawn but counted for nothing: it holds two rafters apart and carries
    no roof to the ground.
    """
    brief = draft.brief
    length, run = brief.footprint.length, brief.footprint.width / 2
    start = roof_point(brief, "S", 0.0, run)
    end = roof_point(brief, "S", length, run)
    is_beam = brief.ridge.kind is RidgeKind.BEAM
    depth = section(brief.ridge.size).depth
    rafter = section(brief.rafters.size).depth
    plumb_cut = rafter * (1 + brief.roof.pitch**2) ** 0.5
    top = rafter_rise(brief) + plumb_cut / 2
    added = draft.add(
        RIDGE,
        Role.RIDGE_BEAM if is_beam else Role.RIDGE_BOARD,
        start,
        end,
        brief.ridge,
        layer=_LAYER,
        up=(0.0, 0.0, 1.0),
        planar=True,
        counted=is_beam,
        offset=(north_shift(brief) / 2, 0.0, top - depth / 2),
    )
    if not added or not is_beam:
        return
    for k, x in enumerate(draft.rafter_stations):
        point = roof_point(brief, "S", x, run)
        lower = draft.attach(RIDGE, point, _LAYER)
        for side, _ in SIDES:
            key = rafter_key(side, k)
            if draft.has(key):
                draft.contact(key, RIDGE, draft.attach(key, point), lower)
                break
    for point, owner in ((start, "W-WEST"), (end, "W-EAST")):
        node = draft.attach(RIDGE, point, _LAYER)
        draft.support(node, SupportKind.FOOT, owner, RIDGE)
    for n, x in enumerate(brief.ridge.posts, start=1):
        point = roof_point(brief, "S", x, run)
        node = draft.attach(RIDGE, point, _LAYER)
        draft.support(node, SupportKind.FOOT, f"F-RIDGE-{n}", RIDGE)
