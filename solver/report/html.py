"""report.html: one page that an engineer can follow, complete in itself.

Reads a Solution and computes no statics. No script, no network, no picture file.
"""

from __future__ import annotations

from html import escape

from ..solve import Solution
from .cautions import CAUTION, CAUTIONS, NOT_CHECKED


def report_html(solution: Solution) -> str:
    """Return the report of a solved roof as one HTML document."""
    name = escape(solution.brief.name)
    rows = "".join(
        f"<tr><th scope=row>{escape(m.key)}</th><td>{escape(m.size)}</td>"
        f"<td>{'' if m.utilisation is None else f'{m.utilisation:.2f}'}</td>"
        f"<td>{escape(m.governing_check.replace('_', ' '))}</td>"
        f"<td>{escape(m.verdict.value)}</td></tr>"
        for m in solution.members.values()
    )
    findings = "".join(f"<li>{escape(f.words)}</li>" for f in solution.findings)
    listed = "".join(f"<li>{escape(text)}</li>" for text in CAUTIONS)
    missing = "".join(f"<li>{escape(text)}</li>" for text in NOT_CHECKED)
    return (
        f'<!DOCTYPE html><html lang=en><head><meta charset="utf-8">'
        f"<title>{name}</title></head><body><h1>{name}</h1>"
        f"<p>{escape(solution.overall.value)}</p><p>{escape(solution.refusal)}</p>"
        f"<p>{escape(CAUTION)}</p><h2>Findings</h2><ul>{findings}</ul>"
        f"<h2>Members</h2><table>{rows}</table><h2>Not checked</h2><ul>{missing}</ul>"
        f"<h2>Cautions</h2><ul>{listed}</ul></body></html>"
    )
