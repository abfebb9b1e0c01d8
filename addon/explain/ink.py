"""Materials of the explainers: shaded like the roof, or drawn in lines on white.

Edges are drawn by the material from distances in the mesh, so that they follow every
bend, come out of every render engine and need no extension in the file. An object's
``dim`` (a custom property, 0 to 1) may be keyframed. All of it glows: no lamp, so no
noise; and nothing is seen through, which would cost time.
"""

from enum import StrEnum

import bpy

from ..bridge import shading
from ..bridge.shading import Nodes
from ..overlay import palette

EDGE, PLACE = "loadfall_edge", "loadfall_place"
DIM = "dim"
_FADED = "#dfe2e6"
_EDGE = "#20242c"
_WIDTH = 0.0011  # of the distance to the eye: about a pixel and a half
_PAPER = "#ffffff"
_TOWARD_LIGHT = (-0.36, -0.48, 0.8)
_LIT = (0.78, 0.24)  # of the colour on a face along the light, and added on one to it
_STRENGTH = {"shaded": 0.75, "lines": 1.0}


class Style(StrEnum):
    """How a lesson is drawn."""

    SHADED = "shaded"
    LINES = "lines"


def material(style: Style, code: str = palette.NEUTRAL) -> bpy.types.Material:
    """Return the members' material of a style in this file, made where missing.

    Args:
        style: of drawing.
        code: sRGB colour that solid view shows; rendered, the mesh's own are seen.
    """
    name = f"Loadfall Explain {style.value} {code}"
    for found in bpy.data.materials:
        if found.name == name and found.library is None:
            return found
    made = bpy.data.materials.new(name)
    if made.node_tree is None:
        made.use_nodes = True
    made.diffuse_color = (*_linear(code), 1.0)
    made.node_tree.nodes.clear()
    _build(Nodes(made.node_tree), style)
    shading.light_nothing(made)
    return made


def plain(code: str) -> bpy.types.Material:
    """Return a material of one colour under the explainers' light."""
    name = f"Loadfall Explain {code}"
    for found in bpy.data.materials:
        if found.name == name and found.library is None:
            return found
    made = bpy.data.materials.new(name)
    if made.node_tree is None:
        made.use_nodes = True
    made.diffuse_color = (*_linear(code), 1.0)
    made.node_tree.nodes.clear()
    n = Nodes(made.node_tree)
    colour = n.add("ShaderNodeRGB")
    colour.outputs[0].default_value = made.diffuse_color
    glow, out = n.add("ShaderNodeEmission"), n.add("ShaderNodeOutputMaterial")
    n.tree.links.new(_lit(n, colour.outputs[0]), glow.inputs["Color"])
    n.tree.links.new(glow.outputs[0], out.inputs["Surface"])
    shading.light_nothing(made)
    return made


def _linear(code: str) -> tuple[float, float, float]:
    """Return linear light of a colour code."""
    return tuple(float(v) for v in palette.to_linear(palette.srgb(code)))


def _build(n: Nodes, style: Style) -> None:
    """Make the nodes: colour and pattern, faded and edged."""
    place = n.add("ShaderNodeAttribute", attribute_name=PLACE).outputs["Vector"]
    colour, ink = shading.inked(n, place)
    if style is Style.LINES:
        colour = n.mix(ink, (*_linear(_PAPER), 1.0), (*_linear(palette.INK), 1.0))
    dim = _of_object(n, DIM)
    faded = _linear(_PAPER if style is Style.LINES else _FADED)
    colour = n.mix(dim, colour, (*faded, 1.0))
    edge = n.math("MULTIPLY", _is_edge(n), _STRENGTH[style.value])
    edge = n.math(
        "MULTIPLY", edge, n.math("SUBTRACT", 1.0, n.math("MULTIPLY", dim, 0.62))
    )
    colour = n.mix(edge, colour, (*_linear(_EDGE), 1.0))
    if style is Style.SHADED:
        colour = _lit(n, colour)
    glow = n.add("ShaderNodeEmission")
    n.tree.links.new(colour, glow.inputs["Color"])
    out = n.add("ShaderNodeOutputMaterial")
    n.tree.links.new(glow.outputs[0], out.inputs["Surface"])


def _lit(n: Nodes, colour: object) -> object:
    """Return a colour under a light that needs no lamp, so that nothing is noisy."""
    normal = n.add("ShaderNodeNewGeometry").outputs["Normal"]
    dot = n.add("ShaderNodeVectorMath", operation="DOT_PRODUCT")
    n.tree.links.new(normal, dot.inputs[0])
    dot.inputs[1].default_value = _TOWARD_LIGHT
    share = n.math("MULTIPLY", dot.outputs["Value"], _LIT[1])
    light = n.math("ADD", share, _LIT[0])
    scale = n.add("ShaderNodeVectorMath", operation="SCALE")
    n.tree.links.new(colour, scale.inputs[0])
    n.tree.links.new(light, scale.inputs["Scale"])
    return scale.outputs["Vector"]


def _of_object(n: Nodes, name: str) -> object:
    """Return the output of an object's custom property."""
    node = n.add("ShaderNodeAttribute", attribute_name=name)
    node.attribute_type = "OBJECT"
    return node.outputs["Fac"]


def _is_edge(n: Nodes) -> object:
    """Return 1 within a line's width of an edge of the piece, else 0."""
    edge = n.add("ShaderNodeAttribute", attribute_name=EDGE)
    split = n.add("ShaderNodeSeparateColor")
    n.tree.links.new(edge.outputs["Color"], split.inputs[0])
    nearest = n.math("MINIMUM", split.outputs[0], split.outputs[1])
    nearest = n.math("MINIMUM", nearest, split.outputs[2])
    nearest = n.math("MINIMUM", nearest, edge.outputs["Alpha"])
    away = n.add("ShaderNodeCameraData").outputs["View Distance"]
    return n.math("LESS_THAN", nearest, n.math("MULTIPLY", away, _WIDTH))
