"""Field kinds of a brief: how one stated value is read, written and described.

A brief record is a frozen dataclass whose fields carry one of these kinds; reading,
writing and the JSON Schema all follow from them. Knows nothing of roofs.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from ..errors import BriefError
from ..units import FOOT, INCH, PSF, Quantity, parse_pitch, parse_quantity, show_pitch

REQUIRED = dataclasses.MISSING


@dataclass(frozen=True, kw_only=True)
class Kind:
    """What one field holds: reader, writer and schema, with a description."""

    description: str
    read: Callable[[object, str], Any]
    write: Callable[[Any], object]
    schema: Mapping[str, object]


def stated(kind: Kind, default: object = REQUIRED) -> Any:  # noqa: ANN401 - a field
    """Return a dataclass field of a kind, required unless it has a default."""
    return dataclasses.field(default=default, metadata={"kind": kind})


def _show_quantity(value: float, kind: Quantity) -> str:
    """Return a quantity string that reads back as the very same value."""
    if kind is Quantity.RATIO:
        return repr(value)
    for text in _plain_words(value, kind):
        if parse_quantity(text, kind) == value:
            return text
    unit = {
        Quantity.LENGTH: "m",
        Quantity.PRESSURE: "Pa",
        Quantity.STRESS: "Pa",
        Quantity.FORCE: "N",
        Quantity.LINE_LOAD: "N/m",
        Quantity.STIFFNESS: "N/m",
    }
    return f"{value!r} {unit[kind]}"


def _plain_words(value: float, kind: Quantity) -> Iterator[str]:
    """Yield round US customary texts that may be the value, the plainest first."""
    if kind is Quantity.LENGTH:
        inches = round(value / INCH * 64) / 64
        if abs(inches) >= 24 and inches % 12 == 0:
            yield f"{inches / 12:.0f} ft"
        yield f"{inches:.10g} in"
    if kind is Quantity.PRESSURE:
        yield f"{round(value / PSF, 4):.10g} psf"


def quantity(
    kind: Quantity,
    description: str,
    *,
    low: float = -math.inf,
    high: float = math.inf,
    above: float | None = None,
) -> Kind:
    """Return the kind of a quantity string.

    Args:
        kind: what it measures.
        description: for the schema.
        low: least value, SI.
        high: largest value, SI.
        above: exclusive lower bound, SI.
    """

    def read(value: object, field: str) -> float:
        number = parse_quantity(value, kind, field)
        slack = 1e-9 * max(1.0, abs(number))
        if number < low - slack or number > high + slack:
            raise BriefError(field, value, _bounds(kind, low, high, above))
        if above is not None and number <= above + 1e-12:
            raise BriefError(field, value, _bounds(kind, low, high, above))
        return number

    examples = {
        Quantity.LENGTH: ["24 in", "7 ft 6 in", "140 mm"],
        Quantity.PRESSURE: ["10 psf", "1.2 kPa"],
        Quantity.FORCE: ["300 lb", "1.3 kN"],
        Quantity.STIFFNESS: ["1.2 kN/mm", "6850 lb/in"],
        Quantity.RATIO: [0.5, "50 %"],
    }.get(kind, [])
    schema: dict[str, object] = {"type": "string"}
    if kind is Quantity.RATIO:
        schema = {"type": ["number", "string"]}
    limits = _bounds(kind, low, high, above)
    schema |= {"description": f"{description} ({limits})", "examples": examples}
    return Kind(
        description=description,
        read=read,
        write=lambda value: _show_quantity(value, kind),
        schema=schema,
    )


def _bounds(kind: Quantity, low: float, high: float, above: float | None) -> str:
    """Return the allowed range of a quantity in words."""
    words = [f"a {kind.value}"]
    if above is not None:
        words.append(f"above {_show_quantity(above, kind)}")
    elif math.isfinite(low):
        words.append(f"at least {_show_quantity(low, kind)}")
    if math.isfinite(high):
        words.append(f"at most {_show_quantity(high, kind)}")
    return " ".join([words[0], " and ".join(words[1:])]).strip()


def length(description: str, **bounds: float) -> Kind:
    """Return the kind of a length."""
    bounds.setdefault("high", 1000 * FOOT)
    bounds.setdefault("low", -1000 * FOOT)
    return quantity(Quantity.LENGTH, description, **bounds)


def stiffness(description: str) -> Kind:
    """Return the kind of a spring stiffness, above 0, to 1,000 kN/mm."""
    return quantity(Quantity.STIFFNESS, description, above=0.0, high=1e9)


def pressure(description: str) -> Kind:
    """Return the kind of a surface load, 0 to 1,000 psf."""
    return quantity(Quantity.PRESSURE, description, low=0.0, high=1000 * PSF)


def ratio(description: str, low: float = 0.0, high: float = 1.0) -> Kind:
    """Return the kind of a pure number."""
    return quantity(Quantity.RATIO, description, low=low, high=high)


def pitch(description: str) -> Kind:
    """Return the kind of a pitch, held as rise over run."""

    def write(value: float) -> str:
        degrees = f"{math.degrees(math.atan(value)):.6g} deg"
        for text in (show_pitch(value), degrees):
            if parse_pitch(text) == value:
                return text
        return f"{value * 12!r}:12"

    schema = {"type": "string", "description": description, "examples": ["6:12"]}
    return Kind(description=description, read=parse_pitch, write=write, schema=schema)


def text(description: str, pattern: str | None = None) -> Kind:
    """Return the kind of a non-empty line of text of at most 200 characters."""

    def read(value: object, field: str) -> str:
        if not isinstance(value, str) or not value.strip() or len(value) > 200:
            raise BriefError(field, value, "text of 1 to 200 characters")
        return value.strip()

    schema: dict[str, object] = {"type": "string", "description": description}
    if pattern:
        schema["examples"] = [pattern]
    return Kind(description=description, read=read, write=str, schema=schema)


def flag(description: str) -> Kind:
    """Return the kind of a yes or no."""

    def read(value: object, field: str) -> bool:
        if not isinstance(value, bool):
            raise BriefError(field, value, "true or false")
        return value

    schema = {"type": "boolean", "description": description}
    return Kind(description=description, read=read, write=bool, schema=schema)


def whole(description: str, low: int, high: int) -> Kind:
    """Return the kind of a whole number within bounds."""

    def read(value: object, field: str) -> int:
        good = isinstance(value, int) and not isinstance(value, bool)
        if not good or not low <= value <= high:  # type: ignore[operator]
            raise BriefError(field, value, f"a whole number from {low} to {high}")
        return value  # type: ignore[return-value]

    schema = {
        "type": "integer",
        "minimum": low,
        "maximum": high,
        "description": description,
    }
    return Kind(description=description, read=read, write=int, schema=schema)


def choice(options: type[StrEnum], description: str) -> Kind:
    """Return the kind of one word of a closed set."""
    words = [option.value for option in options]

    def read(value: object, field: str) -> StrEnum:
        if not isinstance(value, str) or value not in words:
            raise BriefError(field, value, "one of " + ", ".join(words))
        return options(value)

    schema = {"enum": words, "description": description}
    return Kind(
        description=description, read=read, write=lambda v: v.value, schema=schema
    )


def point(description: str) -> Kind:
    """Return the kind of a plan point ``[x, y]`` of two lengths."""
    each = length(description)

    def read(value: object, field: str) -> tuple[float, float]:
        if not isinstance(value, (list, tuple)) or len(value) != 2:
            raise BriefError(field, value, 'two lengths such as ["4 ft", "15 ft"]')
        x, y = (each.read(part, f"{field}[{k}]") for k, part in enumerate(value))
        return x, y

    schema = {
        "type": "array",
        "items": {"type": "string"},
        "minItems": 2,
        "maxItems": 2,
        "description": description,
    }
    return Kind(
        description=description,
        read=read,
        write=lambda v: [each.write(part) for part in v],
        schema=schema,
    )


def record(cls: type, description: str) -> Kind:
    """Return the kind of a nested record."""
    return Kind(
        description=description,
        read=lambda value, field: read_record(cls, value, field),
        write=write_record,
        schema=record_schema(cls) | {"description": description},
    )


def many(kind: Kind, description: str, most: int = 500) -> Kind:
    """Return the kind of a list, held as a tuple."""

    def read(value: object, field: str) -> tuple[Any, ...]:
        if not isinstance(value, (list, tuple)) or len(value) > most:
            raise BriefError(field, value, f"a list of at most {most}")
        return tuple(kind.read(v, f"{field}[{k}]") for k, v in enumerate(value))

    schema = {"type": "array", "items": dict(kind.schema), "description": description}
    return Kind(
        description=description,
        read=read,
        write=lambda values: [kind.write(v) for v in values],
        schema=schema,
    )


def read_record(cls: type, data: object, field: str = "") -> Any:  # noqa: ANN401
    """Return a record of a dataclass of stated fields.

    Args:
        cls: the dataclass.
        data: a mapping of field names to stated values.
        field: path of the record, for messages.

    Raises:
        BriefError: not a mapping, an unknown field, a missing one, or a bad value.
    """
    where = field or "brief"
    if not isinstance(data, Mapping):
        raise BriefError(where, data, "an object with named fields")
    known = {f.name: f for f in dataclasses.fields(cls)}
    for name in data:
        if name not in known:
            raise BriefError(
                f"{field}.{name}".lstrip("."), data[name], _field_words(name, known)
            )
    values = {}
    for name, spec in known.items():
        path = f"{field}.{name}".lstrip(".")
        if name in data and not (data[name] is None and spec.default is None):
            values[name] = spec.metadata["kind"].read(data[name], path)
        elif spec.default is REQUIRED:
            kind = spec.metadata["kind"]
            raise BriefError(path, None, kind.description, "This field is required.")
    return cls(**values)


def _field_words(name: object, known: Mapping[str, object]) -> str:
    """Return the fields that exist, the most alike first, for a message."""
    import difflib

    close = difflib.get_close_matches(str(name), known, n=1)
    hint = f" (did you mean {close[0]}?)" if close else ""
    return "no field of this name" + hint + "; fields here: " + ", ".join(known)


def write_record(value: object) -> dict[str, object]:
    """Return the stated form of a record; fields at their default are kept."""
    out: dict[str, object] = {}
    for spec in dataclasses.fields(value):
        held = getattr(value, spec.name)
        if held is None:
            continue
        out[spec.name] = spec.metadata["kind"].write(held)
    return out


def record_schema(cls: type) -> dict[str, object]:
    """Return the JSON Schema of a record."""
    properties: dict[str, object] = {}
    required = []
    for spec in dataclasses.fields(cls):
        kind = spec.metadata["kind"]
        entry = dict(kind.schema)
        if spec.default is REQUIRED:
            required.append(spec.name)
        elif spec.default is None:
            entry = {"anyOf": [entry, {"type": "null"}], "default": None}
            entry["description"] = kind.description
        else:
            entry["default"] = kind.write(spec.default)
        properties[spec.name] = entry
    schema: dict[str, object] = {
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
    }
    if required:
        schema["required"] = required
    return schema
