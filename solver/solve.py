"""From a brief to everything that is known of its roof: the flow, in one place.

Each stage is a pure function of those above it. A roof that cannot stand, or a member
over its limit, is a result; only a brief that cannot be framed raises.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from .analysis import FrameResult, LiftOffError, UnstableFrameError
from .analysis import solve as solve_frame
from .audit import Finding, audit_roof
from .audit.leaning import leaning_struts
from .audit.zone import ZoneStrip, purlin_zone
from .brief import Brief
from .brief.model import LiveReduction
from .connections import Joint, find_joints, heel_stiffness, states_nails
from .connections.plate_bolts import PlateBolts, plate_bolts
from .errors import ContactError, MechanismError
from .framing import Framing, frame_roof
from .framing.load_path import LoadPath, find_load_path
from .framing.roof_snow import drift_edge
from .hand import HandResult, hand_method
from .idealise import Model, build_model, drifting, with_heel_slip, with_loads
from .idealise.carried import supported_roof
from .idealise.states import Analysed, carried_states
from .loads import Combinations, MemberLoads, combinations, member_loads
from .loads.live_area import LiveLevels, live_levels
from .trace import Flow, Shares, support_shares
from .trusses import GussetJoint, HandTruss, gusset_joints, hand_trusses
from .verdict.judge import Checked, Judged, run_checks
from .verdict.model import MemberResult, Verdict

_MOST_ROUNDS = 12
_WHY_LOOSE = "it can move without resistance: nothing holds it one way"


@dataclass(frozen=True, eq=False, kw_only=True)
class Framed:
    """The stages that know no load: they serve every load on one framing.

    Attributes:
        brief: whose framing it is.
        framing: members and joints.
        path: what stands on what, by the joints alone.
        zone: where purlins could be braced by the rules.
    """

    brief: Brief
    framing: Framing
    path: LoadPath
    zone: tuple[ZoneStrip, ...]

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """The audit of the rules along the load path by the joints alone."""
        return audit_roof(self.brief, self.framing, self.path)


@dataclass(frozen=True, eq=False, kw_only=True)
class Solution:
    """A solved roof.

    Attributes:
        brief, framing, path, loads, combinations: of their stages.
        model, frame, checked: None where nothing of the roof can be analysed.
        refusal: why there is no analysis, or "".
        zone: where purlins could be braced by the rules.
        findings: of the audit, worst first.
        members: every member's record, put together when it is asked for.
        framed: the stages that know no load.
        hand_combinations: of the hand method.
    """

    brief: Brief
    framing: Framing
    path: LoadPath
    loads: MemberLoads
    combinations: Combinations
    model: Model | None
    frame: FrameResult | None
    checked: Checked | None
    refusal: str
    zone: tuple[ZoneStrip, ...]
    findings: tuple[Finding, ...]
    members: Judged
    framed: Framed
    hand_combinations: Combinations

    @cached_property
    def hand(self) -> HandResult:
        """The hand method, worked out when it is first asked for."""
        return hand_method(self.brief, self.framing, self.loads, self.hand_combinations)

    @cached_property
    def overall(self) -> Verdict:
        """The worst verdict of all members; a roof without analysis has no path.

        A joint whose stated nails are too few is over its limit as a member is.
        """
        if self.refusal:
            return Verdict.NO_LOAD_PATH
        found = set(self.members.verdicts.values())
        short = any(j.passes is False for j in self.gussets)
        if states_nails(self.brief):
            short = short or any(j.passes is False for j in self.joints)
        if short:
            found.add(Verdict.OVER_LIMIT)
        return min(found, key=lambda v: v.rank)

    @cached_property
    def worst(self) -> MemberResult | None:
        """The member of the highest utilisation, None where there is none."""
        key = self.members.worst
        return None if key is None else self.members[key]

    def flow(self, combination: str | None = None) -> Flow | None:
        """Return the hand-overs of a combination.

        Args:
            combination: its name; left out, that of the worst member.

        Returns:
            None where nothing was analysed.
        """
        if self.model is None or self.frame is None:
            return None
        row = self.combinations.row(combination or self.main_combination)
        if row not in self._flows:
            self._flows[row] = Flow(
                self.framing,
                self.model,
                self.frame,
                self.combinations.factors[row],
                row,
            )
        return self._flows[row]

    def shares(self, combination: str | None = None) -> Shares | None:
        """Return the exact shares of every load in every support.

        Args:
            combination: whose contact state is kept; left out, that of the worst
                member.

        Returns:
            None where nothing was analysed.
        """
        if self.model is None or self.frame is None:
            return None
        row = self.combinations.row(combination or self.main_combination)
        if row not in self._shares:
            self._shares[row] = support_shares(self.model, self.frame, row)
        return self._shares[row]

    @cached_property
    def joints(self) -> tuple[Joint, ...]:
        """Every nailed joint; none where nothing was analysed."""
        if self.model is None or self.frame is None:
            return ()
        return find_joints(
            self.brief, self.framing, self.model, self.frame, self.combinations
        )

    @cached_property
    def trusses(self) -> tuple[HandTruss, ...]:
        """Every site-built truss by the method of joints, beside the frame."""
        combos = self.combinations
        return hand_trusses(
            self.brief, self.framing, self.loads, combos.factors, combos.C_D
        )

    @cached_property
    def gussets(self) -> tuple[GussetJoint, ...]:
        """The nails of the webs; none where nothing was analysed."""
        if self.model is None or self.frame is None:
            return ()
        return gusset_joints(
            self.brief, self.framing, self.model, self.frame, self.combinations
        )

    @cached_property
    def plate_bolts(self) -> tuple[PlateBolts, ...]:
        """The bolts of beams with a steel plate; none where nothing was analysed."""
        if self.model is None or self.frame is None:
            return ()
        return plate_bolts(self.framing, self.model, self.frame, self.combinations)

    @property
    def main_combination(self) -> str:
        """The combination that governs the worst member."""
        worst = self.worst
        if worst is None or not worst.combination:
            return self.combinations.names[0]
        return worst.combination

    @cached_property
    def _shares(self) -> dict[int, Shares]:
        return {}

    @cached_property
    def _flows(self) -> dict[int, Flow]:
        return {}


def solve(brief: Brief, previous: Solution | None = None) -> Solution:
    """Return the solved roof of a validated brief.

    Args:
        brief: what is stated.
        previous: an earlier solution, of a brief like this one for the most part. Its
            stages serve again where what they are made of is the same, and its
            contact states are tried first. What comes out does not depend on it but
            for rounding.

    Raises:
        BriefError: the brief cannot be framed.
        TableError: a table lacks what the brief asks for.
    """
    same = previous if previous is not None and _same_frame(brief, previous) else None
    framed = _framed(brief, previous) if same is None else same.framed
    framing, before = framed.framing, None if same is None else same.loads
    loads = member_loads(brief, framing, before)
    first = combos = combinations(loads)
    analysis = _Analysis(brief, framing, loads, previous, same)
    path, model, frame, refusal = analysis.run(framed.path, combos)
    alone = path is framed.path
    findings = framed.findings if alone else audit_roof(brief, framing, path)
    levels = _live_levels(brief, loads, combos, model, frame)
    if levels is not None:
        combos = levels.combinations
        path, model, frame, refusal = analysis.run(framed.path, combos)
    checked = None
    if model is not None and frame is not None:
        leaning = leaning_struts(framing, model, frame, combos, brief.units)
        findings = (*findings, *leaning)
        counts = None if levels is None else levels.counts(model.members)
        plan = None
        if same is not None and same.checked is not None:
            plan = same.checked.plan if model.frame is same.model.frame else None
        checked = run_checks(brief, framing, model, frame, combos, counts, plan)
    solution = Solution(
        brief=brief,
        framing=framing,
        path=path,
        loads=loads,
        combinations=combos,
        model=model,
        frame=frame,
        checked=checked,
        refusal=refusal,
        zone=framed.zone,
        findings=findings,
        members=Judged(framing, path, loads, model, frame, checked, combos, findings),
        framed=framed,
        hand_combinations=first,
    )
    if path.faults:
        solution.hand  # noqa: B018 - what is not analysed is refused here
    return solution


def _framed(brief: Brief, previous: Solution | None) -> Framed:
    """Return the stages that know no load."""
    framing = frame_roof(brief, None if previous is None else previous.framing)
    path = find_load_path(brief, framing)
    return Framed(brief=brief, framing=framing, path=path, zone=purlin_zone(brief))


def _same_frame(brief: Brief, previous: Solution) -> bool:
    """Return whether a brief differs from that of a solution by its loads alone.

    A snow drift ends at a joint of the rafters, so another drift is another framing.
    """
    old = previous.brief
    if replace(brief, loads=old.loads) != old:
        return False
    if brief.loads.snow == old.loads.snow:
        return True
    gable = previous.framing.form is None
    return gable and drift_edge(brief) == drift_edge(old)


def _live_levels(
    brief: Brief,
    loads: MemberLoads,
    combos: Combinations,
    model: Model | None,
    frame: FrameResult | None,
) -> LiveLevels | None:
    """Return the combinations with roof live load by area, None where none is less."""
    by_area = brief.loads.roof_live_reduction is LiveReduction.AREA
    if not by_area or model is None or frame is None or "D+Lr" not in combos.names:
        return None
    live = loads.pressures.roof_live
    rows = combos.row("D+Lr"), combos.row("D")
    areas = supported_roof(model, frame, *rows, live)
    return live_levels(brief, live, areas, combos)


class _Analysis:
    """The analysis of one framing under one set of loads."""

    def __init__(
        self,
        brief: Brief,
        framing: Framing,
        loads: MemberLoads,
        previous: Solution | None,
        same: Solution | None,
    ):
        self.framing, self.loads = framing, loads
        self.slip = heel_stiffness(brief)
        self.last: Analysed | None = None
        if previous is not None and previous.model and previous.frame:
            self.last = Analysed(
                framing=previous.framing, model=previous.model, frame=previous.frame
            )
        self.model: Model | None = None  # of the path by the joints alone
        if same is not None and same.path is same.framed.path and same.model:
            self.model = with_loads(same.model, loads)

    def run(
        self, path: LoadPath, combos: Combinations
    ) -> tuple[LoadPath, Model | None, FrameResult | None, str]:
        """Return load path, model, forces; what moves freely loses its load path.

        The connectivity of joints finds most of what cannot stand. What is left shows
        as a mechanism: its members are named, left out, and the rest is solved again.
        """
        for n in range(_MOST_ROUNDS):
            model = self._model(path, n == 0)
            if not model.members:
                return path, None, None, "No member has a load path."
            try:
                frame = self._solved(model, combos)
            except (UnstableFrameError, LiftOffError) as error:
                fresh = _moving(self.framing, model, error.nodes)
                if not fresh:
                    return path, None, None, str(error)
            except (MechanismError, ContactError) as error:
                return path, None, None, str(error)
            else:
                self.last = Analysed(framing=self.framing, model=model, frame=frame)
                fresh = _moving(self.framing, model, drifting(model, frame))
                if not fresh:
                    return path, model, frame, ""
            faults = dict(path.faults) | dict.fromkeys(sorted(fresh), _WHY_LOOSE)
            path = replace(path, faults=faults)
        return (
            path,
            None,
            None,
            "The roof keeps coming apart as loose members are left out.",
        )

    def _solved(self, model: Model, combos: Combinations) -> FrameResult:
        """Return the forces, found from those of the last analysis."""
        last, acting = self.last, None
        if last is None:
            return solve_frame(model.frame, model.loads, combos.factors, combos.names)
        same = last.model.frame is model.frame
        if not same or last.frame.combination_names != combos.names:
            acting = carried_states(last, self.framing, model, combos.names)
        return solve_frame(
            model.frame,
            model.loads,
            combos.factors,
            combos.names,
            start=last.frame,
            acting=acting,
        )

    def _model(self, path: LoadPath, first: bool) -> Model:
        """Return the model of a path, made once for the path by the joints alone."""
        if first and self.model is not None:
            return self.model
        model = build_model(self.framing, path, self.loads)
        if model.members and self.slip is not None:
            model = with_heel_slip(self.framing, model, self.slip)
        if first:
            self.model = model
        return model


def _moving(framing: Framing, model: Model, nodes: Iterable[int]) -> set[str]:
    """Return the members that a loose motion carries along, not those it brushes."""
    loose = {int(model.place[node]) for node in nodes}
    if not loose:
        return set()
    part = {
        key: len(loose & set(member.nodes)) / len(member.nodes)
        for key in model.members
        for member in [framing.members[key]]
    }
    most = max(part.values(), default=0.0)
    return {key for key, value in part.items() if value > most / 2}
