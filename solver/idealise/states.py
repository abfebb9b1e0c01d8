"""Contact states carried from one analysis to the next, by what touches what.

An edit renumbers joints; the keys of members stay. A state is only where the search
begins, so what finds no match begins pressed and no answer depends on it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..analysis.frame import TWO_SIDED
from ..framing.model import Framing
from .model import Model

Bools = NDArray[np.bool_]
Name = tuple[Hashable, ...]


@dataclass(frozen=True, eq=False, kw_only=True)
class Analysed:
    """An analysis that another may begin from.

    Attributes:
        framing, model: of the roof.
        frame: its forces.
    """

    framing: Framing
    model: Model
    frame: FrameResult


def carried_states(
    before: Analysed, framing: Framing, model: Model, combinations: tuple[str, ...]
) -> tuple[Bools, Bools]:
    """Return what acted before, on the elements and links of another model.

    Args:
        before: the earlier analysis.
        framing: of the other model.
        model: the other model.
        combinations: (ncomb,) its names.

    Returns:
        (ncomb, m) elements and (ncomb, k) links that act; all do where neither
        combination nor joint was there before.
    """
    was = before.frame
    row = {name: n for n, name in enumerate(was.combination_names)}
    known = [n for n, name in enumerate(combinations) if name in row]
    old_row = np.array([row[combinations[n]] for n in known], dtype=np.int64)
    out: list[Bools] = []
    for names, active, count in (
        (_elements, was.element_active, model.frame.n_elements),
        (_links, was.link_active, len(model.frame.links)),
    ):
        old = dict(names(before.framing, before.model))
        pairs = [(at, old[n]) for n, at in names(framing, model) if n in old]
        new_at, old_at = np.array(pairs, dtype=np.int64).reshape(-1, 2).T
        state = np.ones((len(combinations), count), dtype=bool)
        state[np.ix_(known, new_at)] = active[np.ix_(old_row, old_at)]
        out.append(state)
    return out[0], out[1]


def _elements(framing: Framing, model: Model) -> Iterator[tuple[Name, int]]:
    """Yield name and number of the elements that act one way alone."""
    del framing
    frame = model.frame
    found = np.flatnonzero(frame.one_sided != TWO_SIDED)
    keys = [(model.members[n],) for n in frame.element_member[found].tolist()]
    yield from zip(_told_apart(keys), found.tolist(), strict=True)


def _links(framing: Framing, model: Model) -> Iterator[tuple[Name, int]]:
    """Yield name and number of the links between members, and of those to ground."""
    contacts = [framing.contacts[n] for n in model.contacts]
    between = [(c.upper, c.lower) for c in contacts]
    vertical = model.contact_links[:, 0].tolist()
    yield from zip(_told_apart(between), vertical, strict=True)
    ground = [row for row in model.ground if row.link >= 0]
    stands = [(row.owner, row.member) for row in ground]
    yield from zip(_told_apart(stands), [row.link for row in ground], strict=True)


def _told_apart(names: Sequence[Name]) -> list[Name]:
    """Return the names, each with its number among those alike."""
    seen: Counter[Name] = Counter()
    out: list[Name] = []
    for name in names:
        out.append((*name, seen[name]))
        seen[name] += 1
    return out
