"""Common houses and loads to begin with.

Pure of Blender. Houses are common practice, no source; loads are the steps of the
prescriptive span tables (IRC 2018 R802.4.1, R802.5.1), which every place narrows down:
the local authority states its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from ...solver.brief import Brief
from ...solver.brief import model as m
from ...solver.units import FOOT, INCH, PSF, System
from .starts import FeetOn, Start, new_roof


@dataclass(frozen=True)
class House:
    """A common house.

    Attributes:
        name, description: of the menu.
        length, width, pitch: feet, feet, rise in 12.
        size: of rafters and joists.
        feet: what struts stand on.
        form: of its roof.
    """

    name: str
    description: str
    length: float
    width: float
    pitch: float
    size: str
    feet: FeetOn
    form: m.RoofForm = m.RoofForm.GABLE


HOUSES: Mapping[str, House] = {
    "COTTAGE": House(
        "Cottage, 24 x 30, 8 in 12",
        "Struts on the ceiling joists, as in many attics",
        30, 24, 8, "2x6", FeetOn.JOISTS,
    ),
    "RANCH": House(
        "Ranch, 28 x 48, 5 in 12",
        "Long and low: purlins on struts that lean to a wall along the middle",
        48, 28, 5, "2x6", FeetOn.WALL,
    ),
    "STEEP": House(
        "Steep Roof, 26 x 36, 12 in 12",
        "Rafters from plate to ridge without purlins",
        36, 26, 12, "2x8", FeetOn.NONE,
    ),
    "GARAGE": House(
        "Garage, 22 x 24, 4 in 12",
        "Short rafters, no purlins",
        24, 22, 4, "2x8", FeetOn.NONE,
    ),
    "HIP": House(
        "Hip Roof, 28 x 40, 6 in 12",
        "Slopes on all four sides; ask what stands under the hips",
        40, 28, 6, "2x8", FeetOn.NONE, m.RoofForm.HIP,
    ),
    "SHED": House(
        "Shed, 14 x 24, 3 in 12",
        "One slope up to a high wall; it pushes neither wall",
        24, 14, 3, "2x10", FeetOn.NONE, m.RoofForm.SHED,
    ),
    "BARN": House(
        "Gambrel, 24 x 32, 18 and 6 in 12",
        "Steep below, flatter above; knee walls and ties hold the breaks",
        32, 24, 18, "2x8", FeetOn.NONE, m.RoofForm.GAMBREL,
    ),
    "DUTCH_GABLE": House(
        "Dutch Gable, 26 x 40, 6 in 12",
        "Small gables over hip ends; ask what carries them",
        40, 26, 6, "2x8", FeetOn.NONE, m.RoofForm.DUTCH_GABLE,
    ),
}  # fmt: skip


def house(key: str, like: Brief) -> Brief:
    """Return a common house with the loads, units and name of another roof.

    Args:
        key: of HOUSES.
        like: gives units, name, loads and checks.
    """
    one = HOUSES[key]
    metric = like.units is System.METRIC
    start = Start(
        length=_even(one.length * FOOT, metric=metric),
        width=_even(one.width * FOOT, metric=metric),
        pitch=one.pitch / 12,
        overhang=0.4 if metric else 16 * INCH,
        spacing=0.6 if metric else 24 * INCH,
        size=one.size,
        feet=one.feet,
        units=like.units,
    )
    brief = new_roof(start)
    gambrel = None
    if one.form is m.RoofForm.GAMBREL:
        from_plate = 1.5 if metric else 5 * FOOT
        gambrel = m.Gambrel(
            upper_pitch=0.5, from_plate=from_plate, ties=True, piece_size="2x6"
        )
    roof = replace(brief.roof, form=one.form, gambrel=gambrel)
    brief = replace(brief, roof=roof)
    return replace(brief, name=like.name, loads=like.loads, checks=like.checks)


def _even(length: float, *, metric: bool) -> float:
    """Return a length rounded to a tenth of a metre where metres are used."""
    return round(length, 1) if metric else length


@dataclass(frozen=True)
class LoadSet:
    """Loads of a kind of place or use, and what they leave alone."""

    name: str
    description: str
    change: Callable[[m.Loads], m.Loads]


def _snow(psf: float) -> Callable[[m.Loads], m.Loads]:
    """Return the change to a ground snow load."""
    return lambda loads: replace(
        loads, snow=replace(loads.snow or m.Snow(), ground=psf * PSF, roof=None)
    )


def _stated(**fields: float | None) -> Callable[[m.Loads], m.Loads]:
    """Return the change to stated fields."""
    return lambda loads: replace(loads, **fields)  # type: ignore[arg-type]


_ASK = "; ask the local authority for its own"
LOADS: Mapping[str, LoadSet] = {
    "NO_SNOW": LoadSet(
        "No Snow, 20 psf Roof Live",
        "People and materials on the roof alone" + _ASK,
        _stated(roof_live=20 * PSF, snow=None),
    ),
    "SNOW_30": LoadSet(
        "Ground Snow 30 psf", "A step of the span tables" + _ASK, _snow(30)
    ),
    "SNOW_50": LoadSet(
        "Ground Snow 50 psf", "A step of the span tables" + _ASK, _snow(50)
    ),
    "SNOW_70": LoadSet(
        "Ground Snow 70 psf", "A step of the span tables" + _ASK, _snow(70)
    ),
    "LIGHT_ROOFING": LoadSet(
        "Light Roofing, 10 psf",
        "Shingles on sheathing, a step of the span tables",
        _stated(roof_dead=10 * PSF),
    ),
    "HEAVY_ROOFING": LoadSet(
        "Heavy Roofing, 20 psf",
        "Tile or slate, a step of the span tables",
        _stated(roof_dead=20 * PSF),
    ),
    "NO_STORAGE": LoadSet(
        "Attic without Storage, 10 psf",
        "Ceiling dead load 5 psf, attic live load 10 psf",
        _stated(ceiling_dead=5 * PSF, attic_live=10 * PSF),
    ),
    "STORAGE": LoadSet(
        "Attic with Storage, 20 psf",
        "Ceiling dead load 10 psf, attic live load 20 psf, a part of it for years",
        _stated(ceiling_dead=10 * PSF, attic_live=20 * PSF, attic_live_lasting=0.5),
    ),
}


def loads(key: str, of: Brief) -> Brief:
    """Return a roof with the loads of a kind of place or use.

    Args:
        key: of LOADS.
        of: the roof.
    """
    return replace(of, loads=LOADS[key].change(of.loads))
