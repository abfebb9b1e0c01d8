"""What the tables offer for the fields that a user types into."""

from ...solver.basis import materials
from ...solver.errors import TableError

_LUMBER = tuple(f"2x{n}" for n in (3, 4, 6, 8, 10, 12))
_POSTS = ("4x4", "4x6", "6x6")
_BEAMS = ("4x8", "4x10", "4x12", "1.75x9.25", "1.75x9.5", "1.75x11.875", "1.75x14")


def common_sizes() -> tuple[str, ...]:
    """Return sizes that a yard has: dimension lumber, posts, beams, engineered."""
    return ("1x6", "1x8", *_LUMBER, *_POSTS, *_BEAMS)


def species() -> tuple[str, ...]:
    """Return the species groups and engineered families of the tables."""
    return materials.species_names()


def grades(name: str) -> tuple[str, ...]:
    """Return the grades of a species group; all of every one for an unknown name."""
    try:
        return materials.grades(name)
    except TableError:
        every = (g for group in species() for g in materials.grades(group))
        return tuple(dict.fromkeys(every))
