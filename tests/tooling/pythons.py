"""Which Python, and which of Blender's wheels fits it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from .running import ProblemError

if TYPE_CHECKING:
    from collections.abc import Iterator


class Line(NamedTuple):
    """One release line of Blender: the Python its wheel is for, the NumPy it takes."""

    python: tuple[int, int]
    numpy: str


LINES = {
    "4.2": Line((3, 11), "numpy>=2,<3"),  # the 4.2 wheel takes any: test a new one
    "4.5": Line((3, 11), "numpy>=1.26,<2"),
    "5.0": Line((3, 11), "numpy>=1.26,<2"),
    "5.2": Line((3, 13), "numpy>=2.2,<3"),
}
DEFAULT_LINE = {(3, 11): "4.5", (3, 13): "5.2"}
SOLVER_PYTHONS = [(3, 11), (3, 13), (3, 12), (3, 14)]


class Python(NamedTuple):
    """An interpreter that can make a virtual environment."""

    path: str
    version: tuple[int, ...]

    @property
    def identity(self) -> str:
        """The program behind its names: python, python3 and python3.11 may be one."""
        return "{} {}.{}".format(os.path.realpath(self.path), *self.version)


def probe(command: list[str]) -> Python | None:
    """Return the Python that ``command`` starts, or None when it cannot be used."""
    code = (
        "import sys, venv, ensurepip, struct\n"
        "base = getattr(sys, '_base_executable', None) or sys.executable\n"
        "assert struct.calcsize('P') == 8\n"
        "print(base); print(*sys.version_info[:2])"
    )
    try:
        done = subprocess.run(
            [*command, "-c", code], capture_output=True, text=True, timeout=60
        )
    except (OSError, subprocess.TimeoutExpired):
        return None
    lines = done.stdout.splitlines()
    if done.returncode or len(lines) != 2:
        return None
    return Python(lines[0], tuple(int(part) for part in lines[1].split()))


def commands_for(version: tuple[int, ...]) -> Iterator[list[str]]:
    """Yield commands that may start a Python of this (major, minor) version."""
    name = "{}.{}".format(*version)
    found = shutil.which("python" + name)
    if found:
        yield [found]
    if os.name == "nt" and shutil.which("py"):
        yield ["py", "-" + name]
    home = Path.home()
    places = [
        *sorted((home / ".pyenv/versions").glob(name + ".*/bin/python"), reverse=True),
        Path("/opt/homebrew/bin/python" + name),
        Path("/Library/Frameworks/Python.framework/Versions") / name / "bin/python3",
    ]
    for place in places:
        if place.is_file():
            yield [str(place)]


def find_python(
    versions: list[tuple[int, int]], named: str | None = None
) -> Python | None:
    """Return the first usable interpreter of one of ``versions``, or None.

    The one that runs this file is asked first, unless another one is named.
    """
    if named:
        python = probe([named])
        if python is None:
            raise ProblemError(
                f"--python {named} does not start a 64-bit Python with venv and pip."
            )
        return python if python.version in versions else None
    if sys.version_info[:2] in versions:
        python = probe([sys.executable])
        if python:
            return python
    for version in versions:
        for command in commands_for(version):
            python = probe(command)
            if python and python.version == version:
                return python
    return None


def no_python_text(
    versions: list[tuple[int, int]], running: tuple[int, ...], os_name: str
) -> str:
    """Say what to install when no interpreter fits."""
    wanted = " or ".join("{}.{}".format(*version) for version in versions)
    this = "{}.{}".format(*running)
    if tuple(running) in versions:
        return (
            f"This Python {this} cannot make a virtual environment.\n"
            f"Debian, Ubuntu: apt-get install python{this}-venv\nThen run this again."
        )
    text = (
        f"This job needs Blender's Python module, which is made for Python {wanted}; "
        f"this is Python {this} and no fitting one was found.\n"
    )
    how = (
        "winget install Python.Python.3.11"
        if os_name == "nt"
        else "your package manager, python.org or pyenv (pyenv install 3.11)"
    )
    return (
        f"{text}Install Python {wanted} ({how}) and start build.py with it, or name it "
        "with --python PATH.\nThe solver alone can be tested on any Python from 3.11: "
        "build.py test --solver-only"
    )
