"""International Residential Code 2018, raised ties and heel joints."""

from __future__ import annotations

from ..basis import irc
from ..basis.irc.ties import TABLE_DEAD, TABLE_SNOW_SHARE
from ..basis.nds.nail_joints import adjusted_lateral_value
from ..basis.nds.nails import lateral_value, nail
from ..units import FOOT, INCH, POUND, PSF
from .model import QUOTED, Record
from .support import Row, table

HEEL = "IRC 2018 Table R802.5.2, heel joint connections"

FACTOR = "IRC 2018 Tables R802.4.1, footnote a, raised ties"

FILE = "irc_table_r802_5_2.csv"

RECALL_AT_FAULT = {("9", "24", "20", "36"), ("12", "19.2", "20", "36")}


def nails_of(row: Row) -> int:
    """Return the nails of a cell by statics and the nail's own value."""
    live = row["load"] == "roof live"
    load = float(row["load_psf"]) * PSF * (1.0 if live else TABLE_SNOW_SHARE)
    thrust = irc.heel_joint_thrust(
        TABLE_DEAD + load,
        float(row["spacing_in"]) * INCH,
        float(row["roof_span_ft"]) * FOOT,
        float(row["pitch_in_12"]) / 12,
    )
    one = lateral_value(nail("16d common"), 1.5 * INCH, 1.5 * INCH, 0.42, 0.42).Z
    pounds = round(one / POUND)
    value = adjusted_lateral_value(pounds * POUND, 1.25 if live else 1.15)
    return irc.heel_joint_nails(thrust, value)


def heel_joint_table(out: Record) -> None:
    """288 cells; two recalled ones are one nail more or less than the statics."""
    for pitch in sorted({r["pitch_in_12"] for r in table(FILE)}, key=int):
        for row in (r for r in table(FILE) if r["pitch_in_12"] == pitch):
            cell = (pitch, row["spacing_in"], row["load_psf"], row["roof_span_ft"])
            what = f"{pitch}:12 at {row['spacing_in']} in, {row['load']} "
            what += f"{row['load_psf']} psf, {row['roof_span_ft']} ft"
            out.check(
                "CV-611",
                HEEL,
                "memory",
                what,
                int(row["nails"]),
                nails_of(row),
                tol=1 if cell in RECALL_AT_FAULT else 0,
                unit="nails",
            )


def span_factor_of_raised_ties(out: Record) -> None:
    """Footnote a."""
    for part, printed in [(3, 0.67), (4, 0.76), (5, 0.83), (6, 0.9), (7.5, 1.0)]:
        provenance = "memory" if part == 7.5 else QUOTED
        out.check(
            "CV-331",
            FACTOR,
            provenance,
            f"H_C/H_R = 1/{part:g}",
            printed,
            irc.raised_tie_span_factor(1 / part),
            tol=0.0055,
        )


def heel_factor_of_raised_ties(out: Record) -> None:
    """Footnotes of the heel joint table."""
    for part, printed in [(3, 1.5), (4, 1.33), (5, 1.25), (6, 1.2), (10, 1.11)]:
        out.check(
            "CV-332",
            "IRC 2018 Table R802.5.2, footnotes, raised ties",
            "memory",
            f"H_C/H_R = 1/{part:g}",
            printed,
            irc.raised_tie_heel_factor(1 / part),
            tol=0.0055,
        )


GROUPS = (
    heel_joint_table,
    span_factor_of_raised_ties,
    heel_factor_of_raised_ties,
)
