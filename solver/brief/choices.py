"""The closed sets of a brief: each field with a few possible words."""

from __future__ import annotations

from enum import StrEnum


class Shape(StrEnum):
    """Plan shape of the footprint."""

    RECTANGLE = "rectangle"
    OUTLINE = "outline"


class EdgeKind(StrEnum):
    """What the roof does over one side of a drawn outline."""

    EAVE = "eave"
    GABLE = "gable"
    HIGH_WALL = "high_wall"
    GAMBREL = "gambrel"
    DUTCH_GABLE = "dutch_gable"


class Mouths(StrEnum):
    """What joists stand on where two parts of a plan open into each other."""

    WALL = "wall"
    OPEN = "open"


class RoofForm(StrEnum):
    """Form of the roof over the footprint."""

    GABLE = "gable"
    HIP = "hip"
    SHED = "shed"
    GAMBREL = "gambrel"
    DUTCH_GABLE = "dutch_gable"
    OUTLINE = "outline"


class Surface(StrEnum):
    """The surface that a load is stated on."""

    SLOPE = "slope"
    PLAN = "plan"


class LiveReduction(StrEnum):
    """How the roof live load is reduced."""

    NONE = "none"
    SLOPE = "slope"
    AREA = "slope_and_area"


class RidgeKind(StrEnum):
    """A board to push against, or a beam that carries."""

    BOARD = "board"
    BEAM = "beam"


class JoistDirection(StrEnum):
    """Which way ceiling joists run."""

    ACROSS = "across"
    ALONG = "along"


class OverWalls(StrEnum):
    """What joists do over an interior bearing wall."""

    LAPPED = "lapped"
    CONTINUOUS = "continuous"


class BeamPlace(StrEnum):
    """How a beam at ceiling level is set to the ceiling joists."""

    UNDER = "under"
    FLUSH = "flush"
    ABOVE = "above"
    ON_JOISTS = "on_joists"
    BELOW_JOISTS = "below_joists"


class Slope(StrEnum):
    """The slopes of a roof: south has its eave at y = 0; west and east are hip ends."""

    SOUTH = "south"
    NORTH = "north"
    WEST = "west"
    EAST = "east"
    ALL = "all"


class HipPlace(StrEnum):
    """Which hips a brace stands under: by corner, or all four."""

    ALL = "all"
    SOUTH_WEST = "south_west"
    SOUTH_EAST = "south_east"
    NORTH_EAST = "north_east"
    NORTH_WEST = "north_west"


class Orientation(StrEnum):
    """How a purlin is set on edge."""

    PLUMB = "plumb"
    SQUARE = "square"


class FootOn(StrEnum):
    """What a strut stands on."""

    WALL = "wall"
    CEILING_JOIST = "ceiling_joist"
    BEAM = "beam"
    POST = "post"
    POINT = "point"
    NEAREST_WALL = "nearest_wall"


class Otherwise(StrEnum):
    """Where a brace lands that reaches no bearing wall by the rule."""

    NOTHING = "nothing"
    CEILING_JOIST = "ceiling_joist"
    BEAM = "beam"


class PostFoot(StrEnum):
    """What a post stands on."""

    FOOTING = "footing"
    GIRDER = "girder"
    NOTHING = "nothing"


class TrussWebs(StrEnum):
    """What stands between the chords of a site-built truss."""

    KING_POST = "king_post"
    KING_POST_AND_STRUTS = "king_post_and_struts"


class TieAction(StrEnum):
    """Whether a tie may also push."""

    BOTH = "both"
    PULL_ONLY = "pull_only"


class Slip(StrEnum):
    """How far a nail gives before it is near its limit."""

    NONE = "none"
    EUROCODE_5 = "eurocode_5"
    STATED = "stated"


class CeilingFinish(StrEnum):
    """The finish under the ceiling joists, which sets their sag limit."""

    GYPSUM = "gypsum"
    PLASTER = "plaster"
    NONE = "none"
