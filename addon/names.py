"""Every name that Blender or a user's file sees: operators, panels, properties.

Knows nothing of bpy; a name changed here changes everywhere.
"""

from enum import StrEnum

TAB = "Loadfall"


class Op(StrEnum):
    """Operators."""

    ADD_ROOF = "loadfall.add_roof"
    ROOF_FROM_OUTLINE = "loadfall.roof_from_outline"
    REBUILD = "loadfall.rebuild"
    DELETE_ROOF = "loadfall.delete_roof"
    PICK_WORST = "loadfall.pick_worst"
    PICK_MEMBER = "loadfall.pick_member"
    PICK_ROOF = "loadfall.pick_roof"
    ASK = "loadfall.ask"
    ASK_CLICK = "loadfall.ask_click"
    ASK_CLEAR = "loadfall.ask_clear"
    FIND_REMEDIES = "loadfall.find_remedies"
    STOP_SEARCH = "loadfall.stop_search"
    PICK_REMEDY = "loadfall.pick_remedy"
    APPLY_REMEDY = "loadfall.apply_remedy"
    KEEP_VARIANT = "loadfall.keep_variant"
    SHOW_VARIANT = "loadfall.show_variant"
    REMOVE_VARIANT = "loadfall.remove_variant"
    OVERLAY = "loadfall.overlay"
    HOUSE = "loadfall.house"
    LOADS = "loadfall.loads"
    SEARCH_MEMBER = "loadfall.search_member"
    ADJUST = "loadfall.adjust"
    ITEM_ADD = "loadfall.item_add"
    ITEM_REMOVE = "loadfall.item_remove"
    IMPORT_BRIEF = "loadfall.import_brief"
    EXPORT_BRIEF = "loadfall.export_brief"
    EXPORT_RESULTS = "loadfall.export_results"
    EXPORT_SHEET = "loadfall.export_sheet"
    EXPORT_GLTF = "loadfall.export_gltf"
    SHOW_COMPARISON = "loadfall.show_comparison"
    OVERRIDE = "loadfall.override_member"
    EXPLAIN = "loadfall.explain"
    EXPLAIN_BESIDE = "loadfall.explain_beside"
    RENDER_VARIANTS = "loadfall.render_variants"
    EXPLAIN_WRITE = "loadfall.explain_write"
    EXPLAIN_PAGE = "loadfall.explain_page"
    EXPLAIN_STOP = "loadfall.explain_stop"
    EXPLAIN_LEAVE = "loadfall.explain_leave"


class Key(StrEnum):
    """Custom properties on the member objects."""

    MEMBER = "member"
    ROLE = "role"
    VERDICT = "verdict"
    REASON = "reason"
    UTILISATION = "utilisation"
    CHECK = "governing_check"
    COMBINATION = "combination"
    AXIAL = "axial_force"
    MOMENT = "moment"
    SHEAR = "shear"
    SAG_NOW = "sag_now"
    SAG_LONG_TERM = "sag_long_term"
    STRUT_LOAD = "strut_load"
    USE = "use_"  # + name of a check, e.g. use_bending


class Attribute(StrEnum):
    """Attributes on the member meshes."""

    COLOUR = "Loadfall"
    PATTERN = "loadfall_pattern"


SHADING = "Loadfall Shading"  # the members' material
WALLS = "Loadfall Walls"  # the walls' material
WALL_KEY = "wall"  # custom property on the wall objects
