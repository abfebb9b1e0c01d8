"""The command line: run a brief, print its schema or an example, verify.

Over-limit is a result and ends with 0; bad input ends with 2 and one clear error.
"""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from .brief import example_text, load_brief, schema
from .brief.io import save_text
from .drawings.write import write_drawings, write_lists
from .errors import BriefError, SolverError
from .extras import has_extra
from .ifc import NO_IFC, ifc_text
from .remedy import remedies
from .report import results
from .report.cautions import CAUTION
from .report.html import report_html
from .report.remedy_results import remedy_results
from .report.show import use
from .report.sizing_results import sizing_lines
from .report.variant_results import variant_csv, variant_results
from .report.variants_page import variants_html
from .sheet import NO_PDF, comparison_html, paper_for, write_sheet
from .sizing import purlin_places
from .solve import Solution, solve
from .units import System
from .variants import compare, propose
from .verification import run_checks
from .verification.wording import lines as verification_lines

OK, DISAGREES, BAD_INPUT, OVER_RATIO = 0, 1, 2, 3


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; return its exit status."""
    parsed = _parser().parse_args(arguments)
    try:
        return parsed.run(parsed)
    except SolverError as error:
        sys.stderr.write(f"loadfall: {error}\n")
        return BAD_INPUT
    except OSError as error:
        sys.stderr.write(f"loadfall: {error.filename}: {error.strerror}.\n")
        return BAD_INPUT


def _parser() -> argparse.ArgumentParser:
    """Return the parser of all commands."""
    parser = argparse.ArgumentParser(
        prog="loadfall",
        description="Where a stick-framed roof's load falls, and what can carry it.",
        epilog=CAUTION,
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    run = commands.add_parser("run", help="solve a brief; write results and report")
    run.add_argument("brief", metavar="BRIEF.json", help="the brief")
    run.add_argument("--out", metavar="DIR", default="out", help="folder to write to")
    run.add_argument(
        "--fail-over", metavar="RATIO", type=_ratio, default=None,
        help="end with 3 where any use is over this ratio, or a load path is missing",
    )  # fmt: skip
    run.set_defaults(run=_run)
    sizing = commands.add_parser(
        "sizing", help="print spans, sizes and loads that pass, for a brief"
    )
    sizing.add_argument("brief", metavar="BRIEF.json", help="the brief")
    sizing.add_argument(
        "--purlins", action="store_true",
        help="also try every purlin line at places across its slope",
    )  # fmt: skip
    sizing.set_defaults(run=_sizing)
    draw = commands.add_parser(
        "draw", help="write plans, sections, an IFC model, schedule and lists of lumber"
    )
    draw.add_argument("brief", metavar="BRIEF.json", help="the brief")
    draw.add_argument("--out", metavar="DIR", default="out", help="folder to write to")
    draw.set_defaults(run=_draw)
    instead = commands.add_parser(
        "remedies", help="build, solve and compare what could be built instead"
    )
    instead.add_argument("brief", metavar="BRIEF.json", help="the brief")
    instead.add_argument(
        "--out", metavar="DIR", default="out", help="folder to write to"
    )
    instead.set_defaults(run=_remedies)
    page = commands.add_parser(
        "sheet", help="write one page to hand over: before, after, what to do"
    )
    page.add_argument("brief", metavar="BRIEF.json", help="the brief")
    page.add_argument("--out", metavar="DIR", default="out", help="folder to write to")
    page.add_argument(
        "--paper", metavar="SIZE", default="",
        help="letter or a4; left out, what is usual with the brief's units",
    )  # fmt: skip
    page.add_argument(
        "--remedy", metavar="KEY", default="",
        help="the remedy to draw; left out, the first that is enough",
    )  # fmt: skip
    page.set_defaults(run=_sheet)
    beside = commands.add_parser(
        "compare", help="solve variants of one roof and set them side by side"
    )
    beside.add_argument(
        "briefs", metavar="BRIEF.json", nargs="+",
        help="the roof as it stands, then others of it",
    )  # fmt: skip
    beside.add_argument(
        "--propose", metavar="CHANGE", action="append", default=[],
        help="a change of the first brief as one more variant: tile, panels, storage "
        "or without:WALL; may be given several times",
    )  # fmt: skip
    beside.add_argument(
        "--out", metavar="DIR", default="out", help="folder to write to"
    )
    beside.set_defaults(run=_compare)
    commands.add_parser("schema", help="print the JSON Schema of a brief").set_defaults(
        run=_schema
    )
    example = commands.add_parser("example", help="print an example brief")
    example.add_argument(
        "--outline", action="store_true", help="an L drawn by its corners"
    )
    example.set_defaults(run=_example)
    verify = commands.add_parser(
        "verify", help="compare published numbers with ours, here; 1 where any differs"
    )
    verify.add_argument("--short", action="store_true", help="one line for each source")
    verify.set_defaults(run=_verify)
    return parser


def _ratio(text: str) -> float:
    """Return a ratio above 0."""
    value = float(text)
    if not 0 < value < float("inf"):
        raise argparse.ArgumentTypeError("a number above 0")
    return value


def _json(content: dict[str, Any]) -> str:
    """Return a record as JSON text; a number that is not finite is an error."""
    return json.dumps(content, indent=1, allow_nan=False) + "\n"


def _write(folder: Path, content: dict[str, str]) -> None:
    """Write texts by file name; the folder is made where it lacks."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in content.items():
        (folder / name).write_text(text, encoding="utf-8")


def _run(parsed: argparse.Namespace) -> int:
    """Solve a brief and write results.json and report.html."""
    solution = solve(load_brief(parsed.brief))
    out = Path(parsed.out)
    _write(
        out,
        {
            "results.json": _json(results(solution)),
            "report.html": report_html(solution),
        },
    )
    for line in summary(solution):
        sys.stdout.write(line + "\n")
    sys.stdout.write(f"Written: {out / 'results.json'} and {out / 'report.html'}\n")
    if parsed.fail_over is not None and _fails(solution, parsed.fail_over):
        return OVER_RATIO
    return OK


def _sizing(parsed: argparse.Namespace) -> int:
    """Print the sizing of a brief, and where its purlins pass if that is asked."""
    brief = load_brief(parsed.brief)
    tried = [purlin_places(brief, p.name) for p in brief.purlins if parsed.purlins]
    for line in sizing_lines(solve(brief), tuple(tried)):
        sys.stdout.write(line + "\n")
    return OK


def _draw(parsed: argparse.Namespace) -> int:
    """Write the lists and the drawings of a brief."""
    solution = solve(load_brief(parsed.brief))
    out = Path(parsed.out)
    drawn, missing = write_drawings(solution, out)
    written = [*write_lists(solution, out), *drawn]
    if has_extra("ifcopenshell"):
        _write(out, {"roof.ifc": ifc_text(solution)})
        written.append(out / "roof.ifc")
    else:
        missing.append(NO_IFC)
    sys.stdout.writelines(line + "\n" for line in missing)
    sys.stdout.write("Written: " + ", ".join(str(path) for path in written) + "\n")
    sys.stdout.write(CAUTION + "\n")
    return OK


def _remedies(parsed: argparse.Namespace) -> int:
    """Write remedies.json, comparison.html and a brief for each remedy."""
    found = remedies(load_brief(parsed.brief))
    out = Path(parsed.out)
    pages = {
        "remedies.json": _json(remedy_results(found)),
        "comparison.html": comparison_html(found),
    }
    _write(out, pages | {f"{r.key}.json": save_text(r.brief) for r in found.remedies})
    sys.stdout.write(f"{found.before.brief.name}: {found.before.overall.value}.\n")
    for one in found.remedies:
        said = "passes these checks by analysis" if one.solves else "is not enough"
        why = "" if one.solves else " " + " ".join(one.why_not)
        sys.stdout.write(
            f"{one.title} ({one.size}) {said}: "
            f"highest use {use(one.measures.utilisation)}.{why}\n"
        )
    if not found.remedies:
        sys.stdout.write("No remedy that is known here fits this roof.\n")
    sheets = ", ".join(str(path) for path in write_sheet(found, out))
    written = f"{out / 'remedies.json'}, {out / 'comparison.html'}, {sheets}"
    sys.stdout.write(f"{CAUTION}\nWritten: {written}\n")
    return OK


def _sheet(parsed: argparse.Namespace) -> int:
    """Write the sheet of a brief, as HTML and as PDF."""
    paper_for(System.IMPERIAL, parsed.paper)  # a wrong one before a long search
    found = remedies(load_brief(parsed.brief))
    out = Path(parsed.out)
    written = write_sheet(found, out, parsed.remedy, parsed.paper)
    sys.stdout.write(f"{found.before.brief.name}: {found.before.overall.value}.\n")
    if not any(path.suffix == ".pdf" for path in written):
        sys.stdout.write(NO_PDF + "\n")
    said = ", ".join(str(path) for path in written)
    sys.stdout.write(f"{CAUTION}\nWritten: {said}\n")
    return OK


def _compare(parsed: argparse.Namespace) -> int:
    """Write variants.json, variants.html, variants.csv and proposed briefs."""
    briefs = [load_brief(path) for path in parsed.briefs]
    proposed = {what: propose(briefs[0], what) for what in parsed.propose}
    briefs += proposed.values()
    if len(briefs) < 2:
        raise BriefError("compare", parsed.briefs, "two briefs, or one and --propose")
    found = compare([solve(brief) for brief in briefs])
    out = Path(parsed.out)
    pages = {
        "variants.json": _json(variant_results(found)),
        "variants.html": variants_html(found),
        "variants.csv": variant_csv(found),
    }
    pages |= {
        f"proposed-{what.replace(':', '-')}.json": save_text(brief)
        for what, brief in proposed.items()
    }
    _write(out, pages)
    for name, solution in zip(found.names, found.solutions, strict=True):
        sys.stdout.write(f"{name}: {solution.overall.value}.\n")
    sys.stdout.write(
        f"{len(found.changed)} members change the verdict; {len(found.over_five)} are "
        f"used over 5 % more.\n{CAUTION}\nWritten: {out / 'variants.html'}, "
        f"{out / 'variants.json'} and {out / 'variants.csv'}\n"
    )
    return OK


def _fails(solution: Solution, ratio: float) -> bool:
    """Return whether any use is over a ratio, or any load path is missing."""
    worst = solution.worst
    over = worst is not None and (worst.utilisation or 0.0) > ratio
    return over or bool(solution.path.faults) or bool(solution.refusal)


def summary(solution: Solution) -> list[str]:
    """Return the result in a few lines, worst first."""
    lines = [f"{solution.brief.name}: {solution.overall.value}."]
    if solution.refusal:
        lines.append(solution.refusal)
    shown = 0
    for finding in solution.findings:
        if finding.kind.value == "no load path" and shown < 5:
            lines.append(f"No load path: {finding.words}")
            shown += 1
    worst = solution.worst
    if worst is not None and worst.utilisation is not None:
        lines.append(
            f"Worst member {worst.key}: {worst.utilisation:.2f} x its limit "
            f"({worst.governing_check.replace('_', ' ')}, {worst.combination})."
        )
    lines.append(CAUTION)
    return lines


def _verify(parsed: argparse.Namespace) -> int:
    """Print every external check beside ours; 1 where any does not agree."""
    compared = run_checks()
    for line in verification_lines(compared, every=not parsed.short):
        sys.stdout.write(line + "\n")
    return OK if all(c.agrees for c in compared) else DISAGREES


def _schema(_: argparse.Namespace) -> int:
    """Print the JSON Schema of a brief."""
    sys.stdout.write(json.dumps(schema(), indent=2) + "\n")
    return OK


def _example(parsed: argparse.Namespace) -> int:
    """Print an example brief."""
    sys.stdout.write(example_text(outline=parsed.outline))
    return OK


if __name__ == "__main__":
    sys.exit(main())
