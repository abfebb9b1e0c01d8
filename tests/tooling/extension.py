"""The installable extension: what goes into the zip, and Blender's own word on it.

The zip has the shape of the checkout (addon/, solver/ and a manifest), so that every
relative import means the same in both.
"""

from __future__ import annotations

import re
import subprocess
import zipfile
from pathlib import Path

from .environment import Environment
from .running import ROOT, ProblemError, environ, say

INIT = '''"""Loadfall: where a stick-framed roof's load falls, and what can carry it."""

from .addon import register as register, unregister as unregister
'''
# Made for the checkout's own commands; the extension's user has no use for them.
LEFT_OUT = (
    "addon/cli_demo.py", "addon/cli_explain.py", "addon/cli_samples.py",
    "addon/outline_samples.py",
    "addon/blender_manifest.toml",
)  # fmt: skip
SUFFIXES = {".py", ".csv", ".json", ".toml", ".png", ".svg", ".html", ".js"}
STAMP = (2020, 1, 1, 0, 0, 0)  # the same source makes the same bytes


def version() -> str:
    """Return the project's version, which stands in pyproject.toml alone."""
    text = (ROOT / "pyproject.toml").read_text("utf-8")
    return re.search(r'^version = "(\d+\.\d+\.\d+)"$', text, re.MULTILINE).group(1)


def entries() -> dict[str, bytes]:
    """Return the content of the archive by name, sorted."""
    manifest = (ROOT / "addon" / "blender_manifest.toml").read_text("utf-8")
    found = {
        "__init__.py": INIT.encode(),
        "blender_manifest.toml": manifest.replace("{version}", version()).encode(),
        "LICENSE": (ROOT / "LICENSE").read_bytes(),
    }
    for part in ("addon", "solver"):
        for path in (ROOT / part).rglob("*"):
            name = path.relative_to(ROOT).as_posix()
            if path.suffix in SUFFIXES and name not in LEFT_OUT:
                found[name] = path.read_bytes()
    return dict(sorted(found.items()))


def build(env: Environment, folder: Path = ROOT / "dist") -> Path:
    """Write loadfall-VERSION.zip into a folder, validate it, and return its path."""
    folder.mkdir(exist_ok=True)
    path = folder / f"loadfall-{version()}.zip"
    content = entries()
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in content.items():
            info = zipfile.ZipInfo(name, STAMP)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o644 << 16
            archive.writestr(info, data)
    validate(env, path)
    say(f"{path.name}: {len(content)} files, {path.stat().st_size / 1024:.0f} KiB")
    return path


def validate(env: Environment, path: Path) -> None:
    """Have the validator that ships with Blender's module read the archive.

    Raises:
        ProblemError: it found fault, or warned, or is not there to be asked.
    """
    places = ("lib/python*/site-packages", "Lib/site-packages")
    scripts = [s for place in places for s in env.folder.glob(f"{place}/bpy/*/scripts")]
    if not scripts:
        raise ProblemError(f"{env.folder.name} has no bpy, and so no validator.")
    tool = scripts[0] / "addons_core/bl_pkg/cli/blender_ext.py"
    tags = scripts[0] / "modules/_bpy_internal/extensions/tags.py"
    command = [str(env.python), str(tool), "validate", f"--valid-tags={tags}"]
    done = subprocess.run(
        [*command, str(path)], capture_output=True, text=True, env=environ()
    )
    output = done.stdout + done.stderr
    if done.returncode or re.search("warning|error", output, re.IGNORECASE):
        raise ProblemError(f"The archive is not valid:\n{output.strip()}")
