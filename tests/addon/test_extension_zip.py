"""The extension as a user gets it: built, validated, installed, switched off and on."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from loadfall.tests.tooling import extension
from loadfall.tests.tooling.environment import Environment
from loadfall.tests.tooling.running import ProblemError

HERE = Environment(Path(sys.prefix), None)

# Runs in a process of its own: Blender installs into a folder of the test's, and what
# an add-on leaves behind would be left in this one.
INSTALL = """
import os, sys, traceback
import bpy
import addon_utils

NAME = "bl_ext.user_default.loadfall"


def ours():
    return sorted(n for n in dir(bpy.types) if n.startswith("LOADFALL_"))


def main():
    assert not ours()
    install = bpy.ops.extensions.package_install_files
    install(filepath=sys.argv[1], repo="user_default", enable_on_install=True)
    assert addon_utils.check(NAME) == (True, True), addon_utils.check(NAME)
    first = ours()
    assert first
    addon_utils.disable(NAME)
    assert not ours(), ours()
    addon_utils.enable(NAME)
    assert ours() == first
    install(filepath=sys.argv[1], repo="user_default", enable_on_install=True)
    assert addon_utils.check(NAME) == (True, True), addon_utils.check(NAME)
    assert ours() == first
    assert not [n for n in sys.modules if n.split(".")[0] in ("solver", "addon")]
    addon_utils.disable(NAME)


code = 1
try:
    main()
    code = 0
except BaseException:
    traceback.print_exc()
sys.stdout.flush()
sys.stderr.flush()
os._exit(code)
"""


@pytest.fixture(scope="module")
def archive(tmp_path_factory):
    return extension.build(HERE, tmp_path_factory.mktemp("dist"))


def test_blender_finds_nothing_wrong_with_the_archive(archive):
    extension.validate(HERE, archive)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'"Add Mesh"', b'"Roofs"'),
        (b'version = "', b'version = "x'),
        (b'blender_version_min = "4.2.0"', b""),
        (b"member by member", b"member by member."),
    ],
)
def test_a_manifest_that_blender_would_refuse_fails(archive, tmp_path, old, new):
    """A tag outside Blender's list, a bad version, a missing key, a full stop."""
    spoilt = tmp_path / "spoilt.zip"
    with zipfile.ZipFile(archive) as good, zipfile.ZipFile(spoilt, "w") as bad:
        for name in good.namelist():
            data = good.read(name)
            if name == "blender_manifest.toml":
                assert old in data
                data = data.replace(old, new)
            bad.writestr(name, data)
    with pytest.raises(ProblemError, match="not valid"):
        extension.validate(HERE, spoilt)


def test_the_same_source_makes_the_same_archive(archive, tmp_path):
    assert extension.build(HERE, tmp_path).read_bytes() == archive.read_bytes()


def test_it_installs_and_goes_off_and_on_and_updates(archive, tmp_path):
    """As Preferences do it: install from disk, untick, tick, install again."""
    variables = {**os.environ, "BLENDER_USER_RESOURCES": str(tmp_path / "user")}
    done = subprocess.run(
        [sys.executable, "-c", INSTALL, str(archive)],
        env=variables,
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "Traceback" not in done.stderr, done.stderr
