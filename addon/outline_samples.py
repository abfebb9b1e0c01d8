"""Sample roofs over drawn outlines, each with a question worth asking in it.

Loads are invented; the forms are common ones.
"""

from typing import Any

from .bridge import view
from .bridge.pipeline import Outcome
from .picture import stage
from .picture.shots import Shot

_LOADS = {"roof_dead": "10 psf", "roof_live": "20 psf", "ceiling_dead": "5 psf"}


def _corners(*rows: tuple[float, float, str]) -> list[dict[str, Any]]:
    """Return corners in feet, each with what stands over the side after it."""
    return [{"at": [f"{x} ft", f"{y} ft"], "edge": edge} for x, y, edge in rows]


L_WITH_VALLEY: dict[str, Any] = {
    "name": "L: what holds the ridge where hip and valley meet?",
    "footprint": {
        "outline": _corners(
            (0, 0, "eave"), (40, 0, "eave"), (40, 44, "eave"),
            (16, 44, "eave"), (16, 24, "eave"), (0, 24, "eave"),
        )
    },
    "roof": {"pitch": "6:12", "overhang": "16 in"},
    "rafters": {"size": "2x8", "spacing": "24 in"},
    "ridge": {"size": "2x10"},
    "hips": {"size": "2x10"},
    "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    "walls": [
        {"name": "spine", "start": ["0 ft", "12 ft"], "end": ["28 ft", "12 ft"]},
        {"name": "wing", "start": ["28 ft", "0 ft"], "end": ["28 ft", "44 ft"]},
    ],
    "loads": _LOADS,
}  # fmt: skip

L_ON_STRUTS: dict[str, Any] = {
    **L_WITH_VALLEY,
    "name": "L on struts: where does the load of the middle of the roof go?",
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ridge": {"size": "2x8"},
    "hips": {"size": "2x8"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    "purlins": [{"name": "ring", "slope": "all", "height": "3 ft", "size": "2x6"}],
    "struts": [
        {
            "purlin": "ring",
            "spacing": "4 ft",
            "foot": {"on": "nearest_wall", "otherwise": "ceiling_joist"},
        }
    ],
    "hip_braces": [
        {"under": key, "at": 1.0, "foot": {"on": "wall", "name": wall}}
        for key, wall in (("VL-5", "wing"), ("HP-6", "spine"), ("HP-3", "wing"))
    ],
}

CROSS_GABLE: dict[str, Any] = {
    "name": "Cross gable: is the ridge a board or a beam?",
    "footprint": {
        "outline": _corners(
            (16, 0, "gable"), (36, 0, "eave"), (36, 16, "eave"), (52, 16, "gable"),
            (52, 38, "eave"), (36, 38, "eave"), (36, 54, "gable"), (16, 54, "eave"),
            (16, 38, "eave"), (0, 38, "gable"), (0, 16, "eave"), (16, 16, "eave"),
        )
    },
    "roof": {"pitch": "6:12", "overhang": "16 in"},
    "rafters": {"size": "2x10", "spacing": "24 in"},
    "ridge": {"size": "2x12"},
    "hips": {"size": "2x12", "plies": 2},
    "ceiling_joists": {"size": "2x10", "spacing": "24 in"},
    "walls": [
        {"name": "spine", "start": ["0 ft", "27 ft"], "end": ["52 ft", "27 ft"]}
    ],
    "loads": _LOADS,
}  # fmt: skip

DRAWN_OUTLINE: dict[str, Any] = {
    "name": "A drawn outline: who ties the rafters of the slanting wall?",
    "footprint": {
        "outline": _corners(
            (0, 3, "eave"), (21, 0, "eave"), (41, 6, "eave"), (38, 29, "eave"),
            (24, 33, "eave"), (20, 24, "eave"), (4, 26, "eave"),
        )
    },
    "roof": {"pitch": "6:12", "overhang": "16 in"},
    "rafters": {"size": "2x8", "spacing": "16 in"},
    "ridge": {"size": "2x12"},
    "hips": {"size": "2x12", "plies": 2},
    "ceiling_joists": {"size": "2x10", "spacing": "16 in"},
    "walls": [{"name": "hall", "start": ["2 ft", "13 ft"], "end": ["40 ft", "13 ft"]}],
    "loads": _LOADS,
}  # fmt: skip

DUTCH_GABLE: dict[str, Any] = {
    "name": "Dutch gable: what carries the small gable?",
    "footprint": {"length": "40 ft", "width": "26 ft"},
    "roof": {
        "form": "dutch_gable", "pitch": "6:12", "setback": "6 ft", "overhang": "16 in",
    },
    "rafters": {"size": "2x8", "spacing": "24 in"},
    "ridge": {"size": "2x10"},
    "hips": {"size": "2x12"},
    "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    "walls": [{"name": "spine", "start": ["0 ft", "13 ft"], "end": ["40 ft", "13 ft"]}],
    "loads": _LOADS,
}  # fmt: skip


def _shot(
    outcome: Outcome, eye: tuple[float, float, float], title: str, *lines: str
) -> Shot:
    """Return a picture of the whole roof, from a place in parts of its size."""
    size = outcome.brief.footprint
    extent = max(size.length, size.width)
    middle = (size.length / 2, size.width / 2, 0.0)
    place = tuple(m + part * extent for m, part in zip(middle, eye, strict=True))
    return Shot(
        view=stage.View(place, (middle[0], middle[1], -0.5), 36.0),  # type: ignore[arg-type]
        title=title,
        lines=lines,
        caution=view.CAUTION,
    )


def l_with_valley(outcome: Outcome) -> Shot:
    """Return the picture of the L, from its inside corner."""
    return _shot(
        outcome, (-1.0, 1.15, 0.95), "What holds the point where hip and valley meet?",
        "No post stands under it: the valley and the hips bend instead, and the plates",
        "of the two long walls take the thrust of rafters that face the valley.",
    )  # fmt: skip


def l_on_struts(outcome: Outcome) -> Shot:
    """Return the picture of the L whose struts stand on its ceiling joists."""
    members = outcome.solution.members.values()
    over = sum(
        m.role == "ceiling_joist" and (m.utilisation or 0.0) > 1.0 for m in members
    )
    return _shot(
        outcome, (-1.0, 1.15, 0.95), f"{over} ceiling joists over their limit",
        "Under the purlins no bearing wall lies within 45 degrees, so the struts stand",
        "on joists that were sized for the ceiling alone.",
    )  # fmt: skip


def cross_gable(outcome: Outcome) -> Shot:
    """Return the picture of the cross gable."""
    return _shot(
        outcome, (-0.9, -1.2, 0.95), "A ridge board where a beam is needed",
        "Valleys of the lower wings run on up to the higher ridge and end on it.",
        "A board carries no roof; here it would have to.",
    )  # fmt: skip


def drawn_outline(outcome: Outcome) -> Shot:
    """Return the picture of the drawn outline."""
    untied = len(outcome.solution.path.untied_rafters)
    return _shot(
        outcome, (-0.9, -1.25, 0.95), f"{untied} rafters that nobody ties",
        "The joists tie the walls that they run square to. Behind the slanting wall",
        "none reaches from plate to plate.",
    )  # fmt: skip


def dutch_gable(outcome: Outcome) -> Shot:
    """Return the picture of the Dutch gable."""
    members = outcome.solution.members
    pair, beside = (members[key].utilisation or 0.0 for key in ("R-S1-03", "R-S1-06"))
    return _shot(
        outcome, (-1.05, -0.95, 0.75), "What carries the small gable?",
        "The rafters of the end stand on a ledger, and the ledger on two rafters:",
        f"they use {pair:.2f} of their limit, a rafter beside them {beside:.2f}.",
    )  # fmt: skip


SAMPLES = (
    ("l_with_valley", L_WITH_VALLEY, l_with_valley),
    ("l_on_struts", L_ON_STRUTS, l_on_struts),
    ("cross_gable", CROSS_GABLE, cross_gable),
    ("drawn_outline", DRAWN_OUTLINE, drawn_outline),
    ("dutch_gable", DUTCH_GABLE, dutch_gable),
)
