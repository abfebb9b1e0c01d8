"""What a finding is, as it is told: seen, means, do."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from .naming import named
from .solved import Solved
from .wording import counted, role_word

SHORE = "Shore first, followed down to ground; shores load the floor under them."


class Weight(StrEnum):
    """How heavy a finding weighs, heaviest first; the words are those of a mark."""

    NO_LOAD_PATH = "no load path"
    OVER_LIMIT = "over its limit"
    BREAKS_RULE = "breaks a rule"
    PASSES = "passes these checks"

    @property
    def rank(self) -> int:
        """Place from the heaviest, 0."""
        return tuple(Weight).index(self)


@dataclass(frozen=True, kw_only=True)
class Told:
    """One finding as it is told.

    Attributes:
        weight: the heaviest of what it says; a rule that is broken weighs by itself.
        head: in a few words.
        seen, means, do: plain sentences.
        section: of the code that speaks of it, or "".
        members: keys, in order.
    """

    weight: Weight
    head: str
    seen: str
    means: str
    do: str
    section: str = ""
    members: tuple[str, ...] = ()


def rows_of(solution: Solved, keys: tuple[str, ...]) -> str:
    """Return members drawn together, such as ``8 struts (braces) ST-S-01 to ST-S-08``.

    Args:
        solution: the solved roof.
        keys: of members, in order.
    """
    roles = {solution.members[key].role for key in keys}
    if len(roles) > 1:
        return f"{len(keys)} members {named(keys)}"
    role = roles.pop()
    if len(keys) == 1:
        return f"{role_word(role)} {keys[0]}"
    return f"{counted(len(keys), role)} {named(keys)}"
