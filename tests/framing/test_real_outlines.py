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
from loadfall.solver.solve import solve

from ..form import test_real_buildings as real

EVERY = 8  # all of them take minutes; each of the eight starts was run by hand once


needs_data = pytest.mark.skipif(real.DATA is None, reason="momepy is not installed")
BEAM = {"kind": "beam", "size": "3.5x16", "species": "LVL", "grade": "2.0E"}


def stated(outer):
    points = (outer - outer.min(axis=0)).tolist()
    corners = [{"at": [f"{x!r} m", f"{y!r} m"]} for x, y in points]
    return {
        "footprint": {"outline": corners},
        "roof": {"pitch": "6:12", "overhang": "0 in"},
        "rafters": {"size": "2x10"},
        "ceiling_joists": {"size": "2x10"},
    }


@needs_data
@pytest.mark.parametrize("number", [6, 23], ids=["crease in a wall", "near joints"])
def test_a_building_is_solved_whole(number):
    """Each of these two was once refused as if something in it were loose."""
    brief = stated(real.footprints()[number][0])
    brief |= {"ridge": BEAM, "hips": {"size": "2x12", "plies": 2}}
    roof = solve(read_brief(brief))
    assert not roof.refusal
    assert not roof.path.faults
    assert roof.flow("D+Lr").ground_imbalance < 1e-9


@needs_data
def test_every_eighth_building_is_framed_or_refused():
    framed, refused = 0, []
    for outer, *holes in real.footprints()[::EVERY]:
        if holes:
            continue  # a brief states no courtyards
        try:
            brief = read_brief(stated(outer))
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
