"""The hand method: what a framer's engineer would write on one sheet of paper.

Receives brief, framing and load combinations; never the frame analysis. Sources: the
statics of ``beams``; strengths by the clauses named in ``strength``.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ..basis.materials import reference_values
from ..basis.nds.creep import Condition, creep_factor, long_term_deflection
from ..basis.sections import Section, section
from ..brief.braces import hip_inset
from ..brief.model import Brief, RidgeKind, Surface
from ..framing.model import Framing, Member, Role
from ..framing.purlins import along_purlin
from ..framing.struts import is_held_at_mid, strut_group
from ..loads.cases import CASES, DRIFTS, Case
from ..loads.combine import Combinations
from ..loads.member_loads import MemberLoads
from ..units import GRAVITY
from .beams import continuous_beam, simple_span
from .hips import HandHips, hand_hips
from .model import (
    HandBeam,
    HandJoist,
    HandPurlin,
    HandRafter,
    HandResult,
    HandStrut,
    HandThrust,
)
from .outline import longest_rafters, outline_hips
from .strength import bending_strength, strut_capacity
from .thrust import hand_thrust

Floats = NDArray[np.float64]
_SKIPPED = (*DRIFTS.values(), Case.WIND)
_SAG_LIMITS = {"L/180": 180.0, "L/240": 240.0, "L/360": 360.0}


class HandMethod:
    """The hand calculation of one roof, step by step."""

    def __init__(
        self, brief: Brief, framing: Framing, loads: MemberLoads, combos: Combinations
    ):
        skipped = [CASES.index(case) for case in _SKIPPED]
        keep = [n for n, row in enumerate(combos.factors) if not row[skipped].any()]
        self.brief, self.framing, self.loads = brief, framing, loads
        self.names = tuple(combos.names[n] for n in keep)
        self.factors = combos.factors[keep]
        self.C_D = combos.C_D[keep]
        self.roof_unit = self._roof_unit()
        lasting = np.zeros(len(CASES))
        lasting[CASES.index(Case.DEAD)] = 1.0
        lasting[CASES.index(Case.ATTIC_LIVE)] = brief.loads.attic_live_lasting
        self.sustained = self.factors * lasting

    def run(self) -> HandResult:
        """Return the whole hand calculation."""
        rafters = tuple(self._rafter(*row) for row in self._rows())
        by_slope = {rafter.slope: rafter for rafter in rafters}
        struts = self._struts(by_slope)
        return HandResult(
            combinations=self.names,
            rafters=rafters,
            purlins=self._purlins(by_slope),
            struts=struts,
            joists=self._joists(struts),
            beams=self._beams(),
            hips=self._sloping_lines(),
            thrust=self._thrust(rafters),
        )

    def _rows(self) -> list[tuple[str, float, float]]:
        """Return (slope, run of its commons in m, pitch) of every row of rafters."""
        brief, plan = self.brief, self.framing.plan
        if plan is None:
            run = brief.footprint.width / 2
            ends = {m.slope for m in self.framing.of_role(Role.PURLIN)} & set("WE")
            inset, steep = hip_inset(brief), brief.roof.end_pitch or brief.roof.pitch
            return [
                *((side, run, brief.roof.pitch) for side in "SN"),
                *((side, inset, steep) for side in sorted(ends)),
            ]
        return [
            (name, run, plan.plane(name).pitch)
            for name, run in longest_rafters(self.framing, plan).items()
        ]

    def _sloping_lines(self) -> HandHips:
        """Return hips and valleys."""
        own = {m.key: self._own_weight(m) for m in self._hips()}
        load = self.factors @ self.roof_unit
        if self.framing.plan is not None:
            return outline_hips(self.brief, self.framing, load, own, self.C_D)
        return hand_hips(self.brief, self.framing, load, own, self.C_D)

    def _thrust(self, rafters: tuple[HandRafter, ...]) -> HandThrust | None:
        """Return the thrust, None where a beam carries the ridge or there is none.

        Over a drawn outline it is that of the longest commons.
        """
        if self.brief.ridge.kind is RidgeKind.BEAM or not rafters:
            return None
        if self.framing.plan is not None and not self.framing.plan.form.ridges:
            return None
        if self.framing.of_role(Role.CURB):  # its breaks are held in many ways
            return None
        sides = [r for r in rafters if self.framing.plan or r.slope in ("S", "N")]
        most = max(sides, key=lambda r: float(r.spans.sum()))
        run = float(most.spans.sum())
        pitch = next(p for name, _, p in self._rows() if name == most.slope)
        return hand_thrust(
            self.brief, self.framing, most.line_load, self.C_D, 2 * run, pitch
        )

    def _hips(self) -> list[Member]:
        """Return the hip rafters."""
        return self.framing.of_role(Role.HIP_RAFTER, Role.VALLEY_RAFTER)

    def _roof_unit(self, pitch: float | None = None) -> Floats:
        """Return each case's load on plan, Pa, with the rafters' own weight."""
        brief, pressures = self.brief, self.loads.pressures
        pitch = brief.roof.pitch if pitch is None else pitch
        flat = 1 / math.hypot(1.0, pitch)  # plan over slope length
        unit = np.zeros(len(CASES))
        dead = brief.loads.roof_dead
        unit[CASES.index(Case.DEAD)] = (
            dead if brief.loads.roof_dead_on is Surface.PLAN else dead / flat
        )
        unit[CASES.index(Case.ROOF_LIVE)] = pressures.roof_live
        if pressures.snow is not None:
            unit[CASES.index(Case.SNOW)] = pressures.snow.balanced
        if brief.loads.self_weight:
            stock = brief.rafters
            made = section(stock.size, stock.plies)
            weight = self._weight(stock.species, stock.grade, made)
            unit[CASES.index(Case.DEAD)] += weight / flat / stock.spacing
        return unit

    @staticmethod
    def _weight(species: str, grade: str, made: Section) -> float:
        """Return the weight of a piece, N/m."""
        return reference_values(species, grade, made).density * made.area * GRAVITY

    def _own_weight(self, member: Member) -> Floats:
        """Return a member's own weight per combination, N/m."""
        if not self.brief.loads.self_weight:
            return np.zeros(len(self.names))
        weight = self._weight(member.species, member.grade, member.section)
        return self.factors[:, CASES.index(Case.DEAD)] * weight

    def _rafter(self, side: str, run: float, pitch: float) -> HandRafter:
        """Return one rafter of a slope over rigid purlins."""
        brief = self.brief
        stops = {
            round(self._plan(m.key), 9)
            for m in self.framing.of_role(Role.PURLIN)
            if m.slope == side
        }
        spans = np.diff(np.array([0.0, *sorted(stops), run]))
        load = self.factors @ self._roof_unit(pitch) * brief.rafters.spacing
        beams = [continuous_beam(spans, w) for w in load]
        stock = brief.rafters
        made = section(stock.size, stock.plies)
        strength = bending_strength(
            stock.species, stock.grade, made, self.C_D, stock.spacing <= 0.6097
        )
        capacity = strength * made.section_modulus
        moment = np.array([beam.largest_moment for beam in beams])
        alone, longest = load * run**2 / 8, load * spans.max() ** 2 / 8
        return HandRafter(
            slope=side,
            spans=spans,
            line_load=load,
            reactions=np.array([beam.reactions for beam in beams]),
            moment=moment,
            utilisation=moment / capacity,
            moment_alone=alone,
            utilisation_alone=alone / capacity,
            longest_span_moment=longest,
            utilisation_longest_span=np.maximum(moment, longest) / capacity,
        )

    def _plan(self, purlin: str) -> float:
        """Return the plan distance of a purlin from the plate of its slope, m."""
        start, _ = self.framing.ends(purlin)
        side = self.framing.members[purlin].slope or "S"
        if self.framing.plan is not None:
            plane = self.framing.plan.plane(side)
            return float((start[:2] - plane.polygon[0]) @ plane.uphill)
        size, (x, y, _) = self.brief.footprint, (float(v) for v in start)
        away = {"S": y, "N": size.width - y, "W": x, "E": size.length - x}
        return away[side]

    def _purlin_load(self, purlin: Member, rafters: dict[str, HandRafter]) -> Floats:
        """Return the load on a purlin, N per m of it, per combination."""
        rafter = rafters[purlin.slope or "S"]
        stops = np.concatenate([[0.0], np.cumsum(rafter.spans)])
        at = int(np.abs(stops - self._plan(purlin.key)).argmin())
        return rafter.reactions[:, at] / self.brief.rafters.spacing + self._own_weight(
            purlin
        )

    def _strut_places(self, purlin: str) -> list[tuple[float, Member]]:
        """Return the struts of a purlin by their place along it."""
        name = self.framing.members[purlin].group
        places = [
            (along_purlin(self.framing, purlin, self.framing.ends(m.key)[1]), m)
            for m in self.framing.of_role(Role.STRUT)
            if m.group == name
        ]
        return sorted(places, key=lambda place: place[0])

    def _struts(self, rafters: dict[str, HandRafter]) -> dict[str, HandStrut]:
        """Return all struts."""
        out = {}
        for purlin in self.framing.of_role(Role.PURLIN):
            load = self._purlin_load(purlin, rafters)
            places = self._strut_places(purlin.key)
            if not places:
                continue
            marks = np.array([place for place, _ in places])
            middles = (marks[1:] + marks[:-1]) / 2
            whole = self.framing.length(purlin.key)
            edges = np.concatenate([[0.0], middles, [whole]])
            for width, (_, strut) in zip(np.diff(edges), places, strict=True):
                out[strut.key] = self._strut(strut, float(width), load)
        return out

    def _strut(self, strut: Member, width: float, load: Floats) -> HandStrut:
        """Return one strut with its tributary length of purlin."""
        foot, top = self.framing.ends(strut.key)
        height = float(top[2] - foot[2])
        level = float(np.hypot(*(top - foot)[:2]))
        length = math.hypot(height, level)
        group = strut_group(self.brief, strut)
        capacity, slenderness, longest = strut_capacity(
            strut.species,
            strut.grade,
            strut.section,
            length,
            self.C_D,
            is_held_at_mid(self.brief, strut),
            group.stiffener,
        )
        vertical = load * width
        axial = vertical * length / height
        return HandStrut(
            key=strut.key,
            tributary_length=width,
            vertical=vertical,
            axial=axial,
            push=vertical * level / height,
            angle=math.atan2(height, level),
            length=length,
            slenderness=slenderness,
            capacity=capacity,
            utilisation=axial / capacity,
            longest=longest,
            height_for_45=level,
        )

    def _purlins(self, rafters: dict[str, HandRafter]) -> dict[str, HandPurlin]:
        """Return all purlin lines between their struts."""
        out = {}
        for purlin in self.framing.of_role(Role.PURLIN):
            load = self._purlin_load(purlin, rafters)
            start, end = self.framing.ends(purlin.key)
            marks = [place for place, _ in self._strut_places(purlin.key)]
            whole = float(np.linalg.norm(end - start))
            span = float(np.diff(marks).max()) if len(marks) > 1 else whole
            point = load * self.brief.rafters.spacing
            simple = np.maximum(load * span**2 / 8, point * span / 4)
            made = purlin.section
            strength = bending_strength(
                purlin.species, purlin.grade, made, self.C_D, False
            )
            capacity = strength * made.section_modulus
            through = simple / 2
            out[purlin.key] = HandPurlin(
                key=purlin.key,
                line_load=load,
                span=float(span),
                moment_simple=simple,
                moment_continuous=through,
                utilisation_simple=simple / capacity,
                utilisation_continuous=through / capacity,
            )
        return out

    def _joists(self, struts: dict[str, HandStrut]) -> dict[str, HandJoist]:
        """Return all ceiling joists; equal ones are worked out once."""
        feet: dict[str, list[tuple[float, Floats]]] = {}
        by_node: dict[int, list[str]] = {}
        for joist in self.framing.of_role(Role.CEILING_JOIST):
            for node in joist.nodes[1:-1]:
                by_node.setdefault(node, []).append(joist.key)
        for strut in self.framing.of_role(Role.STRUT):
            node = strut.nodes[0]
            for key in by_node.get(node, []):
                start, _ = self.framing.ends(key)
                place = float(np.linalg.norm(self.framing.points[node] - start))
                if strut.key in struts:
                    feet.setdefault(key, []).append((place, struts[strut.key].vertical))
        known: dict[tuple[object, ...], HandJoist] = {}
        widths = dict(zip(self.loads.member, self.loads.width, strict=True))
        out = {}
        for joist in self.framing.of_role(Role.CEILING_JOIST):
            points = tuple(feet.get(joist.key, ()))
            width = float(widths[joist.key])
            span = self.framing.length(joist.key)
            same = (joist.section, joist.species, joist.grade, round(width, 6),
                    round(span, 6))  # fmt: skip
            if not points and same in known:
                out[joist.key] = known[same]
                continue
            out[joist.key] = self._joist(joist, span, width, points)
            if not points:
                known[same] = out[joist.key]
        return out

    def _joist(
        self,
        joist: Member,
        span: float,
        width: float,
        points: tuple[tuple[float, Floats], ...],
    ) -> HandJoist:
        """Return one joist as a simple span."""
        brief, made = self.brief, joist.section
        unit = np.zeros(len(CASES))
        unit[CASES.index(Case.DEAD)] = brief.loads.ceiling_dead * width
        unit[CASES.index(Case.ATTIC_LIVE)] = brief.loads.attic_live * width
        load = self.factors @ unit + self._own_weight(joist)
        values = reference_values(joist.species, joist.grade, made)
        stiffness = values.E * made.I_strong
        repetitive = brief.ceiling_joists is not None and (
            brief.ceiling_joists.spacing <= 0.6097
        )
        if points and not brief.checks.repetitive_under_struts:
            repetitive = False
        strength = bending_strength(
            joist.species, joist.grade, made, self.C_D, repetitive
        )
        now = simple_span(span, load, points, stiffness)
        dead = self.names.index("D")
        moment, sag = now.moment, now.sag
        lasting = self._lasting_sag(span, unit, joist, points, stiffness)
        plain = bending_strength(joist.species, joist.grade, made, 1.0, repetitive)
        capacity = float(plain) * made.section_modulus
        return HandJoist(
            key=joist.key,
            span=span,
            width=width,
            points=points,
            moment=moment,
            utilisation=moment / (strength * made.section_modulus),
            sag_now=sag,
            sag_long_term=long_term_deflection(
                lasting, sag - lasting, creep_factor(Condition.SEASONED_DRY)
            ),
            sag_dead=float(sag[dead]),
            allowed_by_bending=8 * capacity / span**2 / width,
            allowed_by_sag={
                name: 384 * stiffness / (5 * span**3 * part) / width
                for name, part in _SAG_LIMITS.items()
            },
        )

    def _lasting_sag(
        self,
        span: float,
        unit: Floats,
        joist: Member,
        points: tuple[tuple[float, Floats], ...],
        stiffness: float,
    ) -> Floats:
        """Return the immediate sag of the lasting part of each combination, m.

        Of a strut's load lasts what it brings under dead load alone.
        """
        load = self.sustained @ unit + self._own_weight(joist)
        dead = self.names.index("D")
        factor = self.factors[:, CASES.index(Case.DEAD)]
        lasting = [(a, force[dead] * factor) for a, force in points]
        return simple_span(span, load, lasting, stiffness).sag

    def _beams(self) -> dict[str, HandBeam]:
        """Return the joist load on each beam that carries joists."""
        out = {}
        on_beam = {c.upper_node: c.lower for c in self.framing.contacts}
        widths = dict(zip(self.loads.member, self.loads.width, strict=True))
        unit = np.zeros(len(CASES))
        unit[CASES.index(Case.DEAD)] = self.brief.loads.ceiling_dead
        unit[CASES.index(Case.ATTIC_LIVE)] = self.brief.loads.attic_live
        area = self.factors @ unit
        for beam in self.framing.of_role(Role.BEAM):
            total, count = np.zeros(len(self.names)), []
            for joist in self.framing.of_role(Role.CEILING_JOIST):
                ends = [on_beam.get(joist.nodes[n]) for n in (0, -1)]
                for end in ends:
                    if end == beam.key:
                        width = float(widths[joist.key])
                        half = self.framing.length(joist.key) / 2
                        own = self._own_weight(joist) / width
                        total = total + (area + own) * half
                        count.append(joist.station)
            lines = max(1, len(set(count)))
            if count:
                out[beam.key] = HandBeam(
                    key=beam.key,
                    line_load=total / lines + self._own_weight(beam),
                )
        return out


def hand_method(
    brief: Brief, framing: Framing, loads: MemberLoads, combos: Combinations
) -> HandResult:
    """Return the hand calculation of a framed roof."""
    return HandMethod(brief, framing, loads, combos).run()
