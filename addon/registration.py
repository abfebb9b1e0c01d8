"""The ordered list of what is registered; it registers whole or not at all.

Knows the modules and nothing of what they do.
"""

from types import ModuleType

from . import (
    explain,
    handlers,
    operators,
    overlay,
    panels,
    properties,
    translations,
)

MODULES: tuple[ModuleType, ...] = (
    properties, translations, operators, panels, explain, overlay, handlers,
)  # fmt: skip


def register() -> None:
    """Register every module in order; on a failure take back what was registered."""
    done = []
    try:
        for module in MODULES:
            module.register()
            done.append(module)
    except Exception:
        for module in reversed(done):
            module.unregister()
        raise


def unregister() -> None:
    """Unregister every module in reverse order."""
    for module in reversed(MODULES):
        module.unregister()
