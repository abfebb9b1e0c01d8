"""Fields that every way of adding a roof asks for, and their round values."""

import bpy
from bpy.props import FloatProperty, StringProperty

from ...solver.units import FOOT, INCH
from ..properties.kinds import suggest_sizes

METRIC = {"length": 10.0, "width": 8.0, "overhang": 0.4, "spacing": 0.6}
IMPERIAL = {
    "length": 32 * FOOT,
    "width": 26 * FOOT,
    "overhang": 16 * INCH,
    "spacing": 24 * INCH,
}


def length(name: str, description: str, default: float):  # noqa: ANN201 (deferred)
    """Return a length, m by default, shown in the scene's units."""
    return FloatProperty(
        name=name,
        description=description,
        unit="LENGTH",
        subtype="DISTANCE",
        default=default,
        soft_min=0.0,
        precision=3,
    )


def pitch(description: str):  # noqa: ANN201 (a deferred property has no public type)
    """Return a pitch in 12."""
    return FloatProperty(
        name="Pitch",
        description=description,
        default=6.0,
        soft_min=1.0,
        soft_max=24.0,
        precision=2,
        step=25,
    )


def overhang():  # noqa: ANN201
    """Return the overhang of the eaves."""
    words = "Rafter tails past the outer wall, on plan"
    return length("Eave Overhang", words, IMPERIAL["overhang"])


def spacing():  # noqa: ANN201
    """Return the spacing of rafters and joists."""
    words = "Spacing of rafters and ceiling joists on centre"
    return length("Spacing", words, IMPERIAL["spacing"])


def size(default: str):  # noqa: ANN201
    """Return the size of rafters and joists."""
    return StringProperty(
        name="Size",
        description=f"Size of rafters and ceiling joists, such as {default}",
        default=default,
        search=suggest_sizes,
        search_options={"SUGGESTION"},
    )


def begin(operator: bpy.types.Operator, *, metric: bool, scale: float) -> None:
    """Give lengths that nobody stated round values in the scene's own units."""
    for name, metres in (METRIC if metric else IMPERIAL).items():
        known = hasattr(operator, name)
        if known and not operator.properties.is_property_set(name):
            setattr(operator, name, metres / scale)
