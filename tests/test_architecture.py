"""The arrows between the parts, read from the source and not from good intentions.

Every rule is a function from one parsed file to the lines that break it, and every rule
is shown here to catch a file that does.
"""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

# A stage imports only what stands above it (itself included).
STAGES = (
    "errors",
    "units",
    "extras",
    "basis",
    "brief",
    "form",
    "framing",
    "schedule",
    "loads",
    "analysis",
    "idealise",
    "checks",
    "hand",
    "audit",
    "connections",
    "trusses",
    "verdict",
    "trace",
    "solve",
    "sizing",
    "influence",
    "ageing",
    "remedy",
    "variants",
    "report",
    "pdf",
    "drawings",
    "sheet",
    "ifc",
    "verification",
    "cli",
)
# These would be worth having without the others: they know none of them.
ALONE = ("units", "errors", "basis", "form", "analysis")
BLENDER = {
    "addon_utils",
    "bl_ui",
    "blf",
    "bmesh",
    "bpy",
    "bpy_extras",
    "gpu",
    "gpu_extras",
    "idprop",
    "imbuf",
    "mathutils",
    "rna_prop_ui",
}
PURE = (
    "addon/bridge/pipeline.py",
    "addon/overlay/extract.py",
    "addon/overlay/palette.py",
    "addon/overlay/scales.py",
    "addon/bridge/readings.py",
    "addon/bridge/asking.py",
    "addon/bridge/search_job.py",
    "addon/bridge/strips.py",
    "addon/overlay/labels.py",
    "addon/explain/timeline.py",
)
# Commands of the checkout, not of the extension: they drive the whole of it.
DRIVERS = ("addon/cli_demo.py", "addon/cli_explain.py", "addon/cli_samples.py")
LONGEST = 450


@dataclass(frozen=True)
class Source:
    """One parsed file: its path from the checkout and its text."""

    path: str
    text: str

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text)

    @property
    def package(self) -> tuple[str, ...]:
        return tuple(Path(self.path).parts[:-1])

    def absolute(self) -> list[tuple[int, str]]:
        """(line, top-level name) of every absolute import."""
        found = []
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import):
                found += [(node.lineno, a.name.split(".")[0]) for a in node.names]
            elif isinstance(node, ast.ImportFrom) and not node.level:
                found.append((node.lineno, node.module.split(".")[0]))
        return found

    def relative(self) -> list[tuple[int, tuple[str, ...]]]:
        """(line, target from the checkout) of every relative import."""
        found = []
        for node in ast.walk(self.tree):
            if isinstance(node, ast.ImportFrom) and node.level:
                base = self.package[: len(self.package) - node.level + 1]
                if node.module:
                    found.append((node.lineno, base + tuple(node.module.split("."))))
                else:
                    found += [(node.lineno, (*base, a.name)) for a in node.names]
        return found


@lru_cache
def sources(*folders: str) -> list[Source]:
    paths = [p for folder in folders for p in sorted((ROOT / folder).rglob("*.py"))]
    return [Source(p.relative_to(ROOT).as_posix(), p.read_text("utf-8")) for p in paths]


def foreign_imports(source: Source) -> list[str]:
    """Absolute imports of anything but Python, NumPy and, in the add-on, Blender."""
    allowed = {"numpy"} | set(sys.stdlib_module_names)
    if source.package[0] == "addon" and source.path not in PURE:
        allowed |= BLENDER
    return [
        f"{source.path}:{line} imports {name}"
        for line, name in source.absolute()
        if name not in allowed
    ]


def stage_of(path: str) -> str:
    """The stage a file of the solver belongs to."""
    return Path(path).parts[1].removesuffix(".py")


def upward_imports(source: Source) -> list[str]:
    """Imports in the solver that go against the order of its stages."""
    stage = stage_of(source.path)
    if stage == "__init__":
        return []
    above = STAGES[: STAGES.index(stage) + 1]
    if stage in ALONE:
        above = ("errors", "units", stage)
    found = []
    for line, target in source.relative():
        inside = target[:1] == ("solver",) and len(target) > 1
        if not inside or target[1] not in above:
            found.append(f"{source.path}:{line} imports {'.'.join(target)}")
    return found


def side_doors(source: Source) -> list[str]:
    """Imports of the solver by the add-on that do not go through the bridge."""
    if source.path.startswith("addon/bridge/") or source.path in DRIVERS:
        return []
    return [
        f"{source.path}:{line} imports {'.'.join(target)}"
        for line, target in source.relative()
        if target[0] == "solver" and target[1:2] not in {("errors",), ("units",)}
    ]


def printing(source: Source) -> list[str]:
    """Calls of print outside the command line."""
    if source.path == "solver/cli.py":
        return []
    return [
        f"{source.path}:{node.lineno} prints"
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "print"
    ]


def catch_alls(source: Source) -> list[str]:
    """Handlers that would swallow an error nobody foresaw."""
    caught = {"Exception", "BaseException"}
    return [
        f"{source.path}:{node.lineno} catches everything"
        for node in ast.walk(source.tree)
        if isinstance(node, ast.ExceptHandler)
        and not any(isinstance(last, ast.Raise) for last in node.body[-1:])
        and (node.type is None or getattr(node.type, "id", None) in caught)
    ]


def too_long(source: Source) -> list[str]:
    """Files that want to be two."""
    lines = len(source.text.splitlines())
    return [f"{source.path} has {lines} lines"] if lines > LONGEST else []


def broken(rule, *folders: str) -> list[str]:
    found = sources(*folders)
    assert found, f"no source in {folders}"
    return [line for source in found for line in rule(source)]


@pytest.mark.parametrize(
    ("rule", "folders"),
    [
        (foreign_imports, ("solver", "addon")),
        (upward_imports, ("solver",)),
        (side_doors, ("addon",)),
        (printing, ("solver",)),
        (catch_alls, ("solver", "addon")),
        (too_long, ("solver", "addon", "tests/tooling")),
    ],
)
def test_rule_holds(rule, folders):
    assert broken(rule, *folders) == []


def test_build_py_stays_short():
    assert too_long(Source("build.py", (ROOT / "build.py").read_text("utf-8"))) == []


def test_every_stage_has_its_place_in_the_order():
    found = {stage_of(s.path) for s in sources("solver")} - {"__init__"}
    assert found <= set(STAGES), "put the new stage where it belongs in STAGES"


def test_pip_installs_every_package():
    folders = {
        Path(s.path).parent for s in sources("solver", "addon") if "__init__" in s.path
    }
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    listed = project["tool"]["setuptools"]["packages"]
    wanted = sorted("loadfall." + ".".join(folder.parts) for folder in folders)
    assert sorted(listed) == wanted, "list it in pyproject.toml, tool.setuptools"


def test_pip_installs_every_table():
    """A table in a folder that is no package is installed by its pattern alone."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    patterns = project["tool"]["setuptools"]["package-data"]["*"]
    data = [p for p in (ROOT / "solver").rglob("*") if p.is_file()]
    data = [p for p in data if p.suffix not in {".py", ".pyc"}]
    assert data
    for path in data:
        assert any(path in (ROOT / "solver").glob(pattern) for pattern in patterns)


@pytest.mark.parametrize(
    ("rule", "path", "text"),
    [
        (foreign_imports, "solver/trace/shares.py", "import bpy"),
        (
            foreign_imports,
            "solver/trace/shares.py",
            "def f():\n    import scipy.linalg",
        ),
        (
            foreign_imports,
            "solver/trace/shares.py",
            "from loadfall.solver import units",
        ),
        (foreign_imports, "addon/overlay/palette.py", "import bpy"),
        (foreign_imports, "addon/overlay/draw.py", "import addon"),
        (upward_imports, "solver/framing/purlins.py", "from ..checks import inputs"),
        (upward_imports, "solver/framing/purlins.py", "from .. import report"),
        (upward_imports, "solver/analysis/frame.py", "from ..basis import sections"),
        (upward_imports, "solver/brief/io.py", "from ...addon import names"),
        (upward_imports, "solver/units.py", "from . import errors, solve"),
        (side_doors, "addon/panels/roof.py", "from ...solver import solve"),
        (side_doors, "addon/panels/roof.py", "from ...solver.checks import inputs"),
        (printing, "solver/report/sheet.py", "print('x')"),
        (catch_alls, "solver/brief/io.py", "try:\n    f()\nexcept:\n    pass"),
        (catch_alls, "addon/panels/x.py", "try:\n    f()\nexcept Exception:\n    pass"),
        (too_long, "solver/brief/io.py", "x = 1\n" * 451),
    ],
)
def test_rule_catches(rule, path, text):
    assert rule(Source(path, text))


@pytest.mark.parametrize(
    ("rule", "path", "text"),
    [
        (foreign_imports, "solver/trace/shares.py", "import math\nimport numpy as np"),
        (foreign_imports, "addon/overlay/draw.py", "import gpu"),
        (upward_imports, "solver/checks/inputs.py", "from ..basis.nds import bending"),
        (
            upward_imports,
            "solver/analysis/frame.py",
            "from ..errors import SolverError",
        ),
        (upward_imports, "solver/analysis/nds/x.py", "from ..frame import Frame"),
        (side_doors, "addon/bridge/brief_io.py", "from ...solver import solve"),
        (
            side_doors,
            "addon/panels/roof.py",
            "from ...solver.errors import SolverError",
        ),
        (
            catch_alls,
            "addon/registration.py",
            "try:\n    f()\nexcept Exception:\n    g()\n    raise",
        ),
    ],
)
def test_rule_lets_pass(rule, path, text):
    assert rule(Source(path, text)) == []


def test_the_solver_loads_without_blender():
    """In a fresh process every stage imports, and none of them brings Blender."""
    names = [s.path.removesuffix(".py").replace("/", ".") for s in sources("solver")]
    code = (
        "import importlib, sys, types\n"
        "package = sys.modules['loadfall'] = types.ModuleType('loadfall')\n"
        f"package.__path__ = [{str(ROOT)!r}]\n"
        f"for name in {names!r}:\n"
        "    importlib.import_module('loadfall.' + name.removesuffix('.__init__'))\n"
        f"assert {BLENDER!r}.isdisjoint(sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
