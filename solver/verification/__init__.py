"""External checks: published numbers beside those of this program, as data and code.

Each module holds the checks of one kind of source; the tests and the command
``loadfall verify`` run the same list. Receives nothing, knows of no roof, and changes
nothing. Agreement shows that the arithmetic is that of the source, and no more.
"""

from __future__ import annotations

import math

from ..errors import SolverError
from . import (
    awc_examples,
    built_up,
    continuous_beams,
    creep,
    design_guides,
    elastic_foundation,
    eurocode5,
    flitch,
    forms,
    handed_over,
    ibc_rafters,
    irc_ceiling_joists,
    irc_headers,
    irc_rafters,
    irc_ties,
    loads,
    lumber,
    nds_clauses,
    outlines,
    textbooks,
    trusses,
)
from .model import Compared, Group, Record

GROUPS: tuple[Group, ...] = (
    *lumber.GROUPS,
    *nds_clauses.GROUPS,
    *awc_examples.GROUPS,
    *design_guides.GROUPS,
    *textbooks.GROUPS,
    *loads.GROUPS,
    *irc_ceiling_joists.GROUPS,
    *irc_rafters.GROUPS,
    *ibc_rafters.GROUPS,
    *irc_ties.GROUPS,
    *irc_headers.GROUPS,
    *continuous_beams.GROUPS,
    *creep.GROUPS,
    *outlines.GROUPS,
    *forms.GROUPS,
    *trusses.GROUPS,
    *built_up.GROUPS,
    *elastic_foundation.GROUPS,
    *flitch.GROUPS,
    *handed_over.GROUPS,
    *eurocode5.GROUPS,
)


def run_checks(groups: tuple[Group, ...] = GROUPS) -> list[Compared]:
    """Return every printed number beside ours.

    A check that the program refuses to compute is one that does not agree.
    """
    record = Record()
    for group in groups:
        try:
            group(record)
        except SolverError as error:
            record.check(
                group.__name__, group.__module__, "", str(error), 0.0, math.nan
            )
    return record.compared


__all__ = ["GROUPS", "Compared", "Group", "Record", "run_checks"]
