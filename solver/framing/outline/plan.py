"""The plan of a drawn outline: its form, the names of its sides, where rafters stand.

Sides are named by the way they face and their order: S1, E1, N1, N2, ... A roof plane
has the name of its first eave, with a U where it lies above a break of that side; a
corner has its number as stated: C1, C2, ...
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ...brief.choices import EdgeKind
from ...brief.model import Brief, Corner
from ...brief.outline import edge_pitch, plan_corners
from ...errors import BriefError, FramingError
from ...form import EdgeSpec, LineKind, RoofLine, RoofPlane, Tier, roof_from_outline
from ...form import RoofForm as Form
from ...form.model import polygon_area
from ...units import show_length
from ..plan import TOUCH
from ..planes import along_of, to_plane
from .supporting import Extension, extensions_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
PARALLEL = 1e-6  # rad, of two directions
UPPER = "U"  # ends the name of a plane above a break
STRAIGHT = 2e-3  # rad, sides that turn by less are one wall
_WAYS = {"S": (0.0, -1.0), "E": (1.0, 0.0), "N": (0.0, 1.0), "W": (-1.0, 0.0)}
_LINES = (
    LineKind.RIDGE,
    LineKind.HIP,
    LineKind.VALLEY,
    LineKind.BREAK,
    LineKind.ABUTMENT,
)
_FRAMED = (*_LINES, LineKind.EAVE, LineKind.RAKE, LineKind.PLATE, LineKind.CORNER)


@dataclass(frozen=True, eq=False)
class Edge:
    """A straight side of the outline.

    Attributes:
        name: such as ``S1``.
        start, end: (2,) m, counter-clockwise round the plan.
        corners: names of its two corners.
        outward: (2,) unit.
        is_gable: whether no plane starts from it.
        top: m, how far a high wall goes up above the other plates, to where a plane
            ends on it level; 0 for any other.
    """

    name: str
    start: Floats
    end: Floats
    corners: tuple[str, str]
    outward: Floats
    is_gable: bool
    top: float = 0.0

    @property
    def way(self) -> Floats:
        """Return the unit vector along it, (2,)."""
        return np.array([-self.outward[1], self.outward[0]])

    @property
    def length(self) -> float:
        """Return its length, m."""
        return float(np.hypot(*(self.end - self.start)))


@dataclass(frozen=True)
class Hold:
    """A level hold of a node by walls, ceiling or sheathing.

    Attributes:
        node: index of the point.
        way: unit plan vector that it holds along.
        owner: who holds it.
        member: key of the member that stands there.
        is_soft: it keeps the house from drifting and must take no thrust.
    """

    node: int
    way: tuple[float, float]
    owner: str
    member: str
    is_soft: bool = False


@dataclass(frozen=True, eq=False, kw_only=True)
class OutlinePlan:
    """What framing a drawn outline yields besides members.

    Attributes:
        form: planes and lines.
        edges: the sides, counter-clockwise.
        planes: name of each plane of the form.
        marks: by plane, (k,) m along its eave, where rafters stand.
        extensions: valleys that go on past where they meet.
        lines: member key of a hip, valley or ridge to its line of the form.
        holds: level holds, for the analysis.
        widths: key of a ceiling joist to the ceiling that it carries, m.
        tied: key of a rafter to whether a joist ties its foot to another wall.
        mouths: what was taken to stand across the wings' mouths: owner to (start,
            end), m.
    """

    form: Form
    edges: tuple[Edge, ...]
    planes: tuple[str, ...]
    marks: tuple[Floats, ...]
    extensions: tuple[Extension, ...] = ()
    lines: Mapping[str, int] = field(default_factory=dict)
    holds: tuple[Hold, ...] = ()
    widths: Mapping[str, float] = field(default_factory=dict)
    tied: Mapping[str, bool] = field(default_factory=dict)
    mouths: Mapping[str, tuple[tuple[float, float], tuple[float, float]]] = field(
        default_factory=dict
    )

    def plane(self, name: str) -> RoofPlane:
        """Return a plane by its name."""
        return self.form.planes[self.planes.index(name)]

    def edge(self, name: str) -> Edge:
        """Return a side by its name, or by that of a plane over it."""
        side = name.rstrip(UPPER)
        return next(edge for edge in self.edges if edge.name == side)


def way_of(outward: Floats) -> str:
    """Return which of S, E, N and W a plan direction is nearest to."""
    return max(_WAYS, key=lambda way: round(float(outward @ np.array(_WAYS[way])), 9))


def plan_of(brief: Brief) -> OutlinePlan:
    """Return the plan of a brief's outline.

    Raises:
        BriefError: the corners make no outline that can be roofed and framed.
    """
    form = _form_of(brief)
    edges = _edges_of(brief, form)
    owner = {tuple(np.round(edge.start, 9)): edge for edge in edges}
    names = []
    for plane in form.planes:
        start = form.outline.polygon[plane.edges[0]]
        found = owner.get(tuple(np.round(start, 9)))
        name = found.name if found is not None else _name_at(edges, start)
        names.append(name + UPPER * plane.tier)
    return OutlinePlan(
        form=form,
        edges=edges,
        planes=tuple(names),
        marks=_all_marks(brief, form),
        extensions=extensions_of(form),
    )


def _name_at(edges: tuple[Edge, ...], point: Floats) -> str:
    """Return the name of the side that a point lies within."""
    return min(edges, key=lambda e: abs(float((point - e.start) @ e.outward))).name


def _form_of(brief: Brief) -> Form:
    """Return the roof over the outline; refusals name the brief's field."""
    corners = plan_corners(brief)
    specs = [_spec(brief, corner) for corner in corners]
    try:
        form = roof_from_outline([corner.at for corner in corners], specs)
    except BriefError as error:
        name = error.field.replace("edges[", "outline[")
        raise BriefError(
            f"footprint.{name}", error.value, error.allowed, error.remedy
        ) from error
    except FramingError as error:
        raise BriefError(
            "footprint.outline", len(corners), "an outline that a roof closes over",
            str(error),
        ) from error  # fmt: skip
    gambrel = brief.roof.gambrel
    breaks = {e for e, _ in form.unreached if form.edges[e].above[0].pitch is not None}
    if breaks and gambrel is not None:
        raise BriefError(
            "roof.gambrel.from_plate",
            show_length(gambrel.from_plate),
            "less than the plan distance of the ridge from the plate",
        )
    if form.unreached:
        raise BriefError(
            "roof.setback",
            show_length(brief.roof.setback),
            "less than the plan distance of the ridge from the plate",
        )
    odd = next((line for line in form.lines if _is_odd(form, line)), None)
    if odd is not None or any(w.tier < 0 for w in form.walls):
        edge = form.outline.given[odd.edge] if odd and odd.edge is not None else 0
        raise BriefError(
            f"footprint.outline[{int(edge)}].edge",
            "gable",
            "an eave beside an inside corner",
            "A gable wall there would go on inward and stand on the roof below it.",
        )
    return form


def _is_odd(form: Form, line: RoofLine) -> bool:
    """Return whether a line is none that is framed: a gable wall within the roof is."""
    if line.kind is LineKind.ABUTMENT:
        return line.wall is None or form.walls[line.wall].tier < 1
    return line.kind not in _FRAMED


def _spec(brief: Brief, corner: Corner) -> EdgeSpec:
    """Return what the form needs of the side from a corner."""
    roof = brief.roof
    is_high = corner.edge is EdgeKind.HIGH_WALL
    rake = roof.overhang if is_high else roof.rake_overhang
    pitch, above = edge_pitch(brief, corner), tuple[Tier, ...]()
    if corner.edge is EdgeKind.GAMBREL and pitch and roof.gambrel is not None:
        upper = roof.gambrel
        above = (Tier(pitch * upper.from_plate, upper.upper_pitch),)
    if corner.edge is EdgeKind.DUTCH_GABLE and pitch:
        above = (Tier(pitch * roof.setback, None),)
    return EdgeSpec(pitch, overhang=roof.overhang, rake=rake, above=above)


def _edges_of(brief: Brief, form: Form) -> tuple[Edge, ...]:
    """Return the sides of a form."""
    gables = {wall.edge for wall in form.walls if wall.tier == 0}
    return _edges(form.outline.polygon, form.outline.given, gables, _tops(brief, form))


def _tops(brief: Brief, form: Form) -> dict[int, float]:
    """Return how high the sides go that a plane climbs up to and ends on level.

    Raises:
        BriefError: the roof ends on a high wall at a slant, as it does on a gable.
    """
    corners, given = plan_corners(brief), form.outline.given.tolist()
    tops = {}
    for line in form.rakes:
        if line.edge is None:
            continue
        number = given[line.edge]
        if corners[number].edge is not EdgeKind.HIGH_WALL:
            continue
        if abs(line.rise) > TOUCH:
            raise BriefError(
                f"footprint.outline[{number}].edge",
                EdgeKind.HIGH_WALL.value,
                "a high wall along which the slope ends level",
                "The roof ends on it at a slant: state a gable there.",
            )
        tops[line.edge] = max(tops.get(line.edge, 0.0), float(line.start[2]))
    return tops


def outer_walls(brief: Brief) -> tuple[Edge, ...]:
    """Return the sides of a brief's outline; its roof is made for high walls alone."""
    corners = plan_corners(brief)
    if any(corner.edge is EdgeKind.HIGH_WALL for corner in corners):
        return _edges_of(brief, _form_of(brief))
    polygon, given = np.array([c.at for c in corners]), np.arange(len(corners))
    gables = {k for k, c in enumerate(corners) if edge_pitch(brief, c) is None}
    if polygon_area(polygon) < 0:
        polygon, given = polygon[::-1], np.roll(given[::-1], -1)
        gables = {k for k, n in enumerate(given.tolist()) if n in gables}
    return _edges(polygon, given, gables, {})


def _edges(
    polygon: Floats, given: Ints, gables: set[int], tops: Mapping[int, float]
) -> tuple[Edge, ...]:
    """Return the sides, those in one straight line made one."""
    count = len(polygon)
    ways = np.roll(polygon, -1, axis=0) - polygon
    ways = ways / np.hypot(*ways.T)[:, None]
    turned = [
        abs(float(a[0] * b[1] - a[1] * b[0])) > STRAIGHT or float(a @ b) < 0
        for a, b in zip(np.roll(ways, 1, axis=0), ways, strict=True)
    ]
    starts = [k for k in range(count) if turned[k]]
    is_reversed = count > 1 and (int(given[1]) - int(given[0])) % count == count - 1
    corner = {k: f"C{_stated(int(given[k]), is_reversed, count) + 1}" for k in starts}
    seen: dict[str, int] = {}
    out = []
    for k, after in zip(starts, starts[1:] + starts[:1], strict=True):
        a, b = polygon[k], polygon[after]
        way = (b - a) / np.hypot(*(b - a))
        outward = np.array([way[1], -way[0]])
        letter = way_of(outward)
        seen[letter] = seen.get(letter, 0) + 1
        out.append(
            Edge(
                f"{letter}{seen[letter]}", a, b, (corner[k], corner[after]), outward,
                k in gables, tops.get(k, 0.0),
            )
        )  # fmt: skip
    return tuple(out)


def _stated(given: int, is_reversed: bool, count: int) -> int:
    """Return the stated index of the corner that an edge starts from."""
    return (given + 1) % count if is_reversed else given


def layout_marks(form: Form, along: Floats, spacing: float) -> tuple[float, float]:
    """Return origin and spacing of the layout along a direction, m.

    All planes of one direction have one layout, so that rafters meet in pairs and
    joists lie beside them.
    """
    return float((form.outline.polygon @ along).min()), spacing


def _all_marks(brief: Brief, form: Form) -> tuple[Floats, ...]:
    """Return the marks of every plane: its layout, and where lines meet on it."""
    groups = _paired(form)
    special: dict[int, list[float]] = {}
    for n, plane in enumerate(form.planes):
        special.setdefault(groups[n], []).extend(_places(form, plane))
    thick = 1.5 * TOUCH * brief.rafters.plies
    out = []
    for n, plane in enumerate(form.planes):
        s = to_plane(plane, plane.polygon)[:, 0]
        low, high = float(s.min()), float(s.max())
        kept: list[float] = []
        for mark in sorted(special[groups[n]]):
            inside = low - 1e-9 <= mark <= high + 1e-9
            if inside and all(abs(mark - k) >= TOUCH for k in kept):
                kept.append(min(max(mark, low), high))
        first, step = layout_marks(form, along_of(plane), brief.rafters.spacing)
        count = int(np.floor((high - first) / step + 1e-9)) + 1
        for mark in (first + step * np.arange(count)).tolist():
            near = min((abs(mark - k) for k in kept), default=np.inf)
            if mark >= low - 1e-9 and near >= thick - 1e-9:
                kept.append(min(max(mark, low), high))
        out.append(np.array(sorted(kept)))
    return tuple(out)


def _paired(form: Form) -> list[int]:
    """Return the group of each plane: those that meet along ridges and breaks."""
    group = list(range(len(form.planes)))
    for line in form.of_kind(LineKind.RIDGE, LineKind.BREAK):
        one, other = line.planes
        ways = along_of(form.planes[one]), along_of(form.planes[other])
        if abs(float(ways[0][0] * ways[1][1] - ways[0][1] * ways[1][0])) > PARALLEL:
            continue
        low, high = sorted((group[one], group[other]))
        group = [low if g == high else g for g in group]
    return group


def _places(form: Form, plane: RoofPlane) -> list[float]:
    """Return where rafters stand besides the layout: at ridge ends and gables."""
    s = to_plane(plane, plane.polygon)[:, 0]
    raked = {
        node
        for line in form.rakes
        for node in (line.start_node, line.end_node)
    }  # fmt: skip
    count, number = len(form.outline.polygon), form.planes.index(plane)
    under = {
        node
        for line in form.of_kind(LineKind.ABUTMENT)
        for node in (line.start_node, line.end_node)
        if number in line.planes
    }  # hips end there, and need the room
    return [
        float(mark)
        for mark, node in zip(s, plane.nodes.tolist(), strict=True)
        if (node >= count or node in raked) and node not in under
    ]
