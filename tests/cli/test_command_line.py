"""The command line: what it writes, what it says, how it ends, what it leaves alone."""

from __future__ import annotations

import json

import jsonschema
import pytest
from loadfall.solver import cli
from loadfall.solver.brief import schema
from loadfall.solver.cli import main
from loadfall.solver.report.cautions import CAUTION, CAUTIONS

from ..solve.houses import COTTAGE, changed

SMALL = changed(
    COTTAGE,
    footprint={"length": "12 ft", "width": "20 ft"},
    walls=[{"name": "spine", "start": ["0 ft", "10 ft"], "end": ["12 ft", "10 ft"]}],
    purlins=[p | {"from_plate": "5 ft"} for p in COTTAGE["purlins"]],
    loads={"roof_dead": "25 psf", "roof_live": "30 psf"},
)
STRONG = changed(
    SMALL,
    rafters={"size": "2x10"},
    ceiling_joists={"size": "2x10"},
    purlins=[],
    struts=[],
)


@pytest.fixture
def run(tmp_path, capsys):
    """Run a brief into a folder; give status, results or None, and what was said."""

    def go(brief, *more, out="out"):
        text = brief if isinstance(brief, str) else json.dumps(brief)
        file = tmp_path / "brief.json"
        file.write_text(text, "utf-8")
        status = main(["run", str(file), "--out", str(tmp_path / out), *more])
        said = capsys.readouterr()
        written = tmp_path / out / "results.json"
        found = json.loads(written.read_text("utf-8")) if written.exists() else None
        return status, found, said

    go.folder = tmp_path
    return go


def test_a_run_writes_results_and_report_and_says_the_worst(run):
    status, found, said = run(SMALL)
    assert status == 0
    assert found["overall"] == "over its limit"
    assert found["worst_member"] in said.out
    assert f"{found['worst_utilisation']:.2f} x its limit" in said.out
    assert CAUTION in said.out
    assert said.err == ""
    page = (run.folder / "out" / "report.html").read_text("utf-8")
    assert found["worst_member"] in page
    assert "engineer" in page


def test_over_limit_is_a_result_unless_a_ratio_is_given(run):
    status, found, _ = run(SMALL)
    worst = found["worst_utilisation"]
    assert worst > 1
    assert status == 0
    assert run(SMALL, "--fail-over", "1.0")[0] == 3
    assert run(SMALL, "--fail-over", f"{worst * 1.001}")[0] == 0
    assert run(SMALL, "--fail-over", f"{worst * 0.999}")[0] == 3


def test_a_roof_that_passes(run):
    status, found, said = run(STRONG, "--fail-over", "1")
    assert status == 0
    assert found["worst_utilisation"] <= 1
    assert found["overall"] not in ("over its limit", "no load path")
    assert "safe" not in said.out


def test_a_missing_load_path_fails_any_ratio_and_is_a_result_without(run):
    loose = changed(STRONG, ceiling_joists=None, walls=[])
    assert run(loose)[0] == 0
    status, found, said = run(loose, "--fail-over", "1e6")
    assert status == 3
    assert found["overall"] == "no load path"
    assert "no tie and no structural ridge" in said.out


@pytest.mark.parametrize(
    ("part", "field"),
    [
        ({"roof": {"pitch": "0:12"}}, "roof.pitch"),
        ({"rafters": {"grade": "No.9"}}, "rafters.grade"),
        ({"purlins": [SMALL["purlins"][0] | {"height": "2 ft"}]}, "purlins[0]"),
        ({"schema_version": 99}, "schema_version"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_bad_input_ends_with_2_and_one_line_that_names_the_field(run, part, field):
    status, found, said = run(changed(SMALL, **part))
    assert status == 2
    assert found is None
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert said.err.startswith(f"loadfall: {field}")
    assert "allowed: " in said.err
    assert not (run.folder / "out").exists()


def test_a_refusal_overwrites_nothing(run):
    run(SMALL)
    folder = run.folder / "out"
    before = {p.name: p.read_bytes() for p in folder.iterdir()}
    assert set(before) == {"results.json", "report.html"}
    whole = json.dumps(SMALL)
    for text in (whole[: len(whole) // 2], json.dumps(SMALL | {"walls": 3}), ""):
        assert run(text)[0] == 2
        assert {p.name: p.read_bytes() for p in folder.iterdir()} == before


def test_a_report_that_cannot_be_made_overwrites_nothing(run, monkeypatch):
    run(SMALL)
    folder = run.folder / "out"
    before = {p.name: p.read_bytes() for p in folder.iterdir()}

    def fail(_):
        raise ValueError("no page")

    monkeypatch.setattr(cli, "report_html", fail)
    with pytest.raises(ValueError, match="no page"):
        run(STRONG)
    assert {p.name: p.read_bytes() for p in folder.iterdir()} == before


def test_files_that_cannot_be_read_or_written(run, tmp_path, capsys):
    assert main(["run", str(tmp_path / "none.json")]) == 2
    assert "none.json" in capsys.readouterr().err
    assert main(["run", str(tmp_path)]) == 2
    (tmp_path / "out").write_text("a file where the folder should be")
    status, _, said = 0, None, None
    file = tmp_path / "brief.json"
    file.write_text(json.dumps(SMALL), "utf-8")
    status = main(["run", str(file), "--out", str(tmp_path / "out")])
    said = capsys.readouterr()
    assert status == 2
    assert "out" in said.err
    assert "Traceback" not in said.err


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["fly"],
        ["run"],
        ["run", "x.json", "--fail-over", "0"],
        ["run", "x.json", "--fail-over", "-1"],
        ["run", "x.json", "--fail-over", "nan"],
        ["run", "x.json", "--fail-over", "much"],
    ],
    ids=" ".join,
)
def test_wrong_usage_ends_with_2(arguments, capsys):
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == 2
    assert "usage: loadfall" in capsys.readouterr().err


def test_the_schema_is_printed(capsys):
    assert main(["schema"]) == 0
    printed = json.loads(capsys.readouterr().out)
    assert printed == json.loads(json.dumps(schema()))
    jsonschema.Draft202012Validator.check_schema(printed)


def test_the_example_runs_as_printed(run, capsys):
    assert main(["example"]) == 0
    text = capsys.readouterr().out
    status, found, _ = run(text)
    assert status == 0
    assert found["no_load_path"] == []
    assert found["brief"] == json.loads(text)


def test_help_carries_the_caution(capsys):
    with pytest.raises(SystemExit) as ended:
        main(["--help"])
    assert ended.value.code == 0
    said = " ".join(capsys.readouterr().out.split())
    assert CAUTION in said


def test_results_carry_cautions_units_and_balance(run):
    _, found, _ = run(SMALL)
    assert found["cautions"] == list(CAUTIONS)
    assert found["not_checked"]
    assert found["units"]["force"] == "lb"
    balance = found["equilibrium"]
    for name in ("residual", "reactions_less_loads", "member_in_less_out"):
        assert abs(balance[name]) < 1e-9
    assert abs(balance["shares_less_one"]) < 1e-9
    for patch in found["patches"]["patches"]:
        assert sum(patch["shares"].values()) == pytest.approx(1, abs=1e-9)


def test_names_from_the_brief_cannot_write_the_page(run):
    name = "<script>alert(1)</script>&\"'"
    purlins = [SMALL["purlins"][0] | {"name": name}, SMALL["purlins"][1]]
    struts = [SMALL["struts"][0] | {"purlin": name}]
    walls = [SMALL["walls"][0] | {"name": name}]
    brief = changed(SMALL, purlins=purlins, struts=struts, walls=walls) | {"name": name}
    status, found, _ = run(brief)
    assert status == 0
    assert f"P-{name}" in found["members"]
    assert "<script>alert" not in (run.folder / "out" / "report.html").read_text(
        "utf-8"
    )
