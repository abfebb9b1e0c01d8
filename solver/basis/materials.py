"""Reference design values of lumber by species, grade and section, from the tables.

Must not know loads, factors or members; the factors are in ``nds/adjustment.py``.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from pathlib import Path

from ..errors import TableError
from ..units import INCH, PCF, PSI
from .sections import Section, is_timber, nominal_width

_DATA = Path(__file__).parent / "data"
_STRESSES = ("Fb", "Ft", "Fv", "Fc_perp", "Fc", "E", "Emin")
_MOISTURE_AT_DENSITY = 15.0  # percent


class Kind(StrEnum):
    """Which family of factors a material takes."""

    SAWN = "sawn"
    SOUTHERN_PINE = "southern_pine"
    TIMBER = "timber"
    SCL = "scl"


@dataclass(frozen=True, kw_only=True)
class ReferenceValues:
    """Reference design values, before every adjustment factor.

    Attributes:
        species, grade: names of the row.
        kind: family of factors.
        Fb, Ft, Fv, Fc_perp, Fc: Pa.
        E, Emin: Pa.
        G: specific gravity, oven-dry.
        density: kg/m3 at 15 % moisture.
        depth_exponent: exponent of the volume factor of engineered lumber, else 0.
        source: table of the row.
        provenance: how the row came to be known.
        note: what the row does not say by itself, or empty.
    """

    species: str
    grade: str
    kind: Kind
    Fb: float
    Ft: float
    Fv: float
    Fc_perp: float
    Fc: float
    E: float
    Emin: float
    G: float
    density: float
    depth_exponent: float
    source: str
    provenance: str
    note: str = ""


_SPECIES_ALIASES = {
    "spf": "Spruce-Pine-Fir",
    "sprucepinefir": "Spruce-Pine-Fir",
    "dfl": "Douglas Fir-Larch",
    "df": "Douglas Fir-Larch",
    "douglasfirlarch": "Douglas Fir-Larch",
    "hf": "Hem-Fir",
    "hemfir": "Hem-Fir",
    "sp": "Southern Pine",
    "syp": "Southern Pine",
    "southernpine": "Southern Pine",
    "lvl": "LVL",
}
_GRADE_ALIASES = {
    "ss": "Select Structural",
    "selstr": "Select Structural",
    "selectstructural": "Select Structural",
    "no1btr": "No.1 & Btr",
    "no1andbtr": "No.1 & Btr",
    "no1": "No.1",
    "1": "No.1",
    "no2": "No.2",
    "2": "No.2",
    "no3": "No.3",
    "3": "No.3",
    "stud": "Stud",
    "construction": "Construction",
    "standard": "Standard",
    "utility": "Utility",
}
_ENGINEERED_ALIASES = {
    "20e": "2.0E-2600Fb",
    "20e2600fb": "2.0E-2600Fb",
    "19e": "1.9E-2600Fb",
    "19e2600fb": "1.9E-2600Fb",
    "20e2900fb": "2.0E-2900Fb",
}
_NARROW_GRADES = ("Construction", "Standard", "Utility")


def species_names() -> tuple[str, ...]:
    """Return the species groups and engineered families that the tables hold."""
    rows = [row["species"] for row in _lumber()] + [r["species"] for r in _engineered()]
    return tuple(dict.fromkeys(rows))


def grades(species: str) -> tuple[str, ...]:
    """Return the grades of a species group, best first as the tables list them.

    Raises:
        TableError: the tables hold no such species.
    """
    name = species_name(species)
    rows = [*_lumber(), *_engineered()]
    return tuple(dict.fromkeys(r["grade"] for r in rows if r["species"] == name))


def species_name(species: str) -> str:
    """Return the table's own name of a species group or of one of its short names.

    Raises:
        TableError: the tables hold no such species.
    """
    name = _SPECIES_ALIASES.get(_letters(species))
    if name is None:
        raise TableError("species", species, ", ".join(species_names()))
    return name


def is_sawn(species: str) -> bool:
    """Return whether a species group or family is sawn lumber, not engineered.

    Raises:
        TableError: the tables hold no such species.
    """
    name = species_name(species)
    return any(row["species"] == name for row in _lumber())


@lru_cache(maxsize=512)
def reference_values(species: str, grade: str, section: Section) -> ReferenceValues:
    """Return the reference design values of one piece of lumber.

    Source: NDS 2018 Supplement Tables 4A, 4B and 4D as the row says; engineered
    lumber from the class values that its row names.

    Args:
        species: group name or short name such as ``SPF``, ``DF-L``, ``HF``, ``SP``.
        grade: such as ``No.2``, ``SS``, ``Stud``; ``No.1/No.2`` is read as ``No.2``.
        section: decides between dimension lumber and timbers, and between the width
            classes of Southern Pine.

    Returns:
        Values in Pa and kg/m3, before size factors.

    Raises:
        TableError: no row for the species, for the grade, or for that size.
    """
    name = species_name(species)
    if name == "LVL":
        return _engineered_values(grade)
    wanted = _grade_name(name, grade)
    classes = _size_classes(name, section)
    note = ""
    deep_stud = wanted == "Stud" and nominal_width(section.depth) >= 8
    if deep_stud and not is_timber(section.breadth, section.depth):
        wanted = "No.3"
        note = "Stud grade 8 in and wider takes the values of No.3 (NDS Supplement 4A)"
    row = _find_row(name, wanted, classes, section)
    if section.breadth < 1.5 * INCH - 1e-6:
        note = "1 in boards are outside Table 4A; values of 2 in lumber assumed"
    return _values(row, _kind(name, section), note)


def density(specific_gravity: float, moisture_percent: float) -> float:
    """Return the density of wood.

    Source: NDS 2018 Supplement 3.1.3.

    Args:
        specific_gravity: on oven-dry mass and volume.
        moisture_percent: moisture content, percent.

    Returns:
        Density at that moisture content, kg/m3.
    """
    G, m = specific_gravity, moisture_percent
    return 62.4 * PCF * G / (1 + 0.009 * G * m) * (1 + m / 100)


def _kind(species: str, section: Section) -> Kind:
    """Return the family of factors of a sawn section."""
    if is_timber(section.breadth, section.depth):
        return Kind.TIMBER
    return Kind.SOUTHERN_PINE if species == "Southern Pine" else Kind.SAWN


def _size_classes(species: str, section: Section) -> tuple[str, ...]:
    """Return the size classes of the tables that a section may be found in."""
    if is_timber(section.breadth, section.depth):
        if species == "Southern Pine":
            return ("timbers",)
        beam = section.depth - section.breadth > 2 * INCH + 1e-6
        return ("beams and stringers",) if beam else ("posts and timbers",)
    width = nominal_width(section.depth)
    narrow = "dimension 2-4" if width <= 4 else "dimension 5-6"
    own = narrow if width <= 6 else f"dimension {min(width, 12)}"
    return ("dimension", own)


def _find_row(
    species: str, grade: str, classes: tuple[str, ...], section: Section
) -> dict[str, str]:
    """Return the row of a species and grade in one of the size classes."""
    of_class = [
        r for r in _lumber() if r["species"] == species and r["size_class"] in classes
    ]
    for row in of_class:
        if row["grade"] == grade:
            return row
    known = dict.fromkeys(r["grade"] for r in of_class)
    remedy = ""
    if grade in _NARROW_GRADES:
        remedy = f"{grade} is graded up to 4 in wide."
    raise TableError(
        "grade",
        grade,
        f"{', '.join(known) or 'nothing'} for {species} {section.name}",
        remedy,
    )


def _grade_name(species: str, grade: str) -> str:
    """Return the table's own name of a grade."""
    if "/" in grade and _letters(grade) == "no1no2":
        grade = "No.2"
    name = _GRADE_ALIASES.get(_letters(grade))
    if name is None:
        raise TableError("grade", grade, f"{', '.join(grades(species))} for {species}")
    return name


def _engineered_values(grade: str) -> ReferenceValues:
    """Return the class values of engineered lumber."""
    name = _ENGINEERED_ALIASES.get(_letters(grade))
    rows = {row["grade"]: row for row in _engineered()}
    if name is None:
        raise TableError("grade", grade, f"{', '.join(rows)} for LVL")
    return _values(rows[name], Kind.SCL, "use the product's own evaluation report")


def _values(row: dict[str, str], kind: Kind, note: str) -> ReferenceValues:
    """Return a row of a table in SI units."""
    G = float(row["G"])
    given = row.get("density_pcf")
    return ReferenceValues(
        species=row["species"],
        grade=row["grade"],
        kind=kind,
        **{name: float(row[f"{name}_psi"]) * PSI for name in _STRESSES},
        G=G,
        density=float(given) * PCF if given else density(G, _MOISTURE_AT_DENSITY),
        depth_exponent=float(row.get("depth_exponent") or 0.0),
        source=row["source"],
        provenance=row["provenance"],
        note=note,
    )


def _letters(text: str) -> str:
    """Return the letters and digits of a name alone, in lower case."""
    return re.sub(r"[^a-z0-9]", "", text.lower())


@lru_cache(maxsize=1)
def _lumber() -> tuple[dict[str, str], ...]:
    """Return the rows of the sawn lumber table."""
    return _read("lumber.csv")


@lru_cache(maxsize=1)
def _engineered() -> tuple[dict[str, str], ...]:
    """Return the rows of the engineered lumber table."""
    return _read("engineered.csv")


def _read(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a table."""
    with (_DATA / name).open(newline="", encoding="utf-8") as file:
        return tuple(csv.DictReader(file))
