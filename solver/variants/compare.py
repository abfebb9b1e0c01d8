"""Members, supports and loads of two or more variants of a roof, row by row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..brief.io import write_record
from ..solve import Solution
from ..trace.reactions import reactions
from ..verdict.model import MemberResult, Verdict

EXISTING_LIMIT = 0.05
LIMIT_SOURCE = (
    "An existing member whose gravity load a change raises by more than 5 % has to be "
    "checked by today's rules or strengthened (International Existing Building Code "
    "2018, 503.3 and 706.2, from memory)."
)
_LEAST_USE = 0.01  # less is no load worth comparing
_LEAST_FORCE = 50.0  # N


@dataclass(frozen=True, kw_only=True)
class Column:
    """What one variant says of one member or support.

    Attributes:
        use: utilisation; None where the variant has no such member, or none is made.
        verdict: of the member; None where there is no such member.
        value: N, load on a support.
        more: part by which it is more than in the first variant, in the check that
            governs here; None where there is nothing to compare.
        check: that check.
    """

    use: float | None = None
    verdict: Verdict | None = None
    value: float | None = None
    more: float | None = None
    check: str = ""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One member or support through all variants.

    Attributes:
        key: of the member, or owner of the support.
        role: what it is.
        columns: one for each variant.
        changes: the verdict of a variant differs from that of the first.
    """

    key: str
    role: str
    columns: tuple[Column, ...]
    changes: bool = False

    @property
    def most(self) -> float:
        """Largest increase of any variant, 0 where there is none."""
        return max((c.more or 0.0 for c in self.columns), default=0.0)


@dataclass(frozen=True, eq=False, kw_only=True)
class Variants:
    """Variants of a roof, the first of them as it stands.

    Attributes:
        names: of the variants.
        solutions: of them.
        stated: field of the brief to its value in each variant, where they differ.
        members: every member of any variant: changed verdicts first, then by increase.
        supports: every support, in the order of the largest load.
    """

    names: tuple[str, ...]
    solutions: tuple[Solution, ...]
    stated: dict[str, tuple[str, ...]]
    members: tuple[Row, ...]
    supports: tuple[Row, ...]

    @property
    def changed(self) -> tuple[Row, ...]:
        """Members whose verdict changes."""
        return tuple(row for row in self.members if row.changes)

    @property
    def over_five(self) -> tuple[Row, ...]:
        """Members that are used over 5 % more in a variant than in the first."""
        return tuple(row for row in self.members if row.most > EXISTING_LIMIT + 1e-9)


def compare(solutions: Sequence[Solution], names: Sequence[str] = ()) -> Variants:
    """Return variants of a roof side by side.

    Args:
        solutions: the first as it stands, then one or more others.
        names: of the variants; those of their briefs where left out, told apart.
    """
    if len(solutions) < 2:
        raise ValueError("two variants or more")
    called = _apart(names or [s.brief.name for s in solutions])
    return Variants(
        names=called,
        solutions=tuple(solutions),
        stated=_stated(solutions),
        members=_members(solutions),
        supports=_supports(solutions),
    )


def _apart(names: Sequence[str]) -> tuple[str, ...]:
    """Return names with a number where one stands twice."""
    out: list[str] = []
    for name in names:
        fresh, n = name, 1
        while fresh in out:
            n += 1
            fresh = f"{name} ({n})"
        out.append(fresh)
    return tuple(out)


def _stated(solutions: Sequence[Solution]) -> dict[str, tuple[str, ...]]:
    """Return what the briefs state differently, field by field."""
    flat = [_flat(write_record(s.brief)) for s in solutions]
    keys = dict.fromkeys(key for one in flat for key in one)
    found = {key: tuple(one.get(key, "–") for one in flat) for key in keys}
    return {
        key: values
        for key, values in found.items()
        if len(set(values)) > 1 and key != "name"
    }


def _flat(value: object, path: str = "") -> dict[str, str]:
    """Return the leaves of a JSON value by dotted path; entries of lists by name."""
    if isinstance(value, dict):
        out: dict[str, str] = {}
        for key, inner in value.items():
            out |= _flat(inner, f"{path}.{key}".lstrip("."))
        return out
    if isinstance(value, list) and any(isinstance(v, dict) for v in value):
        out = {}
        for n, inner in enumerate(value):
            name = inner.get("name", n) if isinstance(inner, dict) else n
            out |= _flat(inner, f"{path}[{name}]")
        return out
    if isinstance(value, list):
        return {path: ", ".join(str(v) for v in value)} if value else {}
    return {path: str(value)}


def _members(solutions: Sequence[Solution]) -> tuple[Row, ...]:
    """Return every member of any variant."""
    keys = dict.fromkeys(key for s in solutions for key in s.members)
    rows = []
    for key in keys:
        found = [s.members.get(key) for s in solutions]
        columns = tuple(_column(found[0], one) for one in found)
        verdicts = {c.verdict for c in columns}
        role = next(m.role for m in found if m is not None)
        rows.append(Row(key=key, role=role, columns=columns, changes=len(verdicts) > 1))
    return tuple(
        sorted(rows, key=lambda r: (not r.changes, -r.most, -_highest(r), r.key))
    )


def _highest(row: Row) -> float:
    """Return the highest use of a member in any variant."""
    return max((c.use or 0.0 for c in row.columns), default=0.0)


def _column(first: MemberResult | None, one: MemberResult | None) -> Column:
    """Return what a variant says of a member, against the first variant."""
    if one is None:
        return Column()
    check = one.governing_check
    more = None
    if first is not None and one is not first and check:
        was, now = first.by_check.get(check, 0.0), one.by_check.get(check, 0.0)
        if was > _LEAST_USE:
            more = now / was - 1
    return Column(use=one.utilisation, verdict=one.verdict, more=more, check=check)


def _supports(solutions: Sequence[Solution]) -> tuple[Row, ...]:
    """Return the largest load on every support of any variant."""
    loads = []
    for solution in solutions:
        found = {
            owner: float(up.max())
            for owner, (up, _) in reactions(solution).items()
            if not owner.startswith("H-")
        }
        loads.append(found)
    owners = dict.fromkeys(owner for one in loads for owner in one)
    rows = []
    for owner in owners:
        was = loads[0].get(owner)
        columns = []
        for n, one in enumerate(loads):
            now = one.get(owner)
            known = was is not None and was > _LEAST_FORCE and now is not None and n
            more = now / was - 1 if known and now is not None and was else None
            columns.append(Column(value=now, more=more))
        rows.append(Row(key=owner, role="support", columns=tuple(columns)))
    return tuple(sorted(rows, key=lambda r: -max(c.value or 0.0 for c in r.columns)))
