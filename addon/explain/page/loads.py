"""What the page may lay on the roof: the worst load, none but what lasts, and snow.

For each: how the roof moves, how far each stick is used, and what is said of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ....solver.units import show_pressure
from ...bridge import bent, marking, snowfall
from ...bridge.bent import Lasting, Load
from ...bridge.pipeline import Outcome
from ...bridge.snowfall import Snow
from ...overlay import palette
from ..lessons import scenery


@dataclass(frozen=True, eq=False)
class Laid:
    """A load that the page can show.

    Attributes:
        name: in the page's list.
        load: that bends the roof.
        under: combination whose use is shaded; None for the worst of all.
        snow: how snow lies in it, or None.
        words: that stand under the picture while it is shown.
    """

    name: str
    load: Load
    under: str | None
    snow: Snow | None
    words: str

    def shown(self, outcome: Outcome, keys: Sequence[str]) -> dict[str, object]:
        """Return what the viewer needs of it besides shapes.

        Args:
            outcome: the solved roof.
            keys: of its members.
        """
        results = outcome.solution.members
        shading = marking.shading_of((results[key] for key in keys), self.under)
        colours = palette.colours(shading.use, shading.state)
        pattern = palette.patterns(shading.use, shading.state)
        return {
            "name": self.name,
            "words": self.words,
            "is_snow": self.snow is not None,
            "colours": np.round(colours, 3).tolist(),
            "patterns": np.round(pattern, 3).tolist(),
            "told": [self._told(outcome, key) for key in keys],
        }

    def _told(self, outcome: Outcome, key: str) -> str:
        """Return what is said of a member under this load, after the rest."""
        if self.under is None:
            return ""
        member = outcome.solution.members[key]
        use = scenery.use_told(marking.use_under(member, self.under))
        words = f" {self.name}: used to {use}" if member.utilisation else ""
        told = bent.winters_of(outcome)
        if self.snow is None or told is None or key not in told.member:
            return f"{words}." if words else ""
        rows = [n for n, one in enumerate(told.member) if one == key]
        row = max(rows, key=lambda n: float(told.without[-1, n]))
        which = self.snow.combination
        added = (
            told.snow
            if which == told.snowed
            else told.drifts[told.drifted.index(which)]
        )
        sag = float(added[row])
        way = "down" if sag >= 0 else "up"
        words = words or f" {self.name}:"
        return f"{words}, moves it {scenery.sag_words(outcome, abs(sag))} {way}."


def loads_of(outcome: Outcome) -> tuple[Laid, ...]:
    """Return the loads that a roof's page can show, the worst first."""
    worst = Laid("The worst load", None, None, None, "")
    lying = snowfall.ways_of_lying(outcome)
    told = bent.winters_of(outcome)
    if not lying or told is None:
        return (worst,)
    bare = Laid(
        "No snow", Lasting(), told.bare, None,
        "Summer: what lasts lies on the roof; shaded by dead load.",
    )  # fmt: skip
    return (worst, bare, *(_snowy(outcome, snow) for snow in lying))


def _snowy(outcome: Outcome, snow: Snow) -> Laid:
    """Return a snow as a load."""
    rafters = [
        m.key
        for m in outcome.solution.members.values()
        if m.role in ("rafter", "jack_rafter")
    ]
    every = np.concatenate(
        [snowfall.pressures(outcome, key, snow)[1] for key in rafters] or [np.zeros(1)]
    )
    units = outcome.brief.units
    least, most = (
        show_pressure(max(float(v), 0.0), units)
        for v in (every.min(initial=np.inf), every.max(initial=0.0))
    )
    load = Lasting(snow.combination)
    if not snow.wind:
        words = f"Snow lies evenly: {most} on plan."
        return Laid("Even snow", load, snow.combination, snow, words)
    words = f"Wind from the {snow.wind} has drifted it: {least} to {most} on plan."
    name = f"Snow drifted from the {snow.wind}"
    return Laid(name, load, snow.combination, snow, words)
