"""The viewport overlay: pure modules make arrays, draw.py puts them on the screen."""


def register() -> None:
    """Add the draw handlers."""
    from . import draw, gizmos

    draw.register()
    gizmos.register()


def unregister() -> None:
    """Remove the draw handlers."""
    from . import draw, gizmos

    gizmos.unregister()
    draw.unregister()
