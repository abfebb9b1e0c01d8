"""Real building footprints are framed, or refused by a field and a reason.

See ``tests/form/test_real_buildings.py`` for where they come from.
"""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.framing.planes import area_of
from loadfall.solver.loads import member_loads
from loadfall.solver.loads.cases import ROOFS

from ..form import test_real_buildings as real

EVERY = 8  # all of them take minutes; each of the eight starts was run by hand once


@pytest.mark.skipif(real.DATA is None, reason="momepy is not installed")
def test_every_eighth_building_is_framed_or_refused():
    framed, refused = 0, []
    for outer, *holes in real.footprints()[::EVERY]:
        if holes:
            continue  # a brief states no courtyards
        points = (outer - outer.min(axis=0)).tolist()
        corners = [{"at": [f"{x!r} m", f"{y!r} m"]} for x, y in points]
        stated = {
            "footprint": {"outline": corners},
            "roof": {"pitch": "6:12", "overhang": "0 in"},
            "rafters": {"size": "2x10"},
            "ceiling_joists": {"size": "2x10"},
        }
        try:
            brief = read_brief(stated)
            framing = frame_roof(brief)
        except BriefError as error:
            refused.append(error)
            continue
        loads = member_loads(brief, framing)
        on = np.array([s in ROOFS for s in loads.surface])
        whole = sum(area_of(p.polygon) for p in framing.form.planes)
        assert loads.plan_area[on].sum() == pytest.approx(whole, rel=1e-9)
        assert framing.of_role(Role.HIP_RAFTER)
        framed += 1
    assert framed >= 10
    for error in refused:
        assert error.field.startswith("footprint.outline")
        assert error.allowed
    assert len(refused) <= framed / 10
