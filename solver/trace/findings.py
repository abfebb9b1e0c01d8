"""The main findings of a roof: seen, means, do, each in a plain sentence or two.

Receives a solved roof; groups what belongs together, worst first. Every number is the
solution's own.
"""

from __future__ import annotations

from ..audit.model import Finding, FindingKind
from ..framing.model import Role
from ..units import show_force
from ..verdict.model import MemberResult
from .landings import landings
from .solved import Solved
from .told import SHORE, Told, Weight, rows_of
from .wording import (
    check_word,
    counted,
    listed,
    rule_word,
    sentence,
    use_words,
)

_NO_PURLIN = "Put deeper rafters beside them, or a purlin line under them."
_BEARING = (
    "Their ends crush: give them longer seats, more plies, or hangers and blocks that "
    "spread the load where they bear."
)
_REMEDY = {
    "rafter": "Hold the purlin under them on something that does not give, add a "
    "purlin line, or put deeper rafters beside them.",
    "ceiling_joist": "Take the load off them, add plies, or shorten their span by a "
    "bearing wall or a beam.",
    "jack_rafter": "Put deeper jacks beside them, or a purlin line under them.",
    "valley_rafter": "Stand braces or posts under them on a bearing wall, add plies, "
    "or put deeper valleys.",
    "hip_rafter": "Stand braces or posts under them on a bearing wall, add plies, or "
    "put deeper hips.",
    "plate": "Tie the feet of the rafters that push on them, by ceiling joists or by "
    "stub joists strapped over the ceiling joists.",
    "purlin": "Set struts closer, or put a deeper purlin.",
    "strut": "Stiffen them with a second piece as a T, hold them at mid-length, or "
    "stand them steeper and shorter on a bearing wall.",
    "collar_tie": "They prop the rafters apart here: put a larger piece, or hold the "
    "ties at mid-length, or count on other supports.",
    "beam": "Put a larger beam, more plies, or a post that shortens its span.",
    "post": "Put a larger post, or another one beside it.",
    "header": "Put a deeper header or more plies, more jack studs where it crushes at "
    "its ends, or make the opening narrower.",
    "jack_stud": "Put another jack stud beside it.",
    "curb": "Stand knee-wall studs under it, closer together, or put a deeper curb.",
    "ledger": "Put a deeper ledger or more plies, or a post under its middle.",
    "knee_stud": "Put larger studs, or another one beside each.",
    "ridge_beam": "Put a larger beam, more posts, or longer bearings.",
}
_ENDS_TOLD = ("header", "jack_stud", "ridge_beam")  # what mends their ends is said
_FOOT = {
    "brace_angle": "Move the purlin up or the foot nearer to it, so that the brace "
    "stands steeper.",
    "brace_length": "Hold the braces at mid-length both ways, or shorten them.",
    "brace_spacing": "Add braces, and let one stand near each end of the purlin.",
    "purlin_size": "Put a purlin as deep as the rafters.",
    "hip_depth": "Put hips at least as deep as the cut end of the jacks.",
    "hip_at_ridge": "Stand a post or brace under the ridge end, down to a bearing "
    "wall or a footing, or let an engineer design the hips for it.",
    "tie_spacing": "Add ties from plate to plate.",
}


def main_findings(solution: Solved) -> tuple[Told, ...]:
    """Return what is to be told of a roof, worst first; never nothing."""
    told = [*_refusal(solution), *_no_path(solution), *landings(solution)]
    about = {
        key
        for one in told
        for key in one.members
        if solution.members[key].role != "strut"
    }
    told += _over_by_role(solution, about)
    told += _rules(solution)
    told += _nails(solution)
    if not told:
        told = [_passes()]
    return tuple(sorted(told, key=lambda one: one.weight.rank))


def _passes() -> Told:
    """Return what is told where nothing is found."""
    return Told(
        weight=Weight.PASSES,
        head="Nothing over its limit",
        seen="Every counted member passes the checks made here, and no prescriptive "
        "rule that was checked is broken.",
        means="That holds under the loads listed here and for these checks, and for "
        "nothing else.",
        do="Find sizes, grades, splits, rot and nails on site before relying on it.",
    )


def _refusal(solution: Solved) -> list[Told]:
    """Return what is told where no analysis was possible."""
    if not solution.refusal:
        return []
    return [
        Told(
            weight=Weight.NO_LOAD_PATH,
            head="The roof cannot be analysed",
            seen=sentence(solution.refusal),
            means="No number here can be given for any member by analysis.",
            do="Mend the load path in the brief first. " + SHORE,
        )
    ]


def _no_path(solution: Solved) -> list[Told]:
    """Return one finding for each reason that leaves members without a load path."""
    out: list[Told] = []
    for finding in solution.findings:
        if finding.kind is not FindingKind.NO_LOAD_PATH:
            continue
        keys = finding.members
        who = rows_of(solution, keys)
        untied = set(keys) <= set(solution.path.untied_rafters)
        do = (
            "Tie the rafters at the plates (ceiling joists or rafter ties), or give "
            "them a ridge beam on posts. "
            if untied
            else "Give it a way down: a bearing wall, a beam or a post with a footing. "
        )
        out.append(
            Told(
                weight=Weight.NO_LOAD_PATH,
                head=f"No load path: {who}",
                seen=sentence(
                    f"{who} has no load path: {finding.value}"
                    if len(keys) == 1
                    else f"{who} have no load path. Of each: {finding.value}"
                ),
                means="Nothing carries their load to the ground, so no number is given "
                "for them; their load is missing from the members around them.",
                do=do + SHORE,
                members=keys,
            )
        )
    return out


def _over_by_role(solution: Solved, told: set[str]) -> list[Told]:
    """Return one finding for each role with members over their limit."""
    groups: dict[str, list[MemberResult]] = {}
    for m in solution.members.values():
        if m.analysis_passes is False and m.key not in told:
            groups.setdefault(m.role, []).append(m)
    out: list[Told] = []
    for role, members in groups.items():
        worst = max(members, key=lambda m: m.utilisation or 0.0)
        keys = tuple(m.key for m in members)
        checks = sorted({check_word(m.governing_check) for m in members})
        out.append(
            Told(
                weight=Weight.OVER_LIMIT,
                head=f"{counted(len(members), role)} over the limit",
                seen=sentence(f"{rows_of(solution, keys)}, by {listed(checks)}"),
                means=f"The worst, {worst.key}, is used to "
                f"{use_words(worst.utilisation or 0.0)} in {worst.combination} "
                f"({check_word(worst.governing_check)}, {worst.clause}).",
                do=_do(solution, role, members),
                members=keys,
            )
        )
    return out


def _do(solution: Solved, role: str, members: list[MemberResult]) -> str:
    """Return what mends members of a role: their ends, their length, or both."""
    said = _REMEDY.get(role, "Put a larger piece or take load off it.")
    if role == "rafter" and not solution.framing.of_role(Role.PURLIN):
        said = _NO_PURLIN
    crush = [m.governing_check == "bearing" for m in members]
    if role in _ENDS_TOLD or not any(crush):
        return said
    return _BEARING if all(crush) else f"{said} {_BEARING}"


def _rules(solution: Solved) -> list[Told]:
    """Return one finding for each broken rule, but what struts stand on."""
    groups: dict[str, list[Finding]] = {}
    for f in solution.findings:
        if f.kind is FindingKind.RULE and f.passed is False and f.rule != "brace_foot":
            groups.setdefault(f.rule, []).append(f)
    out: list[Told] = []
    for rule, found in groups.items():
        keys = tuple(dict.fromkeys(key for f in found for key in f.members))
        values = list(dict.fromkeys(f.value for f in found))
        shown = listed(values[:3]) + (" and more" if len(values) > 3 else "")
        who = f"{rows_of(solution, keys)}: " if keys else ""
        out.append(
            Told(
                weight=Weight.BREAKS_RULE,
                head=f"Rule broken: {rule_word(rule).removeprefix('the ')}",
                seen=sentence(
                    f"{who}{rule_word(rule)} is {shown}; the rule asks for "
                    f"{found[0].limit}"
                ),
                means="This is the prescriptive verdict alone. "
                + _by_analysis([solution.members[key] for key in keys]),
                do=_FOOT.get(rule, "Build it as the rule says, or have it engineered."),
                section=found[0].section,
                members=keys,
            )
        )
    return out


def _by_analysis(members: list[MemberResult]) -> str:
    """Return what the analysis says of members that break a rule."""
    passing = sum(m.analysis_passes is True for m in members)
    failing = sum(m.analysis_passes is False for m in members)
    if not passing and not failing:
        return "The analysis has no verdict on it."
    if not failing:
        return "By analysis: passes."
    if not passing:
        return "By analysis: over the limit as well."
    return f"By analysis: {passing} pass and {failing} are over the limit."


def _nails(solution: Solved) -> list[Told]:
    """Return what is told of a heel joint with too few nails."""
    thrust, count = solution.hand.thrust, solution.brief.heel_joint.count
    if thrust is None or not solution.path.tied.any():
        return []
    if count is None or count >= thrust.nails_needed:
        return []
    row = int((thrust.tie_force / thrust.nail_value).argmax())
    force = show_force(float(thrust.tie_force[row]), solution.brief.units)
    return [
        Told(
            weight=Weight.OVER_LIMIT,
            head="Too few nails at the heel, over the limit",
            seen=f"The heel joint has {count} nails ({thrust.nail}).",
            means=f"By hand the tie is pulled with up to {force} "
            f"({solution.hand.combinations[row]}) and needs {thrust.nails_needed} of "
            "these nails at each end.",
            do="Add nails or a rated connector before load is added.",
        )
    ]
