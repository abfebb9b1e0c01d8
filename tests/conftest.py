"""Makes the checkout importable as the package ``loadfall``, without installing it.

The installed extension has the same shape, so ``loadfall.solver`` and
``loadfall.addon`` are the one and only route to the code: a second route would make
a second ``SolverError``.
"""

from __future__ import annotations

import os
import platform
import sys
import types
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).resolve().parents[1]

package = types.ModuleType("loadfall")
package.__path__ = [str(CHECKOUT)]
sys.modules["loadfall"] = package


def pytest_collection_modifyitems(items):
    """Skip one peer where it is not published; elsewhere its absence is a failure."""
    published = sys.platform != "darwin" and platform.machine() in ("x86_64", "AMD64")
    if not published:
        reason = pytest.mark.skip(reason="openseespy has no package for this platform")
        for item in items:
            if "opensees" in item.name:
                item.add_marker(reason)


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session, exitstatus):
    """Remember how it went, for the end."""
    session.config.loadfall_status = int(exitstatus)


@pytest.hookimpl(trylast=True)
def pytest_unconfigure(config):
    """End at once when Blender's module is loaded: some hang, some crash at exit."""
    if "bpy" in sys.modules:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(getattr(config, "loadfall_status", 3))
