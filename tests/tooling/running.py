"""Running other programs, with progress lines and logs."""

from __future__ import annotations

import os
import queue
import subprocess
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from .environment import Environment

ROOT = Path(__file__).resolve().parents[2]
OUT = ROOT / "out"
START = time.monotonic()

# Runs in the environment: MODULE's main(folder, progress). bpy may hang or crash when
# the interpreter shuts down, so the process ends itself.
CALL_MAIN = """
import importlib, os, pathlib, sys, traceback
code = 1
try:
    main = importlib.import_module(sys.argv[1]).main
    rest = [sys.argv[3:]] if sys.argv[3:] else []
    main(pathlib.Path(sys.argv[2]), lambda text: print(">", text, flush=True), *rest)
    code = 0
except BaseException as error:
    # What the user has to mend is said in one line; all else is ours to look into.
    if any(kind.__name__ == "SolverError" for kind in type(error).__mro__):
        print("loadfall:", error)
    else:
        traceback.print_exc()
sys.stdout.flush()
sys.stderr.flush()
os._exit(code)
"""


class ProblemError(Exception):
    """Something the user has to mend; the message says how."""


def say(text: str) -> None:
    """Print one progress line with the seconds since the start."""
    print(f"[{time.monotonic() - START:6.1f} s] {text}", flush=True)


def shown(path: Path) -> str:
    """Return a path as the user may type it from the checkout."""
    return path.relative_to(ROOT).as_posix()


def require(source: str) -> Path:
    """Return the path of one of the project's files.

    Raises:
        ProblemError: this checkout does not have it.
    """
    path = ROOT / source
    if not path.is_file():
        raise ProblemError(f"This checkout has no {source}.")
    return path


def environ() -> dict[str, str]:
    """Return the environment variables for what we start."""
    own = {"PYTHONUTF8": "1", "PYTHONUNBUFFERED": "1", "PYTHONNOUSERSITE": "1"}
    return {**os.environ, **own}


def run_logged(
    command: list[str],
    name: str,
    show: Callable[[str], str | None] = lambda line: None,
    explain: Callable[[str], str] = lambda output: "Its last lines are above.",
) -> None:
    """Run a command with its output in out/log/NAME.log.

    Args:
        command: what to run, from the checkout's root.
        name: of the log.
        show: returns what to show of a line, or None.
        explain: returns what to do about a failure, given the whole output.

    Raises:
        ProblemError: it ended with another status than 0.
    """
    log = OUT / "log" / f"{name}.log"
    log.parent.mkdir(parents=True, exist_ok=True)
    process = subprocess.Popen(
        command,
        cwd=ROOT,
        env=environ(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )
    with log.open("w", encoding="utf-8") as file, process:
        for line in lines_of(process):
            if line is not None:
                print(line, file=file, flush=True)
            text = "  ... still working" if line is None else show(line)
            if text:
                say(text)
    if process.returncode:
        output = log.read_text("utf-8")
        print("\n".join(output.splitlines()[-25:]), flush=True)
        raise ProblemError(
            f"{name} failed. {explain(output)}\nAll of its output: {shown(log)}"
        )


def lines_of(process: subprocess.Popen, beat: float = 20) -> Iterator[str | None]:
    """Yield the lines of a process as they come, and None at each silent ``beat``."""
    lines: queue.Queue[str] = queue.Queue()

    def read() -> None:
        for line in process.stdout:
            lines.put(line)
        lines.put("")

    threading.Thread(target=read, daemon=True).start()
    while True:
        try:
            line = lines.get(timeout=beat)
        except queue.Empty:
            yield None
            continue
        if not line:
            return
        yield line.rstrip("\n")


def call_main(
    env: Environment, source: str, folder: Path, rest: Sequence[str] = ()
) -> None:
    """Run ``main(folder, progress)`` of one of the project's files, e.g. addon/x.py.

    Args:
        env: to run it in.
        source: of the project's file.
        folder: that it writes into, made where it is missing.
        rest: arguments of the command line, its third argument where there are any.
    """
    folder.mkdir(parents=True, exist_ok=True)
    module = "loadfall." + source[: -len(".py")].replace("/", ".")
    command = [str(env.python), "-c", CALL_MAIN, module, str(folder), *rest]
    run_logged(
        command, Path(source).stem, lambda line: line[2:] if line[:2] == "> " else None
    )
