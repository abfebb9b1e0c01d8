"""Nails that hold the webs of a truss: at the joist, the rafter and the peak."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..basis import panels
from ..basis.materials import reference_values
from ..basis.nds.nail_joints import nails_needed
from ..brief.model import Brief
from ..connections.nail_values import NailValues, face_nails
from ..framing.model import Framing, Member, Role
from ..framing.trusses import web_truss
from ..idealise.model import Model
from ..loads.combine import Combinations

Floats = NDArray[np.float64]
PLYWOOD_G = 0.42  # NDS 2018 Table 12.3.3B, plywood other than of marine grade
LEAST = 2
LAP_NAIL = "10d common"


@dataclass(frozen=True, kw_only=True)
class Plywood:
    """What the gusset on each side of a joint has to be at least.

    Attributes:
        rating: span rating that was taken for its thickness.
        width: m across the force, for tension across the face grain.
        length: m along the force on either side of the joint, for shear through the
            thickness.
        clause: of the values.
    """

    rating: str
    width: float
    length: float
    clause: str = panels.CLAUSE


@dataclass(frozen=True, eq=False, kw_only=True)
class GussetJoint:
    """The nails of one piece in one joint of a truss.

    Attributes:
        key: of the web and the end, such as ``TW-03-S foot``.
        member: key of the piece that the nails go into.
        through: what the nails go through: plywood on both sides, or the web itself.
        force: N, largest in its combination.
        combination: governs.
        nail: its name.
        each: N, adjusted value of one nail there.
        needed: nails, both sides together.
        stated: nails that the brief states, None where it does not.
        clause: of the nail's value.
        plywood: how much of it each side needs; None through the web itself, and for
            plywood thinner than the tables know.
    """

    key: str
    member: str
    through: str
    force: float
    combination: str
    nail: str
    each: float
    needed: int
    stated: int | None
    clause: str
    plywood: Plywood | None = None

    @property
    def passes(self) -> bool | None:
        """Whether the stated nails are enough; None where none are stated."""
        return None if self.stated is None else self.stated >= self.needed


def gusset_joints(
    brief: Brief,
    framing: Framing,
    model: Model,
    result: FrameResult,
    combos: Combinations,
) -> tuple[GussetJoint, ...]:
    """Return the nails of every analysed web at both of its ends.

    A web's foot has plywood on both sides of it and of the joist, each nail in single
    shear; so has the top of a king post. The top of a strut laps a rafter and is
    nailed to it face to face. The joist takes what the webs of one foot bring together.

    Source: NDS 2018 12.3.1, 11.3.1 for one nail; statics for the forces; the plywood by
    the APA Panel Design Specification, its weaker way, half of the force on each side.
    """
    found: list[GussetJoint] = []
    feet: dict[int, list[tuple[Member, Floats]]] = {}
    for web in framing.of_role(Role.WEB):
        if web.key not in model.members:
            continue
        force = result.end_force_global[:, model.rows_of(web.key).start, 0]
        feet.setdefault(web.nodes[0], []).append((web, force))
        size = np.linalg.norm(force, axis=1)
        plywood = _plywood(brief, web, combos.C_D)
        stated = web_truss(brief, web).gusset_nails
        thick = web_truss(brief, web).gusset
        found += [
            _joint(web, end, web.key, size, plywood, stated, combos, thick)
            for end in (("foot", "peak") if web.slope is None else ("foot",))
        ]
        if web.slope is None:
            continue
        if web.group is None:
            lap = _lapped(framing, web, combos.C_D)
            rafter = f"R-{web.slope}-{web.station:02d}"
            found.append(_joint(web, "top", rafter, size, lap, None, combos))
    for node, webs in feet.items():
        total = np.linalg.norm(np.sum([force for _, force in webs], axis=0), axis=1)
        joist = next(
            key
            for key in framing.by_node[node]
            if framing.members[key].role is Role.CEILING_JOIST
        )
        first = webs[0][0]
        plywood = _plywood(brief, first, combos.C_D)
        stated = web_truss(brief, first).gusset_nails
        thick = web_truss(brief, first).gusset
        found.append(
            _joint(first, "chord", joist, total, plywood, stated, combos, thick)
        )
    return tuple(found)


def _plywood(brief: Brief, web: Member, C_D: Floats) -> tuple[str, NailValues]:
    """Return what one nail through a gusset into a web is worth."""
    truss = web_truss(brief, web)
    G = reference_values(web.species, web.grade, web.section).G
    values = face_nails(
        truss.gusset_nail,
        (truss.gusset, PLYWOOD_G),
        (web.section.breadth, G),
        C_D,
    )
    return "plywood on both sides", values


def _lapped(framing: Framing, web: Member, C_D: Floats) -> tuple[str, NailValues]:
    """Return what one nail through a web into the rafter that it laps is worth."""
    rafter = framing.members[f"R-{web.slope}-{web.station:02d}"]
    sides = [
        (m.section.breadth, reference_values(m.species, m.grade, m.section).G)
        for m in (web, rafter)
    ]
    return "the web, face to face", face_nails(LAP_NAIL, *sides, C_D)


def _joint(
    web: Member,
    end: str,
    member: str,
    force: Floats,
    nails: tuple[str, NailValues],
    stated: int | None,
    combos: Combinations,
    thickness: float | None = None,
) -> GussetJoint:
    """Return the nails of one piece in its worst combination."""
    through, values = nails
    row = int(np.argmax(force / values.lateral))
    sheet = None if thickness is None else _sheet(force, combos.C_D, thickness)
    return GussetJoint(
        key=f"{web.key} {end}",
        member=member,
        through=through,
        force=float(force[row]),
        combination=combos.names[row],
        nail=values.nail,
        each=float(values.lateral[row]),
        needed=nails_needed(float(force[row]), float(values.lateral[row]), LEAST),
        stated=stated,
        clause=values.clause,
        plywood=sheet,
    )


def _sheet(force: Floats, C_D: Floats, thickness: float) -> Plywood | None:
    """Return the gusset that each side needs for (ncomb,) N, half on each."""
    panel = panels.panel_of(thickness)
    if panel is None:
        return None
    half, factor = float((force / C_D).max()) / 2, 1.0  # C_D is in the force
    return Plywood(
        rating=panel.rating,
        width=panels.strip_width(half, panel.tension_across, factor),
        length=panels.shear_length(half, panel.shear, factor),
    )
