"""A sheet of glass before the camera: flat shapes and text in pixels of the picture.

Everything on it is geometry of the scene, so that it needs no compositor and comes out
of every render engine the same.
"""

from collections.abc import Sequence

import bpy
import numpy as np
from mathutils import Matrix

from ..bridge import shading
from ..overlay import palette
from ..overlay.labels import Box

_AWAY = 1.0  # Blender units from the camera to the sheet
_STEP = 2e-4  # from one layer to the one before it

Point = tuple[float, float]


class Sheet:
    """The sheet of one camera.

    Attributes:
        width, height: of the picture, pixels; the origin is its lower left corner.
        camera: the camera that it stands before.
        collection: what its objects are linked to.
    """

    def __init__(
        self,
        camera: bpy.types.Object,
        size: tuple[int, int],
        collection: bpy.types.Collection,
    ) -> None:
        self.width, self.height = size
        self.camera, self.collection = camera, collection
        data = camera.data
        if data.type == "ORTHO":
            wide = data.ortho_scale
        else:
            wide = 2 * _AWAY * np.tan(data.angle_x / 2)
        self._pixel = wide / self.width
        self._layer = 0

    def polygon(self, points: Sequence[Point], colour: str) -> None:
        """Fill a convex polygon."""
        self.polygons([points], colour)

    def polygons(self, shapes: Sequence[Sequence[Point]], colour: str) -> None:
        """Fill convex polygons of one colour as one object."""
        vertices: list[tuple[float, float, float]] = []
        faces = []
        for shape in shapes:
            first = len(vertices)
            vertices += [self._place(x, y) for x, y in shape]
            faces.append(tuple(range(first, len(vertices))))
        mesh = bpy.data.meshes.new("Sheet")
        mesh.from_pydata(vertices, [], faces)
        mesh.materials.append(flat_material(colour))
        self._add(bpy.data.objects.new("Sheet", mesh))

    def rectangle(self, box: Box, colour: str) -> None:
        """Fill a rectangle."""
        x, y, right, top = box.x, box.y, box.x + box.width, box.y + box.height
        self.polygon([(x, y), (right, y), (right, top), (x, top)], colour)

    def line(self, start: Point, end: Point, width: float, colour: str) -> None:
        """Draw a straight line."""
        a, b = np.array(start), np.array(end)
        length = np.hypot(*(b - a))
        if length < 1e-6:
            return
        side = np.array([-(b - a)[1], (b - a)[0]]) / length * width / 2
        self.polygon(
            [tuple(p) for p in (a - side, b - side, b + side, a + side)], colour
        )

    def arrow_head(self, at: Point, toward: Point, size: float, colour: str) -> None:
        """Draw an arrow head with its tip at a place."""
        a, b = np.array(at, dtype=float), np.array(toward, dtype=float)
        along = (b - a) / max(float(np.hypot(*(b - a))), 1e-9)
        side = np.array([-along[1], along[0]])
        tip, back = a + along * size * 0.6, a - along * size * 0.6
        corners = (tip, back + side * size * 0.6, back - side * size * 0.6)
        self.polygon([tuple(p) for p in corners], colour)

    def stripes(self, box: Box, share: float, colour: str, *, cross: bool) -> None:
        """Ink a rectangle with leaning stripes, or with cross-hatching."""
        step = box.height * 0.6
        shapes = []
        for k in range(int((box.width + box.height) / step) + 1):
            start = box.x - box.height + k * step
            for low, high in ((0.0, box.height), (box.height, 0.0))[
                : 2 if cross else 1
            ]:
                corners = [
                    (start + low, box.y),
                    (start + low + step * share, box.y),
                    (start + high + step * share, box.y + box.height),
                    (start + high, box.y + box.height),
                ]
                shapes.append(_cut(corners, box))
        self.polygons([s for s in shapes if s], colour)

    def text(
        self,
        words: str,
        at: Point,
        size: float,
        colour: str,
        *,
        middle: bool = False,
        bold: bool = False,
    ) -> float:
        """Write a line of text; return its width in pixels.

        Args:
            words: one line.
            at: left end of its baseline, or the middle of it.
            size: height of the letters' line, pixels.
            colour: sRGB code.
            middle: whether ``at`` is the middle.
            bold: thicker strokes.
        """
        curve = bpy.data.curves.new("Sheet", "FONT")
        curve.body = words
        curve.size = size * self._pixel * 1.35
        curve.align_x = "CENTER" if middle else "LEFT"
        curve.offset = size * self._pixel * 0.016 if bold else 0.0
        curve.resolution_u = 3
        curve.materials.append(flat_material(colour))
        obj = bpy.data.objects.new("Sheet", curve)
        x, y, z = self._place(*at)
        self._add(obj)
        obj.matrix_basis = Matrix.Translation((x, y, z))
        return self._measure(obj)

    def measure(self, words: str, size: float) -> float:
        """Return the width of a line of text, pixels."""
        curve = bpy.data.curves.new("Measure", "FONT")
        curve.body, curve.size = words, size * self._pixel * 1.35
        obj = bpy.data.objects.new("Measure", curve)
        width = self._measure(obj)
        bpy.data.objects.remove(obj)
        bpy.data.curves.remove(curve)
        return width

    def _measure(self, obj: bpy.types.Object) -> float:
        """Return the width of a text object, pixels; no scene is evaluated for it."""
        mesh = obj.to_mesh()
        across = np.empty(3 * len(mesh.vertices))
        mesh.vertices.foreach_get("co", across)
        obj.to_mesh_clear()
        return float(np.ptp(across[::3])) / self._pixel if len(across) else 0.0

    def _place(self, x: float, y: float) -> tuple[float, float, float]:
        """Return a pixel's place before the camera, nearer with every layer."""
        away = _AWAY - self._layer * _STEP
        shrink = 1.0 if self.camera.data.type == "ORTHO" else away / _AWAY
        scale = self._pixel * shrink
        right = x - self.width / 2 + self.camera.data.shift_x * self.width
        up = y - self.height / 2 + self.camera.data.shift_y * self.width
        return right * scale, up * scale, -away

    def _add(self, obj: bpy.types.Object) -> None:
        """Hang an object before the camera and begin the next layer."""
        obj.parent = self.camera
        for ray in ("diffuse", "glossy", "shadow", "transmission"):
            setattr(obj, f"visible_{ray}", False)
        obj.hide_select = True
        self.collection.objects.link(obj)
        self._layer += 1


def _cut(corners: Sequence[Point], box: Box) -> list[Point]:
    """Return a leaning stripe cut to a rectangle's sides."""
    left, right = box.x, box.x + box.width
    out: list[Point] = []
    for (x, y), (after, on) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if left <= x <= right:
            out.append((x, y))
        crossings = [
            (edge, y + (edge - x) / (after - x) * (on - y))
            for edge in (left, right)
            if (x - edge) * (after - edge) < 0
        ]
        out += sorted(crossings, key=lambda p: abs(p[0] - x))
    return out if len(out) > 2 else []


def flat_material(colour: str) -> bpy.types.Material:
    """Return a material that shows one colour whatever the light."""
    name = f"Loadfall Flat {colour}"
    found = bpy.data.materials.get(name)
    if found is not None:
        return found
    made = bpy.data.materials.new(name)
    if made.node_tree is None:
        made.use_nodes = True
    tree = made.node_tree
    tree.nodes.clear()
    glow = tree.nodes.new("ShaderNodeEmission")
    made.diffuse_color = (*palette.to_linear(palette.srgb(colour)), 1.0)
    glow.inputs["Color"].default_value = made.diffuse_color
    out = tree.nodes.new("ShaderNodeOutputMaterial")
    tree.links.new(glow.outputs[0], out.inputs["Surface"])
    shading.light_nothing(made)
    return made
