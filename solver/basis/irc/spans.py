"""Allowable spans of rafters and ceiling joists, by the clauses that the tables use.

The published tables are this arithmetic: simple span on plan, all loads on plan,
bending under all load, sag under live load alone with the tabulated E; shear and
bearing are not limits of the tables. They were matched cell by cell.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from ...units import FOOT
from ..materials import ReferenceValues, reference_values
from ..nds.adjustment import repetitive_member_factor, size_factors
from ..sections import Section

LONGEST_TABULATED = 26 * FOOT


class SpanLimit(StrEnum):
    """What stops a span."""

    BENDING = "bending"
    SAG = "sag under live load"


@dataclass(frozen=True, kw_only=True)
class AllowableSpan:
    """The farthest that a rafter or joist may span.

    Attributes:
        span: m, on plan.
        limit: what stops it.
        bending: m, by bending alone.
        sag: m, by sag alone.
        design_bending: Pa, Fb' that was used.
    """

    span: float
    limit: SpanLimit
    bending: float
    sag: float
    design_bending: float


def allowable_span(
    section: Section,
    values: ReferenceValues,
    spacing: float,
    dead: float,
    live: float,
    C_D: float,
    sag_limit: float,
) -> AllowableSpan:
    """Return the allowable simple span of repetitive rafters or joists.

    Source: the basis of IRC 2018 Tables R802.4.1 and R802.5.1 and IBC 2018 Table
    2308.7.2: Fb C_D C_F 1.15 in bending, live load alone in sag.

    Args:
        section: dressed section.
        values: reference values.
        spacing: m, on centre.
        dead: Pa on plan.
        live: Pa on plan: roof live, snow or attic live.
        C_D: load duration factor of the live load.
        sag_limit: span over sag, e.g. 180.

    Returns:
        The span, not capped at the 26 ft where the tables end.
    """
    size = size_factors(values.kind, values.grade, section.breadth, section.depth)
    repetitive = repetitive_member_factor(values.kind, True)
    Fb = values.Fb * C_D * size.bending * repetitive
    bending = math.sqrt(8 * Fb * section.section_modulus / ((dead + live) * spacing))
    EI = values.E * section.I_strong
    sag = (384 * EI / (5 * sag_limit * live * spacing)) ** (1 / 3)
    limit = SpanLimit.BENDING if bending <= sag else SpanLimit.SAG
    return AllowableSpan(
        span=min(bending, sag), limit=limit, bending=bending, sag=sag, design_bending=Fb
    )


def rafter_span(
    section: Section,
    species: str,
    grade: str,
    spacing: float,
    dead: float,
    live: float,
    is_snow: bool,
    ceiling_attached: bool,
) -> AllowableSpan:
    """Return the allowable rafter span on plan.

    Source: basis of IRC 2018 Tables R802.4.1(1) to (8): C_D 1.25 with roof live load,
    1.15 with snow (the ground snow load, unreduced); L/180, or L/240 with a ceiling.

    Args:
        section: dressed section.
        species: species group.
        grade: grade.
        spacing: m, on centre.
        dead: Pa on plan.
        live: Pa on plan, roof live or ground snow.
        is_snow: True for snow.
        ceiling_attached: a finished ceiling on the rafters.

    Raises:
        TableError: no such species, grade or size.
    """
    values = reference_values(species, grade, section)
    C_D = 1.15 if is_snow else 1.25
    sag_limit = 240.0 if ceiling_attached else 180.0
    return allowable_span(section, values, spacing, dead, live, C_D, sag_limit)


def ceiling_joist_span(
    section: Section,
    species: str,
    grade: str,
    spacing: float,
    dead: float,
    live: float,
) -> AllowableSpan:
    """Return the allowable ceiling joist span.

    Source: basis of IRC 2018 Tables R802.5.1(1) and (2): C_D 1.0, L/240. The tables
    are for 10 psf live with 5 psf dead (no storage) and 20 with 10 (storage).

    Args:
        section: dressed section.
        species: species group.
        grade: grade.
        spacing: m, on centre.
        dead: Pa.
        live: Pa, above 0.

    Raises:
        TableError: no such species, grade or size.
    """
    values = reference_values(species, grade, section)
    return allowable_span(section, values, spacing, dead, live, 1.0, 240.0)
