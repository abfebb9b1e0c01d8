"""How much each member creeps in fifty years, by what it is made of."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ..analysis.frame import GROUND
from ..basis.materials import reference_values
from ..basis.protocol import Basis
from ..errors import FieldError
from ..framing.model import Framing
from ..idealise.model import Model

Floats = NDArray[np.float64]
STEEL = "steel"


def member_creep(
    framing: Framing,
    model: Model,
    basis: Basis,
    by_kind: Mapping[str, float] | None = None,
    by_member: Mapping[str, float] | None = None,
) -> dict[str, float]:
    """Return the creep of every analysed member at fifty years.

    Source: the basis (NDS 2018 3.5.2: K_cr 1.5 for seasoned lumber, glued laminated
    timber and structural composite lumber in dry use, so 0.5). Steel does not creep
    at the temperatures of a roof: mechanics.

    Args:
        framing: of the roof.
        model: of the roof.
        basis: gives the creep factor of dry wood.
        by_kind: other values by kind of material (``sawn``, ``southern_pine``,
            ``timber``, ``scl``, ``steel``).
        by_member: other values by member key.

    Returns:
        Member key to creep, as a part of the immediate sag, 0 or more.

    Raises:
        FieldError: a value below 0 or not a number.
    """
    kinds = {STEEL: 0.0, **(by_kind or {})}
    own = by_member or {}
    for name, value in (*kinds.items(), *own.items()):
        if not 0 <= value < np.inf:
            raise FieldError(f"creep[{name}]", value, "0 or more")
    wood = basis.creep() - 1
    out: dict[str, float] = {}
    for key in model.members:
        m = framing.members[key]
        kind = reference_values(m.species, m.grade, m.section).kind.value
        out[key] = float(own.get(key, kinds.get(kind, wood)))
    return out


def model_creep(model: Model, creep: Mapping[str, float]) -> tuple[Floats, Floats]:
    """Return the creep of elements (m,) and links (k,) of a model.

    A link takes the larger of what it joins: the softer side is crushed more.
    """
    of_member = np.array([creep[key] for key in model.members])
    element = of_member[model.frame.element_member]
    of_node = np.zeros(model.frame.n_nodes)
    for end in (0, 1):
        np.maximum.at(of_node, model.frame.ends[:, end], element)
    links = model.frame.links
    far = np.where(links.j == GROUND, links.i, links.j)
    return element, np.maximum(of_node[links.i], of_node[far])
