"""Every form over a rectangle goes through the command line, to its last page."""

import json

import pytest
from loadfall.solver import cli

from ..outlines import RECTANGLES, rectangle


@pytest.mark.parametrize("name", RECTANGLES)
def test_a_form_is_run_and_drawn(name, tmp_path):
    brief = tmp_path / "roof.json"
    brief.write_text(json.dumps(rectangle(name, 20, 18)), encoding="utf-8")
    assert cli.main(["run", str(brief), "--out", str(tmp_path / "run")]) == 0
    results = json.loads((tmp_path / "run" / "results.json").read_text("utf-8"))
    assert not results.get("refusal")
    assert (tmp_path / "run" / "report.html").stat().st_size > 10_000
    assert cli.main(["draw", str(brief), "--out", str(tmp_path / "lists")]) == 0
