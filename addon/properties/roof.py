"""The roof object's properties: all that a user states, and what was last found.

The names are the brief's own, so that bridge/brief_io.py can walk both side by side.
"""

import bpy
from bpy.props import (
    BoolProperty,
    CollectionProperty,
    EnumProperty,
    FloatVectorProperty,
    PointerProperty,
    StringProperty,
)

from . import choices as c
from . import framing, loads, plan
from . import kinds as k

ASKED = (
    (
        "MEMBER",
        "Member",
        "What a member carries, from where, and how much of its limit",
    ),
    ("WALL", "Wall", "What a wall collects"),
    ("PATCH", "Patch of Roof", "Where a load on a strip of roof or ceiling ends up"),
)


class LoadfallAsked(bpy.types.PropertyGroup):
    """One thing that was asked about; it changes no roof."""

    kind: EnumProperty(name="Kind", items=ASKED)
    key: StringProperty(name="Key", description="Member key or wall")
    point: FloatVectorProperty(
        name="Point",
        description="A point of the patch in the roof's own axes, in m",
        size=3,
    )


class LoadfallVariant(bpy.types.PropertyGroup):
    """A named variant of a roof, such as existing or proposed."""

    name: StringProperty(name="Name", description="Name of the variant")
    brief: StringProperty(options={"HIDDEN"})


class LoadfallRoof(bpy.types.PropertyGroup):
    """One roof, on the object at its corner."""

    is_roof: BoolProperty(options={"HIDDEN"}, override=k.OVERRIDABLE)
    collection: PointerProperty(
        type=bpy.types.Collection, options={"HIDDEN"}, override=k.OVERRIDABLE
    )
    message: StringProperty(options={"HIDDEN"}, override=k.OVERRIDABLE)
    message_field: StringProperty(options={"HIDDEN"}, override=k.OVERRIDABLE)
    loads_in: EnumProperty(
        items=c.UNITS,
        default="IMPERIAL",
        options={"HIDDEN"},
        override=k.OVERRIDABLE,
    )

    name: k.text("Name", "Name of the roof on reports", "Roof")
    units: EnumProperty(
        name="Units",
        description="Units of loads, forces and reports. Lengths follow the scene",
        items=c.UNITS,
        default="IMPERIAL",
        update=k.change_units,
        override=k.OVERRIDABLE,
    )
    footprint: k.group(plan.LoadfallFootprint)
    roof: k.group(framing.LoadfallForm)
    rafters: k.group(framing.LoadfallRafters)
    ridge: k.group(framing.LoadfallRidge)
    use_hips: k.flag("Hips Stated", "Off: one size deeper than the rafters")
    hips: k.group(framing.LoadfallHips)
    use_ceiling_joists: k.flag(
        "Ceiling Joists", "Whether there are ceiling joists", True
    )
    ceiling_joists: k.group(framing.LoadfallCeilingJoists)
    walls: k.many(plan.LoadfallWall, "Walls", "Interior walls")
    active_wall: k.active("Wall")
    beams: k.many(plan.LoadfallBeam, "Beams", "Beams at ceiling level")
    active_beam: k.active("Beam")
    posts: k.many(plan.LoadfallPost, "Posts", "Posts under beams and strut feet")
    active_post: k.active("Post")
    purlins: k.many(framing.LoadfallPurlin, "Purlins", "Purlin lines")
    active_purlin: k.active("Purlin")
    struts: k.many(framing.LoadfallStruts, "Struts (Braces)", "Struts, in groups")
    active_strut: k.active("Strut Group")
    added_struts: k.many(
        framing.LoadfallAddedStrut, "Added Struts", "Struts added one by one"
    )
    active_added_strut: k.active("Added Strut")
    trusses: k.many(framing.LoadfallTruss, "Trusses", "Trusses built on the site")
    active_truss: k.active("Truss")
    hip_braces: k.many(
        framing.LoadfallHipBrace, "Hip Braces", "Braces and posts under hips"
    )
    active_hip_brace: k.active("Hip Brace")
    use_collar_ties: k.flag("Collar Ties", "Ties near the ridge")
    collar_ties: k.group(framing.LoadfallTies)
    use_rafter_ties: k.flag("Rafter Ties", "Ties low in the attic")
    rafter_ties: k.group(framing.LoadfallTies)
    heel_joint: k.group(framing.LoadfallHeelJoint)
    loads: k.group(loads.LoadfallLoads)
    checks: k.group(loads.LoadfallChecks)
    variants: CollectionProperty(type=LoadfallVariant, options={"HIDDEN"})
    shown_variant: StringProperty(options={"HIDDEN"})
    remedy: StringProperty(options={"HIDDEN"})
    asked: CollectionProperty(type=LoadfallAsked, options={"HIDDEN"})
    overrides: k.many(framing.LoadfallOverride, "Overrides", "Changes of one member")
    active_override: k.active("Override")
    exact: k.exact()


class LoadfallCollection(bpy.types.PropertyGroup):
    """Whose members a collection holds."""

    roof: PointerProperty(
        type=bpy.types.Object, options={"HIDDEN"}, override=k.OVERRIDABLE
    )
    role: StringProperty(options={"HIDDEN"}, override=k.OVERRIDABLE)
    is_top: BoolProperty(options={"HIDDEN"}, override=k.OVERRIDABLE)


# Identifier, name, description, icon, number: older files keep the number.
MODES = (
    (
        "UTILISATION",
        "Use",
        "Shade every member by its use: demand over capacity, 1 at its limit",
        "SHADING_RENDERED",
        0,
    ),
    (
        "SAG_NOW",
        "Sag Now",
        "Shade every member by how far it bends on day one under all loads",
        "IPO_EASE_IN",
        2,
    ),
    (
        "SAG_TEN",
        "Sag in Ten Years",
        "Shade every member by how far it bends after ten years: wood under a lasting "
        "load goes on bending (creep)",
        "SORTTIME",
        3,
    ),
    (
        "PATH",
        "Load Path",
        "Show where the picked member's load goes, joint by joint, to the ground",
        "TRACKING",
        1,
    ),
    (
        "INFLUENCE",
        "Loaded By",
        "Show which square foot of roof and ceiling loads the picked member or wall",
        "LIGHT_SUN",
        4,
    ),
    (
        "FINDINGS",
        "Findings",
        "Shade every member by its verdict, and number what was found",
        "BOOKMARKS",
        5,
    ),
)
QUANTITIES = (
    ("GOVERNING", "What Governs", "The number that decides its worst check"),
    ("MOMENT", "Bending", "Its largest bending moment"),
    ("SAG", "Sag", "Its largest sag"),
    ("AXIAL", "Push or Pull", "The largest force along it"),
)


def redraw(_group: bpy.types.PropertyGroup | None, context: bpy.types.Context) -> None:
    """Have every 3D view drawn again; the update of what only changes the view."""
    for window in context.window_manager.windows:
        for area in window.screen.areas:
            if area.type == "VIEW_3D":
                area.tag_redraw()


class LoadfallScene(bpy.types.PropertyGroup):
    """What the overlay shows in this scene."""

    show: BoolProperty(
        name="Overlay", description="Shade the roof in the viewport", update=redraw
    )
    mode: EnumProperty(
        name="Shows", description="What the overlay shows", items=MODES, update=redraw
    )
    quantity: EnumProperty(
        name="Number",
        description="Which number of the picked member the roof's influence is on",
        items=QUANTITIES,
        update=redraw,
    )
    handles: BoolProperty(
        name="Handles",
        description="Arrows to drag: pitch, overhang, purlins, walls and strut feet",
        default=True,
        update=redraw,
    )
    labels: BoolProperty(
        name="Labels",
        description="Write numbers beside the members that matter most",
        default=True,
        update=redraw,
    )


CLASSES = (
    LoadfallAsked,
    LoadfallVariant,
    LoadfallRoof,
    LoadfallCollection,
    LoadfallScene,
)
HOLDERS = (
    (bpy.types.Object, LoadfallRoof),
    (bpy.types.Collection, LoadfallCollection),
    (bpy.types.Scene, LoadfallScene),
)


def roof_of(obj: bpy.types.Object) -> LoadfallRoof:
    """Return the roof properties of an object."""
    return obj.loadfall  # type: ignore[attr-defined]


def is_roof(obj: bpy.types.Object | None) -> bool:
    """Return whether an object is a roof."""
    return obj is not None and roof_of(obj).is_roof


def find_roof(obj: bpy.types.Object | None) -> bpy.types.Object | None:
    """Return the roof that an object is or belongs to, or None."""
    while obj is not None:
        if is_roof(obj):
            return obj
        obj = obj.parent
    return None


def settings_of(scene: bpy.types.Scene) -> LoadfallScene:
    """Return the overlay's settings in a scene."""
    return scene.loadfall  # type: ignore[attr-defined]


def owner_of(collection: bpy.types.Collection) -> LoadfallCollection:
    """Return whose members a collection holds."""
    return collection.loadfall  # type: ignore[attr-defined]
