"""The external checks as lines of text, for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from .model import Compared

_WIDTHS = (44, 11, 11, 10)


def lines(compared: Sequence[Compared], every: bool = True) -> list[str]:
    """Return the table of checks and its closing line.

    Args:
        compared: the checks, those of one source beside one another or not.
        every: one line for each check; otherwise one for each source, and only what
            does not agree in full.
    """
    by_source: dict[str, list[Compared]] = {}
    for check in compared:
        by_source.setdefault(check.source, []).append(check)
    out: list[str] = []
    for source, checks in by_source.items():
        agree = sum(c.agrees for c in checks)
        out.append(f"{source}: {agree} of {len(checks)} agree ({_come_by(checks)})")
        shown = [c for c in checks if every or not c.agrees]
        if shown:
            out.append(_row("", "printed", "ours", "difference"))
        out += [_line(c) for c in shown]
    agree = sum(c.agrees for c in compared)
    out.append(f"{agree} of {len(compared)} agree.")
    return out


def _come_by(checks: Sequence[Compared]) -> str:
    """Return how the printed numbers of a source were come by."""
    return ", ".join(dict.fromkeys(c.provenance or "not computed" for c in checks))


def _line(c: Compared) -> str:
    """Return one check as a row."""
    what = f"{c.record} {c.what}" + (f", {c.unit}" if c.unit else "")
    row = _row(what, f"{c.expected:.5g}", f"{c.ours:.5g}", f"{c.difference:+.2g}")
    return row if c.agrees else f"{row}  DOES NOT AGREE"


def _row(what: str, *numbers: str) -> str:
    """Return a row of the table; a long name pushes its numbers to the right."""
    cells = [f"  {what}".ljust(_WIDTHS[0])]
    cells += [n.rjust(w) for n, w in zip(numbers, _WIDTHS[1:], strict=True)]
    return " ".join(cells).rstrip()
