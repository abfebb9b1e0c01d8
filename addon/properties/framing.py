"""Properties of the framing: rafters, ridge, joists, purlins, struts and ties."""

import bpy

from . import choices as c
from . import kinds as k
from .stock import Lumber


class LoadfallGambrel(bpy.types.PropertyGroup, Lumber):
    """Upper slopes of a gambrel; its lumber is that of the curb."""

    upper_pitch: k.number(
        "Upper Pitch",
        "Rise in 12 of run above the break",
        6.0,
        soft_min=1.0,
        soft_max=24.0,
        step=25,
        precision=2,
    )
    from_plate: k.length("Break", "Plan distance of the break from the plate", 1.524)
    knee_walls: k.flag(
        "Knee Walls", "Studs stand on the ceiling joists under the curb", True
    )
    lined: k.flag("Lined", "Boards or blocking hold the knee-wall studs sideways", True)
    ties: k.flag("Ties", "A tie from break to break at every rafter pair")
    gussets: k.flag(
        "Gussets", "Plywood gussets make the two rafters at a break one stiff piece"
    )
    piece_size: k.text(
        "Stud and Tie Size",
        "Size of the knee-wall studs and of the ties",
        "2x4",
        search=k.suggest_sizes,
        search_options={"SUGGESTION"},
    )
    exact: k.exact()


class LoadfallForm(bpy.types.PropertyGroup):
    """Form of the roof."""

    form: k.choice("Roof Form", "How the slopes meet", c.FORM, "GABLE")
    pitch: k.number(
        "Pitch",
        "Rise of the roof in 12 of run, both slopes: 6 is the carpenter's 6:12",
        6.0,
        soft_min=1.0,
        soft_max=24.0,
        step=25,
        precision=2,
    )
    use_end_pitch: k.flag("Other End Pitch", "Off: the hip ends as the long slopes")
    end_pitch: k.number(
        "End Pitch",
        "Rise in 12 of run of the hip ends",
        6.0,
        soft_min=1.0,
        soft_max=24.0,
        step=25,
        precision=2,
    )
    overhang: k.length(
        "Eave Overhang", "Rafter tails past the outer wall, on plan", 16 * k.INCH
    )
    rake_overhang: k.length("Rake Overhang", "Roof past the gable ends", 0.0)
    setback: k.length(
        "Setback", "Plan distance of the small gables from their plates", 4 * k.FOOT
    )
    use_gambrel: k.flag("Breaks", "Whether slopes of this roof break")
    gambrel: k.group(LoadfallGambrel)
    exact: k.exact()


class LoadfallRafters(bpy.types.PropertyGroup, Lumber):
    """Common rafters."""

    spacing: k.length("Spacing", "Rafter spacing on centre", 24 * k.INCH)
    seat_depth: k.length(
        "Seat Depth", "Plumb depth of the birdsmouth at the plate", 1.25 * k.INCH
    )
    toe_nail: k.text(
        "Toe-Nail", "Nail driven aslant into plate and purlins", "10d common"
    )
    use_plate_nails: k.flag(
        "Plate Nails Known", "Whether the number of toe-nails to the plate is known"
    )
    plate_nails: k.whole("Plate Nails", "Toe-nails to the plate in place", 3, 1, 50)
    use_purlin_nails: k.flag(
        "Purlin Nails Known", "Whether the number of toe-nails to a purlin is known"
    )
    purlin_nails: k.whole("Purlin Nails", "Toe-nails to a purlin in place", 3, 1, 50)
    use_top_nails: k.flag(
        "Top Nails Known",
        "Whether the number of toe-nails to ridge, hip or valley is known",
    )
    top_nails: k.whole("Top Nails", "Toe-nails at the top in place", 4, 1, 50)


class LoadfallHips(bpy.types.PropertyGroup, Lumber):
    """Hip rafters of a hip roof."""

    stub_joists: k.flag(
        "Stub Joists",
        "Stub joists from the end plates, strapped over the ceiling joists, hold the "
        "feet of the end rafters",
    )


class LoadfallRidgePost(bpy.types.PropertyGroup):
    """A post under a ridge beam."""

    value: k.length("Place", "Distance along the ridge from its west end", 0.0)
    exact: k.exact()


class LoadfallRidge(bpy.types.PropertyGroup, Lumber):
    """Ridge board or ridge beam."""

    kind: k.choice("Ridge", "What runs along the ridge", c.RIDGE, "BOARD")
    posts: k.many(LoadfallRidgePost, "Posts", "Posts under it besides its two ends")
    active_post: k.active("Ridge Post")


class LoadfallCeilingJoists(bpy.types.PropertyGroup, Lumber):
    """Ceiling joists."""

    spacing: k.length("Spacing", "Joist spacing on centre", 24 * k.INCH)
    direction: k.choice("Run", "Which way the joists run", c.DIRECTION, "ACROSS")
    over_walls: k.choice(
        "Over Walls", "What joists do over an interior wall", c.OVER_WALLS, "LAPPED"
    )
    mouths: k.choice(
        "Wing Mouths", "What they end on where a wing opens", c.MOUTHS, "WALL"
    )
    plies_under_struts: k.whole(
        "Plies at Struts", "Plies of the joists that struts stand on", 1, 1, 6
    )
    ends_cut: k.flag(
        "Ends Cut",
        "Joist ends are cut to the slope where they would stand above the roof",
        True,
    )


class LoadfallPurlin(bpy.types.PropertyGroup, Lumber):
    """A purlin line under the rafters of one slope."""

    name: k.text("Name", "Name of the purlin line; struts find it by this name", "S")
    slope: k.choice(
        "Slope",
        "The slope it runs under; over a drawn outline every plane that falls that way",
        c.SIDE,
        "SOUTH",
    )
    plane: k.text(
        "Plane", "Over a drawn outline: the one plane instead, such as S1 or N2", ""
    )
    placed: k.choice("Placed By", "How its place is stated", c.PLACED, "FROM_PLATE")
    from_plate: k.length(
        "From Plate",
        "Plan distance of the purlin from the plate of the same slope",
        6.5 * k.FOOT,
    )
    height: k.length("Height", "Height of the purlin above the plate line", 3 * k.FOOT)
    orientation: k.choice(
        "Set", "How the purlin stands on edge", c.ORIENTATION, "PLUMB"
    )
    use_start: k.flag("Begins", "Off: from the west gable")
    start: k.length("From", "Where the line begins, along the ridge", 0.0)
    use_end: k.flag("Ends", "Off: to the east gable")
    end: k.length("To", "Where the line ends, along the ridge", 32 * k.FOOT)


class LoadfallFoot(bpy.types.PropertyGroup):
    """Where the struts of one group stand."""

    on: k.choice(
        "Stand On",
        "What the feet stand on: this decides where the roof's load goes",
        c.FOOT,
        "CEILING_JOIST",
    )
    name: k.text("Name", "Name of the wall, beam or post that they stand on")
    use_from_plate: k.flag("Foot Aside", "Off: the feet stand plumb under the purlin")
    from_plate: k.length(
        "Foot from Plate",
        "Plan distance of the feet from the plate of the same slope",
        6.5 * k.FOOT,
    )
    otherwise: k.choice(
        "Where None Is Legal",
        "What the feet stand on that reach no bearing wall by the rule",
        c.OTHERWISE,
        "NOTHING",
    )
    use_at: k.flag("Foot at a Point", "Off: the feet stand plumb or as named")
    at: k.place("Foot At", "Plan point that the foot stands at, or nearest to")
    exact: k.exact()


class StrutFields:
    """What every strut states, in a group or added alone."""

    purlin: k.text("Purlin", "Name of the purlin line that they hold", "S")
    foot: k.group(LoadfallFoot, "Foot")
    held_at_mid: k.flag(
        "Held at Mid-Length",
        "A runner between the struts holds them the weak way at mid-length",
    )
    stiffener: k.flag(
        "T Stiffener", "A second piece of the same size nailed on as a T, full length"
    )
    toe_nail: k.text(
        "Toe-Nail", "Nail driven aslant through foot and top", "10d common"
    )
    use_foot_nails: k.flag(
        "Foot Nails Known", "Whether the number of toe-nails at the foot is known"
    )
    foot_nails: k.whole("Foot Nails", "Toe-nails at the foot in place", 3, 1, 50)
    use_top_nails: k.flag(
        "Top Nails Known", "Whether the number of toe-nails at the top is known"
    )
    top_nails: k.whole("Top Nails", "Toe-nails at the top in place", 3, 1, 50)


class LoadfallStruts(bpy.types.PropertyGroup, Lumber, StrutFields):
    """A group of struts (purlin braces)."""

    spacing: k.length("Spacing", "Spacing of the struts along the purlin", 4 * k.FOOT)
    use_start: k.flag("Begins", "Off: half a spacing from the purlin's end")
    start: k.length("First", "Where the first strut stands, along the ridge", 0.0)
    use_end: k.flag("Ends", "Off: to the end of the purlin")
    end: k.length("Last", "No strut of the group beyond this", 32 * k.FOOT)


class LoadfallAddedStrut(bpy.types.PropertyGroup, Lumber, StrutFields):
    """One strut more, with a name of its own."""

    name: k.text("Name", "Name of this strut, the last part of its key", "extra")
    at: k.length("Place", "Where it stands, along the ridge", 4 * k.FOOT)


class LoadfallTruss(bpy.types.PropertyGroup, Lumber):
    """Trusses built on the site from rafter pairs and ceiling joists."""

    name: k.text("Name", "Name of the group of trusses", "Trusses")
    webs: k.choice(
        "Webs", "What stands between the chords", c.TRUSS_WEBS, "KING_POST_AND_STRUTS"
    )
    spacing: k.length("Spacing", "Greatest spacing along the ridge", 2 * k.FOOT)
    use_start: k.flag("Begins", "Off: from the west end")
    start: k.length("From", "No truss before this, along the ridge", 0.0)
    use_end: k.flag("Ends", "Off: to the east end")
    end: k.length("To", "No truss beyond this, along the ridge", 32 * k.FOOT)
    held_at_mid: k.flag(
        "Held at Mid-Length", "Webs are held the weak way by a runner between trusses"
    )
    gusset: k.length("Gussets", "Thickness of the plywood gussets", 0.5 * k.INCH)
    gusset_nail: k.text("Gusset Nail", "Nail through the gussets", "8d common")
    use_gusset_nails: k.flag("Nails Known", "Off: it is told how many are needed")
    gusset_nails: k.whole(
        "Nails", "Through a gusset into each piece, both sides together", 8, 1, 200
    )


class LoadfallHipBrace(bpy.types.PropertyGroup, Lumber):
    """A brace or post under hips or ridge ends."""

    under: k.text(
        "Under", "Over a drawn outline: key of the hip, valley or ridge it holds", ""
    )
    hip: k.choice("Hip", "The hips that it stands under", c.HIP_PLACE, "ALL")
    at: k.number(
        "At",
        "Place as a part of the hip's plan length from the corner: 1 is the ridge end",
        1.0,
        soft_min=0.05,
        soft_max=1.0,
        precision=3,
        step=5,
    )
    foot: k.group(LoadfallFoot, "Foot")
    held_at_mid: k.flag(
        "Held at Mid-Length", "Other framing holds it the weak way at mid-length"
    )
    stiffener: k.flag(
        "T Stiffener", "A second piece of the same size nailed on as a T, full length"
    )
    toe_nail: k.text("Toe-Nail", "Nail through its ends", "10d common")
    use_foot_nails: k.flag("Foot Nails Known", "Whether the nails there are known")
    foot_nails: k.whole("Foot Nails", "Toe-nails at the foot", 3, 1, 50)
    use_top_nails: k.flag("Top Nails Known", "Whether the nails there are known")
    top_nails: k.whole("Top Nails", "Toe-nails at the top", 3, 1, 50)


class LoadfallTies(bpy.types.PropertyGroup, Lumber):
    """Collar ties or rafter ties."""

    height_ratio: k.number(
        "Height",
        "Height above the plate as a part of the rise: rafter ties work in the "
        "lower third, collar ties in the upper third",
        0.33,
        soft_min=0.0,
        soft_max=0.95,
        precision=3,
        step=1,
    )
    spacing: k.length("Spacing", "Greatest spacing along the ridge", 4 * k.FOOT)
    acts: k.choice("Acts", "Whether the tie may also push", c.TIE, "BOTH")
    use_end_nails: k.flag(
        "End Nails Known", "Whether the number of nails at each end is known"
    )
    end_nails: k.whole("End Nails", "Nails at each end in place", 5, 1, 50)


class LoadfallHeelJoint(bpy.types.PropertyGroup):
    """Nails between rafter foot and tie."""

    nail: k.text(
        "Nail", "Nail between rafter and joist, such as 16d common", "16d common"
    )
    use_count: k.flag("Nails Known", "Whether the number of nails in place is known")
    count: k.whole("Nails", "Nails in place in each heel joint", 5, 1, 200)
    use_lap_count: k.flag(
        "Lap Nails Known", "Whether the number of nails in each joist lap is known"
    )
    lap_count: k.whole("Lap Nails", "Nails in each joist lap in place", 5, 1, 50)
    slip: k.choice("Slip", "How far the nails give under load", c.SLIP, "NONE")
    use_slip_stiffness: k.flag("Stiffness Known", "Whether the slip is stated")
    slip_stiffness: k.number(
        "Nail Stiffness", "Slip stiffness of one nail, N per m", 1e6, soft_min=1e4
    )
    exact: k.exact()


class LoadfallOverride(bpy.types.PropertyGroup):
    """A change of one member, kept by its key through every rebuild."""

    member: k.text("Member", "Key of the member, such as CJ-05-1")
    use_near: k.flag(
        "Stays in Place", "The change stays with the stick that passes this point"
    )
    near: k.place("Near", "Plan point that the member passes")
    size: k.text(
        "Size",
        "Size of this member; empty: as its kind",
        search=k.suggest_sizes,
        search_options={"SUGGESTION"},
    )
    species: k.text(
        "Species",
        "Species of this member; empty: as its kind",
        search=k.suggest_species,
        search_options={"SUGGESTION"},
    )
    grade: k.text(
        "Grade",
        "Grade of this member; empty: as its kind",
        search=k.suggest_grades,
        search_options={"SUGGESTION"},
    )
    use_plies: k.flag("Change Plies", "Give this member plies of its own")
    plies: k.whole("Plies", "Plies of this member", 2, 1, 6)
    removed: k.flag("Taken Out", "Take this member out of the roof")
    use_foot: k.flag("Move Foot", "Stand this strut on something else")
    foot: k.group(LoadfallFoot, "Foot")
    use_from_plate: k.flag("Pin Purlin", "Keep this purlin line in its place")
    from_plate: k.length(
        "From Plate", "Plan distance of the purlin from its plate", 6.5 * k.FOOT
    )
    exact: k.exact()


CLASSES = (
    LoadfallGambrel,
    LoadfallForm,
    LoadfallRafters,
    LoadfallRidgePost,
    LoadfallRidge,
    LoadfallCeilingJoists,
    LoadfallPurlin,
    LoadfallFoot,
    LoadfallStruts,
    LoadfallAddedStrut,
    LoadfallHips,
    LoadfallHipBrace,
    LoadfallTruss,
    LoadfallTies,
    LoadfallHeelJoint,
    LoadfallOverride,
)
