"""The list of external checks of a test run, and the page that it becomes.

A check compares one printed number with ours. The page is written when every file of
this folder ran and nothing failed; it holds no date, so it changes when numbers do.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from loadfall.solver.verification import Compared, Record

PAGE = Path(__file__).resolve().parents[2] / "docs" / "verification.md"
HEAD = """# Verification

Written by the test run (`tests/validation`); do not edit. `loadfall verify` prints the
same list, computed where it is typed. Every line compares a number from outside this
project with ours. *Seen* says that the printed number was read (as another text
quotes it, where it says so); *memory* that it was recalled and not read again for this
purpose, so that it proves consistency and not that it was copied right; *formula* that
the source prints a formula, from which the number was worked out apart from this
program. CV numbers are this project's own names of records.

Agreement shows that the arithmetic is that of the source. It does not show that a roof
is right: Loadfall explains and pre-checks, and does not replace a licensed engineer or
the local code.
"""


@dataclass
class Verification(Record):
    """What the tests report to: a record that asserts."""

    def check(self, *args, **options) -> Compared:
        """Assert that ours agrees with a printed number, and remember it."""
        line = super().check(*args, **options)
        assert line.agrees, (
            f"{line.record} {line.what}: {line.source} has {line.expected:g} "
            f"{line.unit}, ours is {line.ours:g}"
        )
        return line

    def page(self) -> str:
        """Return the page, sources in order of their titles."""
        by_source: dict[str, list[Compared]] = {}
        for line in self.compared:
            by_source.setdefault(line.source, []).append(line)
        sources = sorted(by_source)
        parts = [HEAD, f"{len(self.compared)} checks from {len(sources)} sources.\n"]
        parts += ["## Sources\n", *_summary((s, by_source[s]) for s in sources), ""]
        for source in sources:
            parts += [f"## {source}\n", *_table(by_source[source]), ""]
        return "\n".join(parts)


def _summary(groups: Iterable[tuple[str, list[Compared]]]) -> list[str]:
    """Return one row per source."""
    rows = [
        "| Source | Checks | Largest share of its tolerance |",
        "| --- | --- | --- |",
    ]
    for source, lines in groups:
        share = max(c.share for c in lines)
        rows.append(f"| {source} | {len(lines)} | {share:.0%} |")
    return rows


def _table(lines: list[Compared]) -> list[str]:
    """Return one row per check."""
    rows = [
        "| Record | What | Printed | Ours | Difference | Provenance |",
        "| --- | --- | --- | --- | --- | --- |",
    ]
    for c in sorted(lines, key=lambda c: (c.record, c.what)):
        unit = f" {c.unit}" if c.unit else ""
        ours, difference = f"{c.ours:.5g}", f"{c.difference:+.2g}"
        if abs(c.difference) < 1e-9 * max(abs(c.expected), 1e-3):
            ours, difference = f"{c.expected:.5g}", "0"
        rows.append(
            f"| {c.record} | {c.what} | {c.expected:.5g}{unit} | {ours} | "
            f"{difference} | {c.provenance} |"
        )
    return rows
