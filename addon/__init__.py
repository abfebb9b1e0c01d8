"""The Blender add-on: Loadfall's door into a scene.

Only registration happens here; everything else is imported when Blender registers it.
"""


def register() -> None:
    """Register everything with Blender."""
    from . import registration

    registration.register()


def unregister() -> None:
    """Take everything back out of Blender."""
    from . import registration

    registration.unregister()
