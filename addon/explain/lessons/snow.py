"""Lesson: snow comes and goes and drifts; what has crept stays."""

from __future__ import annotations

import numpy as np

from ....solver.units import show_pressure
from ...bridge import bent, marking, snowfall
from ...bridge.bent import Lasting, Winters
from ...bridge.pipeline import Outcome, Pipeline
from ...bridge.snowfall import Snow
from ...picture.words import Label
from ..board import Actor, Lesson, Look, Step
from ..timeline import Aim
from . import scenery as s
from .bend import name_of, overall
from .scenery import Spot

KEY, TITLE = "snow", "Snow comes and goes"
EVEN, DRIFTED = "Even snow", "Drifted snow"
_CREEP = "Years by a published law of creep. Snow is taken not to creep."
_DEEP = "Snow is drawn as deep as it lies."
# Where the lee slopes fall, by where the wind comes from; they are looked at.
_FALLS = {"north": (0.0, -1.0), "south": (0.0, 1.0), "west": (1.0, 0.0),
          "east": (-1.0, 0.0)}  # fmt: skip
_SLOPES = (*s.ROOFING, "valley_rafter", "purlin", "ridge_beam")
_ALIKE = 1.01  # drifts that use members alike within this are the same to look at


def compose(outcome: Outcome, _pipeline: Pipeline) -> Lesson:
    """Return the lesson.

    Raises:
        LessonError: no snow lies on this roof, or it bends nothing.
    """
    told = bent.winters_of(outcome)
    if told is None:
        raise s.LessonError("This roof has no snow: state a ground snow load.")
    row = int(np.argmax(told.snow))
    if not told.snow[row] > 0:
        raise s.LessonError("Snow bends no member of this roof.")
    even, *drifts = snowfall.ways_of_lying(outcome)
    drift = worst_drift(outcome, drifts)
    keys = tuple(outcome.solution.members)
    snows = {EVEN: even} | ({DRIFTED: drift} if drift else {})
    factor = min(
        s.factor_of((outcome,), keys, Lasting(snow.combination))
        for snow in snows.values()
    )
    actor = Actor(
        name="Roof", outcome=outcome, keys=keys, combination=Lasting(), snows=snows,
        shaded=told.bare,
    )  # fmt: skip
    lee = _FALLS[drift.wind] if drift else (0.0, 0.0)
    story = _Story(outcome, told, row, factor, overall(outcome, keys, lee))
    return Lesson(
        key=KEY, title=TITLE, actors=(actor,), factor=factor,
        steps=story.steps(even, drift),
        walls=s.wall_pieces(outcome.brief), caution=s.CAUTION, lens=s.LENS,
    )  # fmt: skip


def worst_drift(outcome: Outcome, drifts: list[Snow]) -> Snow | None:
    """Return the drifted snow that uses some member the most, the first of equals."""
    worst, most = None, 0.0
    for snow in drifts:
        use = used_most(outcome, snow)[1]
        if use > most * _ALIKE:
            worst, most = snow, use
    return worst


def used_most(outcome: Outcome, snow: Snow) -> tuple[str, float]:
    """Return the member of the roof's slopes that a snow uses the most, and how far."""
    use = {
        k: marking.use_under(m, snow.combination)
        for k, m in outcome.solution.members.items()
        if m.role in _SLOPES
    }
    key = max(use, key=lambda k: use[k])
    return key, use[key]


class _Story:
    """The steps: a summer, a winter, a drift, and the same after years."""

    def __init__(
        self, outcome: Outcome, told: Winters, row: int, factor: float, where: Aim
    ) -> None:
        self._outcome, self._told, self._where = outcome, told, where
        self._factor = factor
        self._key = told.member[row]
        self._name = name_of(outcome, self._key)
        snow, dry = float(told.snow[row]), told.without[:, row]
        self._dry = [s.sag_words(outcome, float(v)) for v in dry]
        self._wet = [s.sag_words(outcome, float(v) + snow) for v in dry]
        self._adds = s.sag_words(outcome, snow)

    def steps(self, even: Snow, drift: Snow | None) -> tuple[Step, ...]:
        """Return the steps."""
        *first, spring = self._first_year(even)
        drifted = (self._drifted(even, drift),) if drift else ()
        last = s.closing(self._where, {"Roof": Look(2)})
        return (*first, *drifted, spring, *self._later(even), last)

    def _first_year(self, even: Snow) -> tuple[Step, ...]:
        """Return summer, winter and spring."""
        name, dry, wet = self._name, self._dry, self._wet
        return (
            self._at(
                "First summer", 0, None, f"{name} sags {dry[0]}",
                (
                    f"Summer, no snow: this {name} sags {dry[0]} under what lasts",
                    f"{self._lasts()}. By dead load it is used to "
                    f"{self._use(self._told.bare)}.",
                ),
                has_legend=True,
            ),
            self._at(
                "First winter", 0, even, f"{name} sags {wet[0]}",
                (
                    f"The first snow presses it {self._adds} further down, to {wet[0]}",
                    "While the snow lies it is used to "
                    f"{self._use(even.combination)}.",
                ),
                has_legend=True,
            ),
            self._at(
                "First spring", 0, None, f"back to {dry[0]}",
                (
                    f"The snow melts, and the {name} comes back up to {dry[0]}",
                    "Within its limit, wood springs back from a load that goes again."
                    if self._used(even.combination) <= 1
                    else "Over its limit nobody can say that it will: it may split "
                    "first.",
                ),
            ),
        )  # fmt: skip

    def _drifted(self, even: Snow, drift: Snow) -> Step:
        """Return the step of the snow that wind has blown over the ridge."""
        outcome = self._outcome
        key, use = used_most(outcome, drift)
        name = name_of(outcome, key)
        before = marking.use_under(outcome.solution.members[key], even.combination)
        spot = Spot(self._factor, Lasting(drift.combination))
        words = s.use_told(use)
        psf = [show_pressure(p, outcome.brief.units) for p in _range(outcome, drift)]
        return Step(
            name="Drifted",
            caption=(
                f"Wind from the {drift.wind} drives the snow over the ridge",
                f"{psf[0]} is left where it blows, up to {psf[1]} lies behind the "
                "ridge.",
                f"The {name} that this loads the most: {s.use_told(before)} under even "
                f"snow, now {words}.",
            ),
            aim=self._where,
            looks={"Roof": Look(0, snow=DRIFTED)},
            labels=(spot.label(f"{name}: {words}", outcome, key, 0.5, 0,
                               alarm=use > 1),),
            has_scale=True, note=_DEEP, move=2.0, hold=4.5,
        )  # fmt: skip

    def _later(self, even: Snow) -> tuple[Step, ...]:
        """Return ten and fifty years on."""
        dry, wet = self._dry, self._wet
        return (
            self._at(
                "Ten years", 1, None, f"sags {dry[1]}",
                (
                    f"Ten winters later, without snow: {dry[1]}, not {dry[0]} any more",
                    "What lies on it day and night has bent it for good: it creeps.",
                ),
                move=8.0, winters=10,
            ),
            self._at(
                "Snow again", 1, even, f"sags {wet[1]}",
                (
                    f"The same snow again, and now it sags {wet[1]}",
                    f"The snow adds {self._adds}, as it did on the first day.",
                ),
            ),
            self._at(
                "Fifty years", 2, even, f"sags {wet[2]}",
                (
                    f"After fifty years: {dry[2]} without snow, {wet[2]} with it",
                    f"The snow still adds {self._adds}; the rest stays.",
                ),
                move=3.0,
            ),
        )  # fmt: skip

    def _at(
        self, title: str, bend: int, snow: Snow | None, words: str,
        caption: tuple[str, ...], **more: float,
    ) -> Step:  # fmt: skip
        """Return a step at one time, with even snow or none."""
        combination = snow.combination if snow else self._told.bare
        use = self._used(combination)
        spot = Spot(self._factor, Lasting(snow.combination if snow else None))
        label: Label = spot.label(
            words, self._outcome, self._key, 0.5, bend, alarm=use > 1
        )
        note = _CREEP if bend else _DEEP if snow else ""
        return Step(
            name=title, caption=caption, aim=self._where,
            looks={"Roof": Look(bend, snow=EVEN if snow else "")},
            labels=(label,), has_scale=True, note=note, **{"move": 1.5, **more},
        )  # fmt: skip

    def _use(self, combination: str) -> str:
        """Return how far the member is used in one combination, in words."""
        return s.use_told(self._used(combination))

    def _used(self, combination: str) -> float:
        """Return how far the member is used in one combination."""
        return marking.use_under(self._outcome.solution.members[self._key], combination)

    def _lasts(self) -> str:
        """Return what lies on the roof all year, in words."""
        loads = self._outcome.brief.loads
        if not loads.attic_live or not loads.attic_live_lasting:
            return "Nothing but the dead load lies there all year"
        part = f"{loads.attic_live_lasting:.0%}"
        return f"The dead load and {part} of what is stored in the attic stay all year"


def _range(outcome: Outcome, snow: Snow) -> tuple[float, float]:
    """Return the least and the most snow on any stretch of rafter, Pa on plan."""
    members = outcome.solution.members.values()
    rafters = [m.key for m in members if m.role in ("rafter", "jack_rafter")]
    every = np.concatenate([snowfall.pressures(outcome, k, snow)[1] for k in rafters])
    return max(float(every.min()), 0.0), float(every.max())
