"""When buttons that change a roof can be pressed, and what they say when not."""

import bpy

from ..bridge.choices import CHOICES
from ..bridge.view import LINKED
from ..properties import find_roof

NONE = "Pick a roof or one of its members first"


def may_change(operator: type[bpy.types.Operator], context: bpy.types.Context) -> bool:
    """Return whether the active roof can be changed, and say why where not."""
    roof = find_roof(context.object)
    if roof is None or roof.library is not None:
        operator.poll_message_set(NONE if roof is None else LINKED)
        return False
    return True


def has_choices(operator: type[bpy.types.Operator], context: bpy.types.Context) -> bool:
    """Return whether what to do was found for the active roof; say so where not."""
    roof = find_roof(context.object)
    if roof is None or CHOICES.of(roof) is None:
        operator.poll_message_set("Find what to build first, under What to Do")
        return False
    return True
