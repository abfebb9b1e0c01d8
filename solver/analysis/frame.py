"""What the frame engine is given: a frame of straight elements, links and loads.

Plain arrays in SI units and global axes (Z up); nothing here knows of roofs.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..errors import FieldError

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

PUSH_ONLY = 1
PULL_ONLY = -1
TWO_SIDED = 0
GROUND = -1


class FrameError(FieldError):
    """An array of the frame or its loads that cannot be used, named by its field."""


@dataclass(frozen=True, eq=False)
class Links:
    """Springs along a direction, between two nodes or a node and the ground.

    Nodes that a link joins stand in one place or on a line along its direction: a
    force that jumps sideways would leave a couple that nothing balances.

    Attributes:
        i: (k,) node that the spring acts on.
        j: (k,) other node, or ``GROUND``.
        direction: (k, 3) unit vector, global; a pushing link presses node i along it.
        stiffness: (k,) N/m, above 0.
        one_sided: (k,) ``PUSH_ONLY`` (contact), ``PULL_ONLY`` or ``TWO_SIDED``.
    """

    i: Ints
    j: Ints
    direction: Floats
    stiffness: Floats
    one_sided: NDArray[np.int8]

    def __post_init__(self) -> None:
        _coerce(self, "i", np.int64)
        _coerce(self, "j", np.int64)
        _coerce(self, "direction", np.float64)
        _coerce(self, "stiffness", np.float64)
        _coerce(self, "one_sided", np.int8)

    def __len__(self) -> int:
        return len(self.i)

    @staticmethod
    def none() -> Links:
        """Return an empty set of links."""
        none = np.zeros(0, np.int64)
        none8 = np.zeros(0, np.int8)
        return Links(none, none, np.zeros((0, 3)), np.zeros(0), none8)


@dataclass(frozen=True, eq=False)
class Frame:
    """A three-dimensional frame; see the package docstring for axes and signs.

    Attributes:
        xyz: (n, 3) m, nodes.
        fixed: (n, 6) True where a displacement (ux uy uz rx ry rz) is held at zero.
        ends: (m, 2) nodes i and j of each element.
        up: (m, 3) the depth direction (local z) lies in the plane of axis and ``up``.
        A: (m,) m2, above 0.
        I_strong: (m,) m4, for bending in the plane of axis and depth.
        I_weak: (m,) m4, for bending across it.
        J: (m,) m4, torsion constant.
        E: (m,) Pa, above 0.
        G: (m,) Pa.
        release: (m, 12) local freedoms (ux uy uz rx ry rz at i, then at j) that the
            end does not pass on; uy and uz are not supported.
        axial_only: (m,) True for pin-ended elements without torsion.
        one_sided: (m,) ``PUSH_ONLY``, ``PULL_ONLY`` or ``TWO_SIDED``; only axial_only
            elements may be one-sided.
        links: springs.
        element_member: (m,) nondecreasing; elements of a member follow one another
            from its i end to its j end. One each where it is left empty.
    """

    xyz: Floats
    fixed: Bools
    ends: Ints
    up: Floats
    A: Floats
    I_strong: Floats
    I_weak: Floats
    J: Floats
    E: Floats
    G: Floats
    release: Bools
    axial_only: Bools
    one_sided: NDArray[np.int8]
    links: Links = field(default_factory=Links.none)
    element_member: Ints = field(default_factory=lambda: np.zeros(0, np.int64))

    def __post_init__(self) -> None:
        for name in ("xyz", "up", "A", "I_strong", "I_weak", "J", "E", "G"):
            _coerce(self, name, np.float64)
        for name in ("fixed", "release", "axial_only"):
            _coerce(self, name, np.bool_)
        _coerce(self, "ends", np.int64)
        _coerce(self, "one_sided", np.int8)
        if not len(self.element_member):
            object.__setattr__(self, "element_member", np.arange(len(self.ends)))
        _coerce(self, "element_member", np.int64)

    @property
    def n_nodes(self) -> int:
        """Number of nodes."""
        return len(self.xyz)

    @property
    def n_elements(self) -> int:
        """Number of elements."""
        return len(self.ends)


@dataclass(frozen=True, eq=False)
class LoadSet:
    """Load cases on a frame.

    Attributes:
        names: (ncase,) name of each case.
        element_load: (ncase, m, 3) N per m of element length, global, uniform.
        node_load: (ncase, n, 6) N and N m, global.
    """

    names: tuple[str, ...]
    element_load: Floats
    node_load: Floats

    def __post_init__(self) -> None:
        object.__setattr__(self, "names", tuple(self.names))
        _coerce(self, "element_load", np.float64)
        _coerce(self, "node_load", np.float64)


def same_frame(a: Frame, b: Frame) -> bool:
    """Return True where two frames have the same arrays."""
    if a is b:
        return True
    names = [f.name for f in fields(Frame) if f.name != "links"]
    own = [(getattr(a, name), getattr(b, name)) for name in names]
    own += [(getattr(a.links, f.name), getattr(b.links, f.name)) for f in fields(Links)]
    return all(np.array_equal(x, y) for x, y in own)


def check_frame(frame: Frame) -> None:
    """Refuse arrays that do not fit together or hold impossible values.

    Raises:
        FrameError: names the array, the first offending value and what is allowed.
    """
    n, m, k = frame.n_nodes, frame.n_elements, len(frame.links)
    shapes = {
        "xyz": (n, 3), "fixed": (n, 6), "ends": (m, 2), "up": (m, 3), "A": (m,),
        "I_strong": (m,), "I_weak": (m,), "J": (m,), "E": (m,), "G": (m,),
        "release": (m, 12), "axial_only": (m,), "one_sided": (m,),
        "element_member": (m,),
    }  # fmt: skip
    if not (n and m):
        raise FrameError("frame", (n, m), "at least one node and one element")
    for name, shape in shapes.items():
        _require_shape(f"frame.{name}", getattr(frame, name), shape)
    for name, shape in {
        "i": (k,), "j": (k,), "direction": (k, 3), "stiffness": (k,), "one_sided": (k,),
    }.items():  # fmt: skip
        _require_shape(f"frame.links.{name}", getattr(frame.links, name), shape)
    for name in ("xyz", "up", "A", "I_strong", "I_weak", "J", "E", "G"):
        _require_finite(f"frame.{name}", getattr(frame, name))
    _require("frame.A", frame.A, frame.A > 0, "above 0")
    _require("frame.E", frame.E, frame.E > 0, "above 0")
    for name in ("I_strong", "I_weak", "J", "G"):
        value = getattr(frame, name)
        _require(f"frame.{name}", value, value >= 0, "0 or more")
    _require_nodes("frame.ends", frame.ends, n, 0)
    _require(
        "frame.element_member", frame.element_member[1:],
        np.diff(frame.element_member) >= 0, "nondecreasing",
    )  # fmt: skip
    shear = frame.release[:, [1, 2, 7, 8]].any(axis=1)
    _require("frame.release", np.arange(m), ~shear, "no release of uy or uz")
    slack_i, slack_j = frame.release[:, 0], frame.release[:, 6]
    carries = ~((slack_i & slack_j) | ((slack_i | slack_j) & frame.axial_only))
    allowed = "release of ux at one end, and of no axial_only element"
    _require("frame.release", np.arange(m), carries, allowed)
    lone = frame.axial_only | (frame.one_sided == TWO_SIDED)
    _require("frame.one_sided", np.arange(m), lone, "axial_only elements alone")
    _check_links(frame.links, n, frame.xyz)


def check_loads(frame: Frame, loads: LoadSet, factors: Floats) -> None:
    """Refuse loads or factors that do not fit the frame or are not finite.

    Raises:
        FrameError: names the array and what is allowed.
    """
    ncase = len(loads.names)
    shape = (ncase, frame.n_elements, 3)
    _require_shape("loads.element_load", loads.element_load, shape)
    _require_shape("loads.node_load", loads.node_load, (ncase, frame.n_nodes, 6))
    if factors.ndim != 2 or not len(factors):
        raise FrameError("factors", factors.shape, "(ncomb, ncase), one row at least")
    _require_shape("factors", factors, (len(factors), ncase))
    _require_finite("loads.element_load", loads.element_load)
    _require_finite("loads.node_load", loads.node_load)
    _require_finite("factors", factors)


def _check_links(links: Links, n: int, xyz: Floats) -> None:
    """Refuse links to missing nodes, of no direction or of no stiffness."""
    _require_nodes("frame.links.i", links.i, n, 0)
    _require_nodes("frame.links.j", links.j, n, GROUND)
    _require_finite("frame.links.direction", links.direction)
    _require_finite("frame.links.stiffness", links.stiffness)
    length = np.linalg.norm(links.direction, axis=1)
    unit = np.abs(length - 1) < 1e-6
    _require("frame.links.direction", length, unit, "unit vectors")
    stiff = links.stiffness > 0
    _require("frame.links.stiffness", links.stiffness, stiff, "above 0")
    apart = links.i != links.j
    _require("frame.links.j", links.j, apart, "a node other than i")
    gap = np.where(links.j[:, None] == GROUND, 0.0, xyz[links.j] - xyz[links.i])
    aside = gap - (gap * links.direction).sum(axis=1)[:, None] * links.direction
    straight = np.abs(aside).max(axis=1, initial=0.0) <= 1e-6
    allowed = "the direction from node i to node j where they stand apart"
    _require("frame.links.direction", links.direction, straight, allowed)


def _coerce(record: object, name: str, dtype: type) -> None:
    """Store a field as an array of the given type."""
    value: NDArray[Any] = np.ascontiguousarray(getattr(record, name), dtype=dtype)
    object.__setattr__(record, name, value)


def _require(name: str, value: NDArray[Any], good: Bools, allowed: str) -> None:
    """Raise FrameError for the first value that is not good."""
    if not good.all():
        at = int(np.argmin(good))
        raise FrameError(f"{name}[{at}]", value[at].tolist(), allowed)


def _require_finite(name: str, value: Floats) -> None:
    """Raise FrameError where a value is not finite."""
    with np.errstate(all="ignore"):
        if np.isfinite(value.sum()):  # one pass without a second array
            return
    if not np.isfinite(value).all():
        at = tuple(int(i) for i in np.argwhere(~np.isfinite(value))[0])
        place = ", ".join(str(i) for i in at)
        raise FrameError(f"{name}[{place}]", float(value[at]), "finite numbers")


def _require_shape(name: str, value: NDArray[Any], shape: tuple[int, ...]) -> None:
    """Raise FrameError where an array has the wrong shape."""
    if value.shape != shape:
        raise FrameError(name, value.shape, f"shape {shape}")


def _require_nodes(name: str, value: Ints, n: int, least: int) -> None:
    """Raise FrameError for an index that names no node."""
    flat = value.ravel()
    good = (flat >= least) & (flat < n)
    _require(name, flat, good, f"{least} to {n - 1}")
