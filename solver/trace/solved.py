"""What the words need to know of a solved roof; ``solve.Solution`` is one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from ..analysis import FrameResult
from ..audit.model import Finding
from ..audit.zone import ZoneStrip
from ..brief.model import Brief
from ..framing.load_path import LoadPath
from ..framing.model import Framing
from ..hand.model import HandResult
from ..idealise.model import Model
from ..loads.combine import Combinations
from ..loads.member_loads import MemberLoads
from ..verdict.judge import Checked
from ..verdict.model import MemberResult
from .flow import Flow


class Solved(Protocol):
    """A solved roof, as the stages above left it."""

    @property
    def brief(self) -> Brief: ...  # noqa: D102 - the stage's own class says what it is
    @property
    def framing(self) -> Framing: ...  # noqa: D102
    @property
    def path(self) -> LoadPath: ...  # noqa: D102
    @property
    def loads(self) -> MemberLoads: ...  # noqa: D102
    @property
    def combinations(self) -> Combinations: ...  # noqa: D102
    @property
    def model(self) -> Model | None: ...  # noqa: D102
    @property
    def frame(self) -> FrameResult | None: ...  # noqa: D102
    @property
    def checked(self) -> Checked | None: ...  # noqa: D102
    @property
    def refusal(self) -> str: ...  # noqa: D102
    @property
    def hand(self) -> HandResult: ...  # noqa: D102
    @property
    def zone(self) -> tuple[ZoneStrip, ...]: ...  # noqa: D102
    @property
    def findings(self) -> tuple[Finding, ...]: ...  # noqa: D102
    @property
    def members(self) -> Mapping[str, MemberResult]: ...  # noqa: D102

    def flow(self, combination: str | None = None) -> Flow | None:
        """Return the hand-overs of a combination."""
        ...
