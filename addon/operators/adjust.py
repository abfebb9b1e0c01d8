"""Move a handle of the roof: by mouse, by arrow keys, or by typing its number."""

import bpy
import numpy as np
from bpy.props import EnumProperty, FloatProperty, IntProperty
from bpy_extras import view3d_utils

from ...solver.errors import SolverError
from ..bridge import brief_io, handles
from ..bridge.handles import Kind
from ..bridge.session import SESSION
from ..names import Op
from ..properties import find_roof, roof_of
from .polls import may_change

WHAT = (
    ("PITCH", "Pitch", "Rise of the roof in 12 of run"),
    ("SIDE_PITCH", "Pitch of a Side", "Rise in 12 of run over one side of an outline"),
    ("OVERHANG", "Overhang", "How far the rafter tails reach past the wall"),
    ("PURLIN", "Purlin", "Where a purlin runs under its rafters"),
    ("WALL", "Wall", "Where an interior wall stands; across joists it takes to them"),
    ("FOOT", "Strut Foot", "Where struts stand; near a bearing wall they take to it"),
)

_KEYS = set("0123456789.-'\" /")
_STEPS = {"UP_ARROW": 1, "RIGHT_ARROW": 1, "DOWN_ARROW": -1, "LEFT_ARROW": -1}


class LOADFALL_OT_adjust(bpy.types.Operator):
    """Drag, or type a number; Ctrl moves freely, arrow keys by steps, Esc puts back"""

    bl_idname = Op.ADJUST.value
    bl_label = "Move Roof Handle"
    bl_options = {"REGISTER", "UNDO", "BLOCKING"}

    what: EnumProperty(name="Handle", items=WHAT)
    index: IntProperty(name="Number", description="Which of the list", min=0)
    pitch: FloatProperty(name="Pitch", description="Rise in 12 of run", precision=3)
    at: FloatProperty(
        name="At", description="Along the handle's line", unit="LENGTH", precision=3
    )

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A roof or one of its members must be active."""
        return may_change(cls, context)

    def draw(self, _context: bpy.types.Context) -> None:
        """Draw the one number that counts in the last operation's panel."""
        is_pitch = self.what in ("PITCH", "SIDE_PITCH")
        self.layout.prop(self, "pitch" if is_pitch else "at")

    def _handle(self, context: bpy.types.Context) -> handles.Handle | None:
        """Return the handle that is moved."""
        roof, scale = find_roof(context.object), brief_io.scale_of(context.scene)
        return handles.handle(roof, scale, Kind(self.what), self.index)

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Put the handle at its number and solve."""
        roof, scale = find_roof(context.object), brief_io.scale_of(context.scene)
        one = self._handle(context)
        if one is None:
            self.report({"ERROR"}, "This roof has no such handle")
            return {"CANCELLED"}
        offset = one.at_pitch(self.pitch) if one.run else self.at * scale
        handles.put(roof, scale, one, offset)
        try:
            SESSION.rebuild(roof, context.scene)
        except SolverError as error:
            self.report({"WARNING"}, str(error))
        return {"FINISHED"}

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Begin to drag."""
        one = self._handle(context)
        if one is None or context.region_data is None:
            self.report({"ERROR"}, "This roof has no such handle in this view")
            return {"CANCELLED"}
        self._typed = ""
        self._first = handles.stated_by(find_roof(context.object), one)
        self._grip = self._along(context, event, one) - one.offset
        self._is_drag = event.type == "LEFTMOUSE"
        self._tell(context)
        context.window_manager.modal_handler_add(self)
        return {"RUNNING_MODAL"}

    def modal(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Follow the mouse or the keys."""
        one = self._handle(context)
        if one is None or event.type in ("ESC", "RIGHTMOUSE"):
            return self._put_back(context, one)
        if event.type == "MOUSEMOVE" and not self._typed:
            offset = self._along(context, event, one) - self._grip
            self._move(context, one, offset, free=event.ctrl)
        elif event.type == "LEFTMOUSE":
            wanted = "RELEASE" if self._is_drag else "PRESS"
            if event.value == wanted:
                return self._confirm(context)
        elif event.value == "PRESS":
            if event.type in ("RET", "NUMPAD_ENTER"):
                return self._confirm(context)
            self._type(context, event, one)
        self._tell(context)
        return {"RUNNING_MODAL"}

    def _type(
        self, context: bpy.types.Context, event: bpy.types.Event, one: handles.Handle
    ) -> None:
        """Take a key: a digit of the number, a step, or a step back."""
        if event.type in _STEPS:
            roof = find_roof(context.object)
            step = 0.0254 if roof_of(roof).units == "IMPERIAL" else 0.01
            if one.run:
                step = one.at_pitch(0.25)
            offset = one.offset + step * _STEPS[event.type]
            self._move(context, one, offset, free=True)
            return
        if event.type == "BACK_SPACE":
            self._typed = self._typed[:-1]
        elif event.unicode and event.unicode in _KEYS:
            self._typed += event.unicode
        offset = self._parsed(context, one)
        if offset is not None:
            self._move(context, one, offset, free=True)

    def _parsed(self, context: bpy.types.Context, one: handles.Handle) -> float | None:
        """Return the offset that was typed, m, None while it is no number."""
        try:
            if one.run:
                return one.at_pitch(float(self._typed))
            system = context.scene.unit_settings.system
            return bpy.utils.units.to_value(system, "LENGTH", self._typed)
        except ValueError:
            return None

    def _along(
        self, context: bpy.types.Context, event: bpy.types.Event, one: handles.Handle
    ) -> float:
        """Return how far along a handle's line the mouse is, m."""
        roof, scale = find_roof(context.object), brief_io.scale_of(context.scene)
        at = (event.mouse_region_x, event.mouse_region_y)
        region, data = context.region, context.region_data
        back = roof.matrix_world.inverted()
        eye = np.array(back @ view3d_utils.region_2d_to_origin_3d(region, data, at))
        way = back.to_3x3() @ view3d_utils.region_2d_to_vector_3d(region, data, at)
        way = np.array(way.normalized())
        apart = eye * scale - one.origin
        cross = float(way @ one.direction)
        if abs(1 - cross**2) < 1e-6:
            return one.offset
        return float(apart @ one.direction - cross * (apart @ way)) / (1 - cross**2)

    def _move(
        self,
        context: bpy.types.Context,
        one: handles.Handle,
        offset: float,
        *,
        free: bool,
    ) -> None:
        """Put the handle somewhere; the roof follows by itself."""
        roof, scale = find_roof(context.object), brief_io.scale_of(context.scene)
        if not free:
            outcome = SESSION.outcome(roof)
            offset = handles.snapped(roof, scale, one, offset, outcome)
        if abs(offset - one.offset) > 1e-6:
            handles.put(roof, scale, one, offset)

    def _tell(self, context: bpy.types.Context) -> None:
        """Say in the header where the handle is."""
        roof, scale = find_roof(context.object), brief_io.scale_of(context.scene)
        one = self._handle(context)
        if one is not None and context.area is not None:
            typed = f"   typed: {self._typed}" if self._typed else ""
            said = handles.say(roof, scale, one)
            context.area.header_text_set(f"{said}{typed}   Ctrl: free")

    def _confirm(self, context: bpy.types.Context) -> set[str]:
        """Keep it where it is, as one step of undo."""
        one, scale = self._handle(context), brief_io.scale_of(context.scene)
        self.at = one.offset / scale
        self.pitch = one.pitch if one.run else 0.0
        context.area.header_text_set(None)
        return self.execute(context)

    def _put_back(
        self, context: bpy.types.Context, one: handles.Handle | None
    ) -> set[str]:
        """Put it back where it was."""
        context.area.header_text_set(None)
        if one is not None:
            handles.put_back(find_roof(context.object), one, self._first)
        return {"CANCELLED"}


class LOADFALL_MT_handles(bpy.types.Menu):
    """Every handle of the active roof, for the keyboard"""

    bl_idname = "LOADFALL_MT_handles"
    bl_label = "Roof Handles"

    def draw(self, context: bpy.types.Context) -> None:
        """Draw one entry a handle."""
        roof = find_roof(context.object)
        self.layout.operator_context = "INVOKE_REGION_WIN"
        if roof is None:
            self.layout.label(text="Pick a roof first")
            return
        for one in handles.handles_of(roof, brief_io.scale_of(context.scene)):
            made = self.layout.operator(Op.ADJUST.value, text=one.name)
            made.what, made.index = one.kind.value, one.index


def draw_menu(menu: bpy.types.Menu, context: bpy.types.Context) -> None:
    """Draw the entry of the Object menu where a roof is active."""
    if find_roof(context.object) is not None:
        menu.layout.separator()
        menu.layout.menu(LOADFALL_MT_handles.bl_idname, icon="HOME")


CLASSES = (LOADFALL_OT_adjust, LOADFALL_MT_handles)
