"""The bent line of every member, at once and after years: what a picture draws.

Receives a solved roof and gives points along it; how large they are drawn is the
picture's affair.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.nds.creep import CURVE_LABEL
from ..idealise.model import Model
from ..trace.solved import Solved
from .course import creep_course
from .model import Course

Floats = NDArray[np.float64]

_QUARTIC = 5  # stations that say all of a quartic
_STEPS = 8  # stretches that a bent element is drawn with


@dataclass(frozen=True, eq=False, kw_only=True)
class MemberShape:
    """The bent line of one member.

    Attributes:
        station: (k,) m from the start of its joint line, rising.
        moved: (T, k, 3) m, displacement of the line, global.
        slope: (T, k, 3) rate of that along the member.
    """

    station: Floats
    moved: Floats
    slope: Floats

    def at(self, station: Floats) -> tuple[Floats, Floats]:
        """Return displacement and slope at other stations, (T, p, 3) each.

        Between its own stations the line is the cubic through their displacements and
        slopes; past its ends it goes on straight.

        Args:
            station: (p,) m from the start of the joint line.
        """
        own = self.station
        held = np.clip(station, own[0], own[-1])
        k = np.clip(np.searchsorted(own, held, side="right") - 1, 0, len(own) - 2)
        h = own[k + 1] - own[k]
        t = (held - own[k]) / h
        a, b = self.moved[:, k], self.moved[:, k + 1]
        da, db = self.slope[:, k] * h[:, None], self.slope[:, k + 1] * h[:, None]
        t = t[:, None]
        moved = (
            a * (1 + 2 * t) * (1 - t) ** 2
            + b * t**2 * (3 - 2 * t)
            + da * t * (1 - t) ** 2
            + db * t**2 * (t - 1)
        )
        rate = (
            (b - a) * 6 * t * (1 - t)
            + da * (1 - t) * (1 - 3 * t)
            + db * t * (3 * t - 2)
        ) / h[:, None]
        return moved + rate * (station - held)[:, None], rate


@dataclass(frozen=True, eq=False, kw_only=True)
class Shapes:
    """The bent lines of a roof.

    Attributes:
        years: (T,) since the load came; at 0 nothing has crept.
        combination: that is drawn.
        label: what the curve of years is, to stand on every picture of it.
        members: member key to shape; what is not analysed has none.
        refusal: why no force could be followed between members that creep unlike: each
            one then creeps by itself. Or "".
    """

    years: Floats
    combination: str
    label: str
    members: Mapping[str, MemberShape]
    refusal: str

    def largest(self) -> float:
        """Return the largest displacement of all, m."""
        every = [np.linalg.norm(s.moved, axis=2).max() for s in self.members.values()]
        return float(max(every, default=0.0))


def deflected_shapes(
    solved: Solved,
    years: Sequence[float] = (0.0, 10.0, 50.0),
    combination: str | None = None,
) -> Shapes | None:
    """Return how every member of a roof bends, now and after years.

    Source: displacement of the combination as analysed, and creep of the lasting load
    on top: NDS 2018 3.5.2, the labelled curve of the basis, see ``age_roof``.

    Args:
        solved: a solved roof.
        years: (T,) since loading, 0 to 50.
        combination: its name; left out, the one of the largest long-term sag.

    Returns:
        None where the roof has no analysis.

    Raises:
        ScopeError: a time before loading or past fifty years.
    """
    found = _course_of(solved, years)
    if found is None:
        return None
    model, course, refusal, every = found
    name = combination or sag_combination(solved)
    moved = every[solved.combinations.row(name)] + _crept(model, every, course)
    return Shapes(
        years=course.years,
        combination=name,
        label=CURVE_LABEL,
        members=_by_member(model, moved),
        refusal=refusal,
    )


def lasting_shapes(
    solved: Solved,
    years: Sequence[float] = (0.0, 10.0, 50.0),
    snowed: str | None = None,
) -> Shapes | None:
    """Return how every member bends under the load that lasts, with snow or without.

    Source: as ``winters``.

    Args:
        solved: a solved roof.
        years: (T,) since loading, 0 to 50.
        snowed: combination of dead load and a snow that lies on it; left out, none.

    Returns:
        None where the roof has no analysis.

    Raises:
        ScopeError: a time before loading or past fifty years.
    """
    found = _course_of(solved, years)
    if found is None:
        return None
    model, course, refusal, every = found
    moved = _lasting(every, course) + _crept(model, every, course)
    if snowed is not None:
        row = solved.combinations.row
        moved = moved + every[row(snowed)] - every[row("D")]
    return Shapes(
        years=course.years,
        combination=snowed or "lasting",
        label=CURVE_LABEL,
        members=_by_member(model, moved),
        refusal=refusal,
    )


def _course_of(
    solved: Solved, years: Sequence[float]
) -> tuple[Model, Course, str, Floats] | None:
    """Return model, course, its refusal or "", and bends; None without analysis."""
    found = creep_course(solved, np.array(years, dtype=float))
    model, frame = solved.model, solved.frame
    if found is None or model is None or frame is None:
        return None
    course, _, refusal = found
    return model, course, refusal, frame.stations(_QUARTIC).displacement


def sag_combination(solved: Solved) -> str:
    """Return the combination of the largest long-term sag of a solved roof."""
    names = solved.combinations.names
    if solved.checked is None or not len(solved.checked.sags.worst):
        return names[0]
    sags = solved.checked.sags
    largest = sags.long_term[sags.worst, np.arange(len(sags.worst))]
    return names[int(sags.worst[int(np.argmax(largest))])]


def _lasting(every: Floats, course: Course) -> Floats:
    """Return (m, 5, 3) m, displacements at once of the load that lasts."""
    if course.aged is not None:
        return course.aged[0].stations(_QUARTIC).displacement[0]
    return np.einsum("c,cmki->mki", course.weights, every)


def _crept(model: Model, every: Floats, course: Course) -> Floats:
    """Return (T, m, 5, 3) m, what creep adds to displacements of even stations."""
    lasting = _lasting(every, course)
    if course.aged is not None:
        aged = [r.stations(_QUARTIC).displacement[0] for r in course.aged[1:]]
        return np.stack(aged) - lasting
    creep = course.creep[model.frame.element_member]
    added = course.shares[:, None] * creep
    return added[:, :, None, None] * lasting


def _by_member(model: Model, moved: Floats) -> dict[str, MemberShape]:
    """Return the elements' quartics joined to one line for each member."""
    frame = model.frame
    span = frame.xyz[frame.ends[:, 1]] - frame.xyz[frame.ends[:, 0]]
    length = np.linalg.norm(span, axis=1)
    of = frame.element_member
    part = np.linspace(0.0, 1.0, _STEPS + 1)
    values, rates = _quartic(part)
    line = np.einsum("tmki,pk->tmpi", moved, values)
    slope = np.einsum("tmki,pk->tmpi", moved, rates) / length[:, None, None]
    out = {}
    for n, key in enumerate(model.members):
        low, high = np.searchsorted(of, [n, n + 1])
        at, lines, slopes = [], [], []
        for element in range(int(low), int(high)):
            first = 0 if element == low else 1  # the joint is there already
            at.append(model.start[element] + part[first:] * length[element])
            lines.append(line[:, element, first:])
            slopes.append(slope[:, element, first:])
        out[key] = MemberShape(
            station=np.concatenate(at),
            moved=np.concatenate(lines, axis=1),
            slope=np.concatenate(slopes, axis=1),
        )
    return out


def _quartic(part: Floats) -> tuple[Floats, Floats]:
    """Return (p, 5) weights of five even stations for values, and for their rates."""
    powers = np.arange(_QUARTIC)
    nodes = np.linspace(0.0, 1.0, _QUARTIC)
    inverse = np.linalg.inv(nodes[:, None] ** powers)
    rate = powers * part[:, None] ** np.maximum(powers - 1, 0)
    return part[:, None] ** powers @ inverse, rate @ inverse
