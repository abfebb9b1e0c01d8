"""Ask about a member, a wall or a patch of roof, by a click or by name."""

import bpy
import numpy as np
from bpy.props import BoolProperty, EnumProperty, FloatVectorProperty, StringProperty
from bpy_extras import view3d_utils

from ..bridge import asking, brief_io, members, walls
from ..bridge.session import SESSION
from ..names import Op
from ..properties import DIRTY, find_roof, is_roof, roof_of, settings_of
from ..properties.roof import ASKED

_MODE = {"MEMBER": "PATH", "WALL": "INFLUENCE", "PATCH": "PATH"}
_WORDS = "Click to ask, Ctrl-click to add to a comparison, Esc to end"


class LOADFALL_OT_ask(bpy.types.Operator):
    """Say what a member carries, what a wall collects or where a patch of roof goes"""

    bl_idname = Op.ASK.value
    bl_label = "Ask"
    bl_options = {"REGISTER", "UNDO"}

    kind: EnumProperty(name="About", items=ASKED)
    key: StringProperty(name="Key", description="Member key, or wall such as W-SOUTH")
    point: FloatVectorProperty(
        name="Point", description="In the roof's own axes, in m", size=3
    )
    add: BoolProperty(
        name="Compare", description="Keep what was asked before beside it"
    )

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A solved roof must be active."""
        roof = find_roof(context.object)
        return roof is not None and SESSION.outcome(roof) is not None

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Note the question on the roof; panel and overlay answer it."""
        roof = find_roof(context.object)
        found = self._answer(SESSION.outcome(roof))
        if found is None:
            self.report({"ERROR"}, f"This roof has no {self.kind.lower()} {self.key}")
            return {"CANCELLED"}
        asked = roof_of(roof).asked
        with DIRTY.paused():
            if not self.add:
                asked.clear()
            for n in reversed(range(len(asked))):
                if self._is_same(asked[n]):
                    asked.remove(n)  # asked again: once is enough
            item = asked.add()
            item.kind, item.key, item.point = self.kind, self.key, self.point
        settings = settings_of(context.scene)
        settings.show, settings.mode = True, _MODE[self.kind]
        self._select(context, roof)
        return {"FINISHED"}

    def _is_same(self, one: object) -> bool:
        """Return whether something was asked before."""
        if one.kind != self.kind:
            return False
        if self.kind == "PATCH":
            return tuple(one.point) == tuple(self.point)
        return one.key == self.key

    def _answer(self, outcome: object) -> object | None:
        """Return an answer, None where the roof has no such thing."""
        if self.kind == "MEMBER":
            return asking.member(outcome, self.key)
        if self.kind == "WALL":
            return asking.wall(outcome, self.key)
        return asking.patch(outcome, tuple(self.point))

    def _select(self, context: bpy.types.Context, roof: bpy.types.Object) -> None:
        """Make what was asked the active object; the roof for one of its patches."""
        obj = roof
        if self.kind == "MEMBER":
            obj = members.members_of(roof).get(self.key, roof)
        elif self.kind == "WALL":
            own = [o for o in roof.children if walls.owner_of_wall(o) == self.key]
            obj = next(iter(own), roof)
        if obj.name not in context.view_layer.objects:
            return
        for other in context.selected_objects:
            other.select_set(False)
        obj.select_set(True)
        context.view_layer.objects.active = obj


class LOADFALL_OT_ask_clear(bpy.types.Operator):
    """Forget what was asked about this roof"""

    bl_idname = Op.ASK_CLEAR.value
    bl_label = "Clear Answers"
    bl_options = {"REGISTER", "UNDO"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """Something must have been asked."""
        roof = find_roof(context.object)
        return roof is not None and len(roof_of(roof).asked) > 0

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Forget it."""
        roof_of(find_roof(context.object)).asked.clear()
        return {"FINISHED"}


class LOADFALL_OT_ask_click(bpy.types.Operator):
    """Click in the view to ask; Ctrl adds to a comparison, Esc ends"""

    bl_idname = Op.ASK_CLICK.value
    bl_label = "Pick and Ask"

    what: EnumProperty(
        name="About",
        items=(
            ("THING", "Member or Wall", "The member or wall under the mouse"),
            ("PATCH", "Patch of Roof", "The strip of roof or ceiling under the mouse"),
        ),
    )

    poll = LOADFALL_OT_ask.poll

    def invoke(self, context: bpy.types.Context, _event: bpy.types.Event) -> set[str]:
        """Wait for clicks in the view."""
        context.window.cursor_modal_set("EYEDROPPER")
        context.workspace.status_text_set(_WORDS)
        context.window_manager.modal_handler_add(self)
        return {"RUNNING_MODAL"}

    def modal(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Ask at a click; let the view turn meanwhile."""
        if event.type in ("ESC", "RIGHTMOUSE", "RET") and event.value == "PRESS":
            return self._end(context)
        if event.type == "LEFTMOUSE" and event.value == "PRESS":
            view = _view_at(context, event)
            if view is None:
                self._end(context)
                return {"FINISHED", "PASS_THROUGH"}
            self._ask(context, view, event)
            return {"RUNNING_MODAL"}
        return {"PASS_THROUGH"}

    def _end(self, context: bpy.types.Context) -> set[str]:
        """Give cursor and status line back."""
        context.window.cursor_modal_restore()
        context.workspace.status_text_set(None)
        return {"FINISHED"}

    def _ask(
        self,
        context: bpy.types.Context,
        view: tuple[bpy.types.Region, bpy.types.RegionView3D],
        event: bpy.types.Event,
    ) -> None:
        """Ask about what lies under the mouse."""
        region, data = view
        at = (event.mouse_x - region.x, event.mouse_y - region.y)
        origin = view3d_utils.region_2d_to_origin_3d(region, data, at)
        way = view3d_utils.region_2d_to_vector_3d(region, data, at)
        if self.what == "PATCH":
            found = _patch_under(context, origin, way)
        else:
            found = _thing_under(context, origin, way)
        if found is None:
            self.report({"INFO"}, "Nothing of a roof lies there")
            return
        bpy.ops.loadfall.ask("EXEC_DEFAULT", True, **found, add=event.ctrl)


def _view_at(
    context: bpy.types.Context, event: bpy.types.Event
) -> tuple[bpy.types.Region, bpy.types.RegionView3D] | None:
    """Return the 3D view under the mouse, None over anything else."""
    x, y = event.mouse_x, event.mouse_y
    for area in context.window.screen.areas:
        if area.type != "VIEW_3D":
            continue
        over = [
            r
            for r in area.regions
            if r.x <= x < r.x + r.width and r.y <= y < r.y + r.height
        ]
        if over and all(r.type == "WINDOW" for r in over):
            return over[0], area.spaces.active.region_3d
    return None


def _thing_under(
    context: bpy.types.Context, origin: object, way: object
) -> dict[str, object] | None:
    """Return the member or wall that a ray meets first."""
    graph = context.evaluated_depsgraph_get()
    hit, _, _, _, obj, _ = context.scene.ray_cast(graph, origin, way)
    if not hit:
        return None
    obj = obj.original
    if find_roof(obj) is None:
        return None
    context.view_layer.objects.active = obj
    key = members.member_key(obj)
    if key:
        return {"kind": "MEMBER", "key": key}
    owner = walls.owner_of_wall(obj)
    return {"kind": "WALL", "key": owner} if owner else None


def _patch_under(
    context: bpy.types.Context, origin: object, way: object
) -> dict[str, object] | None:
    """Return the strip of roof or ceiling that a ray meets first."""
    scale = brief_io.scale_of(context.scene)
    for roof in [o for o in context.visible_objects if is_roof(o)]:
        outcome = SESSION.outcome(roof)
        if outcome is None:
            continue
        back = roof.matrix_world.inverted()
        start = np.array(back @ origin) * scale
        point = asking.hit(outcome, start, np.array(back.to_3x3() @ way))
        if point is not None:
            context.view_layer.objects.active = roof
            return {"kind": "PATCH", "point": point.tolist()}
    return None


CLASSES = (LOADFALL_OT_ask, LOADFALL_OT_ask_clear, LOADFALL_OT_ask_click)
