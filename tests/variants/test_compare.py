"""Existing beside proposed: the same numbers as each alone, and what became of them."""

from __future__ import annotations

import csv
import io
import json

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.cli import main
from loadfall.solver.errors import BriefError
from loadfall.solver.solve import solve
from loadfall.solver.units import PSF
from loadfall.solver.variants import compare, propose
from loadfall.solver.variants.compare import EXISTING_LIMIT

from ..remedy.test_remedies import SMALL
from ..solve.houses import changed

PLAIN = changed(
    SMALL,
    purlins=[],
    struts=[],
    rafters={"size": "2x8"},
    loads={"self_weight": False, "roof_dead": "10 psf", "roof_live": "20 psf",
           "attic_live": "0 psf"},
)  # fmt: skip


@pytest.fixture(scope="module")
def existing():
    return solve(read_brief(PLAIN))


@pytest.fixture(scope="module")
def tiled(existing):
    return solve(propose(existing.brief, "tile"))


def test_each_column_is_the_roof_alone(existing, tiled):
    found = compare([existing, tiled])
    for row in found.members:
        assert row.columns[0].use == existing.members[row.key].utilisation
        assert row.columns[1].use == tiled.members[row.key].utilisation
        assert row.columns[0].more is None


def test_more_dead_load_by_hand(existing, tiled):
    """A rafter without a purlin is statically determinate: use goes as its load.

    10 psf on the slope at 6:12 and 20 psf on plan; 14 psf more on the slope:
    (24 x 1.118 + 20) / (10 x 1.118 + 20) - 1 = 50.2 % in bending, same C_D.
    """
    found = compare([existing, tiled])
    slope = 1.25**0.5
    by_hand = (24 * slope + 20) / (10 * slope + 20) - 1
    rows = {row.key: row for row in found.members}
    before, after = (s.members["R-S-03"] for s in (existing, tiled))
    ratio = after.by_check["bending"] / before.by_check["bending"] - 1
    assert ratio == pytest.approx(by_hand, rel=1e-6)
    assert rows["R-S-03"].columns[1].more >= by_hand - 1e-6
    assert rows["R-S-03"] in found.over_five
    assert tiled.brief.loads.roof_dead == pytest.approx(24 * PSF)
    assert set(found.stated) == {"loads.roof_dead"}


def test_a_verdict_that_changes_comes_first(existing, tiled):
    found = compare([existing, tiled])
    changing = [
        key
        for key, member in existing.members.items()
        if tiled.members[key].verdict is not member.verdict
    ]
    assert changing
    assert {row.key for row in found.changed} == set(changing)
    assert all(row.changes for row in found.members[: len(changing)])


def test_a_roof_beside_itself_changes_nothing(existing):
    found = compare([existing, existing])
    assert not found.changed
    assert not found.over_five
    assert found.names == ("Cottage", "Cottage (2)")
    assert all(abs(c.more or 0.0) < 1e-9 for r in found.supports for c in r.columns)


def test_a_wall_taken_out_is_a_member_less_and_more_on_the_others(existing):
    opened = solve(propose(existing.brief, "without:spine"))
    found = compare([existing, opened])
    gone = [row for row in found.members if row.columns[1].verdict is None]
    assert gone, "lapped joists become one piece from plate to plate"
    south = next(row for row in found.supports if row.key == "W-SOUTH")
    assert south.columns[1].more > EXISTING_LIMIT
    with pytest.raises(BriefError, match="spine"):
        propose(existing.brief, "without:hall")
    with pytest.raises(BriefError, match="tile, panels, storage"):
        propose(existing.brief, "thatch")


def test_the_command_writes_what_each_variant_says(tmp_path):
    (tmp_path / "a.json").write_text(json.dumps(PLAIN), "utf-8")
    asked = ["--propose", "panels", "--propose", "storage", "--out", str(tmp_path)]
    assert main(["compare", str(tmp_path / "a.json"), *asked]) == 0
    told = json.loads((tmp_path / "variants.json").read_text("utf-8"))
    assert len(told["variants"]) == 3
    assert told["cautions"]
    lines = list(
        csv.reader(io.StringIO((tmp_path / "variants.csv").read_text("utf-8")))
    )
    assert len(lines) == len(told["members"]) + 1
    page = (tmp_path / "variants.html").read_text("utf-8")
    assert "not checked" in page.lower()
    assert " safe" not in page.replace("safety", "")
    again = solve(
        read_brief(json.loads((tmp_path / "proposed-storage.json").read_text()))
    )
    use = told["members"]["CJ-03-1"]["columns"][2]["utilisation"]
    assert use == pytest.approx(again.members["CJ-03-1"].utilisation)
    assert main(["compare", str(tmp_path / "a.json")]) == 2
