"""The shading that stays in the file: a colour attribute and one material.

Any render engine shows it, with or without the extension. The pattern is a procedural
texture along the member, so no image and no driver is needed.
"""

import bpy
import numpy as np

from ..names import SHADING, Attribute
from ..overlay import palette

GLOW = 0.68  # part of the colour that no light or shade touches: it is data


def shade_mesh(mesh: bpy.types.Mesh, colour: np.ndarray, pattern: float) -> None:
    """Write colour and pattern of a member on its mesh, unless they are there.

    Args:
        mesh: of one member.
        colour: (3,) linear light.
        pattern: see palette.patterns.
    """
    count = len(mesh.vertices)
    four = np.array([*colour, 1.0], dtype=np.float32)
    changed = _fill(
        mesh, Attribute.COLOUR, "FLOAT_COLOR", "color", np.tile(four, count)
    )
    if mesh.color_attributes.active_color_name != Attribute.COLOUR.value:
        mesh.color_attributes.active_color_name = Attribute.COLOUR.value
    share = np.full(count, pattern, dtype=np.float32)
    if _fill(mesh, Attribute.PATTERN, "FLOAT", "value", share) or changed:
        mesh.update_tag()


def _fill(
    mesh: bpy.types.Mesh, name: str, kind: str, slot: str, wanted: np.ndarray
) -> bool:
    """Make an attribute what is wanted; return whether it was something else."""
    attribute = _attribute(mesh, name, kind)
    held = np.empty(len(wanted), dtype=np.float32)
    attribute.data.foreach_get(slot, held)
    if np.array_equal(held, wanted):
        return False
    attribute.data.foreach_set(slot, wanted)
    return True


def _attribute(mesh: bpy.types.Mesh, name: str, kind: str) -> bpy.types.Attribute:
    """Return a point attribute of a mesh, made where it is missing."""
    found = mesh.attributes.get(name)
    if found is not None and (found.data_type != kind or found.domain != "POINT"):
        mesh.attributes.remove(found)
        found = None
    return found or mesh.attributes.new(name, kind, "POINT")


def material() -> bpy.types.Material:
    """Return the shading material of this file, made where it is missing."""
    for found in bpy.data.materials:
        if found.name == SHADING and found.library is None:
            return found
    made = bpy.data.materials.new(SHADING)
    if made.node_tree is None:
        made.use_nodes = True
    made.diffuse_color = (*palette.to_linear(palette.srgb(palette.NEUTRAL)), 1.0)
    _build(made.node_tree)
    light_nothing(made)
    return made


class Nodes:
    """Builds one node tree, left to right."""

    def __init__(self, tree: bpy.types.NodeTree) -> None:
        self.tree, self.count = tree, 0

    def add(self, kind: str, **values: object) -> bpy.types.Node:
        """Return a new node with some of its settings."""
        node = self.tree.nodes.new(kind)
        node.location = (180 * (self.count // 3), -200 * (self.count % 3))
        self.count += 1
        for name, value in values.items():
            setattr(node, name, value)
        return node

    def math(self, operation: str, first: object, second: object) -> object:
        """Return the output of a math node on two sockets or numbers."""
        node = self.add("ShaderNodeMath", operation=operation)
        for socket, value in zip(node.inputs, (first, second), strict=False):
            if isinstance(value, float):
                socket.default_value = value
            else:
                self.tree.links.new(value, socket)
        return node.outputs[0]

    def mix(self, factor: object, first: object, second: object) -> object:
        """Return the output of a colour mix."""
        node = self.add("ShaderNodeMix", data_type="RGBA")
        ins = [s for s in node.inputs if s.enabled]
        for socket, value in zip(ins, (factor, first, second), strict=True):
            if isinstance(value, tuple):
                socket.default_value = value
            else:
                self.tree.links.new(value, socket)
        return next(s for s in node.outputs if s.enabled)


def _build(tree: bpy.types.NodeTree) -> None:
    """Make the material's nodes: colour, inked by the pattern, half lit by itself."""
    tree.nodes.clear()
    n = Nodes(tree)
    place = n.add("ShaderNodeTexCoord").outputs["Object"]
    finish(n, inked(n, place)[0])


def inked(n: Nodes, place: object) -> tuple[object, object]:
    """Return a mesh's colour inked by its pattern, and 1 where there is ink.

    Args:
        n: the tree.
        place: output of a node, m along, across and up a member.
    """
    tree = n.tree
    colour = n.add("ShaderNodeAttribute", attribute_name=Attribute.COLOUR.value)
    pattern = n.add("ShaderNodeAttribute", attribute_name=Attribute.PATTERN.value)
    split = n.add("ShaderNodeSeparateXYZ")
    tree.links.new(place, split.inputs[0])
    across = n.math("ADD", split.outputs["Y"], split.outputs["Z"])
    share = pattern.outputs["Fac"]
    up = _ink(n, n.math("ADD", split.outputs["X"], across), share)
    down = _ink(n, n.math("SUBTRACT", split.outputs["X"], across), share)
    hatched = n.math("GREATER_THAN", share, 1.0)
    cross = n.math("MULTIPLY", hatched, n.math("MAXIMUM", up, down))
    plain = n.math("MULTIPLY", n.math("SUBTRACT", 1.0, hatched), up)
    ink = n.math("MAXIMUM", cross, plain)
    dark = (*palette.to_linear(palette.srgb(palette.INK)), 1.0)
    return n.mix(ink, colour.outputs["Color"], dark), ink


def finish(n: Nodes, colour: object) -> None:
    """End a material: matt, but the camera sees part of its colour in any light.

    Args:
        n: the tree.
        colour: output of a node, or (4,) linear light.
    """
    matt, glow = n.add("ShaderNodeBsdfDiffuse"), n.add("ShaderNodeEmission")
    for node in (matt, glow):
        if isinstance(colour, tuple):
            node.inputs["Color"].default_value = colour
        else:
            n.tree.links.new(colour, node.inputs["Color"])
    camera = n.add("ShaderNodeLightPath").outputs["Is Camera Ray"]
    both, out = n.add("ShaderNodeMixShader"), n.add("ShaderNodeOutputMaterial")
    n.tree.links.new(n.math("MULTIPLY", camera, GLOW), both.inputs["Fac"])
    n.tree.links.new(matt.outputs[0], both.inputs[1])
    n.tree.links.new(glow.outputs[0], both.inputs[2])
    n.tree.links.new(both.outputs[0], out.inputs["Surface"])


def plain(name: str, code: str) -> bpy.types.Material:
    """Return a material of one colour in this file, made where it is missing.

    Args:
        name: of the material.
        code: sRGB colour code.
    """
    for found in bpy.data.materials:
        if found.name == name and found.library is None:
            return found
    made = bpy.data.materials.new(name)
    if made.node_tree is None:
        made.use_nodes = True
    made.node_tree.nodes.clear()
    made.diffuse_color = (*palette.to_linear(palette.srgb(code)), 1.0)
    finish(Nodes(made.node_tree), tuple(made.diffuse_color))
    light_nothing(made)
    return made


def light_nothing(made: bpy.types.Material) -> None:
    """Keep Cycles from taking a glowing material for a lamp."""
    if hasattr(made, "cycles"):
        made.cycles.emission_sampling = "NONE"


def _ink(n: Nodes, along: object, share: object) -> object:
    """Return 1 on the inked part of stripes along a coordinate, else 0.

    A share over 1 means hatching, three tenths of it ink each way.
    """
    phase = n.math("FRACT", n.math("DIVIDE", along, palette.PERIOD), 0.0)
    over = n.math("SUBTRACT", share, palette.HATCH - 0.3)
    hatch = n.math("MAXIMUM", over, 0.0)
    is_hatch = n.math("GREATER_THAN", share, 1.0)
    stripes = n.math("MULTIPLY", share, n.math("SUBTRACT", 1.0, is_hatch))
    return n.math("LESS_THAN", phase, n.math("ADD", hatch, stripes))
