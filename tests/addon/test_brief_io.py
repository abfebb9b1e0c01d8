"""Properties to a brief and back: nothing is lost, whatever the units."""

import dataclasses
import json
import random

import bpy
import pytest
from loadfall.addon.bridge import brief_io, exact
from loadfall.addon.bridge.exact import Grain
from loadfall.addon.cli_demo import bungalow
from loadfall.solver.brief import example_text, parse_brief, read_brief, write_record
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import frame_roof
from loadfall.solver.framing.changes import placed
from loadfall.solver.units import FOOT, INCH

from ..hips import hip

FULL = {
    "name": "Everything stated",
    "units": "metric",
    "footprint": {
        "length": "13.37 m", "width": "8.123456789 m", "shape": "rectangle",
        "outline": [
            {"at": ["0 m", "0 m"], "edge": "gable"},
            {"at": ["1.23456789 m", "0 m"], "pitch": "7:12"},
        ],
    },
    "roof": {
        "pitch": "31.7 deg", "overhang": "333 mm", "rake_overhang": "0.1 m",
        "gambrel": {"upper_pitch": "5.3:12", "from_plate": "1.234 m", "ties": True},
    },
    "rafters": {"size": "47x150 mm", "spacing": "613 mm", "grade": "SS", "plies": 2},
    "ridge": {
        "kind": "beam", "size": "1.75x11.875", "species": "LVL", "grade": "2.0E",
        "plies": 2, "posts": ["4.4567 m", "9 m"],
    },
    "hips": {"size": "2x12", "plies": 2, "stub_joists": True},
    "ceiling_joists": {
        "size": "2x8", "spacing": "16 in", "direction": "across",
        "over_walls": "continuous", "plies_under_struts": 3,
    },
    "walls": [
        {
            "name": "a", "start": ["0 m", "4.01 m"], "end": ["13.37 m", "4.01 m"],
            "openings": [
                {"start": "1 m", "end": "2.2222 m"},
                {
                    "start": "5 m", "end": "6 m",
                    "header": {"size": "2x10", "plies": 3, "jacks": 2,
                               "jack_size": "2x6", "jack_length": "1.9 m"},
                },
            ],
        },
        {
            "name": "b", "start": ["6 m", "0 m"], "end": ["6 m", "8 m"],
            "bearing": False, "joists": "continuous",
        },
    ],
    "beams": [
        {
            "name": "B", "size": "2x10", "start": ["1 m", "4.01 m"],
            "end": ["2.2222 m", "4.01 m"], "carries_joists": False,
            "joists": "lapped",
        }
    ],
    "posts": [
        {"name": "P", "at": ["1.5 m", "4.01 m"], "height": "2.5 m", "foot": "girder"}
    ],
    "purlins": [
        {
            "name": "S", "slope": "south", "size": "2x6", "height": "0.9 m",
            "orientation": "square", "start": "1 m", "end": "12 m",
        },
        {"name": "N", "slope": "north", "size": "2x6", "from_plate": "2 m"},
    ],
    "struts": [
        {
            "purlin": "S", "spacing": "1.3 m", "start": "2 m", "end": "11 m",
            "foot": {"on": "wall", "name": "a"}, "held_at_mid": True,
        },
        {
            "purlin": "S", "spacing": "1.3 m", "start": "2.4 m", "end": "11 m",
            "foot": {"on": "nearest_wall", "otherwise": "ceiling_joist"},
        },
        {
            "purlin": "N", "stiffener": True,
            "foot": {"on": "point", "from_plate": "2.5 m"},
        },
    ],
    "collar_ties": {"size": "1x6", "height_ratio": 0.7, "spacing": "4 ft",
                    "acts": "pull_only"},
    "rafter_ties": {"size": "2x4", "height_ratio": 0.1},
    "heel_joint": {"nail": "16d common", "count": 7},
    "loads": {
        "roof_dead": "0.61 kPa", "roof_dead_on": "plan", "roof_live": "1 kPa",
        "roof_live_reduction": "slope", "ceiling_dead": "0.213 kPa",
        "attic_live": "0.5 kPa", "attic_live_lasting": 0.35, "wind_uplift": "0.4 kPa",
        "self_weight": False,
        "snow": {
            "roof": "1.1 kPa", "exposure": 0.9, "thermal": 1.2, "importance": 1.1,
            "slippery": True, "unbalanced": False,
        },
    },
    "checks": {
        "repetitive_under_struts": True, "ceiling_finish": "plaster",
        "cross_wall_spacing": "4.2 m",
    },
    "overrides": [
        {"member": "CJ-01-1", "size": "2x10", "plies": 2},
        {"member": "CJ-02-1", "removed": True},
        {"member": "CJ-03-1", "species": "Hem-Fir", "grade": "No.1"},
        {"member": "ST-S-02", "near": ["3.3 m", "1.37 m"],
         "foot": {"on": "wall", "name": "a", "at": ["3.1 m", "2 m"]}},
        {"member": "P-S", "from_plate": "1.4 m"},
    ],
    "added_struts": [
        {"name": "extra", "purlin": "S", "at": "2.2 m", "size": "2x6",
         "foot": {"on": "point", "from_plate": "1 m"}, "foot_nails": 3},
    ],
}  # fmt: skip


def scrambled(brief, seed):
    """A brief with lengths, loads and names that nobody would type."""
    rng = random.Random(seed)
    size = brief.footprint
    stretch = rng.uniform(0.9, 1.2)
    return dataclasses.replace(
        brief,
        name=f"Roof {rng.random()}",
        footprint=dataclasses.replace(size, length=size.length * rng.uniform(1.0, 1.5)),
        roof=dataclasses.replace(
            brief.roof,
            pitch=brief.roof.pitch * stretch,
            overhang=rng.uniform(0, 0.6),
        ),
        rafters=dataclasses.replace(brief.rafters, spacing=rng.uniform(0.3, 0.9)),
        loads=dataclasses.replace(
            brief.loads, roof_dead=rng.uniform(100, 2000), roof_live=rng.uniform(0, 3e3)
        ),
    )


LASTING = "loads.attic_live_lasting"

BRIEFS = {
    "example": parse_brief(example_text()),
    "full": read_brief(FULL),
    "bungalow": bungalow(mended=False),
    "mended": bungalow(mended=True),
    "hip": read_brief(
        hip("braced", roof={"form": "hip", "pitch": "5.5:12", "end_pitch": "7.25:12"})
    ),
    "bare": read_brief(
        {
            "footprint": {"length": "20 ft", "width": "20 ft"},
            "roof": {"pitch": "4:12"},
            "rafters": {"size": "2x8"},
        }
    ),
}
for n in range(12):  # as a file holds them
    text = write_record(scrambled(BRIEFS["example"], n))
    BRIEFS[f"scrambled {n}"] = read_brief(text)


@pytest.fixture
def stated():
    return bpy.data.objects.new("Roof", None).loadfall


@pytest.mark.parametrize("scale", [1.0, 0.001, 0.3048])
@pytest.mark.parametrize("name", BRIEFS)
def test_nothing_is_lost(stated, name, scale):
    brief = BRIEFS[name]
    brief_io.write(stated, brief, scale)
    assert same(brief_io.read(stated, scale), brief)


def same(one, other):
    """Whether two briefs hold the very same numbers, and say the same in writing."""
    return one == other and write_record(one) == write_record(other)


def test_one_brief_after_the_other_leaves_nothing_behind(stated):
    for name in ("full", "bare", "bungalow", "full", "example"):
        brief_io.write(stated, BRIEFS[name], 1.0)
        assert same(brief_io.read(stated, 1.0), BRIEFS[name])


def test_every_field_of_the_brief_has_its_property(stated):
    def walk(record, group):
        for spec in dataclasses.fields(record):
            if spec.name == "schema_version":
                continue
            assert spec.name in group.bl_rna.properties, spec
            if group.bl_rna.properties[spec.name].type == "POINTER":
                walk(getattr(record, spec.name), getattr(group, spec.name))

    walk(BRIEFS["full"], stated)


def test_a_typed_length_is_what_was_typed(stated):
    brief_io.write(stated, BRIEFS["bare"], 1.0)
    for metres in (24 * FOOT + 6.5 * INCH, 7.25, 8.1234, 310 * INCH):
        stated.footprint.width = metres
        width = brief_io.read(stated, 1.0).footprint.width
        assert width == pytest.approx(metres, rel=1e-12)


def test_what_was_kept_aside_counts_only_while_it_shows(stated):
    brief_io.write(stated, BRIEFS["full"], 1.0)
    assert stated.footprint.exact
    stated.footprint.width = 9.25
    assert brief_io.read(stated, 1.0).footprint.width == 9.25


def test_an_edit_of_one_field_changes_that_field_alone(stated):
    brief_io.write(stated, BRIEFS["full"], 1.0)
    stated.roof.pitch = 7.0
    brief = BRIEFS["full"]
    changed = dataclasses.replace(brief.roof, pitch=7 / 12)
    assert same(brief_io.read(stated, 1.0), dataclasses.replace(brief, roof=changed))


def test_other_units_state_the_same_loads(stated):
    brief_io.write(stated, BRIEFS["example"], 1.0)
    assert stated.loads.roof_dead == 10.0
    stated.units = "METRIC"
    assert stated.loads.roof_dead == pytest.approx(0.4788, abs=1e-4)
    assert brief_io.read(stated, 1.0).loads == BRIEFS["example"].loads
    stated.loads.roof_dead = 0.75
    assert brief_io.read(stated, 1.0).loads.roof_dead == 750.0
    stated.units = "IMPERIAL"
    assert stated.loads.roof_dead == pytest.approx(15.664, abs=1e-3)
    assert brief_io.read(stated, 1.0).loads.roof_dead == 750.0


@pytest.mark.parametrize(
    ("change", "field"),
    [
        (lambda r: setattr(r.roof, "pitch", 0.0), "roof.pitch"),
        (lambda r: setattr(r.roof, "pitch", 30.0), "roof.pitch"),
        (lambda r: setattr(r.roof, "pitch", float("nan")), "roof.pitch"),
        (lambda r: setattr(r.footprint, "length", float("inf")), "footprint.length"),
        (lambda r: setattr(r.footprint, "width", -3.0), "footprint.width"),
        (lambda r: setattr(r.rafters, "size", "2x7"), "rafters.size"),
        (lambda r: setattr(r.rafters, "size", ""), "rafters.size"),
        (lambda r: setattr(r.rafters, "grade", "Best"), "rafters.grade"),
        (lambda r: setattr(r.ridge, "species", "Oak"), "ridge.species"),
        (lambda r: setattr(r.rafters, "spacing", 0.0), "rafters.spacing"),
        (lambda r: setattr(r.walls[0], "end", (99.0, 4.0)), "walls[0].end"),
        (lambda r: setattr(r.purlins[0], "from_plate", 9.0), "purlins[0].from_plate"),
        (lambda r: setattr(r.struts[0], "purlin", "X"), "struts[0].purlin"),
        (lambda r: setattr(r.struts[1].foot, "on", "POST"), "struts[1].foot.name"),
        (lambda r: setattr(r.loads, "roof_dead", 1e6), "loads.roof_dead"),
        (lambda r: setattr(r.loads, "attic_live_lasting", 2.0), LASTING),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_refused_by_name(stated, change, field):
    brief_io.write(stated, BRIEFS["example"], 1.0)
    change(stated)
    with pytest.raises(BriefError) as caught:
        brief_io.read(stated, 1.0)
    assert caught.value.field == field
    assert field in str(caught.value)


def test_what_does_not_count_is_not_asked(stated):
    """A wall's name stays in its field while the struts stand on joists."""
    brief_io.write(stated, BRIEFS["example"], 1.0)
    stated.struts[0].foot.name = "no such wall"
    assert brief_io.read(stated, 1.0).struts[0].foot.name is None


@pytest.mark.parametrize("grain", Grain)
def test_the_nearest_written_number_shows_the_same(grain):
    rng = random.Random(1)
    for factor in (1.0, 0.0254, 47.88):
        for _ in range(300):
            shown = exact.to_property(rng.uniform(0, 50), 1.0)
            unit = 1 / 12 if grain is Grain.PITCH else factor
            value = exact.nearest_written(shown, grain, unit)
            assert exact.to_property(value, unit) == shown


def test_briefs_travel_as_files(scene, roof, tmp_path):
    path = tmp_path / "brief.json"
    path.write_text(json.dumps(FULL), encoding="utf-8")
    assert bpy.ops.loadfall.import_brief(filepath=str(path)) == {"FINISHED"}
    made = bpy.context.object
    assert made != roof
    full = placed(BRIEFS["full"], frame_roof(BRIEFS["full"]))  # kept to its sticks
    assert same(brief_io.read(made.loadfall, 1.0), full)
    again = tmp_path / "again.json"
    assert bpy.ops.loadfall.export_brief(filepath=str(again)) == {"FINISHED"}
    assert same(parse_brief(again.read_text("utf-8")), full)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('{"footprint": {"length": "20 ft"', "JSON"),
        ('{"schema_version": 99}', "newer Loadfall"),
        ('{"roof": {"pitch": "0:12"}}', "footprint"),
        ("[]", "object"),
    ],
)
def test_a_bad_file_leaves_the_scene_as_it_was(scene, roof, tmp_path, text, words):
    before = sorted(o.name for o in bpy.data.objects)
    path = tmp_path / "bad.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(RuntimeError, match=words):
        bpy.ops.loadfall.import_brief(filepath=str(path))
    assert sorted(o.name for o in bpy.data.objects) == before
