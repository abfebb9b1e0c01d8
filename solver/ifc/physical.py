"""The members as they are built: profiles, lumber, places, cuts, and what was found."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ..basis import steel
from ..basis.sections import Section
from ..framing.model import Member, Role
from ..framing.solids import Solid, member_solid
from ..solve import Solution
from .base import Book, Entity

Floats = NDArray[np.float64]
KINDS: Mapping[Role, tuple[str, str]] = {
    Role.RAFTER: ("Member", "RAFTER"), Role.JACK_RAFTER: ("Member", "RAFTER"),
    Role.HIP_RAFTER: ("Member", "RAFTER"), Role.VALLEY_RAFTER: ("Member", "RAFTER"),
    Role.RIDGE_BOARD: ("Member", "MEMBER"), Role.RIDGE_BEAM: ("Beam", "BEAM"),
    Role.PURLIN: ("Member", "PURLIN"), Role.STRUT: ("Member", "STRUT"),
    Role.CEILING_JOIST: ("Beam", "JOIST"), Role.STUB_JOIST: ("Beam", "JOIST"),
    Role.COLLAR_TIE: ("Member", "COLLAR"), Role.RAFTER_TIE: ("Member", "MEMBER"),
    Role.BEAM: ("Beam", "BEAM"), Role.HEADER: ("Beam", "LINTEL"),
    Role.POST: ("Column", "COLUMN"), Role.PLATE: ("Member", "PLATE"),
    Role.WEB: ("Member", "STRUT"), Role.JACK_STUD: ("Member", "STUD"),
    Role.CURB: ("Member", "PURLIN"), Role.LEDGER: ("Member", "MEMBER"),
    Role.KNEE_STUD: ("Member", "STUD"),
}  # fmt: skip
_SQUARE = 1e-9


def add_members(
    book: Book, solution: Solution, marks: Mapping[str, str]
) -> dict[str, Entity]:
    """Add every member to the storey; return them by key."""
    out: dict[str, Entity] = {}
    lots: dict[tuple[object, ...], list[Entity]] = {}
    for key, member in solution.framing.members.items():
        made = _member(book, solution, member)
        out[key] = made
        _found(book, solution, key, made, marks.get(key, ""))
        lot = member.section, member.species, member.grade
        lots.setdefault(lot, []).append(made)
    book.root(
        "RelContainedInSpatialStructure", "members", RelatedElements=list(out.values()),
        RelatingStructure=book.storey,
    )  # fmt: skip
    for n, found in enumerate(lots.values()):
        keys = [key for key, made in out.items() if made in found[:1]]
        _lumber(book, solution.framing.members[keys[0]], found, n)
    return out


def _member(book: Book, solution: Solution, member: Member) -> Entity:
    """Return one member with its body and its axis."""
    solid = member_solid(solution.brief, solution.framing, member.key)
    origin, axes, length = _frame_of(solid)
    placement = book.local(
        book.storey.ObjectPlacement,
        book.placement3(origin, axes[2], axes[0]),
    )
    body = [
        _ply(book, _block_section(member.section, n).name, block)
        for n, block in enumerate(_local_plies(solid, origin, axes))
    ]
    clipped = any(item.is_a("IfcBooleanClippingResult") for item in body)
    shapes = [
        book.make(
            "ShapeRepresentation", ContextOfItems=book.axis,
            RepresentationIdentifier="Axis", RepresentationType="Curve3D",
            Items=[book.make("Polyline", Points=[
                book.point((0.0, 0.0, 0.0)), book.point((0.0, 0.0, length))])],
        ),
        book.make(
            "ShapeRepresentation", ContextOfItems=book.body,
            RepresentationIdentifier="Body",
            RepresentationType="Clipping" if clipped else "SweptSolid", Items=body,
        ),
    ]  # fmt: skip
    kind, type_ = KINDS[member.role]
    return book.root(
        kind, member.key, Name=member.key, ObjectType=None,
        Description=member.role.value.replace("_", " "), Tag=member.key,
        ObjectPlacement=placement, PredefinedType=type_,
        Representation=book.make(
            "ProductDefinitionShape", Representations=shapes
        ),
    )  # fmt: skip


def _frame_of(solid: Solid) -> tuple[Floats, Floats, float]:
    """Return origin, axes (breadth, depth, length; rows) and length of a piece."""
    first = solid.vertices[:8]
    along = first[4] - first[0]
    u = along / np.linalg.norm(along)
    side = first[1] - first[0]
    side = side - u * (side @ u)
    side /= np.linalg.norm(side)
    axes = np.array([side, np.cross(u, side), u])
    reach = solid.vertices @ u
    middle = solid.vertices.mean(axis=0)
    origin = middle + u * (reach.min() - middle @ u)
    return origin, axes, float(np.ptp(reach))


def _local_plies(solid: Solid, origin: Floats, axes: Floats) -> Floats:
    """Return the corners of each ply in the piece's own axes, (p, 8, 3)."""
    return ((solid.vertices - origin) @ axes.T).reshape(-1, 8, 3)


def _block_section(made: Section, n: int) -> Section:
    """Return the section of a drawn block: a ply, or the plate that comes last."""
    return made.plate if n >= made.plies and made.plate is not None else made


def _ply(book: Book, name: str, corners: Floats) -> Entity:
    """Return one ply: a profile drawn out along the piece, its ends cut."""
    low, high = corners.min(axis=0), corners.max(axis=0)
    middle = (low + high) / 2
    profile = book.make(
        "RectangleProfileDef", ProfileType="AREA", ProfileName=name,
        Position=book.make(
            "Axis2Placement2D", Location=book.point((middle[0], middle[1]))
        ),
        XDim=float(high[0] - low[0]), YDim=float(high[1] - low[1]),
    )  # fmt: skip
    body = book.make(
        "ExtrudedAreaSolid", SweptArea=profile, Depth=float(high[2] - low[2]),
        Position=book.placement3((0.0, 0.0, float(low[2]))),
        ExtrudedDirection=book.direction((0.0, 0.0, 1.0)),
    )  # fmt: skip
    for end, outward in ((corners[:4], -1.0), (corners[4:], 1.0)):
        if np.ptp(end[:, 2]) < _SQUARE:
            continue
        normal = np.cross(end[1] - end[0], end[3] - end[0])
        normal *= outward * np.sign(normal[2]) / np.linalg.norm(normal)
        plane = book.make(
            "Plane",
            Position=book.placement3(end[0], normal, _beside(normal)),
        )
        half = book.make("HalfSpaceSolid", BaseSurface=plane, AgreementFlag=False)
        body = book.make(
            "BooleanClippingResult", Operator="DIFFERENCE", FirstOperand=body,
            SecondOperand=half,
        )  # fmt: skip
    return body


def _beside(normal: Floats) -> Floats:
    """Return a unit vector square to another."""
    way = np.cross(normal, np.eye(3)[int(np.argmin(np.abs(normal)))])
    return way / np.linalg.norm(way)


def _lumber(book: Book, member: Member, made: list[Entity], n: int) -> None:
    """Say of which lumber and section some members are."""
    size = member.section
    name = f"{size.plies}-{size.name}" if size.plies > 1 else size.name
    profile = book.make(
        "RectangleProfileDef", ProfileType="AREA", ProfileName=name,
        XDim=float(size.total_breadth), YDim=float(size.depth),
    )  # fmt: skip
    lumber = book.make(
        "Material", Name=f"{member.species} {member.grade}", Category="wood"
    )
    profiles = book.make(
        "MaterialProfileSet", Name=name,
        MaterialProfiles=[
            book.make("MaterialProfile", Name=name, Material=lumber, Profile=profile),
            *_plate(book, size),
        ],
    )  # fmt: skip
    use = book.make("MaterialProfileSetUsage", ForProfileSet=profiles, CardinalPoint=5)
    book.root(
        "RelAssociatesMaterial", str(n), RelatedObjects=made, RelatingMaterial=use
    )


def _plate(book: Book, size: Section) -> list[Entity]:
    """Return the steel plate between plies as a profile with its material, if any."""
    plate = size.plate
    if plate is None:
        return []
    profile = book.make(
        "RectangleProfileDef", ProfileType="AREA", ProfileName=plate.name,
        XDim=float(plate.breadth), YDim=float(plate.depth),
    )  # fmt: skip
    made = book.make(
        "Material", Name=f"{steel.SPECIES} {steel.GRADE}", Category="steel"
    )
    return [
        book.make("MaterialProfile", Name=plate.name, Material=made, Profile=profile)
    ]


def _found(book: Book, solution: Solution, key: str, made: Entity, mark: str) -> None:
    """Add mark, verdict and use of a member as properties."""
    m = solution.members[key]
    texts = {
        "Mark": mark, "Verdict": m.verdict.value, "GoverningCheck": m.governing_check,
        "Clause": m.clause, "Combination": m.combination,
    }  # fmt: skip
    values = [
        book.make(
            "PropertySingleValue", Name=name,
            NominalValue=book.file.create_entity("IfcLabel", text),
        )
        for name, text in texts.items()
        if text
    ]  # fmt: skip
    if m.utilisation is not None:
        number = book.file.create_entity("IfcReal", float(m.utilisation))
        values.append(
            book.make("PropertySingleValue", Name="Utilisation", NominalValue=number)
        )
    properties = book.root(
        "PropertySet", f"{key}/checks", Name="Loadfall_Checks", HasProperties=values
    )
    book.root(
        "RelDefinesByProperties", key, RelatedObjects=[made],
        RelatingPropertyDefinition=properties,
    )  # fmt: skip
