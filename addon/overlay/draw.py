"""Puts the overlay on the screen."""


def register() -> None:
    """Nothing yet."""


def unregister() -> None:
    """Nothing yet."""
