"""Breaking formulas on purpose: the named tests must notice.

A few breaks by default; all of them with ``LOADFALL_MUTATIONS=all``.
"""

import os
from pathlib import Path

import pytest
from loadfall.tests.tooling import mutations

CHOSEN = (
    mutations.MUTATIONS
    if os.environ.get("LOADFALL_MUTATIONS") == "all"
    else mutations.QUICK
)


@pytest.fixture(scope="module")
def tree(tmp_path_factory):
    folder = tmp_path_factory.mktemp("mutated")
    mutations.copy_tree(folder)
    return folder


def test_there_are_enough_and_each_can_be_made():
    assert len(mutations.MUTATIONS) >= 10
    assert len({m.name for m in mutations.MUTATIONS}) == len(mutations.MUTATIONS)
    for m in mutations.MUTATIONS:
        text = (mutations.ROOT / m.file).read_text("utf-8")
        assert text.count(m.old) == 1, m.name
        assert m.old != m.new
        assert (mutations.ROOT / m.test.split("::")[0]).is_file(), m.name


def test_the_tests_are_green_before_anything_is_broken(tree):
    assert mutations.run(tree, *sorted({m.test for m in CHOSEN})) == 0


@pytest.mark.parametrize("mutation", CHOSEN, ids=lambda m: m.name)
def test_turns_its_test_red(tree, mutation):
    assert mutations.is_caught(tree, mutation)


def test_the_checkout_is_left_alone(tree):
    assert Path(tree) != mutations.ROOT
    for m in CHOSEN:
        assert (tree / m.file).read_text() == (mutations.ROOT / m.file).read_text()
