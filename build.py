#!/usr/bin/env python3
"""Loadfall's one command: demo, explain, test, bench, package, samples, clean.

It makes its own virtual environment with Blender as a Python module (bpy) in it, does
the job there and says where to look. Standard library only, and readable by any
Python 3.8 or later, so that an old one gets an answer instead of a traceback.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent
sys.path.insert(0, str(ROOT / "tests"))

from tooling import extension, suite  # noqa: E402 (the line above finds it)
from tooling.environment import Environment, make_environment  # noqa: E402
from tooling.pythons import DEFAULT_LINE, LINES, find_python  # noqa: E402
from tooling.running import OUT, ProblemError, call_main, environ, require, say, shown  # noqa: E402


def demo(args: argparse.Namespace) -> str:
    """Frame, solve and picture the example roof."""
    return picture(args, "addon/cli_demo.py", OUT / "demo")


def samples(args: argparse.Namespace) -> str:
    """Write the small .blend files that open without the extension."""
    return picture(args, "addon/cli_samples.py", ROOT / "blend_samples")


def explain(args: argparse.Namespace) -> str:
    """Write lessons of a roof: stills, films, scenes, a web page."""
    rest = []
    for name in ("brief", "beside"):
        value = getattr(args, name)
        rest += [] if value is None else [f"--{name}", str(Path(value).resolve())]
    for name in ("lesson", "quality", "style", "size"):
        value = getattr(args, name)
        rest += [] if value is None else [f"--{name}", value]
    rest += [f"--{name}" for name in EXPLAIN_FLAGS if getattr(args, name)]
    return picture(args, "addon/cli_explain.py", OUT / "explain", rest)


EXPLAIN_FLAGS = {
    "stills": "a PNG for each step (the default)",
    "film": "an MP4 for each lesson",
    "page": "one HTML file with the roof in 3D",
    "scene": "a .blend file for each lesson",
    "clear": "stills on a transparent background",
}


def picture(
    args: argparse.Namespace, source: str, folder: Path, rest: Sequence[str] = ()
) -> str:
    """Run the main of one of the add-on's drivers; return where to look."""
    require(source)
    call_main(make_environment(args.bpy, args.python), source, folder, rest)
    return f"Done. Look in {shown(folder)}: {listing(folder)}"


def package(args: argparse.Namespace) -> str:
    """Build and validate the installable extension."""
    require("addon/__init__.py")
    path = extension.build(make_environment(args.bpy, args.python))
    return f"Done. In Blender: Preferences, Get Extensions, Install from Disk: {path}"


def bench(args: argparse.Namespace) -> str:
    """Time the solver beside general-purpose libraries on the same model."""
    script = require("tests/bench/run.py")
    solver_only = not (args.bpy or find_python(list(DEFAULT_LINE), args.python))
    env = make_environment(args.bpy, args.python, solver_only)
    more = [text for name in ("json", "sizes") if (value := getattr(args, name))
            for text in (f"--{name}", value)]  # fmt: skip
    commands = [[str(env.python), str(script), *more, *args.rest]]
    if env.line:  # how a roof follows the hand in Blender
        commands.append([str(env.python), str(require("tests/bench/blender.py"))])
    for command in commands:
        code = subprocess.call(command, env=environ())
        if code:
            raise ProblemError(f"The bench ended with {code}.")
    return "Done. The figures are above."


def test(args: argparse.Namespace) -> str:
    """Lint and run every test; --window and --all-blenders add the slower ones."""
    blender = find_blender(args.blender) if args.window or args.blender else None
    env = make_environment(args.bpy, args.python, args.solver_only)
    others = further_blenders(env.line) if args.all_blenders else {}
    began = time.monotonic()
    shutil.rmtree(suite.FOLDER, ignore_errors=True)
    suite.FOLDER.mkdir(parents=True)
    clean = suite.lint(env.python)
    groups = suite.split_groups(env.python, bool(env.line), others, args.rest)
    counts = suite.run_groups(groups)
    if blender:
        counts = counts.plus(window_test(env, blender))
    if not env.line:
        say("Blender's part was not tested: this environment has no bpy.")
    bad = counts.failed or counts.broken or not clean or not counts.passed
    print(suite.closing_line(counts, time.monotonic() - began))
    print(f"Look in {shown(suite.FOLDER)}: {listing(suite.FOLDER, '*.log')}")
    return sys.exit(1 if bad else 0)


def further_blenders(main_line: str | None) -> dict[str, Path]:
    """Return interpreters with the other bpy lines that this machine can run."""
    found = {}
    for line, (version, _) in LINES.items():
        if line == main_line:
            continue
        if find_python([version]) is None:
            say(
                f"Blender {line} is left out: no Python {version[0]}.{version[1]} here."
            )
            continue
        found[line] = make_environment(line, lean=True).python
    return found


def window_test(env: Environment, blender: str) -> suite.Counts:
    """Drive the extension in a window of this Blender; counts as one test."""
    archive = extension.build(env)
    folder = OUT / "window"
    say(f"Window test in {blender}")
    script = str(require("tests/window/run_window.py"))
    options = ["--blender", blender, "--zip", str(archive), "--out", str(folder)]
    code = subprocess.call([str(env.python), script, *options], env=environ())
    say(f"Window test: {'passed' if code == 0 else 'FAILED'}; look in {shown(folder)}")
    return suite.Counts(passed=int(code == 0), failed=int(code != 0))


def find_blender(named: str | None = None) -> str:
    """Return the path of a Blender program: the one named, or one found here."""
    programs = Path(os.environ.get("PROGRAMFILES", "C:/Program Files"))
    places = [
        os.environ.get("BLENDER", ""),
        "blender",
        "/Applications/Blender.app/Contents/MacOS/Blender",
        *sorted(
            programs.glob("Blender Foundation/Blender */blender.exe"), reverse=True
        ),
        *sorted(Path.home().glob("blender-*/blender"), reverse=True),
    ]
    for place in [named] if named else places:
        found = shutil.which(str(place))
        if found:
            return found
    raise ProblemError(
        f"--blender {named} is no program."
        if named
        else "No Blender was found on this machine; name one with --blender PATH."
    )


def clean(_args: argparse.Namespace) -> str:
    """Remove everything that build.py made."""
    folders = [*ROOT.glob(".venv*"), *ROOT.glob("*.egg-info")]
    names = "build dist out .pytest_cache .ruff_cache .hypothesis"
    folders += [ROOT / name for name in names.split()]
    for part in ("solver", "addon", "tests"):
        folders += (ROOT / part).rglob("__pycache__")
    gone = [folder for folder in folders if folder.is_dir()]
    for folder in gone:
        shutil.rmtree(folder)
    return f"Done. Removed {len(gone)} folders."


def listing(folder: Path, pattern: str = "*") -> str:
    """Return the names of the files in a folder, in words."""
    return ", ".join(sorted(p.name for p in folder.glob(pattern) if p.is_file()))


def parser() -> argparse.ArgumentParser:
    """Return the argument parser: one subcommand per job."""
    top = argparse.ArgumentParser(prog="build.py", description=__doc__.split("\n")[0])
    jobs = top.add_subparsers(dest="job", metavar="COMMAND", required=True)
    for job in (demo, explain, test, bench, package, samples, clean):
        sub = jobs.add_parser(job.__name__, help=job.__doc__, description=job.__doc__)
        sub.set_defaults(run=job)
        if job is clean:
            continue
        sub.add_argument("--python", help="interpreter to make the environment with")
        sub.add_argument("--bpy", choices=LINES, help="Blender release line to use")
        if job is explain:
            sub.add_argument("--brief", help="brief of the roof; else invented houses")
            sub.add_argument("--beside", help="brief of a variant to show beside it")
            sub.add_argument("--lesson", help="key of a lesson; left out: all that fit")
            sub.add_argument("--quality", choices=("fast", "fine"))
            sub.add_argument("--style", choices=("shaded", "lines"))
            sub.add_argument("--size", help="of the pictures, e.g. 1280x720")
            for name, words in EXPLAIN_FLAGS.items():
                sub.add_argument(f"--{name}", action="store_true", help=words)
        if job is bench:
            sub.epilog = "Arguments after -- go to tests/bench/run.py."
            sub.add_argument("--json", metavar="FILE", help="write all figures to it")
            sub.add_argument("--sizes", help="S,M,L,XL: about 150 to 10,000 members")
        if job is test:
            sub.epilog = "Arguments after -- go to pytest."
            flag = {"action": "store_true"}
            sub.add_argument("--solver-only", **flag, help="leave Blender out")
            sub.add_argument("--all-blenders", **flag, help="add-on tests on every bpy")
            sub.add_argument("--window", **flag, help="also test in a real window")
            sub.add_argument("--blender", help="Blender program for --window")
    return top


def main(argv: list[str]) -> int:
    """Run one command; return the exit status."""
    cut = argv.index("--") if "--" in argv else len(argv)
    args = parser().parse_args(argv[:cut])
    args.rest = argv[cut + 1 :]
    try:
        say(args.run(args))
    except ProblemError as problem:
        say(f"Cannot go on.\n{problem}")
        return 2
    except KeyboardInterrupt:
        say("Stopped.")
        return 130
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
