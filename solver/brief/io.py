"""Reading and writing briefs as JSON documents, with their JSON Schema.

A brief that reads is complete and free of contradictions, or a BriefError names the
field; nothing is guessed.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path

from ..errors import BriefError
from ..units import System, system_of
from .fields import read_record, record_schema, write_record
from .model import SCHEMA_VERSION, Brief
from .outline import with_extent
from .validate import validate

_MOST_BYTES = 4_000_000


def read_brief(data: object) -> Brief:
    """Return a validated brief from its JSON data.

    Raises:
        BriefError: a field that cannot be used, by name.
    """
    if isinstance(data, Mapping) and "schema_version" in data:
        version = data["schema_version"]
        if isinstance(version, int) and version > SCHEMA_VERSION:
            raise BriefError(
                "schema_version",
                version,
                f"at most {SCHEMA_VERSION}",
                "The brief was written by a newer Loadfall; update this one.",
            )
    brief = with_extent(read_record(Brief, _with_units(_with_shape(data))))
    validate(brief)
    return brief


def _with_units(data: object) -> object:
    """Return the data with the units of its own footprint where it states none."""
    if not isinstance(data, Mapping) or "units" in data:
        return data
    stated = set(map(system_of, _texts(data.get("footprint"))))
    if stated - {None} == {System.METRIC}:
        return {**data, "units": System.METRIC.value}
    return data


def _texts(data: object) -> Iterator[str]:
    """Yield every text inside JSON data."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, Mapping | list | tuple):
        for part in data.values() if isinstance(data, Mapping) else data:
            yield from _texts(part)


def _with_shape(data: object) -> object:
    """Return the data with the shape that an outline stated without one means."""
    plan = data.get("footprint") if isinstance(data, Mapping) else None
    if not isinstance(plan, Mapping) or "shape" in plan or not plan.get("outline"):
        return data
    assert isinstance(data, Mapping)
    return {**data, "footprint": {**plan, "shape": "outline"}}


def parse_brief(text: str) -> Brief:
    """Return a validated brief from JSON text.

    Raises:
        BriefError: it is no JSON (with line and column), or a field is bad.
    """
    try:
        data = json.loads(
            text, parse_constant=_refuse_constant, object_pairs_hook=_once
        )
    except RecursionError as error:
        raise BriefError("brief", "...", "JSON nested a few levels deep") from error
    except ValueError as error:
        raise BriefError(
            "brief",
            text[:40],
            f"a JSON document ({error})",
            "Is the file cut off or not a brief?",
        ) from error
    return read_brief(data)


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    """Return the fields of an object; one that is stated twice contradicts itself."""
    out: dict[str, object] = {}
    for name, value in pairs:
        if name in out:
            raise BriefError(name, value, "stated once in an object")
        out[name] = value
    return out


def _refuse_constant(name: str) -> float:
    """Refuse NaN and the infinities, which JSON does not have."""
    raise ValueError(f"{name} is not JSON")


def load_brief(path: Path | str) -> Brief:
    """Return the validated brief of a JSON file.

    Raises:
        BriefError: the file cannot be read as a brief.
    """
    path = Path(path)
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise BriefError(
            "brief", str(path), "a readable file", str(error.strerror or "") + "."
        ) from error
    if len(raw) > _MOST_BYTES:
        raise BriefError("brief", str(path), "a file of at most 4 MB")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BriefError("brief", str(path), "UTF-8 text") from error
    return parse_brief(text)


def save_text(brief: Brief) -> str:
    """Return the JSON text of a brief; it reads back as the same brief."""
    return json.dumps(write_record(brief), indent=2, ensure_ascii=False) + "\n"


def schema() -> dict[str, object]:
    """Return the JSON Schema (draft 2020-12) of a brief."""
    head: dict[str, object] = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Loadfall brief",
        "description": "What a user states of one stick-framed roof. "
        "Quantities are text with a unit, such as 24 in, 7 ft 6 in, 10 psf.",
    }
    return head | record_schema(Brief)


def example_text(outline: bool = False) -> str:
    """Return the JSON text of an example brief that frames and solves.

    Args:
        outline: over a drawn outline instead of a rectangle.
    """
    return save_text(read_brief(OUTLINE_EXAMPLE if outline else EXAMPLE))


OUTLINE_EXAMPLE: dict[str, object] = {
    "schema_version": 1,
    "name": "L with a gable, its ridge beam on posts",
    "footprint": {
        "outline": [
            {"at": ["0 ft", "0 ft"]},
            {"at": ["40 ft", "0 ft"]},
            {"at": ["40 ft", "44 ft"], "edge": "gable"},
            {"at": ["16 ft", "44 ft"]},
            {"at": ["16 ft", "24 ft"]},
            {"at": ["0 ft", "24 ft"], "pitch": "8:12"},
        ]
    },
    "roof": {"pitch": "6:12", "overhang": "16 in"},
    "rafters": {"size": "2x8", "spacing": "24 in"},
    "ridge": {"kind": "beam", "size": "3.5x11.875", "species": "LVL", "grade": "2.0E"},
    "hips": {"size": "2x12", "plies": 2},
    "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    "walls": [
        {"name": "spine", "start": ["0 ft", "12 ft"], "end": ["28 ft", "12 ft"]},
        {"name": "wing", "start": ["28 ft", "0 ft"], "end": ["28 ft", "44 ft"]},
    ],
    "hip_braces": [
        {"under": "VL-5", "at": 1.0, "foot": {"on": "wall", "name": "wing"}},
    ],
    "loads": {"roof_dead": "10 psf", "roof_live": "20 psf", "ceiling_dead": "5 psf"},
}


EXAMPLE: dict[str, object] = {
    "schema_version": 1,
    "name": "Cottage with struts on its ceiling joists",
    "footprint": {"length": "32 ft", "width": "26 ft"},
    "roof": {"pitch": "6:12", "overhang": "16 in"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ridge": {"kind": "board", "size": "2x8"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    "walls": [{"name": "spine", "start": ["0 ft", "13 ft"], "end": ["32 ft", "13 ft"]}],
    "purlins": [
        {"name": "S", "slope": "south", "size": "2x6", "from_plate": "6 ft 6 in"},
        {"name": "N", "slope": "north", "size": "2x6", "from_plate": "6 ft 6 in"},
    ],
    "struts": [
        {"purlin": "S", "spacing": "4 ft", "foot": {"on": "ceiling_joist"}},
        {"purlin": "N", "spacing": "4 ft", "foot": {"on": "ceiling_joist"}},
    ],
    "loads": {
        "roof_dead": "10 psf",
        "roof_live": "20 psf",
        "ceiling_dead": "5 psf",
        "attic_live": "10 psf",
    },
}
