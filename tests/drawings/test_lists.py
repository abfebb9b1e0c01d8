"""The lists, read again by Python's own CSV reader."""

from __future__ import annotations

import csv
from fractions import Fraction

import pytest
from loadfall.solver.brief import example_text
from loadfall.solver.cli import main
from loadfall.solver.drawings.write import write_lists
from loadfall.solver.report import results
from loadfall.solver.report.cautions import CAUTION
from loadfall.solver.units import FOOT, INCH

from ..report.briefs import ALL, solved


def read(path):
    """Rows and notes of a list."""
    with path.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    first = next(iter(rows[0]))
    notes = [r[first] for r in rows if r[first].startswith("NOTE: ")]
    return [r for r in rows if not r[first].startswith("NOTE: ")], notes


@pytest.fixture(params=list(ALL))
def lists(request, tmp_path):
    solution = solved(request.param)
    write_lists(solution, tmp_path)
    found = {p.stem: read(p) for p in tmp_path.glob("*.csv")}
    assert set(found) == {"schedule", "cut_list", "buy_list"}
    return solution, found


def test_board_feet_add_up_to_the_results(lists):
    solution, found = lists
    lumber = results(solution)["lumber"]
    for name, column, wanted in (
        ("schedule", "board_feet", lumber["board_feet"]),
        ("cut_list", "board_feet", lumber["board_feet"]),
        ("buy_list", "board_feet", lumber["board_feet_to_buy"]),
    ):
        rows, _ = found[name]
        assert sum(float(r[column]) for r in rows) == pytest.approx(wanted, abs=0.05)
    assert len(found["cut_list"][0]) == lumber["pieces"]
    assert sum(int(r["pieces"]) for r in found["schedule"][0]) == lumber["pieces"]
    assert sum(int(r["count"]) for r in found["buy_list"][0]) == lumber["sticks_to_buy"]


def test_every_member_is_listed_and_every_list_is_cautious(lists):
    solution, found = lists
    keys = {r["member"] for r in found["cut_list"][0]}
    assert keys == set(solution.framing.members)
    for _, notes in found.values():
        assert any(CAUTION in note for note in notes)
        assert any("measure on site" in note for note in notes)


def test_lengths_are_written_three_ways_that_agree(lists):
    _, found = lists
    for row in found["cut_list"][0]:
        metres = float(row["length_mm"]) / 1e3
        assert float(row["length_in"]) * INCH == pytest.approx(metres, abs=1e-4)
        assert read_length(row["length"]) == pytest.approx(metres, abs=INCH / 30)


def read_length(text):
    """Metres of a length as written."""
    if text.endswith(" m"):
        return float(text[:-2])
    feet, _, rest = text.rpartition("' ")
    inches = sum(float(Fraction(part)) for part in rest.rstrip('"').split())
    return float(feet or 0) * FOOT + inches * INCH


def test_the_command_line_writes_the_lists(tmp_path, capsys):
    brief = tmp_path / "brief.json"
    brief.write_text(example_text(), "utf-8")
    assert main(["draw", str(brief), "--out", str(tmp_path / "out")]) == 0
    said = capsys.readouterr().out
    assert CAUTION in said
    for name in ("schedule.csv", "cut_list.csv", "buy_list.csv"):
        assert name in said
        assert read(tmp_path / "out" / name)[0]


def test_the_command_line_refuses_a_brief_that_does_not_read(tmp_path, capsys):
    brief = tmp_path / "brief.json"
    brief.write_text("{", "utf-8")
    assert main(["draw", str(brief), "--out", str(tmp_path / "out")]) == 2
    assert "loadfall:" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
