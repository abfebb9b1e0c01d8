"""What is left when only a roof's own object was deleted: its members, to go with it.

Touches nothing but members and walls in collections of ours whose roof is gone.
"""

import bpy

from ..names import Key
from ..properties import is_roof, owner_of
from . import members, walls


def sweep() -> int:
    """Remove the members and walls of roofs that are no more; return how many.

    A roof that a user deletes is taken out of every collection and stays in the file,
    because its own collection still points to it.
    """
    for roof in [o for o in bpy.data.objects if is_roof(o) and o.library is None]:
        if not roof.users_collection:
            members.remove_all(roof)
    lost = [c for c in bpy.data.collections if c.library is None and _is_lost(c)]
    gone = [
        obj
        for folder in lost
        for obj in folder.objects
        if obj.parent is None and (_is_member(obj) or walls.is_wall(obj))
    ]
    meshes = {obj.data for obj in gone}
    bpy.data.batch_remove(gone)
    bpy.data.batch_remove([mesh for mesh in meshes if mesh.users == 0])
    tops = [c for c in bpy.data.collections if any(f.name in c.children for f in lost)]
    for folder in lost:
        if not len(folder.objects) and not len(folder.children):
            bpy.data.collections.remove(folder)
    for top in tops:
        ours = (
            top.library is None and owner_of(top).is_top and owner_of(top).roof is None
        )
        if ours and not len(top.objects) and not len(top.children):
            bpy.data.collections.remove(top)
    return len(gone)


def _is_lost(folder: bpy.types.Collection) -> bool:
    """Return whether a collection held a role of a roof that is no more."""
    return bool(owner_of(folder).role) and owner_of(folder).roof is None


def _is_member(obj: bpy.types.Object) -> bool:
    """Return whether an object was a member."""
    return obj.type == "MESH" and isinstance(obj.get(Key.MEMBER.value), str)
