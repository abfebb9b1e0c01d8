"""International Residential Code 2018, raised ties and heel joints."""

import pytest
from loadfall.solver.basis import irc
from loadfall.solver.basis.irc.ties import TABLE_DEAD, TABLE_SNOW_SHARE
from loadfall.solver.basis.nds.nail_joints import adjusted_lateral_value
from loadfall.solver.basis.nds.nails import lateral_value, nail
from loadfall.solver.units import FOOT, INCH, PLF, POUND, PSF

from .support import table

HEEL = "IRC 2018 Table R802.5.2, heel joint connections"
FACTOR = "IRC 2018 Tables R802.4.1, footnote a, raised ties"
ROWS = table("irc_table_r802_5_2.csv")
RECALL_AT_FAULT = {("9", "24", "20", "36"), ("12", "19.2", "20", "36")}


def nails_of(row):
    live = row["load"] == "roof live"
    load = float(row["load_psf"]) * PSF * (1.0 if live else TABLE_SNOW_SHARE)
    thrust = irc.heel_joint_thrust(
        TABLE_DEAD + load, float(row["spacing_in"]) * INCH,
        float(row["roof_span_ft"]) * FOOT, float(row["pitch_in_12"]) / 12,
    )  # fmt: skip
    one = lateral_value(nail("16d common"), 1.5 * INCH, 1.5 * INCH, 0.42, 0.42).Z
    pounds = round(one / POUND)
    value = adjusted_lateral_value(pounds * POUND, 1.25 if live else 1.15)
    return irc.heel_joint_nails(thrust, value)


@pytest.mark.parametrize("pitch", sorted({r["pitch_in_12"] for r in ROWS}, key=int))
def test_heel_joint_table(verification, pitch):
    """288 cells; two recalled ones are one nail more or less than the statics."""
    for row in (r for r in ROWS if r["pitch_in_12"] == pitch):
        cell = (pitch, row["spacing_in"], row["load_psf"], row["roof_span_ft"])
        what = (
            f"{pitch}:12 at {row['spacing_in']} in, {row['load']} {row['load_psf']} "
            f"psf, {row['roof_span_ft']} ft"
        )
        verification.check(
            "CV-611", HEEL, "memory", what, int(row["nails"]), nails_of(row),
            tol=1 if cell in RECALL_AT_FAULT else 0, unit="nails",
        )  # fmt: skip


@pytest.mark.parametrize(
    ("part", "printed"), [(3, 0.67), (4, 0.76), (5, 0.83), (6, 0.90), (7.5, 1.00)]
)
def test_span_factor_of_raised_ties(verification, part, printed):
    provenance = "memory" if part == 7.5 else "seen in a transcription"
    verification.check(
        "CV-331", FACTOR, provenance, f"H_C/H_R = 1/{part:g}", printed,
        irc.raised_tie_span_factor(1 / part), tol=0.0055,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("part", "printed"), [(3, 1.5), (4, 1.33), (5, 1.25), (6, 1.2), (10, 1.11)]
)
def test_heel_factor_of_raised_ties(verification, part, printed):
    verification.check(
        "CV-332", "IRC 2018 Table R802.5.2, footnotes, raised ties", "memory",
        f"H_C/H_R = 1/{part:g}", printed, irc.raised_tie_heel_factor(1 / part),
        tol=0.0055,
    )  # fmt: skip


def test_thrust_of_a_gable_by_hand():
    """60 plf, 28 ft, 4:12: rise 56 in = 4.667 ft; 60 * 28^2 / (8 * 4.667) = 1260 lb."""
    thrust = irc.heel_joint_thrust(60 * PLF / (2 * FOOT), 2 * FOOT, 28 * FOOT, 4 / 12)
    assert thrust == pytest.approx(1260 * POUND, rel=1e-12)
