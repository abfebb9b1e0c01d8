"""NDS Supplement 2015 and 2018: sections, reference values, size factors."""

import pytest
from loadfall.solver.basis.materials import Kind, density, reference_values
from loadfall.solver.basis.nds import adjustment
from loadfall.solver.basis.sections import section
from loadfall.solver.units import INCH, PCF, PSI

from .support import table

TABLE_1B = "NDS Supplement Table 1B, section properties"
# Area in2, section modulus in3, second moment in4.
PRINTED = {
    "2x4": (5.25, 3.063, 5.359),
    "2x6": (8.25, 7.563, 20.80),
    "2x8": (10.88, 13.14, 47.63),
    "2x10": (13.88, 21.39, 98.93),
    "2x12": (16.88, 31.64, 178.0),
    "2x14": (19.88, 43.89, 290.8),
    "4x4": (12.25, 7.146, 12.51),
    "4x6": (19.25, 17.65, 48.53),
    "6x6": (30.25, 27.73, 76.26),
}


@pytest.mark.parametrize("size", PRINTED)
def test_section_properties(verification, size):
    found = section(size)
    ours = (
        found.area / INCH**2,
        found.section_modulus / INCH**3,
        found.I_strong / INCH**4,
    )
    names = zip("ASI", ("in2", "in3", "in4"), PRINTED[size], ours, strict=True)
    for name, unit, printed, mine in names:
        verification.check(
            "CV-101", TABLE_1B, "memory", f"{size} {name}", printed, mine, rel=1e-3,
            unit=unit,
        )  # fmt: skip


@pytest.mark.parametrize(
    "row",
    table("southern_pine_use_guide_metric.csv"),
    ids=lambda r: f"{r['grade']} {r['size']} {r['property']}",
)
def test_southern_pine_values_by_width(verification, row):
    """Sixty metric values, printed to 0.1 MPa."""
    values = reference_values("Southern Pine", row["grade"], section(row["size"]))
    verification.check(
        "CV-105", "Southern Pine use guide, metric edition", "seen in a transcription",
        f"{row['grade']} {row['size']} {row['property']}", float(row["MPa"]),
        getattr(values, row["property"]) / 1e6, tol=0.051, unit="MPa",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("E", "Emin"),
    list(
        zip(
            (1.9, 1.8, 1.7, 1.6, 1.5, 1.4, 1.3, 1.2, 1.1, 1.0),
            (690, 660, 620, 580, 550, 510, 470, 440, 400, 370),
            strict=True,
        )
    ),
)
def test_stability_modulus_follows_appendix_d(verification, E, Emin):
    """Emin = E (1 - 1.645 COV) 1.03 / 1.66 with COV 0.25, to the nearest 10 000."""
    ours = E * 1e6 * (1 - 1.645 * 0.25) * 1.03 / 1.66 / 1e3
    verification.check(
        "CV-106", "NDS 2018 Appendix D", "memory", f"Emin for E {E}e6 psi", Emin, ours,
        tol=5.001, unit="1000 psi",
    )  # fmt: skip


def test_every_row_of_the_tables_keeps_that_rule():
    from loadfall.solver.basis import materials

    for row in materials._lumber():
        E, Emin = float(row["E_psi"]), float(row["Emin_psi"])
        assert abs(E * (1 - 1.645 * 0.25) * 1.03 / 1.66 - Emin) <= 5001, row


@pytest.mark.parametrize(
    ("species", "G", "pcf"),
    [("DF-L", 0.50, 33.6), ("HF", 0.43, 29.2), ("SPF", 0.42, 28.5), ("SP", 0.55, 36.7)],
)
def test_density(verification, species, G, pcf):
    values = reference_values(species, "No.2", section("2x6"))
    verification.check(
        "CV-104", "NDS 2018 Table 12.3.3A", "seen in a transcription",
        f"G {species}", G, values.G,
    )  # fmt: skip
    verification.check(
        "CV-701", "Wood Structural Design Data, 1992 revisions", "seen",
        f"density {species} at 15 % moisture", pcf, density(values.G, 15) / PCF,
        rel=3e-3, unit="pcf",
    )  # fmt: skip
    assert values.density == pytest.approx(density(values.G, 15))


@pytest.mark.parametrize(
    ("row", "size", "printed"),
    [
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
    ],
)
def test_size_factors(verification, row, size, printed):
    piece = section(size)
    found = adjustment.size_factors(Kind.SAWN, "No.2", piece.breadth, piece.depth)
    ours = {"Ft": found.tension, "Fc": found.compression}.get(row, found.bending)
    verification.check(
        "CV-102", "NDS Supplement Table 4A, size factors", "seen in a transcription",
        f"C_F {row} {size}", printed, ours,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "grade", "size", "printed"),
    [
        (Kind.SAWN, "Stud", "2x4", (1.1, 1.1, 1.05)),
        (Kind.SAWN, "Stud", "2x6", (1.0, 1.0, 1.0)),
        (Kind.SAWN, "Construction", "2x4", (1.0, 1.0, 1.0)),
        (Kind.SOUTHERN_PINE, "No.2", "2x12", (1.0, 1.0, 1.0)),
        (Kind.SOUTHERN_PINE, "No.2", "2x14", (0.9, 0.9, 0.9)),
        (Kind.SOUTHERN_PINE, "No.1", "4x12", (1.1, 1.0, 1.0)),
    ],
)
def test_size_factors_of_other_rows(verification, kind, grade, size, printed):
    piece = section(size)
    found = adjustment.size_factors(kind, grade, piece.breadth, piece.depth)
    ours = (found.bending, found.tension, found.compression)
    for name, value, mine in zip(("Fb", "Ft", "Fc"), printed, ours, strict=True):
        verification.check(
            "CV-102", "NDS Supplement Tables 4A and 4B, size factors",
            "seen in a transcription", f"C_F {name} {kind} {grade} {size}", value, mine,
        )  # fmt: skip


@pytest.mark.parametrize(
    ("size", "printed"),
    [("2x4", 1.1), ("2x6", 1.15), ("2x8", 1.15), ("2x10", 1.2), ("4x6", 1.05)],
)
def test_flat_use_factors(verification, size, printed):
    piece = section(size)
    ours = adjustment.flat_use_factor(Kind.SAWN, "No.2", piece.breadth, piece.depth)
    verification.check(
        "CV-103d", "NDS Supplement Table 4A, flat use factors",
        "seen in a transcription", size, printed, ours,
    )  # fmt: skip


def test_wet_service_factors(verification):
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
        verification.check(
            "CV-103c", source, "seen in a transcription", f"C_M {name} psi", printed,
            float(getattr(found, part)),
        )  # fmt: skip
