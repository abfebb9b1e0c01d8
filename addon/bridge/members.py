"""The members of a roof as objects: in collections by role, under the roof's own.

Receives an outcome; adds, moves and removes only what differs from what is there, so
that what a user hangs on a member stays.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import bpy
import numpy as np
from mathutils import Matrix

from ...solver.framing.solids import Solid
from ...solver.verdict.model import MemberResult, Verdict
from ..names import Key
from ..overlay import palette
from ..overlay.palette import State
from ..properties import owner_of, roof_of
from . import findings, shading, walls
from .frames import frame_of
from .pipeline import Outcome

_ROLE_WORDS = {
    "rafter": "Rafters",
    "jack_rafter": "Jack Rafters",
    "hip_rafter": "Hip Rafters",
    "stub_joist": "Ceiling Joists",
    "ridge_board": "Ridge",
    "ridge_beam": "Ridge",
    "purlin": "Purlins",
    "strut": "Struts",
    "ceiling_joist": "Ceiling Joists",
    "collar_tie": "Collar Ties",
    "rafter_tie": "Rafter Ties",
    "beam": "Beams",
    "post": "Posts",
    "plate": "Plates",
    "wall": "Walls",
}


@dataclass(frozen=True, eq=False)
class Shading:
    """How every member is shown.

    Attributes:
        row: member key to row.
        use: (n,) demand over capacity, 0 where there is none.
        state: (n,) of palette.State.
    """

    row: dict[str, int]
    use: np.ndarray
    state: np.ndarray


def state_of(result: MemberResult) -> State:
    """Return how a member is shown."""
    if result.verdict is Verdict.NO_LOAD_PATH:
        return State.NO_LOAD_PATH
    return State.NOT_COUNTED if result.utilisation is None else State.RATED


def shading_of(results: Iterable[MemberResult]) -> Shading:
    """Return how the members are shown, in their order."""
    results = list(results)
    return Shading(
        {r.key: n for n, r in enumerate(results)},
        np.array([r.utilisation or 0.0 for r in results]),
        np.array([state_of(r) for r in results], dtype=np.int64),
    )


def write(roof: bpy.types.Object, outcome: Outcome, scene: bpy.types.Scene) -> None:
    """Make the objects under a roof what an outcome says.

    Args:
        roof: the roof object; members follow its matrix.
        outcome: its solved roof.
        scene: for the scale of lengths, and to hold the collection when it is new.
    """
    scale = scene.unit_settings.scale_length
    top = own_collection(roof, scene)
    known = members_of(roof)
    results = outcome.solution.members
    _remove([known.pop(key) for key in list(known) if key not in results])
    shown = shading_of(results.values())
    colour = palette.colours(shown.use, shown.state)
    pattern = palette.patterns(shown.use, shown.state)
    folders = {owner_of(c).role: c for c in top.children}
    material = shading.material()
    for key, result in results.items():
        obj = known.get(key)
        if obj is None:
            folder = _folder(top, folders, result.role, roof)
            obj = _new_member(key, roof, folder, material)
        _place(obj, outcome.solids[key], scale)
        row = shown.row[key]
        shading.shade_mesh(obj.data, colour[row], float(pattern[row]))
        obj.color = (*palette.to_linear(colour[row]), 1.0)
        findings.write(obj, findings.properties_of(result, scale))
    walls.write(roof, top, outcome.brief, scale)
    _drop_empty(top)


def own_collection(
    roof: bpy.types.Object, scene: bpy.types.Scene
) -> bpy.types.Collection:
    """Return the roof's own collection; a copied roof gets a new one."""
    held = roof_of(roof).collection
    if held is not None and owner_of(held).roof == roof:
        return held
    made = bpy.data.collections.new(roof.name)
    owner_of(made).roof = roof
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
    for obj in held.all_objects:
        key = _key(obj)
        if key is None or obj.parent != roof:
            continue
        if key in found:
            del obj[Key.MEMBER.value]
        else:
            found[key] = obj
    return found


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
            if not child.all_objects:
                bpy.data.collections.remove(child)
        bpy.data.objects.remove(roof)
        if not held.all_objects:
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
    folder.objects.link(obj)
    return obj


def _place(obj: bpy.types.Object, solid: Solid, scale_length: float) -> None:
    """Give a member's object the shape and place of its drawn piece."""
    frame = frame_of(solid)
    points = (frame.local(solid.vertices) / scale_length).astype(np.float32)
    mesh = obj.data
    if len(mesh.vertices) == len(points) and len(mesh.polygons) == len(solid.faces):
        mesh.vertices.foreach_set("co", points.ravel())
    else:
        mesh.clear_geometry()
        mesh.from_pydata(points.tolist(), [], solid.faces)
    mesh.update()
    obj.matrix_parent_inverse = Matrix()
    obj.matrix_basis = Matrix(frame.matrix(scale_length).tolist())


def _remove(objects: list[bpy.types.Object]) -> None:
    """Remove member objects and the meshes that nobody else uses."""
    meshes = {obj.data for obj in objects}
    bpy.data.batch_remove(objects)
    bpy.data.batch_remove([m for m in meshes if m.users == 0])


def _drop_empty(top: bpy.types.Collection) -> None:
    """Remove role collections that hold nothing any more."""
    for child in list(top.children):
        if owner_of(child).role and not child.all_objects and not child.children:
            bpy.data.collections.remove(child)
