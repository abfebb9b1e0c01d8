"""What a story board is: who is on the stage, and what each step shows and says.

Plain values; the words and numbers in them come from whoever wrote the lesson.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..bridge.bent import Load, Slice
from ..bridge.drawing import PathView
from ..bridge.pipeline import Outcome
from ..bridge.snowfall import Snow
from ..bridge.walls import Piece
from ..bridge.ways import Run
from ..overlay import palette
from ..picture.words import Label
from .timeline import Aim


@dataclass(frozen=True, kw_only=True)
class Actor:
    """Members of one solved roof that come and go together.

    Attributes:
        name: of the cast; steps call it by that.
        outcome: their solved roof.
        keys: of the members.
        slice: what is cut away of them, or None.
        offset: (3,) m that they stand off their place.
        combination: whose sags are drawn, or what lasts; None for that of the largest.
        snows: how snow comes and goes on top of it, by its name in looks.
        shaded: combination whose use is shaded; None for the worst of all.
        is_plain: whether they are shown as plain wood, before any load is told of.
        boxes: walls that come with them.
        wall_colour: sRGB code of those walls.
    """

    name: str
    outcome: Outcome
    keys: tuple[str, ...]
    slice: Slice | None = None
    offset: tuple[float, float, float] = (0.0, 0.0, 0.0)
    combination: Load = None
    snows: Mapping[str, Snow] = field(default_factory=dict)
    shaded: str | None = None
    is_plain: bool = False
    boxes: tuple[Piece, ...] = ()
    wall_colour: str = palette.WALL


@dataclass(frozen=True)
class Look:
    """How a cast looks in a step; a cast that a step does not name is not there.

    Attributes:
        bend: index in ``cast.TIMES`` of the shape it bends to, None for as framed.
        dim: 0 in its colours, 1 faded.
        snow: name of the snow that lies, one of its actor's, or "".
    """

    bend: int | None = None
    dim: float = 0.0
    snow: str = ""


@dataclass(frozen=True, kw_only=True)
class Step:
    """One picture of a lesson, and the way to it.

    Attributes:
        name: of its marker.
        caption: first what is to be seen, then a line or two about it.
        aim: of the camera.
        looks: cast name to look.
        labels: words about points of the world, the most important first.
        path: load path to draw, or None.
        run: bodies that move while the step holds, or None.
        move, hold: seconds until it stands, and that it stands.
        winters: so many come and go, of the actor's first snow, while it moves to a
            later time.
        has_scale: whether sags are to be seen, so that their scale is written.
        note: what stands beside the scale, e.g. where a curve is from.
        has_legend: whether the shading is explained.
    """

    name: str
    caption: tuple[str, ...]
    aim: Aim
    looks: Mapping[str, Look]
    labels: tuple[Label, ...] = ()
    path: PathView | None = None
    run: Run | None = None
    move: float = 1.0
    hold: float = 3.5
    winters: int = 0
    has_scale: bool = False
    note: str = ""
    has_legend: bool = False


@dataclass(frozen=True, kw_only=True)
class Lesson:
    """A story board.

    Attributes:
        key, title: of the lesson.
        actors: every cast of it.
        steps: in order.
        factor: how many times as large as they are sags are drawn.
        walls: pieces of wall that stand under the roof.
        caution: the line under every picture.
        lens: mm, on a sensor 36 mm wide.
        parallel: m that the picture of a parallel view is wide; None for a usual one.
    """

    key: str
    title: str
    actors: tuple[Actor, ...]
    steps: tuple[Step, ...]
    factor: float
    walls: tuple[Piece, ...] = ()
    caution: str = ""
    lens: float = 42.0
    parallel: float | None = None
