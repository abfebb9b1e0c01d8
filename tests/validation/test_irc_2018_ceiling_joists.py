"""International Residential Code 2018, ceiling joists: what limits the table."""

from loadfall.solver.basis.irc import SpanLimit
from loadfall.solver.verification.irc_ceiling_joists import FILE, ours

from .support import table


def test_bending_and_sag_each_govern_part_of_the_table():
    limits = {ours(row).limit for row in table(FILE)}
    assert limits == set(SpanLimit)
