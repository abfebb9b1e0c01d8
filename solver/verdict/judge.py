"""Verdicts on every member: checks, sags, bearings and rules, rule and analysis apart.

Receives what the checks found; computes no statics. Verdicts are known at once for all
members, and the record of one is put together when it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..audit.model import Finding, FindingKind
from ..framing.load_path import LoadPath
from ..framing.model import Framing, Member, Role
from ..idealise.model import Model
from ..loads.combine import Combinations
from ..loads.member_loads import MemberLoads
from .checking import Checked, lasting_weights, run_checks
from .figures import Figures
from .model import MemberResult, StandsOn, Verdict, judge
from .plan import span_table

__all__ = [
    "Checked",
    "Judged",
    "lasting_weights",
    "run_checks",
    "span_table",
    "stands_on",
]

Floats = NDArray[np.float64]
_ALIKE = 1e-9  # of a use: members closer than that are one and its mirror
_KINDS = {"W": "wall", "F": "footing", "X": "point"}


class Judged(Mapping[str, MemberResult]):
    """The record of every framed member, by key, in the order of framing."""

    def __init__(
        self,
        framing: Framing,
        path: LoadPath,
        loads: MemberLoads,
        model: Model | None,
        frame: FrameResult | None,
        checked: Checked | None,
        combos: Combinations,
        findings: tuple[Finding, ...],
    ):
        self._framing, self._path = framing, path
        self._loads, self._model, self._frame = loads, model, frame
        self._records: dict[str, MemberResult] = {}
        self._rules: dict[str, list[int]] = {}
        self._kept: dict[str, bool] = {}
        for n, finding in enumerate(findings):
            for key in finding.members:
                self._rules.setdefault(key, []).append(n)
                if finding.kind is FindingKind.RULE and finding.passed is not None:
                    self._kept[key] = self._kept.get(key, True) and finding.passed
        self._row = {} if model is None else {k: n for n, k in enumerate(model.members)}
        self._figures = None
        if model is not None and checked is not None:
            member = model.frame.element_member
            self._figures = Figures(checked, member, combos)

    def __len__(self) -> int:
        return len(self._framing.members)

    def __iter__(self) -> Iterator[str]:
        return iter(self._framing.members)

    def __contains__(self, key: object) -> bool:
        return key in self._framing.members

    def __getitem__(self, key: str) -> MemberResult:
        if key not in self._records:
            self._records[key] = self._record(self._framing.members[key])
        return self._records[key]

    @cached_property
    def verdicts(self) -> Mapping[str, Verdict]:
        """The verdict of every member, by key."""
        return {
            key: judge(
                key not in self._path.faults,
                key in self._row,
                passes,
                self._kept.get(key),
            )
            for key, passes in self._passes.items()
        }

    @cached_property
    def _passes(self) -> dict[str, bool | None]:
        """Whether all checks pass, by key; None where nothing is checked."""
        out: dict[str, bool | None] = dict.fromkeys(self._framing.members)
        if self._figures is not None:
            passes = (self._figures.utilisation <= 1.0).tolist()
            out |= dict(zip(self._row, passes, strict=True))
        return out

    def sags(self, key: str) -> tuple[float, float] | None:
        """Return the sag of a member now and in the long run, m; None for no sag.

        What its record says, without the record.
        """
        if self._figures is None or key not in self._row:
            return None
        found = self._figures.sags(self._row[key])
        if not found:
            return None
        return float(found["sag_now"]), float(found["sag_long_term"])  # type: ignore[arg-type]

    @property
    def worst(self) -> str | None:
        """Key of the member of the highest utilisation, None where nothing is.

        Of members alike but for rounding, such as one and its mirror, the first.
        """
        if self._figures is None:
            return None
        use = self._figures.utilisation.tolist()
        rated = [key for key in self._framing.members if key in self._row]
        rated = [k for k in rated if self._figures.governing[self._row[k]] >= 0]
        most = max((use[self._row[k]] for k in rated), default=0.0)
        alike = (k for k in rated if use[self._row[k]] >= most * (1 - _ALIKE))
        return next(alike, None)

    def _record(self, member: Member) -> MemberResult:
        """Return the record of one member."""
        key = member.key
        fields: dict[str, object] = {
            "key": key,
            "role": member.role.value,
            "size": member.section.name,
            "species": member.species,
            "grade": member.grade,
            "plies": member.section.plies,
            "length": self._framing.length(key),
            "verdict": self.verdicts[key],
            "analysis_passes": self._passes[key],
            "reason": self._path.faults.get(key, ""),
            "rule_passes": self._kept.get(key),
            "tributary_area": self._area.get(key, 0.0),
            "strut_load": self._strut_load.get(key, 0.0),
            "stands_on": stands_on(self._framing, member),
            "findings": tuple(self._rules.get(key, ())),
        }
        if key in self._row and self._figures is not None:
            fields |= self._figures.checks(self._row[key])
            fields |= self._figures.sags(self._row[key])
            fields["sag_against_neighbour"] = self._apart.get(key)
        return MemberResult(**fields)  # type: ignore[arg-type]

    @cached_property
    def _area(self) -> dict[str, float]:
        """The plan area that rests on each member directly, m2."""
        out: dict[str, float] = {}
        areas = self._loads.plan_area.tolist()
        for key, area in zip(self._loads.member, areas, strict=True):
            out[key] = out.get(key, 0.0) + area
        return out

    @cached_property
    def _strut_load(self) -> dict[str, float]:
        """The largest vertical load that struts bring to each member, N."""
        out: dict[str, Floats] = {}
        if self._frame is None or self._model is None:
            return {}
        rows = np.arange(len(self._row))
        first = np.searchsorted(self._model.frame.element_member, rows)
        framing = self._framing
        for strut in framing.of_role(Role.STRUT):
            if strut.key not in self._row:
                continue
            element = first[self._row[strut.key]]
            down = self._frame.end_force_global[:, element, 0, 2]
            for key in framing.by_node[strut.nodes[0]]:
                if key != strut.key and framing.members[key].role is not Role.STRUT:
                    out[key] = out.get(key, 0.0) + down
        return {key: float(force.max()) for key, force in out.items()}

    @cached_property
    def _apart(self) -> dict[str, float]:
        """The largest difference of each joist's long-term sag to its neighbours'."""
        assert self._figures is not None
        bays: dict[str, list[tuple[str, float | None]]] = {}
        for member in self._framing.of_role(Role.CEILING_JOIST):
            row = self._row.get(member.key)
            sag = None if row is None else self._figures.sag_long_term(row)
            bays.setdefault(member.key.rsplit("-", 1)[1], []).append((member.key, sag))
        out: dict[str, float] = {}
        for joists in bays.values():
            for (one, a), (other, b) in pairwise(joists):
                if a is not None and b is not None:
                    for key in (one, other):
                        out[key] = max(out.get(key, 0.0), abs(a - b))
        return out


def stands_on(framing: Framing, member: Member) -> StandsOn | None:
    """Return what the foot of a strut or post stands on, None for other members."""
    if member.role not in (Role.STRUT, Role.POST, Role.JACK_STUD, Role.KNEE_STUD):
        return None
    foot = member.nodes[0] if member.role is Role.STRUT else member.nodes[-1]
    owner = framing.owner_at.get(foot)
    if owner is not None:
        return StandsOn(kind=_KINDS[owner[0]], name=owner)
    for key in framing.by_node[foot]:
        other = framing.members[key]
        if key != member.key and other.role not in (Role.STRUT, Role.PLATE):
            return StandsOn(kind=other.role.value, name=key)
    return StandsOn(kind="nothing", name="")
