"""Contradictions within a brief, each refused by the name of its field.

Receives a brief whose fields read well one by one; raises or leaves it alone. A roof
that reads well but cannot stand is not refused here: that is a result.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from ..basis.materials import reference_values
from ..basis.nds.nails import LEAST_PENETRATION, nail
from ..basis.sections import section
from ..errors import BriefError, TableError
from ..units import FOOT, show_length
from .braces import check_purlins, check_struts, purlin_plan
from .choices import Slip
from .gambrel import Gambrel
from .headers import Header, jack_stock
from .hips import check_hips
from .model import Beam, Brief, Override, RidgeKind, RoofForm, Stock
from .outline import check_outline, flattest_at_plate, is_outline, within
from .outline_purlins import base_of
from .trusses import check_trusses

_TOUCH = 1e-6
_MOST_STATIONS = 2500

__all__ = ["purlin_plan", "validate"]


def validate(brief: Brief) -> None:
    """Raise for the first contradiction found.

    Raises:
        BriefError: names the field, the value, what is allowed and the way out.
    """
    check_outline(brief)
    _check_stock(brief)
    _check_counts(brief)
    _check_walls(brief)
    _check_beams_and_posts(brief)
    _check_ridge(brief)
    check_purlins(brief)
    check_struts(brief)
    check_hips(brief)
    check_trusses(brief)
    _check_ties(brief)
    _check_joints(brief)
    _check_loads(brief)
    _unique([o.member for o in brief.overrides], "overrides", "member")


def _stock_fields(brief: Brief) -> Iterable[tuple[str, Stock]]:
    """Yield every stock with the path of its field."""
    yield "rafters", brief.rafters
    yield "ridge", brief.ridge
    if brief.roof.gambrel is not None:
        yield "roof.gambrel", brief.roof.gambrel
    for name in ("hips", "ceiling_joists", "collar_ties", "rafter_ties"):
        stock = getattr(brief, name)
        if stock is not None:
            yield name, stock
    for name in (
        "beams",
        "posts",
        "purlins",
        "struts",
        "added_struts",
        "hip_braces",
        "trusses",
    ):
        for k, stock in enumerate(getattr(brief, name)):
            yield f"{name}[{k}]", stock
    for k, wall in enumerate(brief.walls):
        for n, gap in enumerate(wall.openings):
            if gap.header is not None:
                yield f"walls[{k}].openings[{n}].header", gap.header


def _check_stock(brief: Brief) -> None:
    """Look every size, species and grade up in the tables."""
    for field, stock in _stock_fields(brief):
        _check_size(field, stock.size, stock.species, stock.grade, stock.plies)
        _check_plate(f"{field}.size", stock.size, isinstance(stock, Beam))
        if isinstance(stock, Header):
            _check_jacks(field, stock)
        if isinstance(stock, Gambrel):
            _check_pieces(field, stock)
    for k, override in enumerate(brief.overrides):
        _check_override(brief, override, f"overrides[{k}]")


def _check_jacks(field: str, header: Header) -> None:
    """Look the size and the grade of jack studs up."""
    made = jack_stock(header)
    try:
        _check_size(field, made.size, made.species, made.grade, made.plies)
    except BriefError as error:
        name = error.field.rpartition(".")[2]
        if name in ("size", "species", "grade"):
            error = BriefError(
                f"{field}.jack_{name}", error.value, error.allowed, error.remedy
            )
        raise error from None


def _check_pieces(field: str, gambrel: Gambrel) -> None:
    """Look the size of the pieces up that hold a gambrel's breaks."""
    size, species, grade = gambrel.piece_size, gambrel.species, gambrel.grade
    try:
        reference_values(species, grade, section(size))
    except TableError as error:
        raise BriefError(
            f"{field}.piece_size", size, error.allowed, error.remedy
        ) from error


def _check_override(brief: Brief, override: Override, field: str) -> None:
    """Look the size, species and grade that a member would have up."""
    stock = _stock_of(brief, override.member)
    if override.size is not None:
        _check_plate(f"{field}.size", override.size, isinstance(stock, Beam))
    if stock is None:  # no member has this key: the change is dropped, and says so
        if override.size is not None:
            _check_size(field, override.size, None, None, 1)
        return
    _check_size(
        field,
        override.size or stock.size,
        override.species or stock.species,
        override.grade or stock.grade,
        override.plies or stock.plies,
    )


def _stock_of(brief: Brief, key: str) -> Stock | None:
    """Return the stock that the brief states for a member key, or None."""
    kind, _, rest = key.partition("-")
    if kind == "TW":
        return next(iter(brief.trusses), None)
    single = {
        "R": brief.rafters,
        "RIDGE": brief.ridge,
        "CJ": brief.ceiling_joists,
        "J": brief.rafters,
        "SJ": brief.ceiling_joists,
        "CT": brief.collar_ties,
        "RT": brief.rafter_ties,
        "CURB": brief.roof.gambrel,
    }
    if kind in single:
        return single[kind]
    named = {"P": brief.purlins, "B": brief.beams, "PO": brief.posts}
    for stock in named.get(kind, ()):
        if stock.name == rest:
            return stock
    if kind == "P" and is_outline(brief):
        return base_of(brief, rest)
    over = {
        f"{wall.name}-{n}": gap.header
        for wall in brief.walls
        for n, gap in enumerate(wall.openings, start=1)
    }
    if kind == "HD":
        return over.get(rest)
    if kind == "JS":
        header = over.get(rest.rpartition("-")[0])
        return None if header is None else jack_stock(header)
    purlin = rest.rpartition("-")[0]
    groups = (*brief.struts, *brief.added_struts) if kind == "ST" else ()
    return next(
        (
            group
            for group in groups
            if purlin == group.purlin or purlin.startswith(f"{group.purlin}-")
        ),
        None,
    )


def _check_size(
    field: str, size: str, species: str | None, grade: str | None, plies: int
) -> None:
    """Look one size up, and with a species its grade as well."""
    try:
        found = section(size, plies)
        if found.plate is not None and plies % 2:
            raise TableError("plies", plies, "2 or 4, half on each side of the plate")
        if species is not None and grade is not None:
            reference_values(species, grade, found)
    except TableError as error:
        raise BriefError(
            f"{field}.{error.field}", error.value, error.allowed, error.remedy
        ) from error


def _check_plate(field: str, size: str, beam: bool) -> None:
    """Refuse a steel plate in anything but a beam."""
    if "+" in size and not beam:
        raise BriefError(
            field, size, "lumber alone", "A steel plate goes between plies of beams."
        )


def _check_counts(brief: Brief) -> None:
    """Refuse spacings that make more members than can be meant."""
    length = max(brief.footprint.length, brief.footprint.width)
    spaced = [("rafters.spacing", brief.rafters.spacing)]
    if brief.ceiling_joists is not None:
        spaced.append(("ceiling_joists.spacing", brief.ceiling_joists.spacing))
    for field, spacing in spaced:
        if length / spacing > _MOST_STATIONS:
            raise BriefError(
                field,
                show_length(spacing),
                f"at most {_MOST_STATIONS} spacings in the length",
            )


def _unique(names: list[str], field: str, part: str) -> None:
    """Refuse a name that stands twice in a list."""
    for k, name in enumerate(names):
        if name in names[:k]:
            raise BriefError(
                f"{field}[{k}].{part}", name, "a name that no other entry has"
            )


def _inside(brief: Brief, point: tuple[float, float], field: str) -> None:
    """Refuse a plan point outside the footprint."""
    limits = (brief.footprint.length, brief.footprint.width)
    for value, limit, axis in zip(point, limits, "xy", strict=True):
        if not -_TOUCH <= value <= limit + _TOUCH:
            raise BriefError(
                field,
                tuple(show_length(v) for v in point),
                f"a point within the plan, {axis} from 0 to {show_length(limit)}",
                "It lies outside the outer walls.",
            )
    if is_outline(brief) and not within(brief, *point):
        raise BriefError(
            field,
            tuple(show_length(v) for v in point),
            "a point within the outline",
            "It lies outside the outer walls.",
        )


def _check_line(brief: Brief, line: object, field: str, square: bool = True) -> float:
    """Check the two ends of a wall or a beam; return its length.

    Args:
        brief: has the plan.
        line: wall or beam.
        field: of it.
        square: refuse one at an angle to the sides.
    """
    start, end = line.start, line.end  # type: ignore[attr-defined]
    _inside(brief, start, f"{field}.start")
    _inside(brief, end, f"{field}.end")
    dx, dy = abs(end[0] - start[0]), abs(end[1] - start[1])
    if max(dx, dy) < 1 * FOOT:
        raise BriefError(
            f"{field}.end", tuple(show_length(v) for v in end), "at least 1 ft of line"
        )
    if square and min(dx, dy) > _TOUCH:
        raise BriefError(
            f"{field}.end",
            tuple(show_length(v) for v in end),
            "a line parallel to a side of the footprint",
        )
    return math.hypot(dx, dy) if min(dx, dy) > _TOUCH else max(dx, dy)


def _check_walls(brief: Brief) -> None:
    """Check names, places and openings of the interior walls."""
    _unique([wall.name for wall in brief.walls], "walls", "name")
    for k, wall in enumerate(brief.walls):
        field = f"walls[{k}]"
        taken = {"SOUTH", "NORTH", "EAST", "WEST"}
        if brief.roof.form is RoofForm.HIP:
            taken |= {"SW", "SE", "NE", "NW"}  # its corners carry the hips
        if is_outline(brief):  # S1, N2: its sides; C3: a corner; M1: a mouth
            taken |= {f"{a}{n}" for a in "SNEWCM" for n in range(1, 201)}
        if wall.name.upper() in taken:
            raise BriefError(
                f"{field}.name", wall.name, "not the name of an outer wall"
            )
        length = _check_line(brief, wall, field, square=False)
        last = 0.0
        order = sorted(enumerate(wall.openings), key=lambda entry: entry[1].start)
        for n, gap in order:
            where = f"{field}.openings[{n}]"
            if gap.end <= gap.start or gap.end > length + _TOUCH:
                raise BriefError(
                    f"{where}.end",
                    show_length(gap.end),
                    f"beyond its start and within the wall ({show_length(length)})",
                )
            if gap.start < last - _TOUCH:
                raise BriefError(
                    f"{where}.start", show_length(gap.start), "clear of the gap before"
                )
            last = gap.end


def _check_beams_and_posts(brief: Brief) -> None:
    """Check names and places of beams and posts."""
    _unique([beam.name for beam in brief.beams], "beams", "name")
    _unique([post.name for post in brief.posts], "posts", "name")
    for k, beam in enumerate(brief.beams):
        _check_line(brief, beam, f"beams[{k}]")
    for k, post in enumerate(brief.posts):
        _inside(brief, post.at, f"posts[{k}].at")


def _check_ridge(brief: Brief) -> None:
    """Check the posts of a ridge beam."""
    for k, at in enumerate(brief.ridge.posts):
        field = f"ridge.posts[{k}]"
        if brief.ridge.kind is not RidgeKind.BEAM:
            raise BriefError(field, show_length(at), "no posts under a ridge board")
        if at > brief.footprint.length:
            raise BriefError(field, show_length(at), "within the length of the ridge")


def _check_ties(brief: Brief) -> None:
    """Check that ties have a height above the plate line that leaves a tie."""
    ties = brief.collar_ties
    if ties is not None and ties.height_ratio < 0.2:
        raise BriefError(
            "collar_ties.height_ratio",
            ties.height_ratio,
            "0.2 to 0.95 of the rise",
            "A tie lower than that is a rafter tie.",
        )


def _check_joints(brief: Brief) -> None:
    """Refuse cuts that leave no rafter, unknown nails, and slip of unknown nails."""
    depth, cut = section(brief.rafters.size).depth, brief.rafters.seat_depth
    pitch = flattest_at_plate(brief) if is_outline(brief) else brief.roof.pitch
    if cut >= depth * (1 + pitch**2) ** 0.5 - _TOUCH:
        raise BriefError(
            "rafters.seat_depth", show_length(cut), "less than the rafter is deep"
        )
    heel = brief.heel_joint
    names = [
        ("heel_joint.nail", heel.nail),
        ("rafters.toe_nail", brief.rafters.toe_nail),
    ]
    for part in ("struts", "added_struts"):
        names += [
            (f"{part}[{k}].toe_nail", s.toe_nail)
            for k, s in enumerate(getattr(brief, part))
        ]
    for field, name in names:
        try:
            nail(name)
        except TableError as error:
            raise BriefError(field, name, error.allowed, error.remedy) from error
    tie = brief.ceiling_joists or brief.rafter_ties or brief.rafters
    thin = min(section(stock.size).breadth for stock in (tie, brief.rafters))
    held = nail(heel.nail)
    if held.length - thin < LEAST_PENETRATION * held.diameter - _TOUCH:
        raise BriefError(
            "heel_joint.nail",
            heel.nail,
            "a nail that goes 6 diameters into the second of tie and rafter",
        )
    if heel.slip is not Slip.NONE and heel.count is None:
        raise BriefError(
            "heel_joint.count", None, "the number of nails where the joint may slip"
        )
    if heel.slip is Slip.STATED and heel.slip_stiffness is None:
        raise BriefError(
            "heel_joint.slip_stiffness", None, "a stiffness such as 1.2 kN/mm"
        )


def _check_loads(brief: Brief) -> None:
    """Check the snow, and that there is any load at all."""
    loads = brief.loads
    snow = loads.snow
    if snow is not None and (snow.ground is None) == (snow.roof is None):
        raise BriefError(
            "loads.snow.ground", snow.ground, "ground or roof, one of the two"
        )
    if loads.roof_dead <= 0 and not loads.self_weight:
        raise BriefError(
            "loads.roof_dead",
            loads.roof_dead,
            "above 0, or self_weight true",
            "A roof without weight loads nothing.",
        )
