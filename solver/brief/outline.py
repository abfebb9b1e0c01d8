"""Outlines: what follows from their corners, and what cannot be framed on them.

A drawn outline states its corners; some forms over a rectangle are framed side by side
too, so their four corners are made here. Whether corners make a simple polygon is found
when the form is made.
"""

from __future__ import annotations

from dataclasses import replace

from ..errors import BriefError
from ..units import FOOT, show_length
from .choices import EdgeKind, RoofForm, Shape
from .form_parts import FROM_OUTLINE
from .gambrel import Gambrel
from .model import Brief
from .outline_parts import Corner
from .wings import with_wings

_TOUCH = 1e-6
_WIDEST = 120 * FOOT  # of a rectangle: beyond it the ridge is higher than any house


# What the sides of a rectangle are, from the south one round to the west.
_WHOLE = {
    RoofForm.GABLE: (EdgeKind.EAVE, EdgeKind.GABLE, EdgeKind.EAVE, EdgeKind.GABLE),
    RoofForm.HIP: (EdgeKind.EAVE,) * 4,
}
_SIDES = {
    RoofForm.SHED: (
        EdgeKind.EAVE,
        EdgeKind.GABLE,
        EdgeKind.HIGH_WALL,
        EdgeKind.GABLE,
    ),
    RoofForm.GAMBREL: (
        EdgeKind.GAMBREL,
        EdgeKind.GABLE,
        EdgeKind.GAMBREL,
        EdgeKind.GABLE,
    ),
    RoofForm.DUTCH_GABLE: (
        EdgeKind.EAVE,
        EdgeKind.DUTCH_GABLE,
        EdgeKind.EAVE,
        EdgeKind.DUTCH_GABLE,
    ),
}
_PLUMB = (EdgeKind.GABLE, EdgeKind.HIGH_WALL)


def is_drawn(brief: Brief) -> bool:
    """Return whether the plan is a drawn outline."""
    return brief.footprint.shape is Shape.OUTLINE


def is_outline(brief: Brief) -> bool:
    """Return whether the roof is framed side by side of an outline."""
    return is_drawn(brief) or brief.roof.form in _SIDES


def plan_corners(brief: Brief) -> tuple[Corner, ...]:
    """Return the corners of an outline: those drawn, or a rectangle's own."""
    plan = brief.footprint
    if is_drawn(brief):
        return plan.outline
    return _rectangle(brief, _SIDES[brief.roof.form])


def _rectangle(brief: Brief, kinds: tuple[EdgeKind, ...]) -> tuple[Corner, ...]:
    """Return the corners of a rectangle whose sides are of these kinds."""
    x, y = brief.footprint.length, brief.footprint.width
    places = ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))
    end = brief.roof.end_pitch
    return tuple(
        Corner(at=p, edge=kind, pitch=end if n % 2 and kind not in _PLUMB else None)
        for n, (p, kind) in enumerate(zip(places, kinds, strict=True))
    )


def edge_pitch(brief: Brief, corner: Corner) -> float | None:
    """Return the pitch over the side from a corner, None under a wall that ends it."""
    if corner.edge in _PLUMB:
        return None
    return brief.roof.pitch if corner.pitch is None else corner.pitch


def upper_slopes(brief: Brief) -> Gambrel | None:
    """Return what is stated above the breaks of a roof, None where no side has one."""
    breaks = any(corner.edge is EdgeKind.GAMBREL for corner in plan_corners(brief))
    return brief.roof.gambrel if breaks else None


def flattest(brief: Brief) -> float:
    """Return the flattest pitch over an outline, of all its slopes."""
    least, upper = flattest_at_plate(brief), upper_slopes(brief)
    return least if upper is None else min(least, upper.upper_pitch)


def flattest_at_plate(brief: Brief) -> float:
    """Return the flattest pitch of the slopes that start at a plate."""
    pitches = [edge_pitch(brief, corner) for corner in plan_corners(brief)]
    return min((p for p in pitches if p is not None), default=brief.roof.pitch)


def with_extent(brief: Brief) -> Brief:
    """Return the brief with the length and width that its outline gives.

    Raises:
        BriefError: a rectangle without length or width, or an outline of no extent.
    """
    plan = brief.footprint
    if not is_drawn(brief):
        _check_rectangle(brief)
        if not plan.wings:
            return brief
        brief = _with_wings(brief)
        plan = brief.footprint
    if len(plan.outline) < 3:
        raise BriefError(
            "footprint.outline", len(plan.outline), "three corners or more"
        )
    x, y = zip(*(corner.at for corner in plan.outline), strict=True)
    if abs(min(x)) > _TOUCH or abs(min(y)) > _TOUCH:
        moved = " and ".join(
            f"{axis} by {show_length(-low)}"
            for axis, low in (("x", min(x)), ("y", min(y)))
        )
        raise BriefError(
            "footprint.outline",
            (show_length(min(x)), show_length(min(y))),
            "an outline whose westmost corner is at x = 0, its southmost at y = 0",
            f"Move every {moved}.",
        )
    for name, extent in (("length", max(x)), ("width", max(y))):
        if not 4 * FOOT <= extent <= 400 * FOOT:
            raise BriefError(
                "footprint.outline", show_length(extent), f"a {name} of 4 ft to 400 ft"
            )
    return replace(
        brief,
        footprint=replace(plan, length=max(x), width=max(y)),
        roof=replace(brief.roof, form=RoofForm.OUTLINE),
    )


def _with_wings(brief: Brief) -> Brief:
    """Return the brief of the outline that a rectangle and its wings make."""
    kinds = (_WHOLE | _SIDES)[brief.roof.form]
    outline = with_wings(_rectangle(brief, kinds), brief.footprint.wings)
    return replace(
        brief,
        footprint=replace(
            brief.footprint, shape=Shape.OUTLINE, outline=outline, wings=()
        ),
        roof=replace(brief.roof, end_pitch=None),
    )


def _check_rectangle(brief: Brief) -> None:
    """Refuse a rectangle without its sides, or the form of an outline over it."""
    plan = brief.footprint
    for name in ("length", "width"):
        if getattr(plan, name) == FROM_OUTLINE:
            raise BriefError(
                f"footprint.{name}", None, "a length such as 32 ft",
                "This field is required.",
            )  # fmt: skip
    if plan.width > _WIDEST + _TOUCH:
        raise BriefError(
            "footprint.width",
            show_length(plan.width),
            f"at most {show_length(_WIDEST)}",
        )
    if brief.roof.form is RoofForm.OUTLINE:
        raise BriefError(
            "roof.form",
            brief.roof.form.value,
            "gable, hip, shed, gambrel or dutch_gable over a rectangle",
            "State footprint.outline to draw the plan.",
        )


def check_outline(brief: Brief) -> None:
    """Refuse what is not framed on a drawn outline, each by its field.

    Raises:
        BriefError: for the first that cannot be.
    """
    if not is_outline(brief):
        return
    corners = plan_corners(brief)
    for k, corner in enumerate(corners):
        if corner.edge in _PLUMB and corner.pitch is not None:
            raise BriefError(
                f"footprint.outline[{k}].pitch",
                corner.pitch,
                "left out over a gable or a high wall, which stand plumb",
            )
    if all(corner.edge in _PLUMB for corner in corners):
        raise BriefError("footprint.outline", "no eave", "at least one eave")
    if EdgeKind.GAMBREL in [c.edge for c in corners] and brief.roof.gambrel is None:
        raise BriefError(
            "roof.gambrel", None, "upper_pitch and from_plate of the gambrel"
        )
    if brief.roof.end_pitch is not None and (
        brief.roof.form is not RoofForm.DUTCH_GABLE
    ):
        raise BriefError(
            "roof.end_pitch",
            brief.roof.end_pitch,
            "left out: each side of the outline has its own pitch",
        )
    if brief.ridge.posts:
        raise BriefError(
            "ridge.posts",
            len(brief.ridge.posts),
            "left out over a drawn outline",
            "State hip_braces under a RIDGE by its key instead.",
        )
    for k, brace in enumerate(brief.hip_braces):
        if brace.under is None:
            raise BriefError(
                f"hip_braces[{k}].under",
                None,
                "the key of a hip, valley or ridge, such as VL-5",
                "Over a drawn outline hips have no compass corners.",
            )


def within(brief: Brief, x: float, y: float) -> bool:
    """Return whether a plan point lies within a drawn outline or on its sides."""
    points = [corner.at for corner in plan_corners(brief)]
    inside = False
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1], strict=True):
        length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        if length < _TOUCH:
            continue
        along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length
        aside = abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length
        if aside <= _TOUCH and -_TOUCH <= along <= length + _TOUCH:
            return True
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            inside = not inside
    return inside
