"""Moving a strut or adding a post without solving afresh.

Taking out, or putting in, a few axial elements or links between nodes that exist is a
change of low rank to the stiffness: the old factorisation serves, and a small dense
system carries the change (Woodbury's identity), contacts included. The result is a full
`FrameResult`, as exact as one from scratch; where the change is not small, or lands on
a freedom that the old layout lacks, the frame is solved from scratch.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from .assembly import System, gather
from .contact import PlainSearch
from .contact_rows import element_rows, join, link_rows
from .element import element_arrays
from .factor import SingularPivot
from .frame import (
    GROUND,
    Bools,
    Floats,
    Frame,
    FrameError,
    Links,
    LoadSet,
    check_frame,
)
from .layout import Layout
from .solution import FrameResult, Job, keep_pages


@dataclass(frozen=True, eq=False, kw_only=True)
class Bar:
    """An axial element to put in, e.g. a strut.

    Attributes:
        i, j: nodes.
        A, E: m2, Pa.
        one_sided: as in `Frame`.
        up, I_strong, I_weak: for its own bending under its own load.
        load: (ncase, 3) N/m, global.
    """

    i: int
    j: int
    A: float
    E: float
    one_sided: int
    up: Sequence[float] = (0.0, 0.0, 1.0)
    I_strong: float = 0.0
    I_weak: float = 0.0
    load: Floats | None = None


@dataclass(frozen=True, eq=False, kw_only=True)
class Edit:
    """What to take out and what to put in.

    Attributes:
        remove_elements: axial elements to take out, with their loads; they stay in the
            arrays and are marked as not acting.
        remove_links: links to take out; they stay in the arrays likewise.
        bars: elements to put in; they come after the present ones.
        links: links to put in (a post is one to the ground); likewise.
    """

    remove_elements: tuple[int, ...] = ()
    remove_links: tuple[int, ...] = ()
    bars: tuple[Bar, ...] = ()
    links: Links = field(default_factory=Links.none)


def apply_edit(result: FrameResult, edit: Edit) -> FrameResult:
    """Return the result of an edited frame.

    Args:
        result: the solved frame, edited or not.
        edit: what changes.

    Raises:
        FrameError: an array that does not fit, or an element that is not axial.
        UnstableFrameError: the edited frame is a mechanism.
        LiftOffError: no contact state balances a combination.
    """
    keep_pages()
    bending = [e for e in edit.remove_elements if not result.frame.axial_only[e]]
    if bending:
        allowed = "axial elements; anything else is solved afresh with a new frame"
        raise FrameError("edit.remove_elements", bending[0], allowed)
    frame = _edited_frame(result.frame, edit)
    check_frame(frame)
    loads = _edited_loads(result.loads, edit)
    system = _edited_system(result, frame, edit)
    removed = np.array(edit.remove_elements, np.int64)
    job = result.job.edited(system, loads, removed, result.frame.n_elements)
    if _has_freedoms(result.layout, frame, edit):
        try:
            return _by_low_rank(result, job)
        except SingularPivot:
            pass  # solved afresh below, which names what is loose
    start = job.first_state(None)
    return job.run_afresh(system.natural_freedoms(), start)


def _edited_frame(frame: Frame, edit: Edit) -> Frame:
    """Return the frame with the new elements and links after the old ones."""
    links = frame.links
    if len(edit.links):
        links = Links(
            *(
                np.concatenate([getattr(links, name), getattr(edit.links, name)])
                for name in ("i", "j", "direction", "stiffness", "one_sided")
            )
        )
    bars, k = edit.bars, len(edit.bars)
    if not k:
        return replace(frame, links=links)
    member = int(frame.element_member[-1]) + 1
    new = {
        "ends": [(b.i, b.j) for b in bars],
        "up": [b.up for b in bars],
        "A": [b.A for b in bars],
        "I_strong": [b.I_strong for b in bars],
        "I_weak": [b.I_weak for b in bars],
        "J": [0.0] * k,
        "E": [b.E for b in bars],
        "G": [0.0] * k,
        "release": np.zeros((k, 12), bool),
        "axial_only": [True] * k,
        "one_sided": [b.one_sided for b in bars],
        "element_member": member + np.arange(k),
    }
    grown = {
        name: np.concatenate([getattr(frame, name), np.asarray(value)])
        for name, value in new.items()
    }
    return replace(frame, links=links, **grown)


def _edited_loads(loads: LoadSet, edit: Edit) -> LoadSet:
    """Return the loads without those on what is taken out, with those on new bars."""
    element = loads.element_load
    if edit.remove_elements:
        element = element.copy()
        element[:, list(edit.remove_elements)] = 0.0
    if edit.bars:
        none = np.zeros((len(loads.names), 3))
        own = [none if b.load is None else b.load for b in edit.bars]
        element = np.concatenate([element, np.stack(own, axis=1)], axis=1)
    return replace(loads, element_load=element)


def _edited_system(result: FrameResult, frame: Frame, edit: Edit) -> System:
    """Return the edited equations; rows of what is taken out are locked."""
    elements = element_arrays(frame)
    old = result.system.contacts
    gone = (
        np.array(edit.remove_elements, np.int64),
        np.array(edit.remove_links, np.int64),
    )
    rows, locks = [old], [old.lock.copy()]
    for own, which in ((old.element, gone[0]), (old.link, gone[1])):
        locks[0][(own[:, None] == which).any(axis=1)] = -1
    fresh = [
        which[~(which[:, None] == own).any(axis=1)]
        for own, which in ((old.element, gone[0]), (old.link, gone[1]))
    ]
    rows += [element_rows(frame, elements, fresh[0]), link_rows(frame, fresh[1])]
    locks += [np.full(len(which), -1) for which in fresh]
    bars = result.frame.n_elements + np.arange(len(edit.bars))
    pads = len(result.frame.links) + np.arange(len(edit.links))
    for made, sides in (
        (element_rows(frame, elements, bars), frame.one_sided[bars]),
        (link_rows(frame, pads), frame.links.one_sided[pads]),
    ):
        rows.append(made)
        locks.append((sides == 0).astype(np.int64))
    return System(frame, join(rows, np.concatenate(locks)), elements)


def _has_freedoms(layout: Layout, frame: Frame, edit: Edit) -> bool:
    """Return True where the old unknowns can follow what is put in."""
    nodes = [n for b in edit.bars for n in (b.i, b.j)]
    nodes += edit.links.i.tolist() + edit.links.j[edit.links.j != GROUND].tolist()
    known = (layout.free | frame.fixed)[:, :3]
    return bool(known[nodes].all())


def _by_low_rank(result: FrameResult, job: Job) -> FrameResult:
    """Solve by changes of low rank to the old factorisations.

    Raises:
        SingularPivot: the change is not small, or the frame is loose after it.
    """
    system, layout = job.system, result.layout
    f = gather(layout, job.applied)
    old = len(result.system.contacts)
    start = np.array([_start(system, s.state, old) for s in result.solved])
    search = PlainSearch(system, layout, f, start.reshape(f.shape[1], -1))
    for base in {id(s.base): s.base for s in result.solved}.values():
        here = [c for c, s in enumerate(result.solved) if s.base is base]
        was = np.zeros(len(system.contacts), bool)
        was[:old] = base.state
        was[old:] = system.contacts.lock[old:] < 0  # what is taken out acted before
        if search.from_base(base.extended(system, was), here):
            raise SingularPivot
    if search.stuck:
        raise SingularPivot
    solved = [search.done[c] for c in range(f.shape[1])]
    answer = job.finish(layout, solved)
    if not isinstance(answer, FrameResult):
        raise SingularPivot
    return answer


def _start(system: System, state: Bools, old: int) -> Bools:
    """Return the state to begin with: as it was, new contacts pressed."""
    lock = system.contacts.lock
    out = np.ones(len(lock), bool)
    out[:old] = state
    return (out & (lock >= 0)) | (lock > 0)
