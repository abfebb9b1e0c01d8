#!/usr/bin/env python3
"""Drive a real Blender on this machine through the scripts of this folder.

    run_window.py --blender PATH --zip EXTENSION --out FOLDER [--looks]

Installs the extension into a home of its own, opens a window (under xvfb-run where
there is no display), runs each script's ``main``, keeps screenshots and logs in FOLDER.
Ends with 0 when every script did. With --looks, makes the pictures of looks/ instead:
sheets of every panel and mode, for a person to judge. Standard library only.
"""

import argparse
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
LIMIT = 1800  # s for one script
SIZE = ("1600", "900")  # of the window, where a script states no other
REPOSITORY = "user_default"


def scripts(folder):
    """The scripts of a folder that define main()."""
    return [
        path
        for path in sorted(folder.glob("*.py"))
        if "\ndef main():" in path.read_text("utf-8")
        and path.name != Path(__file__).name
    ]


def size_of(script):
    """The width and height of the window that a script asks for by SIZE."""
    found = re.search(r"^SIZE = \((\d+), (\d+)\)", script.read_text("utf-8"), re.M)
    return found.groups() if found else SIZE


def in_window(command, size):
    """A command with a display to show its window on."""
    if sys.platform.startswith("linux") and not (
        os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")
    ):
        server = shutil.which("xvfb-run")
        if server is None:
            sys.exit("There is no display, and xvfb-run (package xvfb) is not there.")
        screen = f"-screen 0 {'x'.join(size)}x24 +extension GLX"
        return [server, "-a", "-s", screen, *command]
    return command


def install(blender, archive, variables, log):
    """Install and enable the extension; its own exit status cannot be trusted."""
    command = [blender, "--command", "extension", "install-file", "-r", REPOSITORY]
    subprocess.call(
        [*command, "-e", archive], env=variables, stdout=log, stderr=log, timeout=300
    )


def run(blender, archive, out, found):
    """Run scripts; return how many failed."""
    failed = 0
    for script in found:
        folder = out / script.stem
        folder.mkdir(parents=True, exist_ok=True)
        with (
            tempfile.TemporaryDirectory() as home,
            (folder / "blender.log").open("w", encoding="utf-8") as log,
        ):
            variables = {**os.environ, "BLENDER_USER_RESOURCES": home}
            variables |= {"WINDOW_OUT": str(folder), "WINDOW_SCRIPT": str(script)}
            install(blender, archive, variables, log)
            start = str(HERE / "driver" / "start.py")
            options = ["--enable-event-simulate", "--python", start]
            size = size_of(script)
            options += ["--window-geometry", "0", "0", *size]
            try:
                subprocess.run(
                    in_window([blender, *options], size), env=variables, stdout=log,
                    stderr=log, timeout=LIMIT, check=False,
                )  # fmt: skip
            except subprocess.TimeoutExpired:
                print(f"{script.name}: time is up")
        status = folder / "status.txt"
        passed = status.is_file() and status.read_text("utf-8") == "0"
        print(f"{script.name}: {'passed' if passed else 'FAILED'}; see {folder}")
        failed += not passed
    return failed


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    for name in ("--blender", "--zip", "--out"):
        parser.add_argument(name, required=True)
    parser.add_argument("--looks", action="store_true", help="pictures to judge")
    parsed = parser.parse_args()
    target = Path(parsed.out)
    shutil.rmtree(target, ignore_errors=True)
    archive = str(Path(parsed.zip).resolve())
    found = scripts(HERE / "looks" if parsed.looks else HERE)
    sys.exit(1 if run(parsed.blender, archive, target, found) else 0)
