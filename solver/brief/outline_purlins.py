"""Contradictions of purlin lines and struts over a drawn outline.

Where the lines run follows from the planes and is known when the roof is framed; what
is checked here needs the brief alone.
"""

from __future__ import annotations

from ..errors import BriefError
from ..units import INCH, show_length
from .model import Brief, Purlin

_LEAST = 6 * INCH  # a strut under a lower line would have no length


def check_purlin(purlin: Purlin, field: str) -> None:
    """Refuse a purlin that no plane could have.

    Raises:
        BriefError: for the first that cannot be.
    """
    if (purlin.from_plate is None) == (purlin.height is None):
        raise BriefError(
            f"{field}.from_plate",
            purlin.from_plate,
            "from_plate or height, one of the two",
        )
    name = "height" if purlin.from_plate is None else "from_plate"
    value = getattr(purlin, name)
    if value < _LEAST - 1e-6:
        raise BriefError(
            f"{field}.{name}", show_length(value), "at least 6 in clear of the plate"
        )
    for name in ("start", "end"):
        value = getattr(purlin, name)
        if value is not None and purlin.plane is None:
            raise BriefError(
                f"{field}.{name}",
                show_length(value),
                "left out unless plane names one plane",
                "Lines under several planes run from end to end.",
            )


def base_of(brief: Brief, name: str) -> Purlin | None:
    """Return the purlin that a line's name comes from, or None.

    A purlin named ``ring`` has the lines ``ring-S1``, ``ring-E1``, ...

    Args:
        brief: has the purlins.
        name: of a purlin, or of one of its lines.
    """
    for purlin in brief.purlins:
        if name == purlin.name or name.startswith(f"{purlin.name}-"):
            return purlin
    return None


def check_names(brief: Brief) -> None:
    """Refuse purlins whose lines could have one name.

    Raises:
        BriefError: for the first.
    """
    names = [purlin.name for purlin in brief.purlins]
    for k, name in enumerate(names):
        rest = [*names[:k], *names[k + 1 :]]
        if any(other == name or name.startswith(f"{other}-") for other in rest):
            raise BriefError(
                f"purlins[{k}].name",
                name,
                "a name that no other entry has or goes on from with a dash",
            )


def check_held(brief: Brief, purlin: str, field: str) -> None:
    """Refuse struts under a purlin that is not stated.

    Raises:
        BriefError: when there is none of this name.
    """
    if base_of(brief, purlin) is None:
        names = ", ".join(p.name for p in brief.purlins) or "there is none"
        raise BriefError(
            f"{field}.purlin", purlin, f"the name of a purlin or its line: {names}"
        )
