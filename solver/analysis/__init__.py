"""Frame analysis: straight elements, one-sided contacts, exact shapes, influence.

Axes and signs, asserted line by line by ``tests/analysis/test_conventions.py``:

    right-handed global axes, Z up, gravity along -Z

              z (depth, towards ``up``)
              |
              |   y (across) = z cross x
              | /
        i o---+-------------o j   x along the element, from i to j

* tension and links in compression are positive;
* a strong moment is positive where it puts the -z side in tension (a level beam with
  ``up`` = +Z sags), a weak moment where it puts the -y side in tension;
* shear is the rate of change of moment along x;
* loads and reactions act on the frame, end forces act on the element, all along
  global axes. At every node: loads + reactions + link forces = sum of end forces.

The stage knows nothing of roofs, imports only ``units`` and ``errors``, and leaves
its input as it was.
"""

from .damped import LiftOffError
from .edit import Bar, Edit, apply_edit
from .frame import (
    GROUND,
    PULL_ONLY,
    PUSH_ONLY,
    TWO_SIDED,
    Frame,
    FrameError,
    Links,
    LoadSet,
)
from .functional import (
    Force,
    Functional,
    link_force,
    node_displacement,
    reaction,
    station_displacement,
    station_force,
)
from .influence import (
    Influence,
    SupportGroup,
    all_supports,
    influence,
    reaction_influence,
)
from .layout import Layout
from .mechanism import UnstableFrameError
from .solution import FrameResult, solve
from .stations import Stations

__all__ = [
    "GROUND",
    "PULL_ONLY",
    "PUSH_ONLY",
    "TWO_SIDED",
    "Bar",
    "Edit",
    "Force",
    "Frame",
    "FrameError",
    "FrameResult",
    "Functional",
    "Influence",
    "Layout",
    "LiftOffError",
    "Links",
    "LoadSet",
    "Stations",
    "SupportGroup",
    "UnstableFrameError",
    "all_supports",
    "apply_edit",
    "influence",
    "link_force",
    "node_displacement",
    "reaction",
    "reaction_influence",
    "solve",
    "station_displacement",
    "station_force",
]
