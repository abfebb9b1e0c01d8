"""The roof as glTF, read by trimesh (general-purpose, not ours) and as plain bytes."""

import json
import struct

import bpy
import numpy as np
import pytest
import trimesh
from loadfall.addon.bridge import gltf, marking
from loadfall.addon.bridge.pipeline import Outcome
from loadfall.addon.overlay import palette
from loadfall.solver.framing.solids import member_solid
from loadfall.tests.solve.houses import COTTAGE, solved


@pytest.fixture(scope="module")
def cottage():
    return Outcome(solved(COTTAGE))


@pytest.fixture
def file(cottage, scene, tmp_path):
    return gltf.write(cottage, tmp_path / "out" / "roof.glb")


def nodes(file):
    """Nodes by name, from the JSON of the file."""
    data = file.read_bytes()
    assert struct.unpack("<4sII", data[:12]) == (b"glTF", 2, len(data))
    size = struct.unpack("<I", data[12:16])[0]
    return {n["name"]: n for n in json.loads(data[20 : 20 + size])["nodes"]}


def test_every_member_lies_where_it_was_framed(file, cottage):
    """Extents of each node against the framing's solid; glTF has y up, in metres."""
    read = trimesh.load(file)
    for key in cottage.solution.members:
        to_world, name = read.graph[key]
        points = trimesh.transform_points(read.geometry[name].vertices, to_world)
        wanted = member_solid(cottage.brief, cottage.solution.framing, key).vertices
        x, y, z = wanted.T
        for end in (np.min, np.max):
            assert end(points, axis=0) == pytest.approx(
                end(np.array([x, z, -y]), axis=1), abs=1e-4
            )


def test_bodies_are_closed_and_hold_the_lumber(file, cottage):
    """Against the divergence theorem on the framing's own faces."""
    read = trimesh.load(file)
    framing = cottage.solution.framing
    for key in framing.members:
        body = read.geometry[read.graph[key][1]].copy()
        body.merge_vertices(merge_tex=True, merge_norm=True)
        assert body.is_watertight
        solid = member_solid(cottage.brief, framing, key)
        p, q, r, t = solid.vertices[np.array(solid.faces)].transpose(1, 0, 2)
        sixfold = np.cross(p, q) * r + np.cross(p, r) * t
        assert body.volume == pytest.approx(float(sixfold.sum()) / 6, rel=1e-3)


def test_colours_are_those_of_the_palette(file, cottage):
    """COLOR_0 is linear light (glTF 2.0, 3.7.2.1); ink on what is over its limit."""
    read = trimesh.load(file)
    results = cottage.solution.members
    shown = marking.shading_of(results.values())
    colours = palette.to_linear(palette.colours(shown.use, shown.state))
    ink = palette.to_linear(palette.srgb(palette.INK))
    seen = set()
    for key, result in results.items():
        _, name = read.graph[key]
        visual = read.geometry[name].visual
        held = np.asarray(visual.vertex_attributes["color"], dtype=float)[:, :3]
        held = held / {True: 1.0, False: np.iinfo(np.uint16).max}[held.max() <= 1]
        kinds = [colours[shown.row[key]], ink]
        off = [np.abs(held - kind).max(axis=1) for kind in kinds]
        assert (np.min(off, axis=0) < 0.005).all()
        over = (result.utilisation or 0.0) > 1
        assert (off[1] < 0.005).any() == over
        seen.add(over)
    assert seen == {True, False}


def test_what_was_found_and_the_caution_travel_with_it(file, cottage):
    found = nodes(file)
    worst = cottage.solution.worst
    told = found[worst.key]["extras"]
    assert told["utilisation"] == pytest.approx(worst.utilisation)
    assert told["verdict"] == worst.verdict.value
    assert "licensed engineer" in found[cottage.brief.name]["extras"]["caution"]


def test_the_panel_writes_it_and_leaves_the_file_as_it_was(scene, tmp_path):
    assert bpy.ops.loadfall.add_roof(length=4.8, spacing=0.6) == {"FINISHED"}
    before = [set(part.keys()) for part in (bpy.data.objects, bpy.data.meshes,
              bpy.data.materials, bpy.data.scenes)]  # fmt: skip
    path = tmp_path / "roof.glb"
    assert bpy.ops.loadfall.export_gltf(filepath=str(path)) == {"FINISHED"}
    after = [set(part.keys()) for part in (bpy.data.objects, bpy.data.meshes,
             bpy.data.materials, bpy.data.scenes)]  # fmt: skip
    assert before == after
    assert len(nodes(path)) > 20


def test_bands_cover_their_share_of_a_piece():
    """By hand: 1 m at a period of 0.25 m is four bands; a third of each is ink."""
    corners = np.array([(x, y, z) for z in (0, 1.0) for x, y in
                        ((0, 0), (0.1, 0), (0.1, 0.2), (0, 0.2))])  # fmt: skip
    points, faces, inked = gltf.banded(corners, 1 / 3, 0.25)
    assert len(points) == 4 * 9
    assert len(faces) == 4 * 8 + 2
    tall = [np.ptp(points[list(f)][:, 2]) for f in faces]
    inks = sum(t for t, ink in zip(tall, inked, strict=True) if ink) / 4
    assert inks == pytest.approx(1 / 3)
    assert inked.count(True) == 4 * 4 + 1
