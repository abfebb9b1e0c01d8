"""Framing: members, joints and supports of a roof, from its brief."""

from .builder import frame_roof
from .model import (
    Contact,
    Framing,
    LooseEnd,
    Member,
    Role,
    Support,
    SupportKind,
)

__all__ = [
    "Contact",
    "Framing",
    "LooseEnd",
    "Member",
    "Role",
    "Support",
    "SupportKind",
    "frame_roof",
]
