"""Members on the stage: meshes that bend by shape keys and fade by custom properties.

A cast is some members of one solved roof as one object. All that moves is plain
keyframes on shape keys and properties: the file plays without the extension.
"""

import bpy
import numpy as np

from ..bridge import bent, marking
from ..bridge.bent import Bent
from ..bridge.pipeline import Outcome
from ..names import Attribute
from ..overlay import palette
from ..overlay.palette import State
from . import ink
from .board import Actor
from .ink import Style

KEYS = "members"  # custom property: the keys of a cast's members
_BANDS, _OVER = 5, 1.5  # colours up to the limit in solid view, and the one over it
TIMES = ("Now", "In 10 years", "In 50 years")  # shape keys, one for each of bent.YEARS


def add_cast(
    actor: Actor, factor: float, style: Style, collection: bpy.types.Collection
) -> bpy.types.Object:
    """Return a new object of some members, straight and not dimmed.

    Args:
        actor: who they are; the scene's unit is the metre.
        factor: how many times its size a sag is drawn when a shape key is at 1.
        style: of drawing.
        collection: that it is linked to.
    """
    name, outcome = actor.name, actor.outcome
    made = bent.bent(outcome, actor.keys, actor.slice, actor.combination)
    mesh = mesh_of(name, made)
    shade(mesh, made, outcome, is_plain=actor.is_plain, under=actor.shaded)
    _band(mesh, made, style, *_shown(made, outcome, actor.is_plain, actor.shaded))
    obj = bpy.data.objects.new(name, mesh)
    obj[KEYS] = ", ".join(made.keys)
    settle(obj, actor, collection)
    bend(obj, made, factor)
    return obj


def settle(
    obj: bpy.types.Object, actor: Actor, collection: bpy.types.Collection
) -> None:
    """Put an object in its place, not faded."""
    obj.location = actor.offset
    obj[ink.DIM] = 0.0
    ui = obj.id_properties_ui(ink.DIM)
    ui.update(min=0.0, max=1.0, description="Faded, 0 to 1")
    collection.objects.link(obj)


def mesh_of(name: str, made: Bent) -> bpy.types.Mesh:
    """Return the mesh of bent members as framed."""
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata(made.vertices.tolist(), [], made.quads.tolist())
    mesh.update()
    edge = mesh.attributes.new(ink.EDGE, "FLOAT_COLOR", "CORNER")
    edge.data.foreach_set("color", made.edge.astype(np.float32).ravel())
    place = mesh.attributes.new(ink.PLACE, "FLOAT_VECTOR", "POINT")
    place.data.foreach_set("vector", made.place.astype(np.float32).ravel())
    return mesh


def shade(
    mesh: bpy.types.Mesh,
    made: Bent,
    outcome: Outcome,
    *,
    is_plain: bool = False,
    under: str | None = None,
) -> None:
    """Write the members' colours and patterns on their mesh, or those of plain wood.

    Args:
        mesh: of the members.
        made: what it was made of.
        outcome: their solved roof.
        is_plain: for plain wood.
        under: combination whose use is shown; left out, that of the worst.
    """
    use, state = _shown(made, outcome, is_plain, under)
    linear = palette.to_linear(palette.colours(use, state))
    _write(mesh, linear[made.owner], palette.patterns(use, state)[made.owner])


def paint(mesh: bpy.types.Mesh, code: str) -> None:
    """Write one sRGB colour on a mesh that the members' material draws."""
    linear = palette.to_linear(palette.srgb(code))
    count = len(mesh.vertices)
    _write(mesh, np.tile(linear, (count, 1)), np.zeros(count))


def _write(mesh: bpy.types.Mesh, linear: np.ndarray, pattern: np.ndarray) -> None:
    """Write colour and pattern of every vertex where the material reads them."""
    colour = np.c_[linear, np.ones(len(linear))]
    one = mesh.attributes.new(Attribute.COLOUR.value, "FLOAT_COLOR", "POINT")
    one.data.foreach_set("color", colour.astype(np.float32).ravel())
    other = mesh.attributes.new(Attribute.PATTERN.value, "FLOAT", "POINT")
    other.data.foreach_set("value", pattern.astype(np.float32))
    mesh.color_attributes.active_color_name = Attribute.COLOUR.value


def _shown(
    made: Bent, outcome: Outcome, is_plain: bool, under: str | None
) -> tuple[np.ndarray, np.ndarray]:
    """Return use and state of members, those of plain wood where asked."""
    results = outcome.solution.members
    shown = marking.shading_of((results[key] for key in made.keys), under)
    if is_plain:
        return np.zeros_like(shown.use), np.full_like(shown.state, State.RATED)
    return shown.use, shown.state


def _band(
    mesh: bpy.types.Mesh, made: Bent, style: Style, use: np.ndarray, state: np.ndarray
) -> None:
    """Give the faces of a mesh materials by use, for a view that shows no nodes."""
    top = np.where(use > 1, _OVER, np.round(use * _BANDS) / _BANDS)
    codes = [
        "#" + "".join(f"{round(255 * float(v)):02x}" for v in colour)
        for colour in palette.colours(top, state)
    ]
    slots = list(dict.fromkeys(codes)) or [palette.NEUTRAL]
    for code in slots:
        mesh.materials.append(ink.material(style, code))
    slot = np.array([slots.index(code) for code in codes], dtype=np.int32)
    if len(made.quads):
        mesh.polygons.foreach_set("material_index", slot[made.owner[made.quads[:, 0]]])
    mesh.update()


def bend(obj: bpy.types.Object, made: Bent, factor: float) -> None:
    """Give an object a shape key for each time, its sags drawn larger by a factor."""
    obj.shape_key_add(name="As framed", from_mix=False)
    for name, moved in zip(TIMES, made.moved, strict=True):
        key = obj.shape_key_add(name=name, from_mix=False)
        key.data.foreach_set("co", (made.vertices + factor * moved).ravel())
        key.value = 0.0


def key(data: bpy.types.ID, path: str, frame: int) -> None:
    """Keyframe a property in an action of its own data-block.

    From 4.4 on Blender would put an object and its shape keys into one action, of which
    4.2 and 4.3 read but a part.
    """
    held = data.animation_data or data.animation_data_create()
    if held.action is None:
        held.action = bpy.data.actions.new(data.name)
    data.keyframe_insert(path, frame=frame)


def key_shape(obj: bpy.types.Object, weights: dict[str, float], frame: int) -> None:
    """Keyframe how far each shape is there, 0 to 1; those not named are at 0."""
    for block in obj.data.shape_keys.key_blocks[1:]:
        name = block.name
        block.value = weights.get(name, 0.0)
        path = f'key_blocks["{bpy.utils.escape_identifier(name)}"].value'
        key(obj.data.shape_keys, path, frame)


def key_look(obj: bpy.types.Object, dim: float, frame: int) -> None:
    """Keyframe how faded an object is."""
    obj[ink.DIM] = float(dim)
    key(obj, f'["{ink.DIM}"]', frame)


def key_hidden(obj: bpy.types.Object, hidden: bool, frame: int) -> None:
    """Keyframe whether an object is left out of view and render."""
    obj.hide_render = obj.hide_viewport = hidden
    key(obj, "hide_render", frame)
    key(obj, "hide_viewport", frame)
