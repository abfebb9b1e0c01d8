"""Nailed built-up posts by NDS 15.3, written out beside the checks of a member."""

from __future__ import annotations

import math

from ..basis.protocol import Check
from ..units import FOOT, PSI
from .model import FORMULA, Record
from .support import check_one, forces

SOURCE = "NDS 2018 15.3.2 and 3.7.1, nailed built-up columns"


def _stability(Fc: float, Emin: float, ratio: float, factor: float) -> float:
    """Return C_P of one axis by Eq. 15.3-1, sawn lumber, c = 0.8."""
    FcE = 0.822 * Emin / ratio**2
    a = (1 + FcE / Fc) / 1.6
    return factor * (a - math.sqrt(a * a - FcE / Fc / 0.8))


def nailed_posts(out: Record) -> None:
    """Two to five plies of 2x6 SPF No.2, 8 ft: K_f = 0.6 across the plies alone.

    F_c = 1150 psi with C_F = 1.1, E_min = 510,000 psi (NDS Supplement Table 4A).
    """
    Fc, Emin, height = 1150 * 1.1, 510e3, 8 * 12.0
    for plies in (2, 3, 4, 5):
        across = _stability(Fc, Emin, height / (1.5 * plies), 0.6)
        along = _stability(Fc, Emin, height / 5.5, 1.0)
        expected = Fc * min(across, along)
        result = check_one(
            "2x6", "SPF", "No.2", [1.0], forces(N=-1e3, length=8 * FOOT), plies=plies,
            le_strong=8 * FOOT, le_weak=8 * FOOT, length=8 * FOOT,
            axial_is_primary=True,
        )  # fmt: skip
        ours = float(result.checks[Check.COMPRESSION].capacity[0]) / PSI
        out.check(
            "CV-564", SOURCE, FORMULA, f"Fc' of {plies} plies", expected, ours,
            rel=1e-6, unit="psi",
        )  # fmt: skip


GROUPS = (nailed_posts,)
