"""Properties of the plan: footprint, walls with their gaps, beams and posts."""

import bpy

from . import choices as c
from . import kinds as k
from .stock import Lumber


class LoadfallCorner(bpy.types.PropertyGroup):
    """A corner of a drawn outline and the side from it to the next."""

    at: k.place("Place", "Place of the corner on plan")
    edge: k.choice(
        "Side", "What the roof does over the side to the next corner", c.EDGE, "EAVE"
    )
    use_pitch: k.flag("Own Pitch", "Off: this side has the pitch of the roof")
    pitch: k.number(
        "Pitch",
        "Rise in 12 of run over this side",
        6.0,
        soft_min=1.0,
        soft_max=24.0,
        step=25,
        precision=2,
    )
    exact: k.exact()


class LoadfallWing(bpy.types.PropertyGroup):
    """A wing of the rectangle."""

    side: k.choice("Side", "Side of the main rectangle", c.WING_SIDE, "NORTH")
    start: k.length("From", "From the west or south end of that side", 3.0)
    width: k.length("Width", "Along the side", 5.0)
    length: k.length("Length", "How far it stands out", 4.0)
    use_pitch: k.flag("Own Pitch", "Off: its slopes have the pitch of the roof")
    pitch: k.number(
        "Pitch",
        "Rise in 12 of run of its slopes",
        6.0,
        soft_min=1.0,
        soft_max=24.0,
        step=25,
        precision=2,
    )
    end: k.choice("End", "What the roof does over its outer end", c.EDGE, "GABLE")
    exact: k.exact()


class LoadfallFootprint(bpy.types.PropertyGroup):
    """Plan between the bearing lines of the outer walls."""

    shape: k.choice("Plan Shape", "Outline of the house", c.SHAPE, "RECTANGLE")
    length: k.length(
        "Length",
        "Length of the house along the ridge, between the end walls",
        32 * k.FOOT,
    )
    width: k.length(
        "Width", "Width of the house across the ridge, plate to plate", 26 * k.FOOT
    )
    outline: k.many(LoadfallCorner, "Corners", "Corners of a drawn outline, in order")
    active_corner: k.active("Corner")
    wings: k.many(LoadfallWing, "Wings", "Wings of the rectangle")
    active_wing: k.active("Wing")
    exact: k.exact()


class LoadfallHeader(bpy.types.PropertyGroup, Lumber):
    """The header over a gap, and the jack studs under its ends."""

    jacks: k.whole("Jack Studs", "Jack studs under each end of the header", 1, 1, 6)
    jack_size: k.text(
        "Jack Size",
        "Size of the jack studs",
        "2x4",
        search=k.suggest_sizes,
        search_options={"SUGGESTION"},
    )
    jack_species: k.text(
        "Jack Species",
        "Species of the jack studs",
        "Spruce-Pine-Fir",
        search=k.suggest_species,
        search_options={"SUGGESTION"},
    )
    jack_grade: k.text("Jack Grade", "Grade of the jack studs", "Stud")
    jack_length: k.length("Jack Length", "Length of the jack studs", 82.5 * k.INCH)


class LoadfallOpening(bpy.types.PropertyGroup):
    """A gap in a wall."""

    start: k.length("From", "Where the gap begins, along the wall", 0.0)
    end: k.length("To", "Where the gap ends, along the wall", 4 * k.FOOT)
    use_header: k.flag(
        "Header",
        "On: a header carries what lands over the gap. Off: nothing does, unless a "
        "beam is put there",
    )
    header: k.group(LoadfallHeader, "Header")
    exact: k.exact()


class LoadfallWall(bpy.types.PropertyGroup):
    """An interior wall."""

    name: k.text("Name", "Name of the wall; struts find it by this name", "Wall")
    start: k.place("Start", "First end on plan")
    end: k.place("End", "Second end on plan")
    bearing: k.flag(
        "Bearing",
        "On: it goes down to a girder or footing and may carry the roof. "
        "Off: a partition, which carries nothing",
        True,
    )
    openings: k.many(LoadfallOpening, "Openings", "Gaps where the wall is left out")
    active_opening: k.active("Opening")
    use_joists: k.flag("Joists Here", "Off: joists do as over the other walls")
    joists: k.choice(
        "Joists Here", "What ceiling joists do over it", c.OVER_WALLS, "CONTINUOUS"
    )
    exact: k.exact()


class LoadfallBeam(bpy.types.PropertyGroup, Lumber):
    """A beam at ceiling level."""

    name: k.text("Name", "Name of the beam; struts find it by this name", "Beam")
    start: k.place("Start", "First end on plan")
    end: k.place("End", "Second end on plan")
    carries_joists: k.flag(
        "Carries Joists",
        "On: ceiling joists hang in it (a flush beam). Off: it stands clear above "
        "the joists and carries struts alone",
        True,
    )
    place: k.choice("Set", "How it is set to the ceiling joists", c.BEAM_PLACE, "UNDER")
    use_joists: k.flag("Joists Here", "Off: joists do as over the other walls")
    joists: k.choice(
        "Joists Here", "What ceiling joists do over it", c.OVER_WALLS, "CONTINUOUS"
    )


class LoadfallPost(bpy.types.PropertyGroup, Lumber):
    """A post under a beam or a strut foot."""

    name: k.text("Name", "Name of the post; struts find it by this name", "Post")
    at: k.place("Place", "Place on plan")
    height: k.length("Height", "From its foot to the ceiling line", 8 * k.FOOT)
    foot: k.choice("Stands On", "What is under the post", c.POST_FOOT, "FOOTING")


CLASSES = (
    LoadfallCorner,
    LoadfallWing,
    LoadfallFootprint,
    LoadfallHeader,
    LoadfallOpening,
    LoadfallWall,
    LoadfallBeam,
    LoadfallPost,
)
