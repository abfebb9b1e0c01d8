"""The Loadfall tab of the sidebar, in the trade's order; it reads, never computes."""

import bpy

from . import (
    asked,
    findings,
    framing,
    lists,
    loads,
    member,
    overview,
    shape,
    share,
    single,
    supports,
    what_to_do,
)

# What was just picked comes right after the verdict, then the trade's own order.
MODULES = (
    lists, overview, asked, member, shape, framing, supports, single, loads, findings,
    what_to_do, share,
)  # fmt: skip


def register() -> None:
    """Register lists and panels in their order on the tab."""
    for module in MODULES:
        for cls in module.CLASSES:
            bpy.utils.register_class(cls)


def unregister() -> None:
    """Take them out again."""
    for module in reversed(MODULES):
        for cls in reversed(module.CLASSES):
            bpy.utils.unregister_class(cls)
