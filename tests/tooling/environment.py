"""The virtual environment that everything runs in, made once and then left alone."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import sys
from pathlib import Path
from typing import NamedTuple

from .problems import bpy_text, pip_progress, pip_text
from .pythons import (
    DEFAULT_LINE,
    LINES,
    SOLVER_PYTHONS,
    Python,
    find_python,
    no_python_text,
    probe,
)
from .running import ROOT, ProblemError, run_logged, say

TOOLS = (
    "setuptools>=77", "pytest>=8", "hypothesis", "jsonschema", "ruff==0.17.*",
    "trimesh>=4",
)  # fmt: skip
PEERS = (
    "PyNiteFEA>=2.0.2",
    "openseespy; sys_platform != 'darwin' and platform_machine in 'x86_64 AMD64'",
    "pysfcgal; sys_platform == 'linux' and platform_machine == 'x86_64'",
)
# What some files on the command line need, and independent readers of those files.
FILES = ("reportlab>=4", "ezdxf>=1.3", "ifcopenshell>=0.8", "pypdf", "pdfplumber")
# Only a data file of it is read, so what it depends on is left out.
DATA = ("momepy",)


class Environment(NamedTuple):
    """A virtual environment: its folder, the bpy line in it (None: no bpy)."""

    folder: Path
    line: str | None

    @property
    def python(self) -> Path:
        """Path of its interpreter."""
        names = ("Scripts", "python.exe") if os.name == "nt" else ("bin", "python")
        return self.folder.joinpath(*names)


def requirements(line: str | None, lean: bool = False) -> list[str]:
    """Return pip's requirement list for a bpy line (None: the solver alone).

    ``lean`` leaves out what only the solver's tests need.
    """
    if line is None:
        return ["numpy>=1.26,<3", *TOOLS, *FILES, *PEERS]
    needs = [f"bpy=={line}.*", LINES[line].numpy, *TOOLS]
    return needs if lean else [*needs, *FILES, *PEERS]


def stamp_of(needs: list[str], python: Python, project: str) -> str:
    """Return the fingerprint of everything that is asked of an environment.

    Args:
        needs: pip's requirement list.
        python: the interpreter it is made with.
        project: text of pyproject.toml, of which the part before the tools counts.
    """
    install_part = project.split("[tool.pytest")[0]
    parts = [*needs, python.identity, str(ROOT), install_part]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def choose(
    line: str | None, python_name: str | None, solver_only: bool
) -> tuple[Python, str | None]:
    """Return the interpreter to use and the bpy line that fits it (None: no bpy).

    Raises:
        ProblemError: no interpreter here fits.
    """
    if solver_only:
        versions = SOLVER_PYTHONS
    else:
        versions = [LINES[line].python] if line else list(DEFAULT_LINE)
    python = find_python(versions, python_name)
    if python is None:
        named = probe([python_name]) if python_name else None
        running = named.version if named else sys.version_info[:2]
        raise ProblemError(no_python_text(versions, running, os.name))
    if solver_only:
        return python, None
    return python, line or DEFAULT_LINE[python.version]


def make_environment(
    line: str | None = None,
    python_name: str | None = None,
    solver_only: bool = False,
    lean: bool = False,
) -> Environment:
    """Return the environment for a bpy line, made or mended where it must be.

    Args:
        line: of Blender, e.g. "4.5"; None for the one that fits the interpreter.
        python_name: an interpreter to use and no other.
        solver_only: leave bpy out.
        lean: leave out what only the solver's tests need.

    Raises:
        ProblemError: something the user has to mend first.
    """
    python, line = choose(line, python_name, solver_only)
    whole = line is not None and line == DEFAULT_LINE[python.version] and not lean
    suffix = "" if whole else f"-{line or 'solver'}"
    env = Environment(ROOT / f".venv{suffix}", line)
    needs = requirements(line, lean)
    stamp = stamp_of(
        [*needs, *DATA], python, (ROOT / "pyproject.toml").read_text("utf-8")
    )
    record = env.folder / "loadfall-stamp.json"
    old = json.loads(record.read_text()) if record.is_file() else {}
    if old.get("stamp") == stamp and env.python.exists():
        return env
    content = f"Blender {line} as a module" if line else "the solver's tests alone"
    version = "{}.{}".format(*python.version)
    say(f"Making {env.folder.name}, once: Python {version}, {content}")
    if old.get("python") != python.identity or not env.python.exists():
        shutil.rmtree(env.folder, ignore_errors=True)
        run_logged([python.path, "-m", "venv", str(env.folder)], "venv")
    record.write_text(json.dumps({"python": python.identity}))
    install(env, needs)
    record.write_text(json.dumps({"python": python.identity, "stamp": stamp}))
    say(f"{env.folder.name} is ready")
    return env


def install(env: Environment, needs: list[str]) -> None:
    """Put the requirements and the project into an environment; try its bpy."""
    pip = [str(env.python), "-m", "pip", "install", "--no-input", "--no-compile"]
    pip += ["--disable-pip-version-check", "--progress-bar", "off"]
    run_logged([*pip, *needs], "pip", pip_progress, pip_text)
    if set(PEERS) <= set(needs):
        run_logged([*pip, "--no-deps", *DATA], "pip-data", explain=pip_text)
    project = ["--no-build-isolation", "--no-deps", "--editable", str(ROOT)]
    run_logged([*pip, *project], "pip-project", explain=pip_text)
    if env.line:
        code = "import bpy, os; print(bpy.app.version_string, flush=True); os._exit(0)"
        run_logged([str(env.python), "-c", code], "bpy", explain=bpy_text)
