"""The members of a roof as objects: in collections by role, under the roof's own.

Receives an outcome; adds, moves and removes only what differs from what is there, so
that what a user hangs on a member stays.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import bpy
import numpy as np
from mathutils import Matrix

from ..names import Key
from ..properties import owner_of, roof_of
from . import findings, marking, shading, walls
from .frames import frames_of, spanned
from .pipeline import Outcome
from .shape import Shape

_ROLE_WORDS = {
    "rafter": "Rafters",
    "jack_rafter": "Jack Rafters",
    "hip_rafter": "Hip Rafters",
    "valley_rafter": "Valley Rafters",
    "stub_joist": "Ceiling Joists",
    "ridge_board": "Ridge",
    "ridge_beam": "Ridge",
    "purlin": "Purlins",
    "strut": "Struts",
    "ceiling_joist": "Ceiling Joists",
    "collar_tie": "Collar Ties",
    "rafter_tie": "Rafter Ties",
    "web": "Webs",
    "beam": "Beams",
    "post": "Posts",
    "plate": "Plates",
    "header": "Headers",
    "jack_stud": "Jack Studs",
    "curb": "Curbs",
    "ledger": "Ledgers",
    "knee_stud": "Knee-Wall Studs",
    "wall": "Walls",
}

_NOTICED = 1e-6  # Blender units; nobody sees less, and it is not written
_IDENTITY = np.eye(4, dtype=np.float32)


@dataclass(frozen=True, eq=False)
class Placed:
    """What was last written of where members lie, so that nothing is read back.

    Attributes:
        shape: that was written.
        scale: m per Blender unit.
        matrices: (n, 4, 4) of the objects.
        corners: (v, 3) of all meshes, one after the other, in their own axes.
        ends: (n,) where each mesh ends in ``corners``.
        rest: (n, 4, 4) from what a hand drags them to, to the parents' inverses; None
            until it drags.
        parents: (n, 4, 4) these inverses, None where the members lie exactly.
    """

    shape: Shape
    scale: float
    matrices: np.ndarray
    corners: np.ndarray
    ends: np.ndarray
    rest: np.ndarray | None = None
    parents: np.ndarray | None = None

    @property
    def is_carried(self) -> bool:
        """Whether the members lie where a drag has carried them, about."""
        return self.parents is not None


def write(
    roof: bpy.types.Object, outcome: Outcome, scene: bpy.types.Scene
) -> Placed | None:
    """Make the objects under a roof what an outcome says: places, colours, results.

    Args:
        roof: the roof object; members follow its matrix.
        outcome: its solved roof.
        scene: for the scale of lengths, and to hold the collection when it is new.

    Returns:
        What was written of their places; None where there is no member.
    """
    placed = place(roof, outcome.shape, scene)
    mark(roof, outcome, scene, outcome.shape.roles)
    return placed


def mark(
    roof: bpy.types.Object,
    outcome: Outcome,
    scene: bpy.types.Scene,
    keys: Iterable[str],
) -> None:
    """Write colours and results on some of the members, where they are placed."""
    known = members_of(roof)
    some = {key: known[key] for key in keys if key in known}
    marking.mark(some, outcome, scene.unit_settings.scale_length)


def place(
    roof: bpy.types.Object,
    shape: Shape,
    scene: bpy.types.Scene,
    before: Placed | None = None,
    *,
    carry: bool = False,
) -> Placed | None:
    """Make the objects under a roof lie where its shape says, and write no results.

    Only what lies elsewhere is touched, because Blender evaluates again whatever is.

    Args:
        roof: the roof object; members follow its matrix.
        shape: of the roof.
        scene: for the scale of lengths, and to hold the collection when it is new.
        before: what was last written, if nothing else can have moved a member since;
            left out, every object is compared.
        carry: move the objects alone and leave their meshes as they were, because
            Blender takes long over a changed mesh; a picture for a drag.

    Returns:
        What was written; None where there is no member.
    """
    scale = scene.unit_settings.scale_length
    top = own_collection(roof, scene)
    known = members_of(roof)
    _remove([known.pop(key) for key in list(known) if key not in shape.roles])
    folders = {owner_of(c).role: c for c in top.children}
    material = shading.material()
    for key, role in shape.roles.items():
        if key not in known:
            before = None
            folder = _folder(top, folders, role, roof)
            known[key] = _new_member(key, role, roof, folder, material)
    objects = [known[key] for key in shape.roles]
    if carry and before is not None and _can_carry(before, shape, scale):
        placed = _carry(objects, shape, before)
    else:
        placed = _put(objects, shape, scale, before)
    walls.write(roof, top, shape.brief, scale)
    _drop_empty(top)
    return placed


def own_collection(
    roof: bpy.types.Object, scene: bpy.types.Scene
) -> bpy.types.Collection:
    """Return the roof's own collection; a copied roof gets a new one."""
    held = roof_of(roof).collection
    if held is not None and owner_of(held).roof == roof:
        return held
    made = bpy.data.collections.new(roof.name)
    owner_of(made).roof, owner_of(made).is_top = roof, True
    parents = [c for c in roof.users_collection if c != held] or [scene.collection]
    parents[0].children.link(made)
    roof_of(roof).collection = made
    _adopt(roof, made, held)
    return made


def _adopt(
    roof: bpy.types.Object,
    own: bpy.types.Collection,
    old: bpy.types.Collection | None,
) -> None:
    """Move a copied roof and its copied members out of the original's collections."""
    folders: dict[str, bpy.types.Collection] = {}
    for obj in [o for o in bpy.data.objects if o.parent == roof]:
        if not (_key(obj) or walls.is_wall(obj)):
            continue
        role = str(obj.get(Key.ROLE.value, walls.ROLE))
        folder = _folder(own, folders, role, roof)
        for holder in list(obj.users_collection):
            holder.objects.unlink(obj)
        folder.objects.link(obj)
        if obj.data.users > 1:
            obj.data = obj.data.copy()
    if old is not None and roof.name in old.objects:
        old.objects.unlink(roof)
    if roof.name not in own.objects:
        own.objects.link(roof)
    for holder in list(roof.users_collection):
        if holder != own:
            holder.objects.unlink(roof)


def members_of(roof: bpy.types.Object) -> dict[str, bpy.types.Object]:
    """Return the member objects of a roof by key; a user's copy of one is set free."""
    held = roof_of(roof).collection
    found: dict[str, bpy.types.Object] = {}
    if held is None:
        return found
    for obj in _listed(held):
        key = _key(obj)
        if key is None or obj.parent != roof or found.get(key) == obj:
            continue
        if key in found:
            del obj[Key.MEMBER.value]
        else:
            found[key] = obj
    return found


def _listed(top: bpy.types.Collection) -> Iterator[bpy.types.Object]:
    """Yield the objects of a collection and of those in it.

    Not ``all_objects``: that is a cache, which holds freed objects after an undo.
    """
    for folder in (top, *top.children_recursive):
        yield from folder.objects


def _key(obj: bpy.types.Object) -> str | None:
    """Return the member key of an object, or None."""
    key = obj.get(Key.MEMBER.value)
    return key if isinstance(key, str) and obj.type == "MESH" else None


def member_key(obj: bpy.types.Object | None) -> str | None:
    """Return the member key of an object that is a member of a roof, or None."""
    if obj is None or obj.parent is None or not roof_of(obj.parent).is_roof:
        return None
    return _key(obj)


def remove_all(roof: bpy.types.Object) -> None:
    """Remove a roof with its members and collections."""
    held = roof_of(roof).collection
    _remove([*members_of(roof).values()])
    _remove([obj for obj in roof.children if walls.is_wall(obj)])
    if held is not None and owner_of(held).roof == roof:
        for child in list(held.children):
            if not any(_listed(child)):
                bpy.data.collections.remove(child)
        bpy.data.objects.remove(roof)
        if not any(_listed(held)):
            bpy.data.collections.remove(held)
    else:
        bpy.data.objects.remove(roof)


def _folder(
    top: bpy.types.Collection,
    folders: dict[str, bpy.types.Collection],
    role: str,
    roof: bpy.types.Object,
) -> bpy.types.Collection:
    """Return the collection of a role, made where it is missing."""
    if role not in folders:
        words = _ROLE_WORDS.get(role, role.replace("_", " ").title() + "s")
        made = bpy.data.collections.new(f"{roof.name} {words}")
        owner_of(made).roof, owner_of(made).role = roof, role
        top.children.link(made)
        folders[role] = made
    return folders[role]


def _new_member(
    key: str,
    role: str,
    roof: bpy.types.Object,
    folder: bpy.types.Collection,
    material: bpy.types.Material,
) -> bpy.types.Object:
    """Return a new object for a member, locked where the roof puts it."""
    mesh = bpy.data.meshes.new(key)
    mesh.materials.append(material)
    obj = bpy.data.objects.new(key, mesh)
    obj.parent = roof
    obj.lock_location = obj.lock_rotation = obj.lock_scale = (True, True, True)
    findings.write(obj, findings.identity(key, role))
    folder.objects.link(obj)
    return obj


def _can_carry(before: Placed, shape: Shape, scale: float) -> bool:
    """Return whether a layout differs from the last only in where its pieces lie."""
    return (
        before.scale == scale
        and np.array_equal(before.ends, shape.ends)
        and list(before.shape.roles) == list(shape.roles)
    )


def _carry(objects: list[bpy.types.Object], shape: Shape, before: Placed) -> Placed:
    """Move members' objects, meshes and all, to about where their pieces lie.

    Their own matrices stay; the parent's inverse takes the move, shear and stretch.
    """
    rest, last = before.rest, before.parents
    if rest is None or last is None:
        spans = spanned(before.corners, before.ends)
        rest = np.linalg.inv(before.matrices.astype(float) @ spans)
        last = np.tile(_IDENTITY, (len(objects), 1, 1))
    parents = spanned(shape.corners / before.scale, before.ends) @ rest
    moved = np.abs(parents - last).max(axis=(1, 2)) > _NOTICED
    for n in np.flatnonzero(moved).tolist():
        objects[n].matrix_parent_inverse = Matrix(parents[n].tolist())
    parents[~moved] = last[~moved]
    return replace(before, shape=shape, rest=rest, parents=parents)


def _put(
    objects: list[bpy.types.Object],
    shape: Shape,
    scale_length: float,
    before: Placed | None,
) -> Placed | None:
    """Give members' objects the shapes and places of their drawn pieces."""
    pieces = [shape.solids[key] for key in shape.roles]
    if not pieces:
        return None
    frames = frames_of(pieces)
    matrices = frames.matrices(scale_length).astype(np.float32)
    corners = frames.local(pieces, scale_length)
    every = np.concatenate(corners).astype(np.float32)
    ends = np.cumsum([len(points) for points in corners])
    now = Placed(shape, scale_length, matrices, every, ends)
    if not _is_alike(before, now):
        before = None
    moved, bent = _changed(before, now)
    for n in np.flatnonzero(bent).tolist():
        _set_corners(objects[n].data, corners[n].astype(np.float32), pieces[n].faces)
    for n in np.flatnonzero(moved).tolist():
        obj, matrix = objects[n], matrices[n]
        if not np.array_equal(np.array(obj.matrix_parent_inverse), _IDENTITY):
            obj.matrix_parent_inverse = Matrix()
        if np.abs(np.array(obj.matrix_basis) - matrix).max() > _NOTICED:
            obj.matrix_basis = Matrix(matrix.tolist())
    if before is None:
        return now
    # What was too little to write is still where it was, lest many littles add up.
    matrices[~moved] = before.matrices[~moved]
    still = ~np.repeat(bent, np.diff(ends, prepend=0))
    every[still] = before.corners[still]
    return now


def _is_alike(before: Placed | None, now: Placed) -> bool:
    """Return whether two layouts have the same members with as many corners."""
    return (
        before is not None
        and before.scale == now.scale
        and np.array_equal(before.ends, now.ends)
        and list(before.shape.roles) == list(now.shape.roles)
    )


def _changed(before: Placed | None, now: Placed) -> tuple[np.ndarray, np.ndarray]:
    """Return (n,) which objects lie elsewhere, and (n,) which meshes differ."""
    if before is None:
        return np.ones(len(now.ends), dtype=bool), np.ones(len(now.ends), dtype=bool)
    moved = np.abs(before.matrices - now.matrices).max(axis=(1, 2)) > _NOTICED
    if before.is_carried:
        moved |= np.abs(before.parents - _IDENTITY).max(axis=(1, 2)) > 0
    apart = np.abs(before.corners - now.corners).max(axis=1) > _NOTICED
    return moved, np.logical_or.reduceat(apart, np.concatenate([[0], now.ends[:-1]]))


def _set_corners(mesh: bpy.types.Mesh, points: np.ndarray, faces: tuple) -> None:
    """Set the corners of a mesh that lie elsewhere, or make it anew."""
    if len(mesh.vertices) != len(points) or len(mesh.polygons) != len(faces):
        mesh.clear_geometry()
        mesh.from_pydata(points.tolist(), [], faces)
        mesh.update()
        return
    held = np.empty(points.size, dtype=np.float32)
    mesh.vertices.foreach_get("co", held)
    if np.abs(held - points.ravel()).max() > _NOTICED:
        mesh.vertices.foreach_set("co", points.ravel())
        mesh.update()


def _remove(objects: list[bpy.types.Object]) -> None:
    """Remove member objects and the meshes that nobody else uses."""
    if not objects:
        return  # even an empty removal has Blender evaluate the whole scene again
    meshes = {obj.data for obj in objects}
    bpy.data.batch_remove(objects)
    bpy.data.batch_remove([m for m in meshes if m.users == 0])


def _drop_empty(top: bpy.types.Collection) -> None:
    """Remove role collections that hold nothing any more."""
    for child in list(top.children):
        if owner_of(child).role and not len(child.objects) and not child.children:
            bpy.data.collections.remove(child)
