"""When buttons that change a roof can be pressed, and what they say when not."""

import bpy

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
