"""Creep in time: what is printed of its law, beside the curve that pictures show."""

from __future__ import annotations

from ..basis.nds import creep
from .model import FORMULA, MEMORY, SEEN, Record


def beside_the_law_of_a_constant_climate(out: Record) -> None:
    """Toratti's (t / 29 500 days)^0.21: fifty years over ten, by ours."""
    share = creep.creep_share
    out.check(
        "CV-812", "Toratti, creep of timber in a constant climate", MEMORY,
        "creep at fifty years over that at ten", 0.904 / 0.645,
        float(share(50.0) / share(10.0)), rel=0.001,
    )  # fmt: skip


def of_eurocode_5(out: Record) -> None:
    """k_def 0.6 at fifty years: a week, half a year, ten years on the way there."""
    for what, years, printed in (
        ("a week", 7 / 365.25, 0.115),
        ("half a year", 0.5, 0.228),
        ("10 years", 10, 0.428),
    ):
        out.check(
            "CV-811", "Power law of time to k_def 0.6 at fifty years", FORMULA,
            f"creep after {what}", printed, 0.6 * float(creep.creep_share(years)),
            tol=0.001,
        )  # fmt: skip


def range_of_tests(out: Record) -> None:
    """Added creep of none to twice the elastic sag; a half is the dry mean."""
    source = "AWC answer on creep (NDS 3.5.2)"
    for what, printed, ours in (
        ("least added creep", 0.0, creep.WIDE_BAND[0]),
        ("most added creep", 2.0, creep.WIDE_BAND[1]),
        ("dry mean", 0.5, creep.creep_factor(creep.Condition.SEASONED_DRY) - 1),
        ("green mean", 1.0, creep.creep_factor(creep.Condition.UNSEASONED_OR_WET) - 1),
    ):
        out.check("CV-806", source, SEEN, what, printed, ours, tol=1e-12)


GROUPS = (beside_the_law_of_a_constant_climate, of_eurocode_5, range_of_tests)
