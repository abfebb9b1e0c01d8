"""What the hand method yields, record by record; forces in N, lengths in m.

The hand method takes the purlin for a rigid support, gives each brace its tributary
length of it, and puts the brace's load straight on what it stands on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .hips import HandHips

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class HandRafter:
    """One rafter of a slope by hand, per combination.

    Attributes:
        slope: ``"S"`` or ``"N"``.
        spans: (k,) m on plan, plate to purlins to ridge.
        line_load: (c,) N/m on plan.
        reactions: (c, k+1) N, plate, purlins, ridge.
        moment: (c,) N m, largest of either sign, over rigid purlins.
        utilisation: (c,) bending.
        moment_alone, utilisation_alone: (c,) as one span with no purlin.
        longest_span_moment: (c,) N m, largest span taken as simple.
        utilisation_longest_span: (c,) bending of that.
    """

    slope: str
    spans: Floats
    line_load: Floats
    reactions: Floats
    moment: Floats
    utilisation: Floats
    moment_alone: Floats
    utilisation_alone: Floats
    longest_span_moment: Floats
    utilisation_longest_span: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class HandPurlin:
    """A purlin line by hand.

    Attributes:
        key: member key.
        line_load: (c,) N/m along it.
        span: m, largest between struts.
        moment_simple, moment_continuous: (c,) N m, one rafter at mid-span between
            struts: P L / 4 as a simple span, P L / 8 run through; the uniform w L^2 /
            8 where several rafters lie between.
        utilisation_simple, utilisation_continuous: (c,) bending.
    """

    key: str
    line_load: Floats
    span: float
    moment_simple: Floats
    moment_continuous: Floats
    utilisation_simple: Floats
    utilisation_continuous: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class HandStrut:
    """A strut by hand.

    Attributes:
        key: member key.
        tributary_length: m along the purlin.
        vertical, axial, push: (c,) N; push is sideways at the foot.
        angle: rad from level.
        length: m, joint to joint.
        slenderness: governing le/d.
        capacity: (c,) N by formula, even past le/d of 50.
        utilisation: (c,) axial over capacity.
        longest: m, greatest length within le/d of 50.
        height_for_45: m, purlin height that would make it 45 degrees.
    """

    key: str
    tributary_length: float
    vertical: Floats
    axial: Floats
    push: Floats
    angle: float
    length: float
    slenderness: float
    capacity: Floats
    utilisation: Floats
    longest: float
    height_for_45: float


@dataclass(frozen=True, eq=False, kw_only=True)
class HandJoist:
    """A ceiling joist by hand: a simple span with the loads of the struts on it.

    Attributes:
        key: member key.
        span: m.
        width: m, tributary.
        points: (place in m, (c,) N) of each strut foot.
        moment: (c,) N m.
        utilisation: (c,) bending.
        sag_now: (c,) m, immediate.
        sag_long_term: (c,) m, K_cr sustained + rest.
        sag_dead: m, immediate under dead load alone.
        allowed_by_bending: Pa in total on the ceiling at C_D 1.0, without struts.
        allowed_by_sag: limit name to Pa in total for an immediate sag of L over it.
    """

    key: str
    span: float
    width: float
    points: tuple[tuple[float, Floats], ...]
    moment: Floats
    utilisation: Floats
    sag_now: Floats
    sag_long_term: Floats
    sag_dead: float
    allowed_by_bending: float
    allowed_by_sag: Mapping[str, float]


@dataclass(frozen=True, eq=False, kw_only=True)
class HandThrust:
    """Thrust of a rafter pair by hand, as of three hinges without a purlin's help.

    Attributes:
        line_load: (c,) N/m on plan, both slopes alike.
        tie_height: m above the plate line, of the lowest tie there is (0: plate).
        tie_force: (c,) N per pair, ``w W^2 / (8 (h - e))``; for the tie's spacing.
        raised_tie_factor: ``h / (h - e)``.
        thrust: (c,) N per m of wall at plate level, whatever ties it.
        rafter_moment_at_tie: (c,) N m; 0 for a tie at the plate.
        utilisation_at_tie: (c,) bending.
        nail: name of the heel nail.
        nail_value: (c,) N, Z' of one nail.
        nails_needed: at each end of the tie.
        plate_span: m, between cross walls that could hold a plate sideways.
        plate_moment: (c,) N m, the plate bent sideways over that span, were there no
            tie at all.
        plate_utilisation: (c,) bending of it.
    """

    line_load: Floats
    tie_height: float
    tie_force: Floats
    raised_tie_factor: float
    thrust: Floats
    rafter_moment_at_tie: Floats
    utilisation_at_tie: Floats
    nail: str
    nail_value: Floats
    nails_needed: int
    plate_span: float
    plate_moment: Floats
    plate_utilisation: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class HandBeam:
    """A beam at ceiling level by hand: half of each joist that ends on it.

    Attributes:
        key: member key.
        line_load: (c,) N/m from the joists as simple spans.
    """

    key: str
    line_load: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class HandResult:
    """All that the hand method says of a roof.

    Attributes:
        combinations: names of the combinations of every (c,) array; unbalanced snow
            and wind are left to the frame analysis.
        thrust: of rafters on a ridge board; None under a ridge beam, which carries.
        hips: hips, ridge ends and their braces; empty over a gable.
    """

    combinations: tuple[str, ...]
    rafters: tuple[HandRafter, ...]
    purlins: Mapping[str, HandPurlin]
    struts: Mapping[str, HandStrut]
    joists: Mapping[str, HandJoist]
    beams: Mapping[str, HandBeam]
    thrust: HandThrust | None
    hips: HandHips
