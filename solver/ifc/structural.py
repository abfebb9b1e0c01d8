"""The structural analysis model: what was analysed, its loads, and what it gave.

One curve member for each stretch between joints, one point connection for each joint.
IFC has no word for a contact that only pushes: the model says so where it has them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis.frame import GROUND, PUSH_ONLY
from ..idealise.model import Model
from ..loads.cases import CASES, Case
from ..solve import Solution
from ..trace.wording import CASE_WORDS, combination_words
from .base import Book, Entity
from .forces import SAYS, member_forces

_SOURCE = {
    Case.DEAD: ("PERMANENT_G", "DEAD_LOAD_G"), Case.WIND: ("VARIABLE_Q", "WIND_W"),
    Case.ATTIC_LIVE: ("VARIABLE_Q", "LIVE_LOAD_Q"),
    Case.ROOF_LIVE: ("VARIABLE_Q", "LIVE_LOAD_Q"),
}  # fmt: skip
_SNOW = ("VARIABLE_Q", "SNOW_S")
_SAYS = (
    "First-order frame analysis. Joints where one member rests on another, and seats "
    "on walls, only push; struts only push: see the combinations for what is slack."
)
Floats = NDArray[np.float64]
Spots = NDArray[np.int64]
_LEAST = 1e-9  # N/m of a load that is written


@dataclass(frozen=True, eq=False)
class _Made:
    """The parts of the analysis model.

    Attributes:
        spots: (n,) joint of each node of the frame.
        joints: by number.
        members: by stretch.
    """

    spots: Spots
    joints: dict[int, Entity]
    members: list[Entity]


def add_analysis(
    book: Book, solution: Solution, physical: Mapping[str, Entity]
) -> Entity | None:
    """Add the analysis model; return it, None where nothing was analysed."""
    if solution.model is None or solution.frame is None:
        return None
    spots = _spots(solution.model)
    joints = _joints(book, solution.model, spots)
    members = _members(book, solution.model, spots, joints)
    made = _Made(spots, joints, members)
    cases = _cases(book, solution.model, made)
    groups = _combinations(book, solution, cases)
    results = _results(book, solution, made, groups)
    model = book.root(
        "StructuralAnalysisModel", "frame", Name=solution.brief.name, Description=_SAYS,
        PredefinedType="LOADING_3D", LoadedBy=list(cases.values()) + groups,
        HasResults=results, SharedPlacement=book.local(None),
    )  # fmt: skip
    book.root(
        "RelAssignsToGroup", "frame", RelatedObjects=[*members, *joints.values()],
        RelatingGroup=model,
    )  # fmt: skip
    book.root(
        "RelServicesBuildings", "frame", RelatingSystem=model,
        RelatedBuildings=[book.building],
    )  # fmt: skip
    for key in solution.model.members:
        rows = solution.model.rows_of(key)
        book.root(
            "RelAssignsToProduct", key, RelatedObjects=members[rows],
            RelatingProduct=physical[key],
        )  # fmt: skip
    return model


def _spots(model: Model) -> Spots:
    """Return (n,) the joint of each node of the frame: one for all in one place.

    Members that rest on each other have nodes of their own there, which only push on
    each other; IFC joins them.
    """
    first: dict[tuple[float, ...], int] = {}
    rounded = np.round(model.frame.xyz, 6) + 0.0
    return np.array([
        first.setdefault(tuple(xyz), n) for n, xyz in enumerate(rounded.tolist())
    ])  # fmt: skip


def _joints(book: Book, model: Model, spots: Spots) -> dict[int, Entity]:
    """Return a point connection for each joint of the framing, with its supports."""
    held = _held(model, spots)
    used = np.unique(spots[model.frame.ends.ravel()])
    out: dict[int, Entity] = {}
    for place in map(int, used):
        vertex = book.make(
            "VertexPoint", VertexGeometry=book.point(model.frame.xyz[place])
        )
        shape = book.make(
            "TopologyRepresentation", ContextOfItems=book.reference,
            RepresentationIdentifier="Reference", RepresentationType="Vertex",
            Items=[vertex],
        )  # fmt: skip
        out[place] = book.root(
            "StructuralPointConnection", str(place), Name=f"J{place}",
            ObjectPlacement=book.local(None),
            Representation=book.make(
                "ProductDefinitionShape", Representations=[shape]
            ),
            AppliedCondition=_support(book, held[place]) if place in held else None,
        )  # fmt: skip
    return out


def _held(model: Model, spots: Spots) -> dict[int, dict[int, float]]:
    """Return for each held joint the stiffness of its directions; inf where fixed."""
    out: dict[int, dict[int, float]] = {}
    for node, direction in np.argwhere(model.frame.fixed[:, :3]):
        out.setdefault(int(spots[node]), {})[int(direction)] = np.inf
    links = model.frame.links
    for n in np.flatnonzero(links.j == GROUND):
        way = np.abs(links.direction[n])
        direction = int(np.argmax(way))
        at = out.setdefault(int(spots[links.i[n]]), {})
        at[direction] = at.get(direction, 0.0) + float(links.stiffness[n])
    return out


def _support(book: Book, held: Mapping[int, float]) -> Entity:
    """Return the condition of a support."""

    def spring(direction: int) -> Entity:
        value = held.get(direction, 0.0)
        if np.isinf(value):
            return book.file.create_entity("IfcBoolean", True)
        if value == 0:
            return book.file.create_entity("IfcBoolean", False)
        return book.file.create_entity("IfcLinearStiffnessMeasure", value)

    free = [book.file.create_entity("IfcBoolean", False) for _ in range(3)]
    return book.make(
        "BoundaryNodeCondition",
        TranslationalStiffnessX=spring(0), TranslationalStiffnessY=spring(1),
        TranslationalStiffnessZ=spring(2), RotationalStiffnessX=free[0],
        RotationalStiffnessY=free[1], RotationalStiffnessZ=free[2],
    )  # fmt: skip


def _members(
    book: Book, model: Model, spots: Spots, joints: Mapping[int, Entity]
) -> list[Entity]:
    """Return a curve member for each stretch, joined to its two joints."""
    frame, out = model.frame, list[Entity]()
    assert frame.element_member is not None
    for n, (i, j) in enumerate(frame.ends.tolist()):
        key = model.members[int(frame.element_member[n])]
        ends = [joints[int(spots[v])] for v in (i, j)]
        vertices = [end.Representation.Representations[0].Items[0] for end in ends]
        edge = book.make("Edge", EdgeStart=vertices[0], EdgeEnd=vertices[1])
        shape = book.make(
            "TopologyRepresentation", ContextOfItems=book.reference,
            RepresentationIdentifier="Reference", RepresentationType="Edge",
            Items=[edge],
        )  # fmt: skip
        made = book.root(
            "StructuralCurveMember", f"{key}/{n}", Name=key,
            ObjectPlacement=book.local(None), PredefinedType=_type(model, n),
            Representation=book.make(
                "ProductDefinitionShape", Representations=[shape]
            ),
            Axis=book.direction(_depth(model, n)),
        )  # fmt: skip
        for end, joint in enumerate(ends):
            book.root(
                "RelConnectsStructuralMember", f"{key}/{n}/{end}",
                RelatingStructuralMember=made, RelatedStructuralConnection=joint,
                AppliedCondition=_release(book, model, n, end),
            )  # fmt: skip
        out.append(made)
    return out


def _type(model: Model, n: int) -> str:
    """Return how a stretch acts."""
    if not model.frame.axial_only[n]:
        return "RIGID_JOINED_MEMBER"
    return "COMPRESSION_MEMBER" if model.frame.one_sided[n] == PUSH_ONLY else (
        "PIN_JOINED_MEMBER"
    )  # fmt: skip


def _depth(model: Model, n: int) -> list[float]:
    """Return the direction of the depth of a stretch."""
    i, j = model.frame.ends[n]
    axis = model.frame.xyz[j] - model.frame.xyz[i]
    axis = axis / np.linalg.norm(axis)
    up = model.frame.up[n] - axis * float(model.frame.up[n] @ axis)
    return (up / np.linalg.norm(up)).tolist()


def _release(book: Book, model: Model, n: int, end: int) -> Entity:
    """Return what an end passes on: forces always, moments where it is stiff."""
    turns = model.frame.release[n, 6 * end + 3 : 6 * end + 6].tolist()
    if model.frame.axial_only[n]:
        turns = [True, True, True]
    yes = [book.file.create_entity("IfcBoolean", True) for _ in range(3)]
    stiff = [book.file.create_entity("IfcBoolean", not free) for free in turns]
    return book.make(
        "BoundaryNodeCondition",
        TranslationalStiffnessX=yes[0], TranslationalStiffnessY=yes[1],
        TranslationalStiffnessZ=yes[2], RotationalStiffnessX=stiff[0],
        RotationalStiffnessY=stiff[1], RotationalStiffnessZ=stiff[2],
    )  # fmt: skip


def _cases(book: Book, model: Model, made: _Made) -> dict[int, Entity]:
    """Return a load case for each case that has loads, by its row."""
    out: dict[int, Entity] = {}
    for row, case in enumerate(CASES):
        loads, points = model.loads.element_load[row], model.loads.node_load[row]
        loaded = np.flatnonzero(np.abs(loads).max(axis=1) > _LEAST)
        actions = [_action(book, made, case, int(n), loads[n]) for n in loaded]
        actions += [
            _point_action(book, made, case, int(n), int(made.spots[n]), points[n])
            for n in np.flatnonzero(np.abs(points).max(axis=1) > _LEAST)
        ]
        if not actions:
            continue
        kind, source = _SOURCE.get(case, _SNOW)
        out[row] = book.root(
            "StructuralLoadCase", case.value, Name=case.value,
            Description=CASE_WORDS[case.value], PredefinedType="LOAD_CASE",
            ActionType=kind, ActionSource=source,
        )  # fmt: skip
        book.root(
            "RelAssignsToGroup", case.value, RelatedObjects=actions,
            RelatingGroup=out[row],
        )  # fmt: skip
    return out


def _action(book: Book, made: _Made, case: Case, n: int, load: Floats) -> Entity:
    """Return the load of one case on one stretch, N/m of its length."""
    x, y, z = (float(v) for v in load)
    force = book.make(
        "StructuralLoadLinearForce", Name=case.value, LinearForceX=x, LinearForceY=y,
        LinearForceZ=z,
    )  # fmt: skip
    action = book.root(
        "StructuralLinearAction", f"{case.value}/{n}", Name=case.value,
        AppliedLoad=force, GlobalOrLocal="GLOBAL_COORDS", ProjectedOrTrue="TRUE_LENGTH",
        PredefinedType="CONST", ObjectPlacement=book.local(None),
        Representation=made.members[n].Representation,
    )  # fmt: skip
    book.root(
        "RelConnectsStructuralActivity", f"{case.value}/{n}",
        RelatingElement=made.members[n], RelatedStructuralActivity=action,
    )  # fmt: skip
    return action


def _point_action(
    book: Book, made: _Made, case: Case, node: int, place: int, load: Floats
) -> Entity:
    """Return the load of one case at one node of the frame, N and N m."""
    names = ("ForceX", "ForceY", "ForceZ", "MomentX", "MomentY", "MomentZ")
    values = dict(zip(names, map(float, load), strict=True))
    joint = made.joints[place]
    action = book.root(
        "StructuralPointAction", f"{case.value}/at {node}", Name=case.value,
        AppliedLoad=book.make("StructuralLoadSingleForce", Name=case.value, **values),
        GlobalOrLocal="GLOBAL_COORDS", ObjectPlacement=book.local(None),
        Representation=joint.Representation,
    )  # fmt: skip
    book.root(
        "RelConnectsStructuralActivity", f"{case.value}/at {node}",
        RelatingElement=joint, RelatedStructuralActivity=action,
    )  # fmt: skip
    return action


def _combinations(
    book: Book, solution: Solution, cases: Mapping[int, Entity]
) -> list[Entity]:
    """Return a load group for each combination, its cases with their factors."""
    combos, out = solution.combinations, list[Entity]()
    for name, factors in zip(combos.names, combos.factors, strict=True):
        group = book.root(
            "StructuralLoadGroup", name, Name=name,
            Description=combination_words(combos, name),
            PredefinedType="LOAD_COMBINATION", ActionType="NOTDEFINED",
            ActionSource="NOTDEFINED",
        )  # fmt: skip
        for row, case in cases.items():
            if factors[row]:
                book.root(
                    "RelAssignsToGroupByFactor", f"{name}/{row}",
                    RelatedObjects=[case], RelatingGroup=group,
                    Factor=float(factors[row]),
                )  # fmt: skip
        out.append(group)
    return out


def _results(
    book: Book, solution: Solution, made: _Made, groups: list[Entity]
) -> list[Entity]:
    """Return reactions and forces along the members of every combination."""
    model, frame = solution.model, solution.frame
    assert model is not None
    assert frame is not None
    out: list[Entity] = []
    for row, group in enumerate(groups):
        forces: dict[int, Floats] = {}
        for node in np.flatnonzero(model.frame.fixed[:, :3].any(axis=1)):
            place = int(made.spots[node])
            held = forces.setdefault(place, np.zeros(3))
            held += frame.reaction[row, node, :3]
        links = model.frame.links
        for n in np.flatnonzero(links.j == GROUND):
            place = int(made.spots[links.i[n]])
            pushed = frame.link_force[row, n] * links.direction[n]
            forces.setdefault(place, np.zeros(3))[:] += pushed
        found = [
            _reaction(book, made, group.Name, place, force)
            for place, force in forces.items()
            if place in made.joints
        ]
        found += member_forces(book, solution, made.members, group, row)
        results = book.root(
            "StructuralResultGroup", group.Name, Name=group.Name, Description=SAYS,
            TheoryType="FIRST_ORDER_THEORY", ResultForLoadGroup=group, IsLinear=False,
        )  # fmt: skip
        book.root(
            "RelAssignsToGroup", f"results/{group.Name}", RelatedObjects=found,
            RelatingGroup=results,
        )  # fmt: skip
        out.append(results)
    return out


def _reaction(
    book: Book, made: _Made, combination: str, place: int,
    force: Floats,
) -> Entity:  # fmt: skip
    """Return the force that the ground gives at one joint."""
    x, y, z = (float(v) for v in force)
    load = book.make(
        "StructuralLoadSingleForce", Name=combination, ForceX=x, ForceY=y, ForceZ=z,
        MomentX=0.0, MomentY=0.0, MomentZ=0.0,
    )  # fmt: skip
    joint = made.joints[place]
    reaction = book.root(
        "StructuralPointReaction", f"{combination}/{place}", Name=combination,
        AppliedLoad=load, GlobalOrLocal="GLOBAL_COORDS",
        ObjectPlacement=book.local(None), Representation=joint.Representation,
    )  # fmt: skip
    book.root(
        "RelConnectsStructuralActivity", f"results/{combination}/{place}",
        RelatingElement=joint, RelatedStructuralActivity=reaction,
    )  # fmt: skip
    return reaction
