"""Every field out of range and every contradiction, refused by the field's name."""

from __future__ import annotations

import copy
import dataclasses
import json
from itertools import pairwise

import pytest
from loadfall.solver.brief import model, parse_brief, read_brief
from loadfall.solver.errors import BriefError

from ..solve.houses import BUNGALOW, changed

FULL = changed(
    BUNGALOW,
    posts=[{"name": "A", "at": ["22 ft", "15 ft"]}],
    collar_ties={"height_ratio": 0.7},
    rafter_ties={"height_ratio": 0.2},
    heel_joint={"nail": "16d common"},
    checks={"cross_wall_spacing": "20 ft"},
    hip_braces=[{"foot": {"on": "wall", "name": "spine"}}],
    trusses=[{"name": "middle"}],
    overrides=[{"member": "CJ-03-1", "plies": 2, "foot": {"on": "ceiling_joist"}}],
    added_struts=[
        {"name": "extra", "purlin": "S", "at": "3 ft", "foot": {"on": "ceiling_joist"}}
    ],
    roof=BUNGALOW["roof"]
    | {"gambrel": {"upper_pitch": "4:12", "from_plate": "5 ft", "piece_size": "2x4"}},
    footprint=BUNGALOW["footprint"]
    | {"shape": "rectangle", "outline": [{"at": ["0 ft", "0 ft"]}]},
)


WING = {"side": "north", "start": "2 ft", "width": "10 ft", "length": "5 ft"}


def put(data, path, value):
    """The brief with a value at a dotted path; whole parts on the way are made."""
    data = copy.deepcopy(data)
    *way, last = path.replace("[", ".").replace("]", "").split(".")
    place = data
    for step, after in pairwise([*way, last]):
        fresh = [dict(WING)] if after == "0" else {}
        place = place[int(step)] if step.isdigit() else place.setdefault(step, fresh)
    if last.isdigit():
        place[int(last)] = value
    else:
        place[last] = value
    return data


def refused(data, field):
    """The error, which names the field and says value, what is allowed, the way out."""
    with pytest.raises(BriefError) as caught:
        read_brief(data)
    error = caught.value
    assert error.field == field
    assert error.allowed
    assert not error.allowed.endswith(".")
    assert str(error).startswith(f"{field}: ")
    assert error.allowed in str(error)
    assert error.remedy == "" or error.remedy.endswith((".", "?"))
    return error


OUT_OF_RANGE = [
    ("schema_version", 0),
    ("schema_version", 2),
    ("name", ""),
    ("name", "x" * 201),
    ("units", "cubits"),
    ("footprint.shape", "circle"),
    ("footprint.length", "3 ft 11 in"),
    ("footprint.length", "401 ft"),
    ("footprint.length", "-44 ft"),
    ("footprint.width", "0 ft"),
    ("footprint.width", "121 ft"),
    ("roof.form", "onion"),
    ("roof.pitch", "0:12"),
    ("roof.pitch", "25:12"),
    ("roof.pitch", "-5:12"),
    ("roof.pitch", "5:0"),
    ("roof.pitch", "90 deg"),
    ("roof.overhang", "-1 in"),
    ("roof.overhang", "49 in"),
    ("roof.rake_overhang", "25 in"),
    ("rafters.size", "2x7"),
    ("rafters.species", "Balsa"),
    ("rafters.grade", "No.9"),
    ("rafters.plies", 0),
    ("rafters.plies", 7),
    ("rafters.spacing", "5 in"),
    ("rafters.spacing", "97 in"),
    ("ridge.kind", "rope"),
    ("ridge.size", "99x99"),
    ("ceiling_joists.spacing", "0 in"),
    ("ceiling_joists.direction", "up"),
    ("ceiling_joists.over_walls", "glued"),
    ("ceiling_joists.plies_under_struts", 9),
    ("walls[0].bearing", "yes"),
    ("walls[0].openings[0].start", "-1 ft"),
    ("beams[0].size", "1.75"),
    ("beams[0].grade", "No.2"),
    ("beams[0].carries_joists", 1),
    ("posts[0].height", "11 in"),
    ("posts[0].height", "41 ft"),
    ("posts[0].foot", "sand"),
    ("purlins[0].slope", "west"),
    ("purlins[0].orientation", "flat"),
    ("purlins[0].from_plate", "-8 ft"),
    ("purlins[0].from_plate", "0 ft"),
    ("purlins[0].start", "-1 ft"),
    ("struts[0].spacing", "5 in"),
    ("struts[0].spacing", "21 ft"),
    ("struts[0].foot.on", "cloud"),
    ("struts[0].foot.from_plate", "-1 ft"),
    ("struts[0].held_at_mid", None),
    ("collar_ties.height_ratio", 0.96),
    ("collar_ties.spacing", "21 ft"),
    ("collar_ties.acts", "push"),
    ("rafter_ties.height_ratio", -0.1),
    ("heel_joint.nail", "hope"),
    ("heel_joint.count", 0),
    ("heel_joint.count", 201),
    ("loads.roof_dead", "-1 psf"),
    ("loads.roof_dead", "1001 psf"),
    ("loads.roof_dead_on", "paper"),
    ("loads.roof_live", "10 lb"),
    ("loads.roof_live_reduction", "some"),
    ("loads.ceiling_dead", 5),
    ("loads.attic_live", "twenty psf"),
    ("loads.attic_live_lasting", 1.1),
    ("loads.attic_live_lasting", "120 %"),
    ("loads.wind_uplift", "1e9 psf"),
    ("loads.self_weight", "true"),
    ("loads.snow.exposure", 0.4),
    ("loads.snow.thermal", 1.6),
    ("loads.snow.importance", 0),
    ("loads.snow.slippery", "no"),
    ("checks.ceiling_finish", "silk"),
    ("checks.cross_wall_spacing", "0 ft"),
    ("checks.repetitive_under_struts", 0),
    ("overrides[0].plies", 0),
    ("overrides[0].member", " "),
]


@pytest.mark.parametrize(("path", "value"), OUT_OF_RANGE, ids=lambda v: str(v)[:40])
def test_a_value_out_of_range(path, value):
    data = put(FULL, path, value)
    if path.startswith("loads.snow"):
        data["loads"]["snow"].setdefault("ground", "20 psf")
    error = refused(data, path)
    assert repr(value)[:40] in str(error) or error.value is not None


OUTSIDE = ["45 ft", "15 ft"]
CONTRADICTIONS = {
    "a wall outside the plan": ("walls[0].end", OUTSIDE, "walls[0].end"),
    "a wall of no length": ("walls[0].end", ["0 ft", "15 ft"], "walls[0].end"),
    "a wall with an outer name": ("walls[0].name", "South", "walls[0].name"),
    "a gap past the wall": (
        "walls[0].openings[0].end", "45 ft", "walls[0].openings[0].end",
    ),
    "a gap turned around": (
        "walls[0].openings[0].end", "13 ft", "walls[0].openings[0].end",
    ),
    "a beam outside": ("beams[0].start", ["-1 ft", "15 ft"], "beams[0].start"),
    "a beam askew": ("beams[0].start", ["14 ft", "14 ft"], "beams[0].end"),
    "a post outside": ("posts[0].at", ["22 ft", "31 ft"], "posts[0].at"),
    "posts under a board": ("ridge.posts", ["10 ft"], "ridge.posts[0]"),
    "a purlin above the ridge": (
        "purlins[0].from_plate", "15 ft", "purlins[0].from_plate",
    ),
    "a purlin on the plate": (
        "purlins[0].from_plate", "3 in", "purlins[0].from_plate",
    ),
    "a purlin placed twice": (
        "purlins[0].height", "3 ft", "purlins[0].from_plate",
    ),
    "a purlin past the house": ("purlins[0].end", "45 ft", "purlins[0].end"),
    "a purlin that ends before it begins": ("purlins[0].end", "0 ft", "purlins[0].end"),
    "two purlins of one name": ("purlins[1].name", "S", "purlins[1].name"),
    "struts under no purlin": ("struts[0].purlin", "X", "struts[0].purlin"),
    "struts that end before they begin": ("struts[2].end", "15 ft", "struts[2].end"),
    "struts that begin beyond the purlin": (
        "struts[0].start", "44 ft 1 in", "struts[0].start",
    ),
    "a wall that is not there": ("struts[1].foot.name", "X", "struts[1].foot.name"),
    "a wall without a name": ("struts[1].foot.name", None, "struts[1].foot.name"),
    "a joist with a name": ("struts[0].foot.name", "CJ-01-1", "struts[0].foot.name"),
    "a foot placed twice": (
        "struts[1].foot.from_plate", "15 ft", "struts[1].foot.from_plate",
    ),
    "a foot outside": (
        "struts[0].foot.from_plate", "30 ft 1 in", "struts[0].foot.from_plate",
    ),
    "no joists to stand on": ("ceiling_joists", None, "struts[0].foot.on"),
    "a collar tie as low as a rafter tie": (
        "collar_ties.height_ratio", 0.1, "collar_ties.height_ratio",
    ),
    "snow stated twice": (
        "loads.snow", {"ground": "20 psf", "roof": "20 psf"}, "loads.snow.ground",
    ),
    "snow without a number": ("loads.snow", {}, "loads.snow.ground"),
    "an override of an unknown size": ("overrides[0].size", "2x7", "overrides[0].size"),
    "an override of an unknown grade": (
        "overrides[0].grade", "No.9", "overrides[0].grade",
    ),
    "an override of a grade that the species lacks": (
        "overrides[0].species", "LVL", "overrides[0].grade",
    ),
    "too many rafters": ("rafters.spacing", "1 mm", "rafters.spacing"),
}  # fmt: skip


@pytest.mark.parametrize("name", CONTRADICTIONS)
def test_a_contradiction(name):
    path, value, field = CONTRADICTIONS[name]
    refused(put(FULL, path, value), field)


def test_the_whole_brief_reads_before_anything_is_broken():
    assert read_brief(FULL).posts[0].name == "A"


def test_two_purlins_in_one_place():
    """Side by side on one slope they need 3 in; end to end they may share a line."""
    twin = FULL["purlins"][0] | {"name": "T", "from_plate": "8 ft 2 in"}
    refused(changed(FULL, purlins=[*FULL["purlins"], twin]), "purlins[2].from_plate")
    other = twin | {"slope": "north"}
    read_brief(changed(FULL, purlins=[*FULL["purlins"], other]))
    parts = [
        FULL["purlins"][0] | {"end": "20 ft"},
        FULL["purlins"][1],
        FULL["purlins"][0] | {"name": "T", "start": "20 ft"},
    ]
    read_brief(changed(FULL, purlins=parts))


def test_a_strut_of_zero_length():
    """A purlin 4 in above the ceiling leaves its struts no length."""
    flat = changed(FULL, roof={"pitch": "1:12"})
    flat["purlins"][0]["from_plate"] = "4 ft"
    error = refused(flat, "struts[0].purlin")
    assert "no length" in str(error)


def test_a_purlin_too_short_for_any_strut_of_its_group():
    short = FULL["purlins"][0] | {"start": "10 ft", "end": "13 ft"}
    struts = [{"purlin": "S", "spacing": "8 ft", "foot": {"on": "point"}}]
    purlins = [short, FULL["purlins"][1]]
    refused(changed(FULL, purlins=purlins, struts=struts), "struts[0].spacing")


def test_gaps_that_overlap_are_named_by_their_own_number():
    gaps = [{"start": "20 ft", "end": "30 ft"}, {"start": "14 ft", "end": "21 ft"}]
    refused(put(FULL, "walls[0].openings", gaps), "walls[0].openings[0].start")
    gaps = [{"start": "20 ft", "end": "30 ft"}, {"start": "14 ft", "end": "13 ft"}]
    refused(put(FULL, "walls[0].openings", gaps), "walls[0].openings[1].end")


def test_a_roof_without_any_weight():
    loads = {"roof_dead": "0 psf", "self_weight": False}
    refused(changed(FULL, loads=loads), "loads.roof_dead")


@pytest.mark.parametrize("name", ["walls", "beams", "posts"])
def test_one_name_twice(name):
    item = FULL[name][0]
    refused(changed(FULL, **{name: [item, item]}), f"{name}[1].name")


def test_one_override_twice():
    item = FULL["overrides"][0]
    refused(changed(FULL, overrides=[item, item]), "overrides[1].member")


# ---- every field, by what it holds -------------------------------------------------


def fields(cls=model.Brief, path=""):
    """(path, record class, field) of every field; lists by their first entry."""
    for spec in dataclasses.fields(cls):
        here = f"{path}.{spec.name}".lstrip(".")
        yield here, cls, spec
        kind = spec.metadata["kind"]
        schema = kind.schema
        inner = getattr(model, _record_name(cls, spec), None)
        if inner is not None:
            entry = f"{here}[0]" if schema.get("type") == "array" else here
            yield from fields(inner, entry)


RECORDS = {
    model.Brief: {
        "footprint": "Footprint", "roof": "Roof", "rafters": "Rafters",
        "ridge": "Ridge", "ceiling_joists": "CeilingJoists", "walls": "Wall",
        "hips": "Hips", "hip_braces": "HipBrace",
        "beams": "Beam", "posts": "Post", "purlins": "Purlin", "struts": "Struts",
        "collar_ties": "Ties", "rafter_ties": "Ties", "heel_joint": "HeelJoint",
        "loads": "Loads", "checks": "Checks", "overrides": "Override",
        "added_struts": "AddedStrut", "trusses": "Truss",
    },
    model.Footprint: {"outline": "Corner", "wings": "Wing"},
    model.Roof: {"gambrel": "Gambrel"},
    model.Wall: {"openings": "Opening"},
    model.Opening: {"header": "Header"},
    model.Struts: {"foot": "Foot"},
    model.AddedStrut: {"foot": "Foot"},
    model.Override: {"foot": "Foot"},
    model.HipBrace: {"foot": "Foot"},
    model.Loads: {"snow": "Snow"},
}  # fmt: skip


def _record_name(cls, spec):
    return RECORDS.get(cls, {}).get(spec.name, "")


ALL_FIELDS = list(fields())
WITH_SNOW = put(FULL, "loads.snow", {"ground": "20 psf"})


def test_every_record_of_the_brief_is_walked():
    walked = {cls for _, cls, _ in ALL_FIELDS}
    stated = {
        cls
        for cls in vars(model).values()
        if isinstance(cls, type) and dataclasses.is_dataclass(cls)
    }
    assert stated - walked <= {model.Stock}
    assert len(ALL_FIELDS) > 120


@pytest.mark.parametrize("junk", [[[]], {"a": 1}, float("nan")], ids=str)
@pytest.mark.parametrize("path", [path for path, _, _ in ALL_FIELDS])
def test_no_field_takes_what_it_cannot_hold(path, junk):
    """A list in a list, a stray object, not a number: each refused at its own field."""
    with pytest.raises(BriefError) as caught:
        read_brief(put(WITH_SNOW, path, junk))
    assert caught.value.field.startswith(path)


@pytest.mark.parametrize(
    "path", sorted({path.rpartition(".")[0] for path, _, _ in ALL_FIELDS})
)
def test_no_record_takes_an_unknown_field(path):
    where = f"{path}.colour".lstrip(".")
    error = refused(put(WITH_SNOW, where, "red"), where)
    assert "no field of this name" in error.allowed


def test_a_near_miss_is_guessed():
    error = refused(put(FULL, "rafters.spaceing", "24 in"), "rafters.spaceing")
    assert "did you mean spacing?" in error.allowed


REQUIRED = [
    path for path, _, spec in ALL_FIELDS
    if spec.default is dataclasses.MISSING and not path.startswith("loads.snow")
]  # fmt: skip


@pytest.mark.parametrize("path", REQUIRED)
def test_a_required_field_left_out(path):
    data = put(FULL, path, None)
    *way, last = path.replace("[", ".").replace("]", "").split(".")
    place = data
    for step in way:
        place = place[int(step)] if step.isdigit() else place[step]
    del place[last]
    error = refused(data, path)
    assert "required" in error.remedy


# ---- the document -------------------------------------------------------------------


def refused_text(text, *words):
    with pytest.raises(BriefError) as caught:
        parse_brief(text)
    for word in words:
        assert word in str(caught.value)
    return caught.value


def test_a_file_cut_in_half():
    text = json.dumps(FULL, indent=1)
    for cut in (1, len(text) // 3, len(text) // 2, len(text) - 2):
        error = refused_text(text[:cut], "JSON", "cut off")
        assert error.field == "brief"


@pytest.mark.parametrize("text", ["", "null", "[]", "3", '"brief"', "true", "{}"])
def test_json_that_is_no_brief(text):
    refused_text(text)


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity"])
def test_numbers_that_json_does_not_have(word):
    refused_text(json.dumps(FULL).replace("0.7", word), word)


def test_deep_nesting():
    refused_text("[" * 100_000)
    deep = "[" * 400 + "]" * 400
    refused_text(json.dumps(FULL).replace('"16d common"', deep), "heel_joint.nail")


@pytest.mark.parametrize(
    "text",
    [
        "9" * 6000 + " in",
        "1/" + "9" * 6000 + " in",
        "9" * 6000 + "/2 in",
        "1e999 ft",
        "1/0 ft",
        "nan ft",
        "inf ft",
        "--4 ft",
        "4 ft -2 in",
        "4",
        "4 foots",
        "4 ft and 2 in",
        "4 psf",
        "\u0664 ft extra",
        "",
    ],
    ids=lambda t: t[:12] or "empty",
)
def test_lengths_that_do_not_read(text):
    refused(put(FULL, "footprint.length", text), "footprint.length")


def test_a_huge_number_in_the_document():
    text = json.dumps(FULL).replace("0.7", "9" * 6000)
    refused_text(text)
    refused_text(json.dumps(FULL).replace("0.7", "9" * 400), "collar_ties")


def test_a_newer_schema_says_what_to_do():
    error = refused(put(FULL, "schema_version", 2), "schema_version")
    assert "newer" in error.remedy


def test_a_field_stated_twice():
    text = json.dumps(FULL)
    twice = text[:-1] + ', "roof": {"pitch": "3:12"}}'
    assert refused_text(twice, "once").field == "roof"


def test_messages_stay_short():
    error = refused(put(FULL, "rafters.grade", "x" * 200), "rafters.grade")
    assert len(str(error)) < 600


def test_feet_and_inches_are_shown_as_they_are_written():
    error = BriefError("purlins[0].from_plate", "40' 0\"", "less", "")
    assert str(error).startswith("purlins[0].from_plate: 40' 0\" cannot be used")
    assert "'abc'" in str(BriefError("name", "abc", "less", ""))
    assert "\\n" in str(BriefError("name", "a'b\"\n", "less", ""))
