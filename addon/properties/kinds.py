"""How each kind of stated value is declared as a Blender property.

Every property marks its roof as changed. Ranges here only guide the mouse: what is
out of range is refused by name when the brief is read, never clamped in silence.
"""

from typing import Any

import bpy
from bpy.props import (
    BoolProperty,
    CollectionProperty,
    EnumProperty,
    FloatProperty,
    FloatVectorProperty,
    IntProperty,
    PointerProperty,
    StringProperty,
)

from ...solver.units import FOOT, INCH
from .dirty import touch

__all__ = ["FOOT", "INCH"]

# A linked roof can be made a library override and then be changed like any other.
OVERRIDABLE = {"LIBRARY_OVERRIDABLE"}
_LISTED = {"LIBRARY_OVERRIDABLE", "USE_INSERTION"}


def length(name: str, description: str, default: float, **more: Any) -> Any:
    """Return a length in Blender units; ``default`` in m."""
    more.setdefault("soft_min", 0.0)
    more.setdefault("step", 2.5)
    return FloatProperty(
        name=name,
        description=description,
        default=default,
        unit="LENGTH",
        subtype="DISTANCE",
        precision=3,
        update=touch,
        override=OVERRIDABLE,
        **more,
    )


def load(name: str, description: str, default: float) -> Any:
    """Return a surface load in the roof's own load unit (psf or kPa)."""
    return FloatProperty(
        name=name,
        description=f"{description}. In psf, or kPa where the roof's units are metric",
        default=default,
        min=0.0,
        soft_max=100.0,
        precision=2,
        step=50,
        update=touch,
        override=OVERRIDABLE,
    )


def number(name: str, description: str, default: float, **more: Any) -> Any:
    """Return a pure number."""
    return FloatProperty(
        name=name,
        description=description,
        default=default,
        update=touch,
        override=OVERRIDABLE,
        **more,
    )


def whole(name: str, description: str, default: int, low: int, high: int) -> Any:
    """Return a whole number."""
    return IntProperty(
        name=name,
        description=description,
        default=default,
        min=low,
        soft_max=high,
        update=touch,
        override=OVERRIDABLE,
    )


def flag(name: str, description: str, default: bool = False) -> Any:
    """Return a yes or no."""
    return BoolProperty(
        name=name,
        description=description,
        default=default,
        update=touch,
        override=OVERRIDABLE,
    )


def choice(name: str, description: str, items: tuple, default: str) -> Any:
    """Return one of a closed set; identifiers are the brief's words in capitals."""
    return EnumProperty(
        name=name,
        description=description,
        items=items,
        default=default,
        update=touch,
        override=OVERRIDABLE,
    )


def text(name: str, description: str, default: str = "", **more: Any) -> Any:
    """Return a line of text."""
    return StringProperty(
        name=name,
        description=description,
        default=default,
        update=touch,
        override=OVERRIDABLE,
        **more,
    )


def place(name: str, description: str) -> Any:
    """Return a plan point, x along the ridge and y across, from the roof's corner."""
    return FloatVectorProperty(
        name=name,
        description=f"{description}: x along the ridge, y across",
        size=2,
        subtype="XYZ_LENGTH",
        unit="LENGTH",
        precision=3,
        step=2.5,
        update=touch,
        override=OVERRIDABLE,
    )


def exact() -> Any:
    """Return the hidden store of values that a property cannot hold exactly.

    Properties are single precision. What came from a brief with more digits stays
    here, and counts as long as the property still shows it.
    """
    return StringProperty(options={"HIDDEN"}, override=OVERRIDABLE)


def group(kind: type, name: str = "", description: str = "") -> Any:
    """Return one nested property group."""
    return PointerProperty(
        type=kind, name=name, description=description, override=OVERRIDABLE
    )


def many(kind: type, name: str, description: str = "") -> Any:
    """Return a list of property groups."""
    return CollectionProperty(
        type=kind, name=name, description=description, override=_LISTED
    )


def active(name: str) -> Any:
    """Return the index of the entry shown of a list; it changes no roof."""
    return IntProperty(
        name=name, default=0, min=0, options={"HIDDEN"}, override=OVERRIDABLE
    )


def change_units(roof: bpy.types.PropertyGroup, context: bpy.types.Context) -> None:
    """Rewrite the roof's loads in its new unit; the update of its units."""
    from ..bridge import brief_io

    brief_io.change_load_unit(roof)
    touch(roof, context)


# Suggestions for text fields; the tables are behind the bridge, asked when needed.
def suggest_sizes(
    _group: bpy.types.PropertyGroup, _context: bpy.types.Context, _text: str
) -> list[str]:
    """Return common sizes."""
    from ..bridge import tables

    return list(tables.common_sizes())


def suggest_species(
    _group: bpy.types.PropertyGroup, _context: bpy.types.Context, _text: str
) -> list[str]:
    """Return the species groups of the tables."""
    from ..bridge import tables

    return list(tables.species())


def suggest_grades(
    group: bpy.types.PropertyGroup, _context: bpy.types.Context, _text: str
) -> list[str]:
    """Return the grades of the group's species."""
    from ..bridge import tables

    return list(tables.grades(group.species))
