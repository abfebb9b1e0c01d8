"""Captions that a user has changed: carried into a lesson that is made again.

Every text of a lesson's scene remembers what it said when it was made. What was changed
goes where the new lesson says the same in the same step; where it says something else,
such as other figures, the change is told of and stays in the old scene.
"""

from __future__ import annotations

from dataclasses import dataclass

import bpy

SAID, STEP = "loadfall_said", "loadfall_step"  # custom properties of a lesson's texts


@dataclass(frozen=True)
class Edit:
    """A text that a user has changed.

    Attributes:
        step: that it stands in, "" for what stands in all of them.
        said: what it said.
        words: what it says now.
    """

    step: str
    said: str
    words: str


def remember(obj: bpy.types.Object, step: str = "") -> None:
    """Let a text object remember what it says, and in which step."""
    if obj.type == "FONT" and SAID not in obj:
        obj[SAID], obj[STEP] = obj.data.body, step


def edits_of(scene: bpy.types.Scene) -> list[Edit]:
    """Return what a user has changed of a lesson's words."""
    return [
        Edit(str(obj[STEP]), str(obj[SAID]), obj.data.body)
        for obj in scene.objects
        if obj.type == "FONT" and SAID in obj and obj.data.body != obj[SAID]
    ]


def carry(old: bpy.types.Scene, new: bpy.types.Scene) -> list[Edit]:
    """Write a lesson's changed words into the same lesson made again.

    Args:
        old: scene that may have changed words.
        new: scene that was made after it.

    Returns:
        Changes that find no place: the new lesson says something else there.
    """
    places: dict[tuple[str, str], list[bpy.types.Object]] = {}
    for obj in new.objects:
        if obj.type == "FONT" and SAID in obj:
            places.setdefault((str(obj[STEP]), str(obj[SAID])), []).append(obj)
    left = []
    for edit in edits_of(old):
        found = places.get((edit.step, edit.said))
        if not found:
            left.append(edit)
        for obj in found or ():
            obj.data.body = edit.words
    return left
