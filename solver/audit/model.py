"""What the audit yields: rule by rule, and what nobody can stand on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache


class FindingKind(StrEnum):
    """What kind of finding it is, worst first."""

    NO_LOAD_PATH = "no load path"
    RULE = "rule"
    NOTE = "note"


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One finding of the audit.

    Attributes:
        kind: what kind.
        rule: short stable name, e.g. ``strut_angle``.
        section: of the code, e.g. ``IRC 2018 R802.4.5``, or where it comes from.
        members: keys, in order.
        passed: False where the rule is broken; None for a note.
        value, limit: what there is and what is allowed, in words with units.
        words: one plain sentence.
    """

    kind: FindingKind
    rule: str
    section: str
    members: tuple[str, ...]
    passed: bool | None
    value: str
    limit: str
    words: str


def key_range(keys: tuple[str, ...]) -> str:
    """Return member keys as a reader says them: runs of neighbours drawn together."""
    if len(keys) == 1:
        return keys[0]
    placed = [(_row(key), key) for key in keys]
    order = {
        row: n for n, row in enumerate(dict.fromkeys(row for (row, _), _ in placed))
    }
    placed.sort(key=lambda one: (order[one[0][0]], one[0][1]))
    runs: list[list[str]] = []
    for _, key in placed:
        if runs and _next_to(runs[-1][-1], key):
            runs[-1].append(key)
        else:
            runs.append([key])
    words = [r[0] if len(r) == 1 else f"{r[0]} to {r[-1]}" for r in runs]
    if len(words) > 1:
        return ", ".join(words[:-1]) + " and " + words[-1]
    return "".join(words)


@lru_cache(maxsize=1 << 15)
def _row(key: str) -> tuple[str, int]:
    """Return the row that a member stands in and its number there.

    The joists of one bay are a row; so are the rafters of a slope.
    """
    parts = key.split("-")
    numbers = [n for n, part in enumerate(parts) if part.isdigit()]
    if not numbers or numbers[0] == 0:
        return key, 0
    at = numbers[0]
    return "-".join([*parts[:at], "", *parts[at + 1 :]]), int(parts[at])


def _next_to(a: str, b: str) -> bool:
    """Return whether two keys differ by one in exactly one of their numbers."""
    left, right = a.split("-"), b.split("-")
    if len(left) != len(right):
        return False
    steps = [(p, q) for p, q in zip(left, right, strict=True) if p != q]
    return (
        len(steps) == 1
        and steps[0][0].isdigit()
        and steps[0][1].isdigit()
        and int(steps[0][1]) - int(steps[0][0]) == 1
    )
