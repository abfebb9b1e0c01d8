"""The brief: all that a user states of one roof, as frozen records.

Lengths in m, loads in Pa, slopes as rise over run. Holds no derived value.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..units import FOOT, INCH, PSF, System
from . import fields as f
from .changes import Override
from .choices import (
    BeamPlace,
    CeilingFinish,
    FootOn,
    HipPlace,
    JoistDirection,
    LiveReduction,
    Mouths,
    Orientation,
    Otherwise,
    OverWalls,
    PostFoot,
    RidgeKind,
    RoofForm,
    Shape,
    Slope,
    Surface,
    TieAction,
    TrussWebs,
)
from .fields import stated
from .form_parts import Footprint, Roof
from .gambrel import Gambrel
from .headers import Header
from .hip_parts import HipBrace, Hips
from .joints import TOE_NAIL, HeelJoint
from .outline_parts import Corner
from .purlin_parts import AddedStrut, Purlin, Struts
from .stock import JOISTS_OVER, SIZE, Foot, Stock
from .truss_parts import Truss
from .wings import Wing

__all__ = [
    "SCHEMA_VERSION",
    "AddedStrut",
    "Beam",
    "BeamPlace",
    "Brief",
    "CeilingFinish",
    "CeilingJoists",
    "Checks",
    "Corner",
    "Foot",
    "FootOn",
    "Footprint",
    "Gambrel",
    "Header",
    "HeelJoint",
    "HipBrace",
    "HipPlace",
    "Hips",
    "JoistDirection",
    "LiveReduction",
    "Loads",
    "Mouths",
    "Opening",
    "Orientation",
    "Otherwise",
    "OverWalls",
    "Override",
    "Post",
    "PostFoot",
    "Purlin",
    "Rafters",
    "Ridge",
    "RidgeKind",
    "Roof",
    "RoofForm",
    "Shape",
    "Slope",
    "Snow",
    "Stock",
    "Struts",
    "Surface",
    "TieAction",
    "Ties",
    "Truss",
    "TrussWebs",
    "Wall",
    "Wing",
]

SCHEMA_VERSION = 1


@dataclass(frozen=True, kw_only=True)
class Rafters(Stock):
    """Common rafters."""

    spacing: float = stated(
        f.length("spacing on centre", low=6 * INCH, high=8 * FOOT), 24 * INCH
    )
    seat_depth: float = stated(
        f.length(
            "plumb depth of the birdsmouth at the plate; 0: none",
            low=0.0,
            high=12 * INCH,
        ),
        1.25 * INCH,
    )
    toe_nail: str = stated(TOE_NAIL, "10d common")
    plate_nails: int | None = stated(
        f.whole("toe-nails of each rafter to its plate, where known", 1, 50), None
    )
    purlin_nails: int | None = stated(
        f.whole("toe-nails of each rafter to a purlin, where known", 1, 50), None
    )
    top_nails: int | None = stated(
        f.whole("toe-nails of each rafter to ridge, hip or valley, where known", 1, 50),
        None,
    )


@dataclass(frozen=True, kw_only=True)
class Ridge(Stock):
    """Ridge board or ridge beam."""

    size: str = stated(SIZE, "2x8")
    kind: RidgeKind = stated(
        f.choice(RidgeKind, "board: rafters push on it; beam: it carries"),
        RidgeKind.BOARD,
    )
    posts: tuple[float, ...] = stated(
        f.many(
            f.length("distance along the ridge from its west end", low=0.0),
            "posts under a ridge beam besides its two ends, down to a footing",
        ),
        (),
    )


@dataclass(frozen=True, kw_only=True)
class CeilingJoists(Stock):
    """Ceiling joists."""

    spacing: float = stated(
        f.length("spacing on centre", low=6 * INCH, high=8 * FOOT), 24 * INCH
    )
    direction: JoistDirection = stated(
        f.choice(JoistDirection, "across: beside the rafters, they tie them"),
        JoistDirection.ACROSS,
    )
    over_walls: OverWalls = stated(
        f.choice(OverWalls, "lapped: a hinge over the wall, but still a tie"),
        OverWalls.LAPPED,
    )
    mouths: Mouths = stated(
        f.choice(
            Mouths,
            "what they end on where a wing of an outline opens into the house; wall: a "
            "bearing wall is taken to stand there; open: walls and beams stated alone",
        ),
        Mouths.WALL,
    )
    plies_under_struts: int = stated(
        f.whole("plies of the joists that struts stand on", 1, 6), 1
    )
    ends_cut: bool = stated(
        f.flag("true: ends are cut to the slope where they would stand above it"), True
    )


@dataclass(frozen=True, kw_only=True)
class Opening:
    """A gap in a wall, measured along it from its first point."""

    start: float = stated(f.length("where the gap begins", low=0.0))
    end: float = stated(f.length("where the gap ends", low=0.0))
    header: Header | None = stated(
        f.record(
            Header,
            "a header that carries what lands over the gap of a bearing wall; left "
            "out: nothing does",
        ),
        None,
    )


@dataclass(frozen=True, kw_only=True)
class Wall:
    """An interior wall, straight, at any angle on plan."""

    name: str = stated(f.text("name of the wall", "spine"))
    start: tuple[float, float] = stated(f.point("first end on plan"))
    end: tuple[float, float] = stated(f.point("second end on plan"))
    bearing: bool = stated(
        f.flag("true: goes down to a girder or footing; false: a partition"), True
    )
    openings: tuple[Opening, ...] = stated(
        f.many(f.record(Opening, "a gap"), "gaps in the wall"), ()
    )
    joists: OverWalls | None = stated(JOISTS_OVER, None)


@dataclass(frozen=True, kw_only=True)
class Beam(Stock):
    """A beam at ceiling level that carries joists, struts or both."""

    name: str = stated(f.text("name of the beam", "living"))
    start: tuple[float, float] = stated(f.point("first end on plan"))
    end: tuple[float, float] = stated(f.point("second end on plan"))
    carries_joists: bool = stated(
        f.flag("false: it stands above the joists and carries struts alone"), True
    )
    place: BeamPlace = stated(
        f.choice(
            BeamPlace,
            "under: joists lie on it; flush: they hang in it, or it stands clear "
            "among them where it carries none; above: they hang from it uncut; "
            "on_joists: a cross-member that rests on the joists and spreads what "
            "stands on it; below_joists: one bolted to them from below",
        ),
        BeamPlace.UNDER,
    )
    joists: OverWalls | None = stated(JOISTS_OVER, None)


@dataclass(frozen=True, kw_only=True)
class Post(Stock):
    """A post under a beam or a strut foot."""

    name: str = stated(f.text("name of the post", "A"))
    size: str = stated(SIZE, "4x4")
    at: tuple[float, float] = stated(f.point("place on plan"))
    height: float = stated(
        f.length("height of the post", low=1 * FOOT, high=40 * FOOT), 8 * FOOT
    )
    foot: PostFoot = stated(
        f.choice(PostFoot, "what the post stands on"), PostFoot.FOOTING
    )


@dataclass(frozen=True, kw_only=True)
class Ties(Stock):
    """Collar ties or rafter ties, on rafter pairs at a spacing."""

    size: str = stated(SIZE, "2x4")
    height_ratio: float = stated(
        f.ratio("height above the plate as a part of the rise", 0.0, 0.95)
    )
    spacing: float = stated(
        f.length("greatest spacing along the ridge", low=6 * INCH, high=20 * FOOT),
        4 * FOOT,
    )
    acts: TieAction = stated(
        f.choice(TieAction, "pull_only: it cannot push"), TieAction.BOTH
    )
    end_nails: int | None = stated(
        f.whole("nails at each end into the rafter, where known", 1, 200), None
    )


@dataclass(frozen=True, kw_only=True)
class Snow:
    """Snow: a ground load with its factors, or a stated roof load."""

    ground: float | None = stated(f.pressure("ground snow load pg"), None)
    roof: float | None = stated(
        f.pressure("balanced roof snow on plan, where the authority states it"), None
    )
    exposure: float = stated(f.ratio("exposure factor Ce", 0.5, 1.5), 1.0)
    thermal: float = stated(f.ratio("thermal factor Ct", 0.5, 1.5), 1.1)
    importance: float = stated(f.ratio("importance factor Is", 0.5, 1.5), 1.0)
    slippery: bool = stated(f.flag("slippery and unobstructed roof"), False)
    unbalanced: bool = stated(f.flag("check snow on one slope as well"), True)


@dataclass(frozen=True, kw_only=True)
class Loads:
    """Loads on the roof and the ceiling."""

    roof_dead: float = stated(f.pressure("roof dead load"), 10 * PSF)
    roof_dead_on: Surface = stated(
        f.choice(Surface, "surface that the roof dead load is stated on"),
        Surface.SLOPE,
    )
    roof_live: float = stated(f.pressure("minimum roof live load on plan"), 20 * PSF)
    roof_live_reduction: LiveReduction = stated(
        f.choice(
            LiveReduction,
            "slope: reduced by the slope factor R2 of ASCE 7; slope_and_area: by R1 of "
            "each member's tributary area as well",
        ),
        LiveReduction.NONE,
    )
    snow: Snow | None = stated(f.record(Snow, "snow load"), None)
    ceiling_dead: float = stated(f.pressure("ceiling dead load"), 5 * PSF)
    attic_live: float = stated(f.pressure("attic live load"), 0.0)
    attic_live_lasting: float = stated(
        f.ratio("part of the attic live load that stays for years, like storage"), 0.0
    )
    wind_uplift: float = stated(
        f.pressure("net wind uplift square to the roof, strength level"), 0.0
    )
    self_weight: bool = stated(
        f.flag("true: member weight is added; false: it is inside the dead loads"), True
    )
    person: bool = stated(
        f.flag("true: a person of 300 lb anywhere on joists and rafters is a check"),
        False,
    )


@dataclass(frozen=True, kw_only=True)
class Checks:
    """Choices that the checks need."""

    repetitive_under_struts: bool = stated(
        f.flag("keep the repetitive factor Cr for a joist that a strut stands on"),
        False,
    )
    ceiling_finish: CeilingFinish = stated(
        f.choice(CeilingFinish, "finish under the ceiling joists"),
        CeilingFinish.GYPSUM,
    )
    cross_wall_spacing: float | None = stated(
        f.length("spacing of cross walls that hold the plates sideways", above=0.0),
        None,
    )


@dataclass(frozen=True, kw_only=True)
class Brief:
    """All that is stated of one roof."""

    schema_version: int = stated(
        f.whole("version of this schema", 1, 10_000), SCHEMA_VERSION
    )
    name: str = stated(f.text("name of the roof", "Bungalow"), "Roof")
    units: System = stated(
        f.choice(
            System,
            "units of reports and pictures; left out: metric where the footprint is "
            "stated in m, cm or mm, imperial otherwise",
        ),
        System.IMPERIAL,
    )
    footprint: Footprint = stated(f.record(Footprint, "plan of the house"))
    roof: Roof = stated(f.record(Roof, "form of the roof"))
    rafters: Rafters = stated(f.record(Rafters, "common rafters"))
    ridge: Ridge = stated(f.record(Ridge, "ridge board or ridge beam"), Ridge())
    hips: Hips | None = stated(
        f.record(Hips, "hip rafters; left out: one size deeper than the rafters"), None
    )
    ceiling_joists: CeilingJoists | None = stated(
        f.record(CeilingJoists, "ceiling joists; left out: none"), None
    )
    walls: tuple[Wall, ...] = stated(
        f.many(f.record(Wall, "an interior wall"), "interior walls"), ()
    )
    beams: tuple[Beam, ...] = stated(
        f.many(f.record(Beam, "a beam"), "beams at ceiling level"), ()
    )
    posts: tuple[Post, ...] = stated(f.many(f.record(Post, "a post"), "posts"), ())
    purlins: tuple[Purlin, ...] = stated(
        f.many(f.record(Purlin, "a purlin line"), "purlin lines"), ()
    )
    struts: tuple[Struts, ...] = stated(
        f.many(f.record(Struts, "a group of struts"), "struts, in groups"), ()
    )
    added_struts: tuple[AddedStrut, ...] = stated(
        f.many(f.record(AddedStrut, "one more strut"), "struts added one by one"), ()
    )
    hip_braces: tuple[HipBrace, ...] = stated(
        f.many(f.record(HipBrace, "a brace under hips"), "braces under hips"), ()
    )
    trusses: tuple[Truss, ...] = stated(
        f.many(f.record(Truss, "a group of trusses"), "trusses built on the site"), ()
    )
    collar_ties: Ties | None = stated(f.record(Ties, "ties near the ridge"), None)
    rafter_ties: Ties | None = stated(f.record(Ties, "ties low in the attic"), None)
    heel_joint: HeelJoint = stated(
        f.record(HeelJoint, "nails at the heel"), HeelJoint()
    )
    loads: Loads = stated(f.record(Loads, "loads"), Loads())
    checks: Checks = stated(f.record(Checks, "choices of the checks"), Checks())
    overrides: tuple[Override, ...] = stated(
        f.many(f.record(Override, "a change of one member"), "changes by member key"),
        (),
    )
