"""Makes the checkout importable as the package ``loadfall``, without installing it.

The installed extension has the same shape, so ``loadfall.solver`` and
``loadfall.addon`` are the one and only route to the code: a second route would make
a second ``SolverError``.
"""

from __future__ import annotations

import sys
import types
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[1]

package = types.ModuleType("loadfall")
package.__path__ = [str(CHECKOUT)]
sys.modules["loadfall"] = package
