"""What to do about it: one text for each way an installation goes wrong."""

from __future__ import annotations

import platform
import re

APT_PACKAGES = (
    "libx11-6 libxi6 libxrender1 libxfixes3 libxxf86vm1 libxkbcommon0 libxext6 "
    "libsm6 libice6 libgl1 libegl1 libgomp1"
)
DNF_PACKAGES = (
    "libX11 libXi libXrender libXfixes libXxf86vm libxkbcommon libXext libSM libICE "
    "mesa-libGL mesa-libEGL libgomp"
)


def pip_progress(line: str) -> str | None:
    """Return what is worth showing of one line of pip's output, or None."""
    got = re.match(r"\s*Downloading (?:.*/)?([^/\s]+)\.whl.*?(\(.+\))?$", line)
    if got and re.search(r"\d{2,}(\.\d+)? ?MB", got.group(2) or ""):
        return f"  downloading {got.group(1)} {got.group(2)}"
    if line.startswith("Installing collected packages"):
        return f"  unpacking {line.count(',') + 1} packages"
    return None


NO_NETWORK = (
    "NewConnectionError|ConnectTimeout|ReadTimeout|Name or service not known|"
    "Temporary failure in name resolution|getaddrinfo failed|Connection refused|"
    "Network is unreachable|ProxyError|Max retries exceeded|SSLError|nodename nor"
)


def pip_text(output: str) -> str:
    """Say what to do about a failed pip."""
    if re.search(NO_NETWORK, output):
        return (
            "No package index could be reached. Connect to the network, or tell pip of "
            "your proxy or\nmirror (PIP_PROXY, PIP_INDEX_URL), or of a folder of "
            "wheels (PIP_NO_INDEX=1 PIP_FIND_LINKS=FOLDER), then run this again."
        )
    if re.search(r"No matching distribution found for bpy", output):
        return (
            f"The index has no bpy wheel for {platform.system()} on "
            f"{platform.machine()}. Blender publishes wheels for Linux (x86_64, glibc "
            "2.28 or later), macOS\nand Windows; the blender.org page on Blender as a "
            "Python module names its own index (PIP_EXTRA_INDEX_URL).\n"
            "The solver alone can be tested: build.py test --solver-only"
        )
    if "No space left on device" in output:
        return "The disk is full: the environment needs about 1.5 GB."
    return "pip failed; its last lines are above."


def bpy_text(output: str) -> str:
    """Say what to do when bpy does not load."""
    got = re.search(r"(lib[\w.+-]+\.so[\w.]*): cannot open shared object", output)
    if got:
        return (
            f"Blender's module needs the system library {got.group(1)}.\n"
            f"Debian, Ubuntu: apt-get install {APT_PACKAGES}\n"
            f"Fedora: dnf install {DNF_PACKAGES}\nThen run this again."
        )
    if "GLIBC" in output:
        return "This system's C library is too old for Blender's module (glibc 2.28)."
    if "DLL load failed" in output:
        return "Install Microsoft's Visual C++ runtime, then run this again."
    return "Blender's module does not load; its last lines are above."
