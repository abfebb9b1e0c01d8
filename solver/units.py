"""Every conversion factor and every quantity string of Loadfall.

Inside the solver all is SI (m, N, Pa, kg, rad); US customary and metric text come in
and go out here. Exact factors: NIST SP 811 (2008), appendix B.
"""

from __future__ import annotations

import math
import re
from enum import StrEnum
from fractions import Fraction

from .errors import BriefError

INCH = 0.0254
FOOT = 12 * INCH
POUND_MASS = 0.45359237
GRAVITY = 9.80665
POUND = POUND_MASS * GRAVITY  # pound-force, N
PSI = POUND / INCH**2
PSF = POUND / FOOT**2
PLF = POUND / FOOT
PCF = POUND_MASS / FOOT**3  # density, kg/m3
POUND_FOOT = POUND * FOOT
POUND_INCH = POUND * INCH
BOARD_FOOT = 144 * INCH**3
DEGREE = math.pi / 180


class Quantity(StrEnum):
    """What a quantity string measures."""

    LENGTH = "length"
    PRESSURE = "pressure"
    STRESS = "stress"
    FORCE = "force"
    LINE_LOAD = "line load"
    STIFFNESS = "stiffness"
    DENSITY = "density"
    RATIO = "ratio"


class System(StrEnum):
    """The units that text is shown in."""

    IMPERIAL = "imperial"
    METRIC = "metric"


_UNITS: dict[Quantity, dict[str, float]] = {
    Quantity.LENGTH: {
        "in": INCH, "inch": INCH, "inches": INCH, '"': INCH,
        "ft": FOOT, "foot": FOOT, "feet": FOOT, "'": FOOT,
        "m": 1.0, "mm": 1e-3, "cm": 1e-2, "yd": 3 * FOOT,
    },
    Quantity.PRESSURE: {
        "psf": PSF, "lb/ft2": PSF, "pa": 1.0, "kpa": 1e3, "kn/m2": 1e3, "n/m2": 1.0,
        "kg/m2": GRAVITY,
    },
    Quantity.STRESS: {
        "psi": PSI, "ksi": 1e3 * PSI, "pa": 1.0, "kpa": 1e3, "mpa": 1e6, "gpa": 1e9,
        "n/mm2": 1e6,
    },
    Quantity.FORCE: {
        "lb": POUND, "lbf": POUND, "lbs": POUND, "kip": 1e3 * POUND, "n": 1.0,
        "kn": 1e3,
    },
    Quantity.LINE_LOAD: {"plf": PLF, "lb/ft": PLF, "n/m": 1.0, "kn/m": 1e3},
    Quantity.STIFFNESS: {
        "n/mm": 1e3, "kn/mm": 1e6, "n/m": 1.0, "lb/in": POUND / INCH,
        "kip/in": 1e3 * POUND / INCH,
    },
    Quantity.DENSITY: {"pcf": PCF, "kg/m3": 1.0},
    Quantity.RATIO: {"": 1.0, "%": 0.01},
}  # fmt: skip

_EXAMPLES = {
    Quantity.LENGTH: "24 in, 7 ft 6 in, 7' 6 1/2\", 2.4 m or 140 mm",
    Quantity.PRESSURE: "10 psf or 1.2 kPa",
    Quantity.STRESS: "900 psi or 6.2 MPa",
    Quantity.FORCE: "300 lb or 1.3 kN",
    Quantity.LINE_LOAD: "60 plf or 0.9 kN/m",
    Quantity.STIFFNESS: "1.2 kN/mm or 6850 lb/in",
    Quantity.DENSITY: "28 pcf or 420 kg/m3",
    Quantity.RATIO: "0.5 or 50 %",
}

_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
_NAMES = {name for units in _UNITS.values() for name in units if name}
_FRACTION = r"(\d{1,9})\s*/\s*(\d{1,9})"
_TERM = re.compile(
    rf"\s*(?:{_FRACTION}|({_NUMBER})(?:(?:\s+|-){_FRACTION})?)\s*"
    rf"({'|'.join(sorted(map(re.escape, _NAMES), key=len, reverse=True))})?"
    r"(?![a-zA-Z])\s*",
    re.IGNORECASE,
)


_LENGTH_SYSTEM = re.compile(
    r"\d\s*(?:(?P<metric>m|mm|cm)|in|inch|inches|ft|foot|feet|yd|[\"'])\s*$",
    re.IGNORECASE,
)


def system_of(text: str) -> System | None:
    """Return the system a length is written in, None where it is no length."""
    match = _LENGTH_SYSTEM.search(text)
    if match is None:
        return None
    return System.METRIC if match["metric"] else System.IMPERIAL


def parse_quantity(text: object, kind: Quantity, field: str = "value") -> float:
    """Return the SI value of a quantity string.

    Args:
        text: such as ``"7 ft 6 in"``, ``"5 1/2 in"``, ``"1.2 kPa"``; bare numbers are
            refused for everything but ratios, because a number without a unit is
            where mistakes start.
        kind: what it must measure.
        field: path of the field, for the message.

    Returns:
        The value in SI units, finite.

    Raises:
        BriefError: no number, a unit that does not measure ``kind``, or a value that
            is not finite.
    """
    allowed = f"a {kind.value} such as {_EXAMPLES[kind]}"
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise BriefError(field, text, allowed)
    if not isinstance(text, str):
        if kind is not Quantity.RATIO:
            raise BriefError(field, text, allowed, "Write the unit with the number.")
        text = repr(text)
    total = _sum_of_terms(text, kind)
    if total is None or not math.isfinite(total):
        raise BriefError(field, text, allowed)
    return total


def _sum_of_terms(text: str, kind: Quantity) -> float | None:
    """Return the sum of ``number unit`` terms in SI, None where it does not read."""
    units = _UNITS[kind]
    text = text.strip().replace("²", "2").replace("³", "3")
    negative = text.startswith("-")
    text = text.lstrip("+-").strip()
    if not text or text[0] not in "0123456789.":
        return None
    total, at, terms = 0.0, 0, 0
    while at < len(text):
        match = _TERM.match(text, at)
        if match is None or match.end() == at:
            return None
        bare_top, bare_bottom, whole, top, bottom, unit = match.groups()
        top, bottom = bare_top or top or 0, bare_bottom or bottom or 1
        if int(bottom) == 0:
            return None
        number = float(whole or 0) + int(top) / int(bottom)
        factor = units.get((unit or "").lower())
        if factor is None or number < 0:
            return None
        total += number * factor
        at, terms = match.end(), terms + 1
    if kind is not Quantity.LENGTH and terms != 1:
        return None
    return -total if negative else total


def parse_pitch(text: object, field: str = "roof.pitch") -> float:
    """Return the slope (rise over run) of a pitch.

    Args:
        text: the carpenter's ``"6:12"`` (any run), or degrees such as ``"26.6 deg"``.
        field: path of the field, for the message.

    Returns:
        Rise divided by run, above 0.

    Raises:
        BriefError: it does not read as a pitch, or is not above 0 and at most 24:12.
    """
    allowed = "a pitch such as 6:12 or 26.6 deg, above 0:12 and at most 24:12"
    if not isinstance(text, str):
        raise BriefError(field, text, allowed)
    ratio = re.fullmatch(rf"\s*({_NUMBER})\s*(?::|/|in)\s*({_NUMBER})\s*", text)
    degrees = re.fullmatch(rf"\s*({_NUMBER})\s*(?:deg|degrees|°)\s*", text)
    slope = math.nan
    if ratio and float(ratio.group(2)) > 0:
        slope = float(ratio.group(1)) / float(ratio.group(2))
    elif degrees and 0 < float(degrees.group(1)) < 89:
        slope = math.tan(float(degrees.group(1)) * DEGREE)
    if not 0 < slope <= 2.0 + 1e-9:
        raise BriefError(field, text, allowed)
    return slope


def feet_inches(length: float, denominator: int = 16) -> str:
    """Return a length in m as feet, inches and a fraction, e.g. ``7' 6 1/2"``."""
    sign = "-" if length < 0 else ""
    steps = round(abs(length) / INCH * denominator)
    feet, steps = divmod(steps, 12 * denominator)
    inches, steps = divmod(steps, denominator)
    fraction = f" {Fraction(steps, denominator)}" if steps else ""
    if not feet:
        if not inches and steps:
            return f'{sign}{Fraction(steps, denominator)}"'
        return f'{sign}{inches}{fraction}"'
    return f"{sign}{feet}' {inches}{fraction}\""


def show_length(length: float, system: System = System.IMPERIAL) -> str:
    """Return a building length in m as text in the given units."""
    if system is System.METRIC:
        return f"{length:.3f} m"
    return feet_inches(length)


def show_small_length(length: float, system: System = System.IMPERIAL) -> str:
    """Return a sag or a size in m as decimal inches or millimetres."""
    if system is System.METRIC:
        return f"{length * 1e3:z.1f} mm"
    return f"{length / INCH:z.2f} in"


def show_force(force: float, system: System = System.IMPERIAL) -> str:
    """Return a force in N as text, rounded as a carpenter reads it."""
    if system is System.METRIC:
        return f"{force / 1e3:z.2f} kN"
    return f"{force / POUND:z,.0f} lb"


def show_moment(moment: float, system: System = System.IMPERIAL) -> str:
    """Return a moment in N m as text."""
    if system is System.METRIC:
        return f"{moment / 1e3:z.3f} kN m"
    return f"{moment / POUND_FOOT:z,.0f} lb-ft"


def show_stress(stress: float, system: System = System.IMPERIAL) -> str:
    """Return a stress in Pa as text."""
    if system is System.METRIC:
        return f"{stress / 1e6:z.2f} MPa"
    return f"{stress / PSI:z,.0f} psi"


def show_pressure(pressure: float, system: System = System.IMPERIAL) -> str:
    """Return a surface load in Pa as text."""
    if system is System.METRIC:
        return f"{pressure / 1e3:z.2f} kPa"
    return f"{round(pressure / PSF, 2):z.3g} psf"


def show_line_load(load: float, system: System = System.IMPERIAL) -> str:
    """Return a line load in N/m as text."""
    if system is System.METRIC:
        return f"{load / 1e3:z.2f} kN/m"
    return f"{load / PLF:z,.0f} plf"


def show_pitch(slope: float, system: System = System.IMPERIAL) -> str:
    """Return a slope (rise over run) as a rise in 12, or metric in degrees."""
    if system is System.METRIC:
        return f"{math.degrees(math.atan(slope)):z.3g}°"
    return f"{slope * 12:z.4g}:12"
