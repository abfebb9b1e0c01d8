"""The sizing block of results.json, and the table that the command prints."""

import json

import pytest
from loadfall.solver.cli import main
from loadfall.solver.report.results import results

from ..connections.roofs import gable, solved


@pytest.fixture(scope="module")
def roof():
    return solved(
        walls=[{"name": "w", "start": ["0 ft", "12 ft"], "end": ["6 ft", "12 ft"]}],
        purlins=[{"name": "S", "slope": "south", "size": "2x8", "from_plate": "6 ft"}],
        struts=[{"purlin": "S", "spacing": "2 ft", "start": "2 ft", "end": "4 ft",
                 "foot": {"on": "ceiling_joist"}}],
    )  # fmt: skip


def test_the_block_is_finite_and_whole(roof):
    found = json.loads(json.dumps(results(roof), allow_nan=False))["sizing"]
    assert set(found["joists"]) == {
        key for key, m in roof.members.items() if m.role == "ceiling_joist"
    }
    assert found["rafters"]["size"] == "2x8"
    assert list(found["rafters"]["sizes"]) == ["2x4", "2x6", "2x8", "2x10", "2x12"]
    assert set(found["purlins"]) == {"P-S"}
    assert set(found["struts"]) == {"ST-S-01", "ST-S-02"}


def test_a_roof_without_analysis_has_no_joists_to_size():
    roof = solved(
        ceiling_joists={"direction": "along"}, footprint={"length": "12 ft"},
    )  # fmt: skip
    found = results(roof)["sizing"]
    assert roof.overall == "no load path"
    assert found["rafters"]["smallest_size"] == "2x8"
    assert set(found["joists"]) <= set(roof.model.members if roof.model else ())


def test_the_command_prints_a_short_table(tmp_path, capsys):
    file = tmp_path / "brief.json"
    file.write_text(json.dumps(gable()), "utf-8")
    assert main(["sizing", str(file)]) == 0
    out = capsys.readouterr().out
    assert "Rafters, 2x8: longest span 12' 0\"" in out
    assert "passes up to 12' 3\" as a simple span (bending)" in out
    assert "Attic load on the whole ceiling" in out
    assert out.rstrip().endswith("decide.")
    assert len(out.splitlines()) < 20


def test_a_deeper_size_that_reaches_less_says_why(tmp_path, capsys):
    # 2x8 is 4 to 1 nominal and counts as held at its ends; 2x10 is 5 to 1, and its
    # free edge has to be counted (NDS 2018 4.4.1.2 b and c).
    file = tmp_path / "brief.json"
    file.write_text(json.dumps(gable(loads={"ceiling_dead": "5 psf"})), "utf-8")
    assert main(["sizing", str(file)]) == 0
    out = capsys.readouterr().out
    assert "2x10 reaches less than 2x8: so deep a piece buckles" in out
    assert "2x12 reaches less" not in out


def test_the_command_tries_purlins(tmp_path, capsys):
    data = gable(
        purlins=[{"name": "S", "slope": "south", "size": "2x8", "from_plate": "6 ft"}],
        struts=[{"purlin": "S", "spacing": "2 ft", "foot": {"on": "point"}}],
    )
    file = tmp_path / "brief.json"
    file.write_text(json.dumps(data), "utf-8")
    assert main(["sizing", str(file), "--purlins"]) == 0
    assert "Purlin S passes" in capsys.readouterr().out


def test_bad_input_ends_with_two(tmp_path):
    assert main(["sizing", str(tmp_path / "none.json")]) == 2
