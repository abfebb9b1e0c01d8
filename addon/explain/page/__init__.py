"""The roof in one HTML file: glTF and a viewer of our own in it, no network."""

from .write import write

__all__ = ["write"]
