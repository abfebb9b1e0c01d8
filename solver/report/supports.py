"""Where the load ends: reactions, shares, and how well the analysis balances itself."""

from __future__ import annotations

import re

import numpy as np
from numpy.typing import NDArray

from ..solve import Solution
from ..trace.naming import named
from ..trace.reactions import reactions
from ..trace.wording import combination_words, owner_word
from .markup import Content, Raw, section, table, tag
from .show import Show

Floats = NDArray[np.float64]
_SURFACES = {
    "roof S": "south slope",
    "roof N": "north slope",
    "ceiling": "ceiling",
    "roof W": "west slope",
    "roof E": "east slope",
    "roof at hips": "roof beside the hips",
}


def surface_shares(solution: Solution) -> dict[str, dict[str, float]]:
    """Return the part of each loaded surface that ends on each support owner.

    Returns:
        Surface to owner to share; each surface adds to one.
    """
    shares, model = solution.shares(), solution.model
    if shares is None or model is None:
        return {}
    loads, out = solution.loads, dict[str, dict[str, float]]()
    names: list[str] = [loads.surface[int(n)] for n in model.stretch]
    surface = np.array(names)
    area = loads.plan_area[model.stretch]
    for name in dict.fromkeys(s for s in names if s):
        on = np.flatnonzero(surface == name)
        if area[on].sum() > 0:
            out[name] = shares.of_patch(on, area[on])
    return out


def supports(solution: Solution) -> Raw:
    """Return reactions and shares."""
    if solution.frame is None:
        return Raw("")
    show, names = Show(solution.brief.units), solution.combinations.names
    given = reactions(solution)
    total = np.sum([up for up, _ in given.values()], axis=0)
    rows: list[list[Content]] = [
        [
            name,
            *(show.force(float(up[n])) for up, _ in given.values()),
            show.force(float(total[n])),
        ]
        for n, name in enumerate(names)
    ]
    most = [float(a[int(np.argmax(np.abs(a)))]) for _, a in given.values()]
    rows.append(["most sideways", *(show.force(abs(v)) for v in most), ""])
    heads = ("combination", *(owner_word(owner) for owner in given), "together")
    parts: list[Content] = [
        tag(
            "div",
            table(heads, rows, "What each support gives, upward",
                  range(1, len(heads))),
            class_="scroll",
        )
    ]  # fmt: skip
    shares = surface_shares(solution)
    if shares:
        owners = list(next(iter(shares.values())))
        cells = [
            [_SURFACES.get(name, name), *(f"{part[o]:.1%}" for o in owners)]
            for name, part in shares.items()
        ]
        words = combination_words(solution.combinations, solution.main_combination)
        parts.append(
            table(
                ("load on the", *(owner_word(o) for o in owners)),
                cells,
                "Where an even load on each surface ends, with what touches and what "
                f"is slack as in {words}",
                range(1, len(owners) + 1),
            )
        )
    return section(
        "Where the load ends",
        *parts,
        key="supports",
        lead="Follow each of these on down: wall, girder, footing, soil. That part is "
        "not checked here.",
    )


def balance(solution: Solution) -> Raw:
    """Return the self-checks of the analysis, and what lifted or went slack."""
    frame, flow, shares = solution.frame, solution.flow(), solution.shares()
    if frame is None or flow is None or shares is None:
        return Raw("")
    rows: list[list[Content]] = [
        ["Equations solved to", f"{float(np.max(frame.residual)):.1e}",
         "largest residual over largest load, all combinations"],
        ["Reactions less loads", f"{flow.ground_imbalance:.1e}",
         f"of all load, in {solution.main_combination}"],
        ["What enters a member less what leaves it", f"{flow.imbalance:.1e}",
         "of all load, the worst member"],
        ["Shares of any load less one", f"{shares.error:.1e}", "the worst stretch"],
    ]  # fmt: skip
    lifted = lifted_words(solution)
    cells = [
        [name, combination_words(solution.combinations, name), "; ".join(words)]
        for name, words in lifted.items()
    ]
    parts: list[Content] = [table(("self-check", "found", "measure"), rows)]
    if cells:
        heads = ("combination", "in words", "what does not press or pull")
        parts.append(table(heads, cells, "What lifts off or goes slack"))
    else:
        text = "Nothing lifts off or goes slack in any combination."
        parts.append(tag("p", text))
    return section(
        "How far the numbers can be trusted in themselves",
        *parts,
        key="balance",
        lead="They say that the arithmetic holds, not that the brief is right.",
    )


def lifted_words(solution: Solution) -> dict[str, list[str]]:
    """Return what does not act in each combination, like things drawn together."""
    out: dict[str, list[str]] = {}
    for row, name in enumerate(solution.combinations.names):
        groups: dict[str, list[str]] = {}
        for who, what in _idle(solution, row):
            groups.setdefault(what, []).append(who)
        words = [f"{named(tuple(dict.fromkeys(k)))} {w}" for w, k in groups.items()]
        words = [
            re.sub(r" (lifts off|is slack)", _many, text)
            if len(set(keys)) > 1
            else text
            for text, keys in zip(words, groups.values(), strict=True)
        ]
        if words:
            out[name] = words
    return out


def _many(found: re.Match[str]) -> str:
    """Return the plural of a verb."""
    return {" lifts off": " lift off", " is slack": " are slack"}[found.group(0)]


def _idle(solution: Solution, row: int) -> list[tuple[str, str]]:
    """Return who does not act in a combination, and how."""
    model, frame = solution.model, solution.frame
    assert model is not None
    assert frame is not None
    of = model.frame.element_member
    assert of is not None
    out: list[tuple[str, str]] = [
        (model.members[int(of[e])], "is slack")
        for e in np.flatnonzero(~frame.element_active[row])
    ]
    active = frame.link_active[row]
    for n, pair in zip(model.contacts, model.contact_links, strict=True):
        if not active[pair[0]]:
            contact = solution.framing.contacts[n]
            out.append((contact.upper, f"lifts off {contact.lower}"))
    out += [
        (ground.member, f"lifts off {owner_word(ground.owner)}")
        for ground in model.ground
        if ground.link >= 0 and not active[ground.link]
    ]
    return out
