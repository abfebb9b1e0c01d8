"""What the roof stands on: walls, beams, posts, purlins and their struts."""

from typing import Any

import bpy

from ..bridge import view
from ..properties import find_roof, roof_of
from .base import Fields, Panel, write
from .lists import draw_list


class LOADFALL_PT_supports(Panel, bpy.types.Panel):
    """Walls, beams, posts, purlins and struts"""

    bl_idname = "LOADFALL_PT_supports"
    bl_label = "Supports"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, _context: bpy.types.Context) -> None:
        """Its parts have panels of their own."""


class _Part(Panel):
    """A kind of support under its own heading."""

    bl_parent_id = "LOADFALL_PT_supports"


class LOADFALL_PT_purlins(_Part, bpy.types.Panel):
    """Purlin lines under the rafters"""

    bl_idname = "LOADFALL_PT_purlins"
    bl_label = "Purlins"

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        found = draw_list(fields, fields.stated, "PURLIN", "purlins", "active_purlin")
        if found is None:
            return
        purlin, index = found
        path = f"purlins[{index}]"
        drawn = fields.stated.footprint.shape == "OUTLINE"
        names = ("slope", "plane", "placed") if drawn else ("slope", "placed")
        fields.show(purlin, path, *names)
        fields.show(
            purlin, path, "from_plate" if purlin.placed == "FROM_PLATE" else "height"
        )
        if purlin.slope in ("SOUTH", "NORTH"):
            self._draw_zone(context, purlin.slope[0])
        fields.show_lumber(purlin, path)
        fields.show(purlin, path, "orientation")
        for name in ("start", "end"):
            fields.show_optional(purlin, path, name)

    def _draw_zone(self, context: bpy.types.Context, slope: str) -> None:
        """Draw where braces of this slope can keep the rules."""
        outcome = view.outcome_of(find_roof(context.object))
        if outcome is not None:
            box = self.layout.box()
            box.label(text="Where Braces Can Keep the Rule")
            for line in view.zone_lines(outcome, slope):
                write(box, context, line)


class LOADFALL_PT_struts(_Part, bpy.types.Panel):
    """Struts (braces) between purlins and what carries them"""

    bl_idname = "LOADFALL_PT_struts"
    bl_label = "Struts (Braces)"

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        found = draw_list(fields, fields.stated, "STRUTS", "struts", "active_strut")
        if found is None:
            return
        struts, index = found
        path = f"struts[{index}]"
        fields.show(struts, path, "purlin")
        if draw_foot(fields, struts.foot, f"{path}.foot"):
            fields.show_optional(struts.foot, f"{path}.foot", "from_plate")
        fields.show_lumber(struts, path)
        fields.show(struts, path, "spacing")
        for name in ("start", "end"):
            fields.show_optional(struts, path, name)
        fields.show(struts, path, "held_at_mid", "stiffener")


class LOADFALL_PT_hip_braces(_Part, bpy.types.Panel):
    """Braces and posts under hips and ridge ends"""

    bl_idname = "LOADFALL_PT_hip_braces"
    bl_label = "Hip Braces"

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """A hip roof must be active, or one that still states hip braces."""
        roof = find_roof(context.object)
        if roof is None:
            return False
        stated = roof_of(roof)
        return stated.roof.form == "HIP" or len(stated.hip_braces) > 0

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        stated = fields.stated
        found = draw_list(fields, stated, "HIP_BRACE", "hip_braces", "active_hip_brace")
        if found is None:
            return
        brace, index = found
        path = f"hip_braces[{index}]"
        fields.show(brace, path, "hip", "at")
        draw_foot(fields, brace.foot, f"{path}.foot")
        fields.show_lumber(brace, path)
        fields.show(brace, path, "held_at_mid", "stiffener")


class LOADFALL_PT_trusses(_Part, bpy.types.Panel):
    """Trusses built on the site from rafters and joists"""

    bl_idname = "LOADFALL_PT_trusses"
    bl_label = "Site-Built Trusses"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        found = draw_list(fields, fields.stated, "TRUSS", "trusses", "active_truss")
        if found is None:
            return
        truss, index = found
        path = f"trusses[{index}]"
        fields.show(truss, path, "webs", "spacing")
        for name in ("start", "end"):
            fields.show_optional(truss, path, name)
        fields.show_lumber(truss, path)
        fields.show(truss, path, "held_at_mid", "gusset", "gusset_nail")
        fields.show_optional(truss, path, "gusset_nails")


class LOADFALL_PT_walls(_Part, bpy.types.Panel):
    """Interior walls and their gaps"""

    bl_idname = "LOADFALL_PT_walls"
    bl_label = "Interior Walls"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        found = draw_list(fields, fields.stated, "WALL", "walls", "active_wall")
        if found is None:
            return
        wall, index = found
        fields.show(wall, f"walls[{index}]", "bearing", "start", "end")
        fields.show_optional(wall, f"walls[{index}]", "joists")
        self.layout.label(text="Openings: from, to along the wall")
        gap = draw_list(fields, wall, "OPENING", "openings", "active_opening")
        if gap is not None and wall.bearing:
            path = f"walls[{index}].openings[{gap[1]}].header"
            self._draw_header(fields, gap[0], path)

    def _draw_header(self, fields: Fields, opening: Any, path: str) -> None:
        """Draw the header over a gap of a bearing wall."""
        self.layout.prop(opening, "use_header")
        if opening.use_header:
            fields.show_lumber(opening.header, path)
            fields.show(opening.header, path, "jacks", "jack_size", "jack_species")
            fields.show(opening.header, path, "jack_grade", "jack_length")


class LOADFALL_PT_beams(_Part, bpy.types.Panel):
    """Beams at ceiling level"""

    bl_idname = "LOADFALL_PT_beams"
    bl_label = "Beams"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        found = draw_list(fields, fields.stated, "BEAM", "beams", "active_beam")
        if found is None:
            return
        beam, index = found
        fields.show(beam, f"beams[{index}]", "carries_joists", "place", "start", "end")
        fields.show_optional(beam, f"beams[{index}]", "joists")
        fields.show_lumber(beam, f"beams[{index}]")


class LOADFALL_PT_posts(_Part, bpy.types.Panel):
    """Posts under beams and strut feet"""

    bl_idname = "LOADFALL_PT_posts"
    bl_label = "Posts"
    bl_options = {"DEFAULT_CLOSED"}

    def draw(self, context: bpy.types.Context) -> None:
        """Draw list and active entry."""
        fields = Fields(self.layout, find_roof(context.object))
        found = draw_list(fields, fields.stated, "POST", "posts", "active_post")
        if found is None:
            return
        post, index = found
        fields.show(post, f"posts[{index}]", "at", "height", "foot")
        fields.show_lumber(post, f"posts[{index}]")


def draw_foot(fields: Fields, foot: Any, path: str) -> bool:
    """Draw what feet stand on; return whether their place is free to state."""
    fields.show(foot, path, "on")
    named = {"WALL": "walls", "BEAM": "beams", "POST": "posts"}
    if foot.on == "NEAREST_WALL":
        fields.show(foot, path, "otherwise")
        return False
    if foot.on not in named:
        return True
    row = fields.layout.row()
    row.alert = fields.stated.message_field == f"{path}.name"
    row.prop_search(foot, "name", fields.stated, named[foot.on])
    return False


CLASSES = (
    LOADFALL_PT_supports,
    LOADFALL_PT_purlins,
    LOADFALL_PT_struts,
    LOADFALL_PT_hip_braces,
    LOADFALL_PT_trusses,
    LOADFALL_PT_walls,
    LOADFALL_PT_beams,
    LOADFALL_PT_posts,
)
