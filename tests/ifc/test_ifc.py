"""IFC4 of a roof: valid, true to the drawn pieces, and in equilibrium by itself.

The file is read by IfcOpenShell's parser, its schema validator with the EXPRESS rules
of IFC4 (buildingSMART), and its geometry kernel; and as plain STEP text.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from functools import cache

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.validate
import numpy as np
import pytest
from loadfall.solver import cli
from loadfall.solver.brief import read_brief
from loadfall.solver.framing.solids import member_solid
from loadfall.solver.ifc import ifc_text
from loadfall.solver.ifc.physical import KINDS
from loadfall.solver.report.cautions import CAUTION
from loadfall.solver.schedule import cut_pieces
from loadfall.solver.solve import solve

from ..cli.test_command_line import SMALL
from ..hips import hip
from ..outlines import outline
from ..report.briefs import solved as report_roof

ROOFS = {"cottage": SMALL, "hip": hip(), "L": outline("L", gabled=True)}


@cache
def solved(name):
    return solve(read_brief(ROOFS[name]))


@cache
def text_of(name):
    return ifc_text(solved(name))


@cache
def file_of(name):
    return ifcopenshell.file.from_string(text_of(name))


def pieces(name):
    file = file_of(name)
    kinds = ("IfcMember", "IfcBeam", "IfcColumn")
    return {e.Tag: e for kind in kinds for e in file.by_type(kind)}


@pytest.mark.parametrize("name", ROOFS)
def test_the_file_is_valid(name):
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(file_of(name), logger)
    assert logger.statements == []


def test_the_rules_of_the_schema_hold():
    logger = ifcopenshell.validate.json_logger()
    file = file_of("cottage")
    ifcopenshell.validate.validate(file, logger, express_rules=True)
    assert logger.statements == []


@pytest.mark.parametrize("name", ROOFS)
def test_every_member_is_there_as_what_it_is(name):
    """Counted in the plain text of the file, by class and role."""
    members = solved(name).framing.members.values()
    wanted = Counter(f"IFC{KINDS[m.role][0].upper()}" for m in members)
    found = Counter(
        re.findall(r"^#\d+=(IFC(?:MEMBER|BEAM|COLUMN))\(", text_of(name), re.M)
    )
    assert found == wanted
    assert set(pieces(name)) == set(solved(name).framing.members)


@pytest.mark.parametrize("name", ["cottage", "hip"])
def test_bodies_are_the_drawn_pieces(name):
    """By the geometry kernel: extents to 10 um, and the volume of each cut prism.

    A prism cut by any two planes holds its section times the mean of its four edges.
    """
    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)
    solution = solved(name)
    for key, entity in pieces(name).items():
        shape = ifcopenshell.geom.create_shape(settings, entity).geometry
        points = np.array(shape.verts).reshape(-1, 3)
        faces = np.array(shape.faces).reshape(-1, 3)
        solid = member_solid(solution.brief, solution.framing, key)
        for end in (np.min, np.max):
            assert end(points, 0) == pytest.approx(end(solid.vertices, 0), abs=1e-5)
        plies = solid.vertices.reshape(-1, 8, 3)
        edges = np.linalg.norm(plies[:, 4:] - plies[:, :4], axis=2).mean(axis=1)
        breadth, depth = (
            np.linalg.norm(np.cross(plies[:, b] - plies[:, 0], unit(plies)), axis=1)
            for b in (1, 3)
        )
        a, b, c = points[faces].transpose(1, 0, 2)
        volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)
        assert volume == pytest.approx(float((edges * breadth * depth).sum()), rel=1e-4)


def test_bodies_hold_the_lumber_of_the_schedule():
    """Sticks cut square: volume by the geometry kernel is section times cut length."""
    settings = ifcopenshell.geom.settings()
    solution, file = solved("cottage"), pieces("cottage")
    by_member = {}
    for piece in cut_pieces(solution.brief, solution.framing):
        by_member.setdefault(piece.member, []).append(piece)
    seen = 0
    for key, sticks in by_member.items():
        cuts = [v for s in sticks for e in (s.first, s.last) for v in (e.face, e.edge)]
        if any(cuts) or sticks[0].spliced or sticks[0].section.plies > 1:
            continue
        shape = ifcopenshell.geom.create_shape(settings, file[key]).geometry
        a, b, c = (
            np.array(shape.verts)
            .reshape(-1, 3)[np.array(shape.faces).reshape(-1, 3)]
            .transpose(1, 0, 2)
        )
        volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)
        by_hand = sum(s.section.breadth * s.section.depth * s.length for s in sticks)
        assert volume == pytest.approx(by_hand, rel=1e-4), key
        seen += 1
    assert seen >= 6


def unit(plies):
    along = plies[:, 4] - plies[:, 0]
    return along / np.linalg.norm(along, axis=1)[:, None]


def test_profiles_and_lumber_are_those_of_the_brief():
    """A 2x6 is 1.5 in by 5.5 in (ALSC PS 20): 0.0381 m by 0.1397 m."""
    rafter = next(e for e in pieces("cottage").values() if e.PredefinedType == "RAFTER")
    use = rafter.HasAssociations[0].RelatingMaterial
    assert use.is_a("IfcMaterialProfileSetUsage")
    one = use.ForProfileSet.MaterialProfiles[0]
    assert one.Material.Name == "Spruce-Pine-Fir No.2"
    size = one.Profile.XDim, one.Profile.YDim
    assert size == pytest.approx((0.0381, 0.1397))


def test_a_steel_plate_is_a_profile_and_a_body_of_its_own():
    """Two planks 2x8 and a plate 1/4 x 7 in of A36: 0.00635 m by 0.1778 m."""
    file = ifcopenshell.file.from_string(ifc_text(report_roof("plated")))
    beam = next(e for e in file.by_type("IfcBeam") if e.Tag == "B-plated")
    profiles = beam.HasAssociations[0].RelatingMaterial.ForProfileSet.MaterialProfiles
    assert [p.Material.Name for p in profiles] == ["Spruce-Pine-Fir No.2", "Steel A36"]
    size = profiles[1].Profile.XDim, profiles[1].Profile.YDim
    assert size == pytest.approx((0.00635, 0.1778))
    body = next(r for r in beam.Representation.Representations
                if r.RepresentationIdentifier == "Body")  # fmt: skip
    assert [item.SweptArea.ProfileName for item in body.Items] == [
        "2x8+1/4x7", "2x8+1/4x7", "1/4x7 plate",
    ]  # fmt: skip


def test_what_was_found_is_with_each_member():
    solution = solved("cottage")
    worst = pieces("cottage")[solution.worst.key]
    found = {
        p.Name: p.NominalValue.wrappedValue
        for p in worst.IsDefinedBy[0].RelatingPropertyDefinition.HasProperties
    }
    assert found["Verdict"] == solution.worst.verdict.value
    assert found["Utilisation"] == pytest.approx(solution.worst.utilisation)
    assert file_of("cottage").by_type("IfcProject")[0].Description == CAUTION


def by_hand(file):
    """Loads and reactions of every combination, N, from what the file holds alone."""
    length = {}
    for member in file.by_type("IfcStructuralCurveMember"):
        edge = member.Representation.Representations[0].Items[0]
        a, b = (np.array(v.VertexGeometry.Coordinates) for v in (edge[0], edge[1]))
        length[member.id()] = float(np.linalg.norm(b - a))
    case = {}
    for one in file.by_type("IfcStructuralLoadCase"):
        total = np.zeros(3)
        for action in one.IsGroupedBy[0].RelatedObjects:
            load, size = action.AppliedLoad, 1.0
            names = "ForceX", "ForceY", "ForceZ"
            if action.is_a("IfcStructuralLinearAction"):
                on = action.AssignedToStructuralItem[0].RelatingElement
                size = length[on.id()]
                names = [f"Linear{name}" for name in names]
            total += np.array([getattr(load, name) for name in names]) * size
        case[one.Name] = total
    applied, given = {}, {}
    for rel in file.by_type("IfcRelAssignsToGroupByFactor"):
        name = rel.RelatingGroup.Name
        sum_ = applied.setdefault(name, np.zeros(3))
        sum_ += rel.Factor * case[rel.RelatedObjects[0].Name]
    for group in file.by_type("IfcStructuralResultGroup"):
        listed = group.IsGroupedBy[0].RelatedObjects
        held = [r for r in listed if r.is_a("IfcStructuralPointReaction")]
        loads = [r.AppliedLoad for r in held]
        forces = [(q.ForceX, q.ForceY, q.ForceZ) for q in loads]
        given[group.ResultForLoadGroup.Name] = np.sum(forces, axis=0)
    return applied, given


@pytest.mark.parametrize("name", ROOFS)
def test_loads_and_reactions_of_the_file_balance(name):
    """Of every combination: line loads times lengths times factors, less reactions."""
    applied, given = by_hand(file_of(name))
    assert set(applied) == set(given) == set(solved(name).combinations.names)
    for combination, force in applied.items():
        size = float(np.abs(force).max())
        assert size > 100
        assert given[combination] == pytest.approx(-force, abs=1e-6 * size)


def axes_of(member):
    """Length of a stretch and its axes as rows: along, across, depth."""
    edge = member.Representation.Representations[0].Items[0]
    a, b = (np.array(v.VertexGeometry.Coordinates) for v in (edge[0], edge[1]))
    length = float(np.linalg.norm(b - a))
    along, depth = (b - a) / length, np.array(member.Axis.DirectionRatios)
    return length, np.array([along, np.cross(depth, along), depth])


def cuts_of(reaction):
    """Places along a stretch, (k,) m, and what is read there, (k, 6) N and N m."""
    names = ("ForceX", "ForceY", "ForceZ", "MomentX", "MomentY", "MomentZ")
    read = reaction.AppliedLoad
    values = [[getattr(v, name) for name in names] for v in read.Values]
    return np.array(read.Locations)[:, 0], np.array(values)


def line_loads(file):
    """Load of each stretch by case, N/m, global."""
    out = {}
    for one in file.by_type("IfcStructuralLinearAction"):
        on, q = one.AssignedToStructuralItem[0].RelatingElement, one.AppliedLoad
        force = np.array([q.LinearForceX, q.LinearForceY, q.LinearForceZ])
        out.setdefault(on.id(), {})[one.Name] = force
    return out


def factors_of(file):
    """Case factors of each combination."""
    out = {}
    for rel in file.by_type("IfcRelAssignsToGroupByFactor"):
        cases = out.setdefault(rel.RelatingGroup.Name, {})
        cases[rel.RelatedObjects[0].Name] = rel.Factor
    return out


@pytest.mark.parametrize("name", ROOFS)
def test_forces_along_each_stretch_balance_its_load(name):
    """Statics of a stretch by the file alone: forces, and moments about its start."""
    file = file_of(name)
    loads, factors = line_loads(file), factors_of(file)
    seen = 0
    for one in file.by_type("IfcStructuralCurveReaction"):
        member = one.AssignedToStructuralItem[0].RelatingElement
        length, axes = axes_of(member)
        places, cut = cuts_of(one)
        assert (places[0], places[-1]) == pytest.approx((0.0, length), abs=1e-9)
        cases = factors[one.Name]
        load = sum(
            (
                cases.get(case, 0.0) * q
                for case, q in loads.get(member.id(), {}).items()
            ),
            np.zeros(3),
        )
        own = axes @ load
        size = max(1.0, float(np.abs(cut).max()))
        for x, now in zip(places, cut, strict=True):
            force = now[:3] - cut[0, :3] + own * x
            assert force == pytest.approx(np.zeros(3), abs=1e-6 * size)
            arm = np.array([x, 0.0, 0.0])
            turn = now[3:] - cut[0, 3:] + np.cross(arm, now[:3])
            turn += np.cross(arm / 2, own * x)
            assert turn[1:] == pytest.approx(np.zeros(2), abs=1e-6 * size)
        seen += 1
    assert seen > 50


@pytest.mark.parametrize("name", ROOFS)
def test_forces_meet_at_every_joint(name):
    """At each joint members, point loads and the ground add to nothing."""
    file = file_of(name)
    factors = factors_of(file)
    ends = {}
    for rel in file.by_type("IfcRelConnectsStructuralMember"):
        key = rel.RelatingStructuralMember.id()
        ends.setdefault(key, []).append(rel.RelatedStructuralConnection)
    total, size = {}, {}

    def add(combination, joint, force):
        at = combination, joint.Name
        total[at] = total.get(at, np.zeros(3)) + force
        size[at] = max(size.get(at, 1.0), float(np.abs(force).max()))

    for one in file.by_type("IfcStructuralCurveReaction"):
        member = one.AssignedToStructuralItem[0].RelatingElement
        _, axes = axes_of(member)
        _, cut = cuts_of(one)
        start, end = ends[member.id()]
        add(one.Name, start, cut[0, :3] @ axes)
        add(one.Name, end, -cut[-1, :3] @ axes)
    for one in file.by_type("IfcStructuralPointReaction"):
        q = one.AppliedLoad
        joint = one.AssignedToStructuralItem[0].RelatingElement
        add(one.Name, joint, np.array([q.ForceX, q.ForceY, q.ForceZ]))
    for one in file.by_type("IfcStructuralPointAction"):
        q, joint = one.AppliedLoad, one.AssignedToStructuralItem[0].RelatingElement
        for combination, cases in factors.items():
            part = cases.get(one.Name, 0.0)
            add(combination, joint, part * np.array([q.ForceX, q.ForceY, q.ForceZ]))
    assert len(total) > 100
    for at, force in total.items():
        assert force == pytest.approx(np.zeros(3), abs=1e-6 * size[at]), at


def test_every_stretch_of_the_analysis_belongs_to_a_member():
    file, solution = file_of("cottage"), solved("cottage")
    stretches = file.by_type("IfcStructuralCurveMember")
    assert len(stretches) == solution.model.frame.n_elements
    for rel in file.by_type("IfcRelAssignsToProduct"):
        names = {member.Name for member in rel.RelatedObjects}
        assert names == {rel.RelatingProduct.Tag}


def test_the_same_roof_writes_the_same_file():
    again = ifc_text(solve(read_brief(ROOFS["cottage"])))
    assert again == text_of("cottage")


def test_without_the_library_the_rest_is_drawn(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(cli, "has_extra", lambda name: False)
    brief = tmp_path / "brief.json"
    brief.write_text(json.dumps(SMALL), "utf-8")
    assert cli.main(["draw", str(brief), "--out", str(tmp_path / "out")]) == 0
    assert "pip install ifcopenshell" in capsys.readouterr().out
    assert not (tmp_path / "out" / "roof.ifc").exists()
    assert (tmp_path / "out" / "roof_plan.svg").exists()
