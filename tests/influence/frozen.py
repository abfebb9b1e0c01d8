"""A solved frame in the contact state of one combination, which nothing can change."""

from dataclasses import replace

import numpy as np
from loadfall.solver.analysis import Links

PER_ELEMENT = ("ends", "up", "A", "I_strong", "I_weak", "J", "E", "G", "release",
               "axial_only", "element_member")  # fmt: skip


def frozen(result, row):
    """The frame without what does not act, two-sided; kept elements and links."""
    frame = result.frame
    keep, on, links = result.element_active[row], result.link_active[row], frame.links
    parts = {name: getattr(frame, name)[keep] for name in PER_ELEMENT}
    still = Links(
        links.i[on], links.j[on], links.direction[on], links.stiffness[on],
        0 * links.one_sided[on],
    )  # fmt: skip
    one_sided = np.zeros(int(keep.sum()), np.int8)
    return replace(frame, links=still, one_sided=one_sided, **parts), keep, on
