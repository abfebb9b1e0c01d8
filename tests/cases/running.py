"""Runs the worked cases by the command line, each variant of a brief once."""

from __future__ import annotations

import copy
import json
from functools import cache
from pathlib import Path

import pytest
from loadfall.solver.cli import main

HERE = Path(__file__).parent


def facts(name: str) -> list[dict]:
    """The expected values of a case."""
    return json.loads((HERE / "expected" / f"{name}.json").read_text("utf-8"))["facts"]


def changed(brief: dict, changes: dict) -> dict:
    """A brief with values put in at dotted paths; None takes a field out."""
    brief = copy.deepcopy(brief)
    for path, value in changes.items():
        *way, last = path.split(".")
        place = brief
        for step in way:
            place = place[int(step)] if step.isdigit() else place.setdefault(step, {})
        if value is None:
            place.pop(last, None)
        elif last.isdigit():
            place[int(last)] = value
        else:
            place[last] = value
    return brief


class Case:
    """A brief file and the results of its variants."""

    def __init__(self, file: str, folder: Path):
        self.brief = json.loads((HERE / "briefs" / file).read_text("utf-8"))
        self.folder = folder
        self._run = cache(self._results)

    def __call__(self, changes: dict | None = None) -> dict:
        """results.json of the brief with changes, as the command line writes it."""
        return self._run(json.dumps(changes or {}, sort_keys=True))

    def _results(self, changes: str) -> dict:
        out = self.folder / f"{abs(hash(changes)):x}"
        out.mkdir(exist_ok=True)
        file = out / "brief.json"
        file.write_text(json.dumps(changed(self.brief, json.loads(changes))), "utf-8")
        assert main(["run", str(file), "--out", str(out)]) == 0
        return json.loads((out / "results.json").read_text("utf-8"))


def agree(found, fact: dict) -> None:
    """Compare a value that was read with a fact, to the fact's own tolerance."""
    if isinstance(fact["value"], str):
        assert found == fact["value"], fact["key"]
    else:
        slack = abs(fact["value"]) * max(fact["tol_pct"] / 100, 1e-9)
        assert found == pytest.approx(fact["value"], abs=slack), fact["key"]
