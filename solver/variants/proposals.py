"""Changes that owners propose, as briefs made from that of the roof as it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from ..brief.model import Brief
from ..brief.validate import validate
from ..errors import BriefError
from ..units import PSF

TILE = (
    14 * PSF
)  # cement tile 16 psf for asphalt shingles 2 psf: ASCE 7-16 Table C3.1-1a
PANELS = 3 * PSF  # with rails, spread over the roof: common practice, no source
STORAGE = 20 * PSF  # attic with limited storage: IRC 2018 Table R301.5
LASTING = 0.5  # part of what is stored that stays for years: common practice, no source


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """A change of a roof that is often asked for.

    Attributes:
        title: a few words.
        words: what is changed, and where the numbers come from.
        change: brief to brief.
    """

    title: str
    words: str
    change: Callable[[Brief], Brief]


def _heavier(more: float) -> Callable[[Brief], Brief]:
    """Return a change that adds dead load to the roof."""

    def change(brief: Brief) -> Brief:
        dead = brief.loads.roof_dead + more
        return replace(brief, loads=replace(brief.loads, roof_dead=dead))

    return change


def _storage(brief: Brief) -> Brief:
    """Return the brief with things stored in the attic."""
    loads = replace(
        brief.loads,
        attic_live=max(STORAGE, brief.loads.attic_live),
        attic_live_lasting=max(LASTING, brief.loads.attic_live_lasting),
    )
    return replace(brief, loads=loads)


PROPOSALS = {
    "tile": Proposal(
        title="cement tile for shingles",
        words="14 psf more on the slope: cement tile 16 psf, asphalt shingles 2 psf "
        "(ASCE 7-16 Table C3.1-1a, from memory)",
        change=_heavier(TILE),
    ),
    "panels": Proposal(
        title="solar panels",
        words="3 psf more on the slope, panels and rails (common practice, no source)",
        change=_heavier(PANELS),
    ),
    "storage": Proposal(
        title="storage in the attic",
        words="20 psf attic live load (IRC 2018 Table R301.5, from memory), half of it "
        "there for years",
        change=_storage,
    ),
}
_WITHOUT = "without:"


def propose(brief: Brief, what: str) -> Brief:
    """Return the brief of a roof with a proposed change, named after it.

    Args:
        brief: as the roof stands.
        what: ``tile``, ``panels``, ``storage``, or ``without:NAME`` for a wall that is
            taken out.

    Raises:
        BriefError: no such proposal or wall, or the changed roof cannot be briefed.
    """
    if what.startswith(_WITHOUT):
        changed, title = _without(brief, what.removeprefix(_WITHOUT))
    elif what in PROPOSALS:
        changed, title = PROPOSALS[what].change(brief), PROPOSALS[what].title
    else:
        allowed = ", ".join([*PROPOSALS, f"{_WITHOUT}WALL"])
        raise BriefError("propose", what, allowed)
    validate(changed)
    return replace(changed, name=f"{brief.name}: {title}")


def _without(brief: Brief, name: str) -> tuple[Brief, str]:
    """Return the brief with a wall taken out, and what it is called."""
    left = tuple(wall for wall in brief.walls if wall.name != name)
    if len(left) == len(brief.walls):
        known = ", ".join(wall.name for wall in brief.walls) or "none: there is no wall"
        raise BriefError("propose", f"{_WITHOUT}{name}", f"{_WITHOUT} and {known}")
    return replace(brief, walls=left), f"without wall {name}"
