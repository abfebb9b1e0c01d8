"""Properties of a roof object to a brief and back, losing nothing.

Walks the brief's records and the property groups side by side: a field and its
property have the same name. Knows no field but the few whose meaning depends on
another.
"""

import dataclasses
import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Any

import bpy

from ...solver.brief import Brief, read_brief, write_record
from ...solver.brief.model import Foot, Override, Purlin, Roof, Snow
from ...solver.framing.changes import goes_by_number, place_of
from ...solver.framing.model import Framing
from ...solver.units import PSF
from ..properties import DIRTY
from . import exact
from .exact import Grain

_UNIT = {"IMPERIAL": PSF, "METRIC": 1e3}
_LOADS = {
    "roof_dead",
    "roof_live",
    "ceiling_dead",
    "attic_live",
    "wind_uplift",
    "ground",
    "roof",
}
_NAMED = {"WALL", "BEAM", "POST"}
_PLACED = _NAMED | {"NEAREST_WALL"}  # their place follows from what they stand on

# Optional fields that another field brings in or leaves out: whether it counts, and
# what to set so that it does.
_DEPENDS: Mapping[tuple[type, str], tuple[Callable[[Any], bool], dict[str, str]]] = {
    (Purlin, "from_plate"): (
        lambda g: g.placed == "FROM_PLATE",
        {"placed": "FROM_PLATE"},
    ),
    (Purlin, "height"): (lambda g: g.placed == "HEIGHT", {"placed": "HEIGHT"}),
    (Snow, "ground"): (lambda g: g.stated == "GROUND", {"stated": "GROUND"}),
    (Snow, "roof"): (lambda g: g.stated == "ROOF", {"stated": "ROOF"}),
    (Roof, "gambrel"): (lambda g: g.use_gambrel or g.form == "GAMBREL", {}),
    (Foot, "name"): (lambda g: g.on in _NAMED and bool(g.name), {}),
    (Foot, "from_plate"): (lambda g: g.on not in _PLACED and g.use_from_plate, {}),
    (Foot, "at"): (lambda g: g.on != "NEAREST_WALL" and g.use_at, {}),
}


@dataclass(frozen=True)
class _Factors:
    """SI per unit of a property: lengths by the scene's scale, loads by their unit."""

    length: float
    load: float

    def of(self, name: str, group: Any) -> tuple[Grain, float]:
        """Return grain and factor of a number."""
        if group.bl_rna.properties[name].unit == "LENGTH":
            return Grain.LENGTH, self.length
        if name in _LOADS:
            return Grain.LOAD, self.load
        if name in ("pitch", "end_pitch", "upper_pitch"):
            return Grain.PITCH, 1 / 12
        return Grain.PLAIN, 1.0


def read(roof: Any, scale_length: float) -> Brief:
    """Return the validated brief of a roof's properties.

    Args:
        roof: the roof's properties.
        scale_length: m per Blender unit in the scene.

    Raises:
        BriefError: a field that cannot be used, by name.
    """
    factors = _Factors(scale_length, _UNIT[roof.loads_in])
    stated = _read_record(Brief, roof, factors)
    return read_brief(write_record(stated))


def write(roof: Any, brief: Brief, scale_length: float) -> None:
    """Set a roof's properties from a brief; marks no roof as changed."""
    with DIRTY.paused():
        roof.units = brief.units.value.upper()
        roof.loads_in = roof.units
        _write_record(brief, roof, _Factors(scale_length, _UNIT[roof.loads_in]))


def write_entry(roof: Any, entry: Any, record: Any, scale_length: float) -> None:
    """Set one entry of a roof's lists from its record, such as a new wall."""
    with DIRTY.paused():
        _write_record(record, entry, _Factors(scale_length, _UNIT[roof.loads_in]))


def keep_to_sticks(roof: Any, framing: Framing, scale_length: float) -> None:
    """Note the place of every changed member whose change goes by its number alone.

    Another layout then gives the change to the same stick, or drops it by name.

    Args:
        roof: the roof's properties.
        framing: of the roof as they state it.
        scale_length: m per Blender unit in the scene.
    """
    for change in roof.overrides:
        key = framing.change_holders.get(change.member)
        if change.use_near or key not in framing.members:
            continue
        if goes_by_number(Override(member=change.member)):
            exact.write_point(change, "near", place_of(framing, key), scale_length)
            change.use_near = True


def change_load_unit(roof: Any) -> None:
    """Rewrite all loads of a roof in the unit that its units ask for."""
    old, new = _UNIT[roof.loads_in], _UNIT[roof.units]
    with DIRTY.paused():
        for group in (roof.loads, roof.loads.snow):
            for name in _LOADS & set(group.bl_rna.properties.keys()):
                pascals = exact.read(group, name, Grain.LOAD, old)
                exact.write(group, name, pascals, Grain.LOAD, new)
        roof.loads_in = roof.units


@lru_cache(maxsize=64)
def _hints(cls: type) -> dict[str, Any]:
    """Return the types of a record's fields, by name; Python takes long over them."""
    return typing.get_type_hints(cls)


def _read_record(cls: type, group: Any, factors: _Factors) -> Any:
    """Return a record from the property group of the same fields."""
    values = {}
    hints = _hints(cls)
    for spec in dataclasses.fields(cls):
        hint, optional = _plain(hints[spec.name])
        if spec.name == "schema_version":
            continue
        if optional and not _counts(cls, spec.name, group):
            values[spec.name] = None
        else:
            values[spec.name] = _read(hint, group, spec.name, factors)
    return cls(**values)


def _read(hint: Any, group: Any, name: str, factors: _Factors) -> Any:
    """Return one field's value from its property."""
    held = getattr(group, name)
    if dataclasses.is_dataclass(hint):
        return _read_record(hint, held, factors)  # type: ignore[arg-type]
    if typing.get_origin(hint) is tuple:
        kind, last = typing.get_args(hint)
        if last is not Ellipsis:
            return exact.read_point(group, name, factors.length)
        return _read_list(kind, held, factors)
    if issubclass(hint, StrEnum):
        return hint(held.lower())
    if hint is float:
        return exact.read(group, name, *factors.of(name, group))
    return hint(held)


def _read_list(kind: type, held: Any, factors: _Factors) -> tuple:
    """Return a list of records or of lengths from its property."""
    if kind is float:
        return tuple(
            exact.read(item, "value", Grain.LENGTH, factors.length) for item in held
        )
    return tuple(_read_record(kind, item, factors) for item in held)


def _write_record(record: Any, group: Any, factors: _Factors) -> None:
    """Set a property group from the record of the same fields."""
    hints = _hints(type(record))
    for spec in dataclasses.fields(record):
        value = getattr(record, spec.name)
        if spec.name in ("schema_version", "units"):
            continue
        _, optional = _plain(hints[spec.name])
        if optional:
            _write_presence(type(record), spec.name, group, value is not None)
        if value is not None:
            _write(value, group, spec.name, factors)


def _write(value: Any, group: Any, name: str, factors: _Factors) -> None:
    """Set one property from its field's value."""
    held = getattr(group, name)
    if dataclasses.is_dataclass(value):
        _write_record(value, held, factors)
    elif isinstance(value, StrEnum):
        setattr(group, name, value.value.upper())
    elif isinstance(value, tuple):
        _write_tuple(value, group, name, factors)
    elif isinstance(value, float):
        exact.write(group, name, value, *factors.of(name, group))
    else:
        setattr(group, name, value)


def _write_tuple(value: tuple, group: Any, name: str, factors: _Factors) -> None:
    """Set a list of records or numbers, or a plan point."""
    held = getattr(group, name)
    if group.bl_rna.properties[name].type != "COLLECTION":
        exact.write_point(group, name, value, factors.length)
        return
    held.clear()
    for part in value:
        item = held.add()
        if isinstance(part, float):
            exact.write(item, "value", part, Grain.LENGTH, factors.length)
        else:
            _write_record(part, item, factors)


def _plain(hint: Any) -> tuple[Any, bool]:
    """Return a type without its ``| None``, and whether it had one."""
    if isinstance(hint, types.UnionType):
        (plain,) = (a for a in typing.get_args(hint) if a is not type(None))
        return plain, True
    return hint, False


def _counts(cls: type, name: str, group: Any) -> bool:
    """Return whether an optional field is stated."""
    if (cls, name) in _DEPENDS:
        return _DEPENDS[cls, name][0](group)
    if f"use_{name}" in group.bl_rna.properties:
        return getattr(group, f"use_{name}")
    return bool(getattr(group, name))  # an empty text states nothing


def _write_presence(cls: type, name: str, group: Any, present: bool) -> None:
    """Set what says whether an optional field is stated."""
    if present:
        for key, word in _DEPENDS.get((cls, name), (None, {}))[1].items():
            setattr(group, key, word)
    if f"use_{name}" in group.bl_rna.properties:
        setattr(group, f"use_{name}", present)
    elif not present and group.bl_rna.properties[name].type == "STRING":
        setattr(group, name, "")


def scale_of(scene: bpy.types.Scene) -> float:
    """Return the metres per Blender unit of a scene."""
    return scene.unit_settings.scale_length


def typed_length(shown: float, scale_length: float) -> float:
    """Return the length, m, that a person typed to get a single-precision number."""
    return exact.nearest_written(shown, Grain.LENGTH, scale_length)


def checked(brief: Brief) -> Brief:
    """Return a brief made by code, read again so that every field is checked.

    Raises:
        BriefError: a field that cannot be used, by name.
    """
    return read_brief(write_record(brief))
