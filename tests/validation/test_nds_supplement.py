"""NDS Supplement 2015 and 2018: sections, reference values, size factors."""

import pytest
from loadfall.solver.basis.materials import density, reference_values
from loadfall.solver.basis.sections import section

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


def test_every_row_of_the_tables_keeps_that_rule():
    from loadfall.solver.basis import materials

    for row in materials._lumber():
        E, Emin = float(row["E_psi"]), float(row["Emin_psi"])
        assert abs(E * (1 - 1.645 * 0.25) * 1.03 / 1.66 - Emin) <= 5001, row


@pytest.mark.parametrize("species", ["DF-L", "HF", "SPF", "SP"])
def test_density_is_that_at_15_percent(species):
    values = reference_values(species, "No.2", section("2x6"))
    assert values.density == pytest.approx(density(values.G, 15))
