"""NDS Supplement 2015 and 2018: sections, reference values, size factors."""

from __future__ import annotations

from ..basis.materials import Kind, reference_values
from ..basis.materials import density as density_of
from ..basis.nds import adjustment
from ..basis.sections import section
from ..units import INCH, PCF, PSI
from .model import QUOTED, Record
from .support import table

TABLE_1B = "NDS Supplement Table 1B, section properties"

PRINTED = {
    "2x4": (5.25, 3.063, 5.359),
    "2x6": (8.25, 7.563, 20.8),
    "2x8": (10.88, 13.14, 47.63),
    "2x10": (13.88, 21.39, 98.93),
    "2x12": (16.88, 31.64, 178.0),
    "2x14": (19.88, 43.89, 290.8),
    "4x4": (12.25, 7.146, 12.51),
    "4x6": (19.25, 17.65, 48.53),
    "6x6": (30.25, 27.73, 76.26),
}


def section_properties(out: Record) -> None:
    """Area, section modulus and second moment of dressed sizes."""
    for size in PRINTED:
        found = section(size)
        ours = (
            found.area / INCH**2,
            found.section_modulus / INCH**3,
            found.I_strong / INCH**4,
        )
        names = zip("ASI", ("in2", "in3", "in4"), PRINTED[size], ours, strict=True)
        for name, unit, printed, mine in names:
            out.check(
                "CV-101",
                TABLE_1B,
                "memory",
                f"{size} {name}",
                printed,
                mine,
                rel=0.001,
                unit=unit,
            )


def southern_pine_values_by_width(out: Record) -> None:
    """Sixty metric values, printed to 0.1 MPa."""
    for row in table("southern_pine_use_guide_metric.csv"):
        values = reference_values("Southern Pine", row["grade"], section(row["size"]))
        out.check(
            "CV-105",
            "Southern Pine use guide, metric edition",
            QUOTED,
            f"{row['grade']} {row['size']} {row['property']}",
            float(row["MPa"]),
            getattr(values, row["property"]) / 1000000.0,
            tol=0.051,
            unit="MPa",
        )


def stability_modulus_follows_appendix_d(out: Record) -> None:
    """Emin = E (1 - 1.645 COV) 1.03 / 1.66 with COV 0.25, to the nearest 10 000."""
    for E, Emin in list(
        zip(
            (1.9, 1.8, 1.7, 1.6, 1.5, 1.4, 1.3, 1.2, 1.1, 1.0),
            (690, 660, 620, 580, 550, 510, 470, 440, 400, 370),
            strict=True,
        )
    ):
        ours = E * 1000000.0 * (1 - 1.645 * 0.25) * 1.03 / 1.66 / 1000.0
        out.check(
            "CV-106",
            "NDS 2018 Appendix D",
            "memory",
            f"Emin for E {E}e6 psi",
            Emin,
            ours,
            tol=5.001,
            unit="1000 psi",
        )


def density(out: Record) -> None:
    """Specific gravity, and density at 15 % moisture."""
    for species, G, pcf in [
        ("DF-L", 0.5, 33.6),
        ("HF", 0.43, 29.2),
        ("SPF", 0.42, 28.5),
        ("SP", 0.55, 36.7),
    ]:
        values = reference_values(species, "No.2", section("2x6"))
        out.check(
            "CV-104",
            "NDS 2018 Table 12.3.3A",
            QUOTED,
            f"G {species}",
            G,
            values.G,
        )
        out.check(
            "CV-701",
            "Wood Structural Design Data, 1992 revisions",
            "seen",
            f"density {species} at 15 % moisture",
            pcf,
            density_of(values.G, 15) / PCF,
            rel=0.003,
            unit="pcf",
        )


def size_factors(out: Record) -> None:
    """Every width of 2 in and 4 in stock."""
    for row, size, printed in [
        (name, size, value)
        for name, sizes, values in (
            (
                "2 in",
                "2x4 2x5 2x6 2x8 2x10 2x12 2x14",
                (1.5, 1.4, 1.3, 1.2, 1.1, 1, 0.9),
            ),
            (
                "4 in",
                "4x4 4x5 4x6 4x8 4x10 4x12 4x14",
                (1.5, 1.4, 1.3, 1.3, 1.2, 1.1, 1),
            ),
            ("Ft", "2x4 2x5 2x6 2x8 2x10 2x12 2x14", (1.5, 1.4, 1.3, 1.2, 1.1, 1, 0.9)),
            ("Fc", "2x4 2x5 2x6 2x8 2x10 2x12 2x14", (1.15, 1.1, 1.1, 1.05, 1, 1, 0.9)),
        )
        for size, value in zip(sizes.split(), values, strict=True)
    ]:
        piece = section(size)
        found = adjustment.size_factors(Kind.SAWN, "No.2", piece.breadth, piece.depth)
        ours = {"Ft": found.tension, "Fc": found.compression}.get(row, found.bending)
        out.check(
            "CV-102",
            "NDS Supplement Table 4A, size factors",
            QUOTED,
            f"C_F {row} {size}",
            printed,
            ours,
        )


def size_factors_of_other_rows(out: Record) -> None:
    """Stud, Construction and Southern Pine."""
    for kind, grade, size, printed in [
        (Kind.SAWN, "Stud", "2x4", (1.1, 1.1, 1.05)),
        (Kind.SAWN, "Stud", "2x6", (1.0, 1.0, 1.0)),
        (Kind.SAWN, "Construction", "2x4", (1.0, 1.0, 1.0)),
        (Kind.SOUTHERN_PINE, "No.2", "2x12", (1.0, 1.0, 1.0)),
        (Kind.SOUTHERN_PINE, "No.2", "2x14", (0.9, 0.9, 0.9)),
        (Kind.SOUTHERN_PINE, "No.1", "4x12", (1.1, 1.0, 1.0)),
    ]:
        piece = section(size)
        found = adjustment.size_factors(kind, grade, piece.breadth, piece.depth)
        ours = (found.bending, found.tension, found.compression)
        for name, value, mine in zip(("Fb", "Ft", "Fc"), printed, ours, strict=True):
            out.check(
                "CV-102",
                "NDS Supplement Tables 4A and 4B, size factors",
                QUOTED,
                f"C_F {name} {kind} {grade} {size}",
                value,
                mine,
            )


def flat_use_factors(out: Record) -> None:
    """Pieces laid flat."""
    for size, printed in [
        ("2x4", 1.1),
        ("2x6", 1.15),
        ("2x8", 1.15),
        ("2x10", 1.2),
        ("4x6", 1.05),
    ]:
        piece = section(size)
        ours = adjustment.flat_use_factor(Kind.SAWN, "No.2", piece.breadth, piece.depth)
        out.check(
            "CV-103d",
            "NDS Supplement Table 4A, flat use factors",
            QUOTED,
            size,
            printed,
            ours,
        )


def wet_service_factors(out: Record) -> None:
    """Fb is spared up to 1150 psi and Fc up to 750 psi, both with their size factor."""
    source = "NDS Supplement Table 4A, wet service factors"
    for name, Fb, Fc, printed, part in (
        ("Fb over 1150", 1151, 700, 0.85, "Fb"),
        ("Fb of 1150", 1150, 700, 1.0, "Fb"),
        ("Fc over 750", 900, 751, 0.8, "Fc"),
        ("Fc of 750", 900, 750, 1.0, "Fc"),
        ("Fv", 900, 750, 0.97, "Fv"),
        ("Fc-perp", 900, 750, 0.67, "Fc_perp"),
        ("E", 900, 750, 0.9, "E"),
    ):
        found = adjustment.wet_service_factors(Fb * PSI, Fc * PSI)
        out.check(
            "CV-103c",
            source,
            QUOTED,
            f"C_M {name} psi",
            printed,
            float(getattr(found, part)),
        )


GROUPS = (
    section_properties,
    southern_pine_values_by_width,
    stability_modulus_follows_appendix_d,
    density,
    size_factors,
    size_factors_of_other_rows,
    flat_use_factors,
    wet_service_factors,
)
