"""Makes the checkout importable as the package ``loadfall``, without installing it.

The installed extension has the same shape, so ``loadfall.solver`` and
``loadfall.addon`` are the one and only route to the code: a second route would make
a second ``SolverError``.
"""

from __future__ import annotations

import os
import sys
import types
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).resolve().parents[1]

package = types.ModuleType("loadfall")
package.__path__ = [str(CHECKOUT)]
sys.modules["loadfall"] = package


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
