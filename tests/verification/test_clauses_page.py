"""The page that says where each clause lives is true of the code and the tests."""

import re
from pathlib import Path

import pytest

HOME = Path(__file__).resolve().parents[2]
PAGE = (HOME / "docs" / "clauses.md").read_text(encoding="utf-8")
ROWS = re.findall(r"^\|[^|]+\|[^|]+\| `([^`]+)` \| `([^`]+)` \|$", PAGE, re.MULTILINE)


def test_the_page_lists_them_all():
    assert len(ROWS) >= 40
    assert PAGE.count("`tests/") == len(ROWS) + 2  # and the two files of its opening


@pytest.mark.parametrize(("where", "proof"), ROWS, ids=[proof for _, proof in ROWS])
def test_function_and_test_are_there(where, proof):
    for text, mark in ((where, ":"), (proof, "::")):
        file, _, name = text.partition(mark)
        code = (HOME / file).read_text(encoding="utf-8")
        assert not name or re.search(rf"^def {name}\b", code, re.MULTILINE), text


def test_every_module_of_strength_is_listed():
    listed = {where.partition(":")[0] for where, _ in ROWS}
    for name in (
        "bending", "shear", "notches", "bearing", "compression", "combined", "creep",
        "nails", "toe_nails", "adjustment",
    ):  # fmt: skip
        assert f"solver/basis/nds/{name}.py" in listed
