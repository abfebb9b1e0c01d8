"""Briefs as documents: they read back, the schema knows them, units are only words."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from loadfall.solver.brief import (
    example_text,
    load_brief,
    parse_brief,
    read_brief,
    save_text,
    schema,
)
from loadfall.solver.errors import BriefError
from loadfall.solver.solve import solve
from loadfall.solver.units import (
    FOOT,
    INCH,
    PSF,
    System,
    parse_pitch,
    show_force,
    show_line_load,
    show_moment,
    show_pitch,
    show_pressure,
    show_stress,
)

from ..solve.houses import BUNGALOW, COTTAGE
from ..solve.strategies import briefs

TESTS = Path(__file__).resolve().parents[1]
CASES = sorted((TESTS / "cases" / "briefs").glob("*.json"))
VALIDATOR = jsonschema.Draft202012Validator(schema())


def test_the_schema_is_one():
    jsonschema.Draft202012Validator.check_schema(schema())


def test_the_example_reads_validates_and_stands():
    text = example_text()
    VALIDATOR.validate(json.loads(text))
    solution = solve(parse_brief(text))
    assert not solution.path.faults
    assert save_text(parse_brief(text)) == text


@pytest.mark.parametrize("file", CASES, ids=lambda f: f.stem)
def test_the_briefs_of_the_worked_cases_validate(file):
    data = json.loads(file.read_text("utf-8"))
    VALIDATOR.validate(data)
    assert read_brief(data) == load_brief(file)


@pytest.mark.parametrize("house", [COTTAGE, BUNGALOW], ids=["cottage", "bungalow"])
def test_a_brief_reads_back_as_itself(house):
    brief = read_brief(house)
    text = save_text(brief)
    assert parse_brief(text) == brief
    assert save_text(parse_brief(text)) == text
    VALIDATOR.validate(json.loads(text))


@settings(max_examples=30, deadline=None, derandomize=True)
@given(briefs())
def test_any_brief_reads_back_as_itself(data):
    try:
        brief = read_brief(data)
    except BriefError:
        return
    VALIDATOR.validate(data)
    text = save_text(brief)
    VALIDATOR.validate(json.loads(text))
    assert parse_brief(text) == brief


def test_the_schema_refuses_what_reading_refuses_of_shape():
    for part in ({"colour": "red"}, {"walls": 3}, {"schema_version": "1"}):
        assert list(VALIDATOR.iter_errors(COTTAGE | part))
        with pytest.raises(BriefError):
            read_brief(COTTAGE | part)


def described(node):
    """Every property of every object in the schema, with its path."""
    for name, entry in node.get("properties", {}).items():
        yield name, entry
        for part in (entry, entry.get("items", {}), *entry.get("anyOf", [])):
            if isinstance(part, dict):
                yield from ((f"{name}.{k}", v) for k, v in described(part))


def test_every_field_is_explained():
    found = list(described(schema()))
    assert len(found) > 120
    for path, entry in found:
        assert len(entry.get("description", "")) > 3, path


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("24 in", 24 * INCH),
        ("7 ft 6 in", 7.5 * FOOT),
        ("7' 6 1/2\"", 7.5 * FOOT + 0.5 * INCH),
        ("7ft6in", 7.5 * FOOT),
        ("5-1/2 in", 5.5 * INCH),
        ("1/2 in", 0.5 * INCH),
        ("2.286 m", 2.286),
        ("2286 mm", 2.286),
        ("228.6 cm", 2.286),
    ],
)
def test_words_for_a_length(text, metres):
    brief = read_brief(COTTAGE | {"footprint": {"length": "32 ft", "width": "26 ft"}})
    walls = [{"name": "w", "start": [text, "0 ft"], "end": [text, "26 ft"]}]
    wall = read_brief(COTTAGE | {"walls": walls, "struts": []}).walls[0]
    assert wall.start[0] == pytest.approx(metres, rel=1e-15)
    assert brief.footprint.width == pytest.approx(26 * FOOT)


def test_words_for_a_load_and_a_pitch():
    for text in ("20 psf", "0.957605 kPa", "957.605 N/m2"):
        loads = COTTAGE["loads"] | {"roof_live": text}
        brief = read_brief(COTTAGE | {"loads": loads})
        assert brief.loads.roof_live == pytest.approx(20 * PSF, rel=1e-6)
    for text in ("6:12", "6/12", "6 in 12", "26.5650511770780 deg"):
        brief = read_brief(COTTAGE | {"roof": {"pitch": text}})
        assert brief.roof.pitch == pytest.approx(0.5, rel=1e-12)


def test_a_file_that_is_not_there_or_not_text(tmp_path):
    for path in (tmp_path / "none.json", tmp_path):
        with pytest.raises(BriefError):
            load_brief(path)
    bad = tmp_path / "bad.json"
    bad.write_bytes(b"\xff\xfe\x00{")
    with pytest.raises(BriefError):
        load_brief(bad)
    big = tmp_path / "big.json"
    big.write_bytes(b" " * 5_000_000)
    with pytest.raises(BriefError):
        load_brief(big)
    marked = tmp_path / "marked.json"
    marked.write_bytes(b"\xef\xbb\xbf" + json.dumps(COTTAGE).encode())
    assert load_brief(marked) == read_brief(COTTAGE)


@pytest.mark.parametrize(
    ("length", "width", "stated", "units"),
    [
        ("32 ft", "26 ft", {}, "imperial"),
        ("9.6 m", "8200 mm", {}, "metric"),
        ("9.6 m", "8200 mm", {"units": "imperial"}, "imperial"),
        ("9.6 m", "26' 6\"", {}, "imperial"),
    ],
)
def test_units_left_out_are_those_of_the_footprint(length, width, stated, units):
    brief = read_brief(
        {
            "footprint": {"length": length, "width": width},
            "roof": {"pitch": "6:12"},
            "rafters": {"size": "2x6", "spacing": "24 in"},
        }
        | stated
    )
    assert brief.units == units


@pytest.mark.parametrize("text", ["6:12", "26.6 deg", "38 deg", "3.5:12"])
def test_a_pitch_reads_back_as_it_is_shown(text):
    slope = parse_pitch(text)
    for system in System:
        assert parse_pitch(show_pitch(slope, system)) == pytest.approx(slope, rel=4e-3)
    assert show_pitch(parse_pitch("38 deg"), System.METRIC) == "38°"


def test_a_pitch_in_degrees_is_written_as_it_was_stated():
    roof = {"pitch": "38 deg"}
    brief = read_brief(COTTAGE | {"roof": roof})
    assert json.loads(save_text(brief))["roof"]["pitch"] == "38 deg"
    assert parse_brief(save_text(brief)) == brief


@pytest.mark.parametrize("system", System)
def test_nothing_shown_is_minus_zero(system):
    for show in (show_force, show_line_load, show_moment, show_pressure, show_stress):
        for value in (-0.0, -1e-3):
            assert not show(value, system).startswith("-")
