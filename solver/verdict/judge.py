"""From forces to verdicts: checks, sags, bearings and rules of every member.

Receives the solved model; returns one record for each framed member. Computes no
statics: it picks, compares and names.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult, Stations
from ..audit.model import Finding, FindingKind
from ..basis.nds.design import NationalDesignSpecification
from ..basis.protocol import Check
from ..brief.model import Brief
from ..checks.bearing import check_bearing
from ..checks.deflection import Sags, SpanTable, check_deflection, span_sags
from ..checks.inputs import member_table
from ..checks.members import check_members
from ..checks.results import CheckResult, CheckRows, with_checks
from ..framing.load_path import LoadPath
from ..framing.model import Framing, Member, Role
from ..framing.spans import Span, spans
from ..idealise.model import Model
from ..loads.combine import Combinations
from ..loads.member_loads import MemberLoads
from .bearings import bearing_table
from .cuts import check_cuts
from .limits import role_sag_limits
from .model import MemberResult, StandsOn, judge
from .person import person_check, person_rows
from .rows import member_rows

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
_TIE = 1e-9  # of a value: nearer ones are equal, and the positive one is named
_LIMITS_OF_SHAPE = (Check.SLENDERNESS, Check.BEAM_SLENDERNESS)


@dataclass(frozen=True, eq=False, kw_only=True)
class Checked:
    """Everything that the checks found of the analysed members.

    Attributes:
        result: of all checks.
        sags: of all spans.
        spans: the spans, in the order of ``sags``.
        stations: forces and displacements along the members.
    """

    result: CheckResult
    sags: Sags
    spans: tuple[Span, ...]
    stations: Stations


def run_checks(
    brief: Brief,
    framing: Framing,
    model: Model,
    frame: FrameResult,
    combos: Combinations,
    counts: Bools | None = None,
) -> Checked:
    """Return all checks of the analysed members.

    Args:
        brief: what is stated.
        framing: of the roof.
        model: of the roof.
        frame: its forces.
        combos: of the frame.
        counts: (ncomb, n) whether a combination counts for a member; None: all do.
    """
    held = spans(framing)
    basis = NationalDesignSpecification()
    table = member_table(member_rows(brief, framing, model.members, held))
    table = replace(table, counts=counts)
    stations = frame.stations(9, peaks=True)
    result = check_members(
        table, stations, model.frame.element_member, combos.names, combos.C_D, basis
    )
    row = {key: n for n, key in enumerate(model.members)}
    listed = tuple(s for key in model.members for s in held.get(key, ()))
    table_of_spans = span_table(brief, framing, row, listed)
    sags = span_sags(
        stations,
        model.frame.element_member,
        table_of_spans,
        lasting_weights(brief, combos),
        basis,
        counts,
    )
    more = check_deflection(result, sags)
    bearing = check_bearing(result, bearing_table(framing, model, frame))
    if bearing is not None:
        more[bearing.check] = bearing
    cuts = check_cuts(brief, framing, model, stations, result)
    if cuts is not None:
        more[cuts.check] = cuts
    if brief.loads.person:
        more |= _person(framing, model, frame, result, combos)
    return Checked(
        result=with_checks(result, more), sags=sags, spans=listed, stations=stations
    )


def _person(
    framing: Framing,
    model: Model,
    frame: FrameResult,
    result: CheckResult,
    combos: Combinations,
) -> dict[Check, CheckRows]:
    """Return the check of a person on joists and rafters, where there are any."""
    dead = combos.row("D")
    rows = person_rows(framing, model, frame, result, dead)
    return {} if rows is None else {Check.PERSON: person_check(result, rows, dead)}


def lasting_weights(brief: Brief, combos: Combinations) -> Floats:
    """Return weights of combinations that add to the lasting load.

    The dead load alone, and of the attic live load the part that stays for years: the
    difference of D+L and D.
    """
    weights = np.zeros(len(combos.names))
    weights[combos.row("D")] = 1.0
    part = brief.loads.attic_live_lasting
    if part and "D+L" in combos.names:
        weights[combos.row("D+L")] += part
        weights[combos.row("D")] -= part
    return weights


def span_table(
    brief: Brief, framing: Framing, row: dict[str, int], listed: tuple[Span, ...]
) -> SpanTable:
    """Return the spans as the checks take them."""
    limits = [role_sag_limits(brief, framing.members[s.member].role) for s in listed]
    return SpanTable(
        member=np.array([row[s.member] for s in listed], dtype=np.int64),
        start=np.array([s.start for s in listed]),
        end=np.array([s.end for s in listed]),
        direction=np.array([framing.members[s.member].up for s in listed]).reshape(
            -1, 3
        ),
        limit_live=np.array([limit.live for limit in limits]),
        limit_total=np.array([limit.total for limit in limits]),
    )


class Judge:
    """Puts together the record of every framed member."""

    def __init__(
        self,
        brief: Brief,
        framing: Framing,
        path: LoadPath,
        loads: MemberLoads,
        model: Model | None,
        frame: FrameResult | None,
        checked: Checked | None,
        combos: Combinations,
        findings: tuple[Finding, ...],
    ):
        self.brief, self.framing, self.path = brief, framing, path
        self.model, self.frame, self.checked = model, frame, checked
        self.combos = combos
        self.rules: dict[str, list[int]] = {}
        self.kept: dict[str, bool] = {}
        for n, finding in enumerate(findings):
            for key in finding.members:
                self.rules.setdefault(key, []).append(n)
                if finding.kind is FindingKind.RULE and finding.passed is not None:
                    self.kept[key] = self.kept.get(key, True) and finding.passed
        self.row = {} if model is None else {k: n for n, k in enumerate(model.members)}
        self.area = _areas(loads)
        self.sag_rows = self._sag_rows()
        self.axial_moment_shear = self._signed_extremes()
        self.strut_load = self._strut_loads()

    def run(self) -> dict[str, MemberResult]:
        """Return every member's record, in the order of framing."""
        records = {
            key: self._one(member) for key, member in self.framing.members.items()
        }
        return _with_neighbours(self.framing, records)

    def _sag_rows(self) -> dict[str, list[int]]:
        """Return the rows of each member's spans."""
        out: dict[str, list[int]] = {}
        if self.checked is not None:
            for n, span in enumerate(self.checked.spans):
                out.setdefault(span.member, []).append(n)
        return out

    def _signed_extremes(self) -> Floats:
        """Return (n, 3): axial, moment and shear of largest size, signed."""
        if self.checked is None or self.model is None:
            return np.zeros((0, 3))
        stations, member = self.checked.stations, self.model.frame.element_member
        counts, dead = self.checked.result.table.counts, self.combos.row("D")
        out = np.zeros((len(self.model.members), 3))
        first = np.searchsorted(member, np.arange(len(self.model.members)))
        for column, values in enumerate(
            (stations.N, stations.M_strong, stations.V_strong)
        ):
            if counts is not None:
                values = np.where(counts[:, member, None], values, values[dead])
            most, least = values.max(axis=(0, 2)), values.min(axis=(0, 2))
            high = np.maximum.reduceat(most, first)
            low = np.minimum.reduceat(least, first)
            out[:, column] = np.where(high >= -low * (1 - _TIE), high, low)
        return out

    def _strut_loads(self) -> dict[str, float]:
        """Return the largest vertical load that struts bring to each member, N."""
        out: dict[str, Floats] = {}
        if self.frame is None or self.model is None:
            return {}
        for strut in self.framing.of_role(Role.STRUT):
            if strut.key not in self.row:
                continue
            element = self.model.rows_of(strut.key).start
            down = self.frame.end_force_global[:, element, 0, 2]
            for key in self.framing.by_node[strut.nodes[0]]:
                if (
                    key != strut.key
                    and self.framing.members[key].role is not Role.STRUT
                ):
                    out[key] = out.get(key, 0.0) + down
        return {key: float(force.max()) for key, force in out.items()}

    def _one(self, member: Member) -> MemberResult:
        """Return the record of one member."""
        key = member.key
        fields: dict[str, object] = {
            "key": key,
            "role": member.role.value,
            "size": member.section.name,
            "species": member.species,
            "grade": member.grade,
            "plies": member.section.plies,
            "length": self.framing.length(key),
            "reason": self.path.faults.get(key, ""),
            "rule_passes": self.kept.get(key),
            "tributary_area": self.area.get(key, 0.0),
            "strut_load": self.strut_load.get(key, 0.0),
            "stands_on": stands_on(self.framing, member),
            "findings": tuple(self.rules.get(key, ())),
        }
        passes = None
        if key in self.row and self.checked is not None:
            fields |= self._checks(self.row[key])
            fields |= self._sags(key)
            if fields["utilisation"] is not None:
                passes = fields["utilisation"] <= 1.0  # type: ignore[operator]
        return MemberResult(
            verdict=judge(
                key not in self.path.faults,
                key in self.row,
                passes,
                self.kept.get(key),
            ),
            analysis_passes=passes,
            **fields,  # type: ignore[arg-type]
        )

    def _checks(self, row: int) -> dict[str, object]:
        """Return what the checks say of a member."""
        assert self.checked is not None
        result = self.checked.result
        axial, moment, shear = self.axial_moment_shear[row]
        out: dict[str, object] = {
            "utilisation": 0.0,
            "by_check": {
                name.value: float(rows.utilisation[row])
                for name, rows in result.checks.items()
            },
            "by_combination": {
                name.value: {
                    combo: use
                    for combo, use, counts in zip(
                        self.combos.names,
                        rows.every[:, row].tolist(),
                        self._counted(row),
                        strict=True,
                    )
                    if counts
                }
                for name, rows in result.checks.items()
                if rows.utilisation[row] > _TIE  # less is rounding
            },
            "axial": float(axial),
            "moment": float(moment),
            "shear": float(shear),
        }
        name = self._governing(row)
        if name is not None:
            out["utilisation"] = float(result.checks[name].utilisation[row])
            rows = result.checks[name]
            out |= {
                "governing_check": name.value,
                "clause": rows.clause,
                "combination": self.combos.names[int(rows.combination[row])],
                "station": float(rows.station[row]),
                "demand": float(rows.demand[row]),
                "capacity": float(rows.capacity[row]),
                "unit": rows.unit,
            }
        return out

    def _counted(self, row: int) -> list[bool]:
        """Return (ncomb,) whether each combination counts for a member."""
        assert self.checked is not None
        counts = self.checked.result.table.counts
        if counts is None:
            return [True] * len(self.combos.names)
        return counts[:, row].tolist()

    def _governing(self, row: int) -> Check | None:
        """Return the worst check of a member.

        Slenderness within its limit says how thin a piece is, not how loaded, so it
        governs only where it fails.
        """
        assert self.checked is not None
        found = [
            (float(rows.utilisation[row]), name)
            for name, rows in self.checked.result.checks.items()
            if name not in _LIMITS_OF_SHAPE or rows.utilisation[row] > 1
        ]
        worst = max(found, key=lambda pair: pair[0], default=None)
        return worst[1] if worst is not None and worst[0] > 0 else None

    def _sags(self, key: str) -> dict[str, object]:
        """Return the worst sags of a member."""
        rows = self.sag_rows.get(key, [])
        if not rows or self.checked is None:
            return {}
        sags = self.checked.sags
        worst = max(rows, key=lambda n: float(np.abs(sags.long_term[:, n]).max()))
        dead = self.combos.row("D")
        return {
            "sag_now": _largest(sags.now[:, worst]),
            "sag_long_term": _largest(sags.long_term[:, worst]),
            "sag_dead": float(sags.now[dead, worst]),
            "sag_span": self.checked.spans[worst].length,
        }


def _largest(values: Floats) -> float:
    """Return the value of largest size, signed."""
    most, least = float(values.max()), float(values.min())
    return most if most >= -least * (1 - _TIE) else least


def _areas(loads: MemberLoads) -> dict[str, float]:
    """Return the plan area that rests on each member directly, m2."""
    out: dict[str, float] = {}
    for key, area in zip(loads.member, loads.plan_area.tolist(), strict=True):
        out[key] = out.get(key, 0.0) + area
    return out


def stands_on(framing: Framing, member: Member) -> StandsOn | None:
    """Return what the foot of a strut or post stands on, None for other members."""
    if member.role not in (Role.STRUT, Role.POST, Role.JACK_STUD):
        return None
    foot = member.nodes[0] if member.role is Role.STRUT else member.nodes[-1]
    for support in framing.supports:
        if support.node == foot:
            kinds = {"W": "wall", "F": "footing", "X": "point"}
            return StandsOn(kind=kinds[support.owner[0]], name=support.owner)
    for key in framing.by_node[foot]:
        other = framing.members[key]
        if key != member.key and other.role not in (Role.STRUT, Role.PLATE):
            return StandsOn(kind=other.role.value, name=key)
    return StandsOn(kind="nothing", name="")


def _with_neighbours(
    framing: Framing, records: dict[str, MemberResult]
) -> dict[str, MemberResult]:
    """Return the records with each joist's sag against its neighbours'."""
    rows: dict[str, list[MemberResult]] = {}
    for member in framing.of_role(Role.CEILING_JOIST):
        bay = member.key.rsplit("-", 1)[1]
        rows.setdefault(bay, []).append(records[member.key])
    for joists in rows.values():
        for n, joist in enumerate(joists):
            near = [*joists[max(0, n - 1) : n], *joists[n + 1 : n + 2]]
            apart = [
                abs(joist.sag_long_term - other.sag_long_term)
                for other in near
                if joist.sag_long_term is not None and other.sag_long_term is not None
            ]
            if apart:
                records[joist.key] = replace(joist, sag_against_neighbour=max(apart))
    return records
