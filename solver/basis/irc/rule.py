"""The outcome of one prescriptive rule on one piece."""

from __future__ import annotations

from dataclasses import dataclass

SEEN = "2018 numbering; read in restatements of the code"
RECALLED = "2018 numbering; from memory, check the code before citing it"


@dataclass(frozen=True, kw_only=True)
class RuleResult:
    """One rule, and whether it is kept.

    Attributes:
        section: e.g. ``IRC 2018 R802.4.5``.
        note: edition, and how the rule came to be known.
        quantity: what is measured, in words.
        value, limit: what there is and what is allowed, in words with units.
        measured, allowed: the same as numbers in SI units.
        passed: True where the rule is kept.
        words: one plain sentence, without the verdict.
    """

    section: str
    note: str
    quantity: str
    value: str
    limit: str
    measured: float
    allowed: float
    passed: bool
    words: str


def at_most(
    section: str,
    quantity: str,
    measured: float,
    allowed: float,
    shown: tuple[str, str],
    words: str,
    note: str = SEEN,
) -> RuleResult:
    """Return a rule that sets an upper limit; ``shown`` is value and limit as text."""
    return RuleResult(
        section=section, note=note, quantity=quantity, value=shown[0],
        limit=f"at most {shown[1]}", measured=measured, allowed=allowed,
        passed=measured <= allowed * (1 + 1e-9) + 1e-9, words=words,
    )  # fmt: skip


def at_least(
    section: str,
    quantity: str,
    measured: float,
    allowed: float,
    shown: tuple[str, str],
    words: str,
    note: str = SEEN,
) -> RuleResult:
    """Return a rule that sets a lower limit; ``shown`` is value and limit as text."""
    return RuleResult(
        section=section, note=note, quantity=quantity, value=shown[0],
        limit=f"at least {shown[1]}", measured=measured, allowed=allowed,
        passed=measured >= allowed * (1 - 1e-9) - 1e-9, words=words,
    )  # fmt: skip


def is_so(
    section: str,
    quantity: str,
    passed: bool,
    shown: tuple[str, str],
    words: str,
    note: str = SEEN,
) -> RuleResult:
    """Return a rule that something is so; ``shown`` is what is and what should be."""
    return RuleResult(
        section=section, note=note, quantity=quantity, value=shown[0], limit=shown[1],
        measured=float(passed), allowed=1.0, passed=passed, words=words,
    )  # fmt: skip
