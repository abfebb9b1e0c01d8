"""Every external check, one test for each example or table; ``loadfall verify`` too.

The numbers, their sources and how each was come by stand in ``solver/verification``.
"""

import math
from collections import Counter

import pytest
from loadfall.solver.errors import ScopeError
from loadfall.solver.verification import GROUPS, Record, run_checks
from loadfall.solver.verification.model import PROVENANCES

STAGES = (
    "ceiling joists",  # span tables
    "rafters",
    "heel joint",
    "NDS Supplement",  # lumber
    "single shear",  # nails
    "E1.6",  # tension with bending
    "E1.7",  # compression with bending
    "example 5.6",  # columns
    "two equal spans",  # the frame engine
    "ASCE 7-16 4.8.2",  # roof live
    "ASCE 7-16 7.6.1",  # snow
    "creep",
    "EN 1995",
)


@pytest.mark.parametrize(
    "group", GROUPS, ids=lambda g: f"{g.__module__.rsplit('.', 1)[-1]}-{g.__name__}"
)
def test_agrees_with_what_is_printed(verification, group):
    group(verification)


def test_every_check_has_a_name_of_its_own_and_says_how_it_was_come_by():
    record = Record()
    for group in GROUPS:
        group(record)
    names = Counter((c.record, c.source, c.what) for c in record.compared)
    assert [name for name, count in names.items() if count > 1] == []
    assert {c.provenance for c in record.compared} <= set(PROVENANCES)
    assert len(record.compared) >= 120
    sources = {c.source for c in record.compared}
    for stage in STAGES:
        assert any(stage in source for source in sources), stage
    assert all(c.tolerance <= 0.06 * abs(c.expected) or c.unit in ("in", "nails")
               or c.tolerance <= 0.06 for c in record.compared)  # fmt: skip


def test_a_number_that_is_none_never_agrees():
    """A check that is refused, or yields no number, counts against the program."""

    def refused(_):
        raise ScopeError("a clause", "a quantity", 1.0, "less")

    def no_number(out):
        out.check("x", "x", "seen", "x", 1.0, math.nan, rel=1.0)

    assert [c.agrees for c in run_checks((refused, no_number))] == [False, False]


def test_the_tolerance_is_the_larger_of_both_and_ends_where_it_says():
    record = Record()
    for ours in (10.5, 10.51, 9.49):
        record.check("x", "x", "seen", "x", 10.0, ours, rel=0.05, tol=0.1)
    assert [c.agrees for c in record.compared] == [True, False, False]
