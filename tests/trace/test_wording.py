"""Phrases: uses that never round over, keys drawn together, loads in words."""

from __future__ import annotations

import numpy as np
import pytest
from loadfall.solver.basis.protocol import Check
from loadfall.solver.framing.model import Role
from loadfall.solver.loads.cases import CASES
from loadfall.solver.loads.combine import Combinations
from loadfall.solver.trace.naming import named
from loadfall.solver.trace.wording import (
    CASE_WORDS,
    CHECKS,
    ROLES,
    combination_words,
    owner_word,
    use_words,
)


@pytest.mark.parametrize(
    ("use", "words"),
    [
        (0.412, "41% of its limit"),
        (0.9949, "99% of its limit"),
        (0.99999, "99.99% of its limit"),
        (1.0, "100.00% of its limit"),
        (1.0001, "1.0001 times its limit"),
        (1.5634, "1.56 times its limit"),
        (12.0, "12.00 times its limit"),
    ],
)
def test_a_use_never_rounds_over_its_limit(use, words):
    assert use_words(use) == words


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        (("R-S-03", "R-S-01", "R-S-02"), "R-S-01 to R-S-03"),
        (("CJ-01-1", "CJ-03-1", "CJ-05-1"), "every second of CJ-01-1 to CJ-05-1"),
        (("CJ-01-1", "CJ-02-1", "CJ-01-2"), "CJ-01-1, CJ-02-1 and CJ-01-2"),
        (("P-N", "P-S"), "P-N and P-S"),
        (("RIDGE",), "RIDGE"),
        (("R-N-01", "R-S-01", "R-S-02", "R-S-03"), "R-N-01 and R-S-01 to R-S-03"),
    ],
)
def test_neighbours_are_drawn_together(keys, words):
    assert named(keys) == words


def test_what_is_left_of_many_is_counted():
    keys = tuple(f"R-S-{n:02d}" for n in (0, 3, 7, 12, 18, 25, 33, 42))
    assert named(keys, most=3) == "R-S-00, R-S-03, R-S-07 and 5 more"


def test_a_combination_in_words():
    factors = np.zeros((2, len(CASES)))
    names = [case.value for case in CASES]
    factors[0, names.index("D")] = 1.0
    factors[0, names.index("L")] = factors[0, names.index("S")] = 0.75
    factors[1, names.index("D")] = factors[1, names.index("W")] = 0.6
    combos = Combinations(
        names=("a", "b"), factors=factors, C_D=np.ones(2), clauses=("", "")
    )
    assert combination_words(combos, "a") == (
        "dead load + 0.75 of attic live load + 0.75 of snow"
    )
    assert combination_words(combos, "b") == "0.6 of dead load + 0.6 of wind uplift"


def test_everything_has_its_words():
    assert set(ROLES) >= set(Role)
    assert set(CHECKS) == set(Check)
    assert set(CASE_WORDS) == set(CASES)


def test_owners():
    assert owner_word("W-SOUTH") == "the south wall"
    assert owner_word("W-spine") == "wall spine"
    assert owner_word("F-A") == "the footing of post A"
    assert owner_word("W-C3") == "corner C3"
    assert owner_word("F-RIDGE-1") == "the footing of ridge post 1"
    assert owner_word("X-ST-S-01") == "the stated point under ST-S-01"
