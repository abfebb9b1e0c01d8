"""The web page: what is in it, and that it needs nothing from outside."""

import base64
import json
import re
import struct

import numpy as np
import pytest
from loadfall.addon.bridge import bent
from loadfall.addon.bridge.pipeline import Outcome
from loadfall.addon.explain import page
from loadfall.tests.solve.houses import COTTAGE, changed, solved


@pytest.fixture(scope="module")
def cottage():
    return Outcome(solved(COTTAGE))


@pytest.fixture
def text(cottage, scene, tmp_path):
    return page.write(cottage, tmp_path / "roof.html").read_text("utf-8")


def glb(text):
    data = json.loads(re.search(r"const DATA = (\{.*?\});</script>", text, re.S)[1])
    held = base64.b64decode(data["glb"])
    magic, version, length = struct.unpack("<4sII", held[:12])
    assert (magic, version, length) == (b"glTF", 2, len(held))
    size = struct.unpack("<I", held[12:16])[0]
    return data, json.loads(held[20 : 20 + size]), held[28 + size :]


def vectors(head, body, index):
    """(n, 3) of a float accessor, sparse or not."""
    a = head["accessors"][index]
    out = np.zeros((a["count"], 3), dtype=np.float32)

    def part(view, kind, count):
        view = head["bufferViews"][view]
        return np.frombuffer(body, kind, count, view.get("byteOffset", 0))

    if "bufferView" in a:
        out[:] = part(a["bufferView"], "<f4", out.size).reshape(-1, 3)
    if "sparse" in a:
        few = a["sparse"]
        kind = {5121: "u1", 5123: "<u2", 5125: "<u4"}[few["indices"]["componentType"]]
        at = part(few["indices"]["bufferView"], kind, few["count"])
        values = part(few["values"]["bufferView"], "<f4", 3 * few["count"])
        out[at] = values.reshape(-1, 3)
    return out


def test_it_asks_nothing_of_a_network(text):
    assert not re.search(r"(?:src|href)\s*=", text)
    assert not re.search(r"https?:|fetch\(|import\(|XMLHttpRequest|@import", text)


def test_it_carries_the_cautions_the_scale_and_the_verdicts(text, cottage):
    for words in ("licensed engineer", "times as large as they are", "Toratti"):
        assert words in text
    assert "Over its limit" in text
    data, _, _ = glb(text)
    assert len(data["members"]) == len(cottage.solution.members)
    assert any("over its limit" in told for told in data["members"])


def test_its_shapes_are_the_solvers(text, cottage):
    """Each morph target is the solver's displacement times the scale, y up."""
    _, head, body = glb(text)
    node = next(n for n in head["nodes"] if n["name"] == "Roof")
    primitive = head["meshes"][node["mesh"]]["primitives"][0]
    assert len(primitive["targets"]) == len(bent.YEARS)
    factor = float(re.search(r"drawn (\d+) times", text)[1])
    made = bent.bent(cottage, cottage.solution.members)
    where = vectors(head, body, primitive["attributes"]["POSITION"])
    to_y_up = np.array([[1, 0, 0], [0, 0, 1], [0, -1, 0]])
    framed = made.vertices @ to_y_up.T
    assert where == pytest.approx(framed, abs=1e-4)
    for target, moved in zip(primitive["targets"], made.moved, strict=True):
        drawn = vectors(head, body, target["POSITION"])
        assert drawn == pytest.approx(factor * moved @ to_y_up.T, abs=2e-4)


def test_snow_has_shapes_of_its_own(scene, tmp_path):
    """Target by target: where a load moves the roof instead, times the scale."""
    loads = {"snow": {"ground": "30 psf"}, "attic_live": "10 psf"}
    outcome = Outcome(solved(changed(COTTAGE, loads=loads)))
    text = page.write(outcome, tmp_path / "roof.html").read_text("utf-8")
    data, head, body = glb(text)
    assert [one["is_snow"] for one in data["loads"]] == [False, False, True, True, True]
    node = next(n for n in head["nodes"] if n["name"] == "Roof")
    targets = head["meshes"][node["mesh"]]["primitives"][0]["targets"]
    assert len(targets) == 3 + 4
    factor = float(re.search(r"drawn (\d+) times", text)[1])
    to_y_up = np.array([[1, 0, 0], [0, 0, 1], [0, -1, 0]])
    keys = list(outcome.solution.members)
    worst = bent.bent(outcome, keys).moved[0]
    wet, dry = (bent.bent(outcome, keys, None, c).moved[0] for c in ("D+SuN", "D"))
    drawn = [vectors(head, body, t["POSITION"]) for t in targets]
    assert drawn[6] - drawn[3] == pytest.approx(
        factor * (wet - dry) @ to_y_up.T, abs=3e-4
    )
    lasts = bent.bent(outcome, keys, None, bent.Lasting()).moved[0]
    assert drawn[3] == pytest.approx(factor * (lasts - worst) @ to_y_up.T, abs=3e-4)


def test_a_name_cannot_break_out_of_the_page(scene, tmp_path):
    name = "</script><b>{{data}}"
    outcome = Outcome(solved(changed(COTTAGE, name=name)))
    text = page.write(outcome, tmp_path / "roof.html").read_text("utf-8")
    assert text.count("</script>") == 2
    assert "<b>" not in text
