"""The test suite: lint, then pytest on the solver and on the add-on side by side.

Two processes, because the solver's tests must never see bpy and the machines that run
this have two cores; one more for each further Blender.
"""

from __future__ import annotations

import re
import subprocess
import time
import xml.etree.ElementTree as ElementTree
from pathlib import Path
from typing import NamedTuple

from .running import OUT, ROOT, environ, say, shown

FOLDER = OUT / "test"
LIMIT = 30 * 60
ADDON = "tests/addon"


class Group(NamedTuple):
    """Tests that share one process: a name, the interpreter, pytest's arguments."""

    name: str
    python: Path
    arguments: tuple[str, ...]

    @property
    def log(self) -> Path:
        """Where its output goes."""
        return FOLDER / f"{self.name}.log"

    @property
    def xml(self) -> Path:
        """Where pytest writes its results."""
        return FOLDER / f"{self.name}.xml"

    def command(self) -> list[str]:
        """Return the command that runs the group."""
        cache = f"cache_dir=.pytest_cache/{self.name}"
        pytest = [str(self.python), "-m", "pytest", "-o", cache]
        return [*pytest, f"--junitxml={self.xml}", *self.arguments]


class Counts(NamedTuple):
    """How many tests passed, failed, were skipped; and groups that never ended well."""

    passed: int = 0
    failed: int = 0
    skipped: int = 0
    broken: tuple[str, ...] = ()

    def plus(self, other: Counts) -> Counts:
        """Return the sum of two counts."""
        return Counts(*(a + b for a, b in zip(self, other)))


def split_groups(
    python: Path, with_bpy: bool, others: dict[str, Path], extra: list[str]
) -> list[Group]:
    """Return the groups to run.

    Args:
        python: interpreter of the main environment.
        with_bpy: whether bpy is in it; without, the add-on's tests are left out.
        others: interpreters of further Blenders by release line; add-on tests only.
        extra: arguments for pytest; paths among them choose what runs.
    """
    paths = [a for a in extra if (ROOT / a.split("::")[0]).exists() and a[0] != "-"]
    options = [a for a in extra if a not in paths]
    addon = [p for p in paths if Path(p.split("::")[0]).as_posix().startswith(ADDON)]
    solver = [p for p in paths if p not in addon]
    if not paths:
        solver = [f"--ignore={ADDON}", "tests"]
        addon = [ADDON] if (ROOT / ADDON).is_dir() else []
    found = [Group("solver", python, (*options, *solver))] if solver else []
    pythons = {"addon": python} if with_bpy else {}
    pythons.update({f"addon-{line}": path for line, path in others.items()})
    if addon:
        found += [Group(n, path, (*options, *addon)) for n, path in pythons.items()]
    return found


def lint(python: Path) -> bool:
    """Run ruff's checks and its formatter's; return whether both are content."""
    log = FOLDER / "lint.log"
    ruff = [str(python), "-m", "ruff"]
    content = True
    with log.open("w", encoding="utf-8") as file:
        for command in (
            "check --output-format=concise",
            "format --check --output-format=concise",
        ):
            code = subprocess.call(
                [*ruff, *command.split(), "."], cwd=ROOT, stdout=file, stderr=file
            )
            content = content and code == 0
    if not content:
        print(log.read_text("utf-8")[-4000:])
    say("Lint: clean" if content else f"Lint: see {shown(log)}")
    return content


def start(group: Group) -> subprocess.Popen:
    """Start a group's pytest into its log."""
    group.xml.unlink() if group.xml.exists() else None
    # The arrays are small and the groups share the cores.
    variables = {**environ(), "OPENBLAS_NUM_THREADS": "1", "COLUMNS": "88"}
    with group.log.open("w", encoding="utf-8") as file:
        return subprocess.Popen(
            group.command(),
            cwd=ROOT,
            env=variables,
            stdin=subprocess.DEVNULL,
            stdout=file,
            stderr=subprocess.STDOUT,
        )


def run_groups(groups: list[Group], at_once: int = 2) -> Counts:
    """Run the groups, ``at_once`` of them together; show progress and failures."""
    waiting, running, total = list(groups), {}, Counts()
    told = began = time.monotonic()
    while waiting or running:
        while waiting and len(running) < at_once:
            group = waiting.pop(0)
            running[group] = start(group)
        time.sleep(0.1)
        late = time.monotonic() - began > LIMIT
        for group, process in list(running.items()):
            if late:
                process.kill()
                process.wait()
            if process.poll() is not None:
                del running[group]
                total = total.plus(finished(group, process.returncode))
        if running and time.monotonic() - told > 10:
            told = time.monotonic()
            say("  " + ", ".join(f"{g.name} {progress(g)}" for g in running))
    return total


def progress(group: Group) -> str:
    """Return how far a running group has come."""
    found = re.findall(r"\[ *(\d+%)\]", group.log.read_text("utf-8", "replace"))
    return found[-1] if found else "started"


def finished(group: Group, code: int) -> Counts:
    """Show how a group ended; return its counts."""
    text = group.log.read_text("utf-8", "replace").rstrip()
    counts = read_counts(group, code)
    if counts.failed or counts.broken:
        at = re.search(r"^=+ (FAILURES|ERRORS) =+$", text, re.MULTILINE)
        print(text[at.start() if at else -4000 :])
    closing = re.findall(r"^=* ?(\S.*) in [\d.]+s\b.*$", text, re.MULTILINE)
    say(f"{group.name}: {closing[-1] if closing else 'no closing line'}")
    return counts


def read_counts(group: Group, code: int) -> Counts:
    """Return the counts in pytest's own result file.

    A group without a result file, or with a bad exit status that its results do not
    explain, is broken: a crash is never a pass.
    """
    try:
        suites = ElementTree.parse(group.xml).getroot().iter("testsuite")
        keys = ("tests", "failures", "errors", "skipped")
        sums = [[int(suite.get(key, 0)) for key in keys] for suite in suites]
    except (OSError, ElementTree.ParseError):
        return Counts(broken=(f"{group.name} ended with status {code}",))
    tests, failures, errors, skipped = (sum(column) for column in zip(*sums))
    bad = failures + errors
    unexplained = code not in (0, 5) and not bad
    broken = (f"{group.name} ended with status {code}",) if unexplained else ()
    return Counts(max(tests - bad - skipped, 0), bad, skipped, broken)


def closing_line(counts: Counts, seconds: float) -> str:
    """Return the one line that says how it went."""
    skipped = f", {counts.skipped} skipped" if counts.skipped else ""
    line = f"{counts.passed} passed, {counts.failed} failed{skipped} in {seconds:.1f} s"
    return "; ".join([line, *counts.broken])
