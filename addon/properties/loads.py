"""Properties of the loads and of the choices that the checks need."""

import bpy

from . import choices as c
from . import kinds as k


class LoadfallSnow(bpy.types.PropertyGroup):
    """Snow: a ground load with its factors, or a stated roof load."""

    stated: k.choice("Stated As", "Which snow load is known", c.SNOW, "GROUND")
    ground: k.load("Ground Snow", "Ground snow load pg of the place", 20.0)
    roof: k.load("Roof Snow", "Balanced roof snow load on plan", 20.0)
    exposure: k.number(
        "Exposure",
        "Exposure factor Ce: under 1 where wind blows the roof clear",
        1.0,
        soft_min=0.7,
        soft_max=1.2,
        precision=2,
        step=5,
    )
    thermal: k.number(
        "Thermal",
        "Thermal factor Ct: 1.0 heated, 1.1 cold ventilated attic, 1.2 unheated",
        1.1,
        soft_min=0.85,
        soft_max=1.3,
        precision=2,
        step=5,
    )
    importance: k.number(
        "Importance",
        "Importance factor Is: 1.0 for a house",
        1.0,
        soft_min=0.8,
        soft_max=1.2,
        precision=2,
        step=5,
    )
    slippery: k.flag("Slippery", "Smooth, unobstructed roof that snow slides off")
    unbalanced: k.flag(
        "Unbalanced", "Check snow lying on one slope alone as well", True
    )
    exact: k.exact()


class LoadfallLoads(bpy.types.PropertyGroup):
    """Loads on the roof and the ceiling."""

    roof_dead: k.load(
        "Roof Dead",
        "Dead load, what always lies there: roofing, sheathing and rafters",
        10.0,
    )
    roof_dead_on: k.choice(
        "Stated on", "Surface that the roof's weight is stated on", c.SURFACE, "SLOPE"
    )
    roof_live: k.load(
        "Roof Live",
        "Live load, what comes and goes: people and materials on the roof, on plan",
        20.0,
    )
    roof_live_reduction: k.choice(
        "Live Reduced",
        "Whether the roof live load may be less on steep slopes and large areas",
        c.LIVE_REDUCTION,
        "NONE",
    )
    use_snow: k.flag("Snow", "Whether snow falls here")
    snow: k.group(LoadfallSnow, "Snow")
    ceiling_dead: k.load(
        "Ceiling Dead", "Dead load of the ceiling: its board and insulation", 5.0
    )
    attic_live: k.load(
        "Attic Live",
        "Attic live load: 10 psf with no storage, 20 psf with storage",
        0.0,
    )
    attic_live_lasting: k.number(
        "Lasting Part",
        "Part of the attic live load that stays for years, like stored goods; it "
        "makes joists creep",
        0.0,
        soft_min=0.0,
        soft_max=1.0,
        precision=2,
        step=5,
    )
    wind_uplift: k.load(
        "Wind Uplift",
        "How hard wind lifts the roof, square to it, as ASCE 7 states wind",
        0.0,
    )
    self_weight: k.flag(
        "Add Own Weight",
        "On: the weight of the members is added. Off: it is inside the dead loads",
        True,
    )
    person: k.flag(
        "Person",
        "Check a person of 300 lb anywhere on every joist and rafter as well",
    )
    exact: k.exact()


class LoadfallChecks(bpy.types.PropertyGroup):
    """Choices that the checks need."""

    repetitive_under_struts: k.flag(
        "Repetitive under Struts",
        "Joists side by side help each other, so the code lets each bear 15 % more "
        "(repetitive factor Cr). Off: not those that a strut stands on, whose "
        "neighbours hardly help",
    )
    ceiling_finish: k.choice(
        "Ceiling", "Finish under the joists; it sets the sag limit", c.FINISH, "GYPSUM"
    )
    use_cross_wall_spacing: k.flag(
        "Cross Walls Known", "Whether cross walls hold the plates sideways"
    )
    cross_wall_spacing: k.length(
        "Cross Walls",
        "Spacing of cross walls that hold the plates sideways",
        16 * k.FOOT,
    )
    exact: k.exact()


CLASSES = (LoadfallSnow, LoadfallLoads, LoadfallChecks)
