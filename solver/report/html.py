"""report.html: one page that an engineer can follow, complete in itself.

Reads a Solution and computes no statics. No script, no network, no picture file: all
drawings are in the page.
"""

from __future__ import annotations

import re
from html import escape

from ..solve import Solution
from . import (
    beside,
    calculation,
    closing,
    cross_section,
    loading,
    members,
    opening,
    outline_section,
    plan,
    supports,
)
from .markup import DEFINITIONS, Raw, join, section, tag
from .style import CSS


def report_html(solution: Solution) -> str:
    """Return the report of a solved roof as one HTML document."""
    parts = [
        members.lost_members(solution),
        opening.findings(solution),
        _drawings(solution),
        members.overloaded(solution),
        members.struts(solution),
        members.stories(solution),
        beside.beside(solution),
        loading.sags(solution),
        loading.thrust(solution),
        loading.loads(solution),
        supports.supports(solution),
        calculation.calculation(solution),
        closing.rules(solution),
        members.all_members(solution),
        supports.balance(solution),
        closing.not_checked(),
        closing.brief(solution),
    ]
    body = join([opening.opening(solution), _contents(parts), *parts])
    name = escape(solution.brief.name)
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{name}: roof report</title><style>{CSS}</style></head>\n"
        f"<body>{DEFINITIONS}<main>{body.text}</main></body></html>\n"
    )


def _drawings(solution: Solution) -> Raw:
    """Return the section and the two plans."""
    return section(
        "Drawings",
        _section(solution),
        plan.ceiling_plan(solution),
        plan.roof_plan(solution),
        key="drawings",
    )


def _contents(parts: list[Raw]) -> Raw:
    """Return links to the sections that the report has."""
    links = [
        Raw(f'<a href="#{key}">{title}</a>')
        for part in parts
        for key, title in re.findall(
            r'^<section id="([^"]+)"><h2>(.*?)</h2>', part.text
        )
    ]
    return tag("nav", join(links))


def _section(solution: Solution) -> Raw:
    """Return the section across the roof, over a drawn outline up its worst plane."""
    if solution.framing.plan is not None:
        return outline_section.outline_section(solution)
    return cross_section.cross_section(solution)
