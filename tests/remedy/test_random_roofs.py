"""Remedies of any roof: solved and told, or the documented error; never a crash."""

from __future__ import annotations

import json
import os

from hypothesis import HealthCheck, Phase, given, settings
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import SolverError
from loadfall.solver.remedy import remedies
from loadfall.solver.remedy.trouble import find_trouble
from loadfall.solver.report.remedy_results import remedy_results
from loadfall.solver.sheet import comparison_html

from ..solve.hip_strategies import roofs

EXAMPLES = max(2, int(os.environ.get("LOADFALL_EXAMPLES", "0")) // 50)


@settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.generate],
    database=None,
)
@given(roofs())
def test_every_remedy_of_any_roof_is_told(stated):
    try:
        found = remedies(read_brief(stated) if isinstance(stated, dict) else stated)
    except SolverError:
        return
    told = json.loads(json.dumps(remedy_results(found), allow_nan=False))
    assert comparison_html(found).startswith("<!DOCTYPE html>")
    keys = [one["key"] for one in told["remedies"]]
    assert len(keys) == len(set(keys))
    for one, record in zip(found.remedies, told["remedies"], strict=True):
        bad = find_trouble(one.solution).failing or one.solution.refusal
        assert not (bad and one.solves)
        assert record["measures"]["headroom"] >= 0
        assert record["measures"]["floor_lost"] >= 0
        assert one.solves or record["why_not"]
