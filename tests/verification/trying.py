"""How many random roofs are tried, and what may be refused."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, Phase, assume, settings
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.solve import solve

MANY = os.environ.get("LOADFALL_EXAMPLES")


def tries(default):
    """Settings: the same few roofs every time, or as many new ones as are asked for."""
    return settings(
        max_examples=int(MANY or default),
        deadline=None,
        derandomize=MANY is None,
        database=None,
        phases=[Phase.generate] if MANY else tuple(Phase)[:-1],
        suppress_health_check=list(HealthCheck),
    )


def solved(data):
    """The solution of random data, whose only refusal may be of the brief."""
    try:
        brief = read_brief(data)
    except BriefError:
        assume(False)
    return solve(brief)


def analysed(data):
    """The solution of random data that can stand."""
    solution = solved(data)
    assume(solution.frame is not None)
    return solution
