"""NDS Supplement 2015 and 2018: sections, reference values, size factors."""

import pytest
from loadfall.solver.basis.materials import density, reference_values
from loadfall.solver.basis.sections import section


def test_every_row_of_the_tables_keeps_that_rule():
    from loadfall.solver.basis import materials

    for row in materials._lumber():
        E, Emin = float(row["E_psi"]), float(row["Emin_psi"])
        assert abs(E * (1 - 1.645 * 0.25) * 1.03 / 1.66 - Emin) <= 5001, row


@pytest.mark.parametrize("species", ["DF-L", "HF", "SPF", "SP"])
def test_density_is_that_at_15_percent(species):
    values = reference_values(species, "No.2", section("2x6"))
    assert values.density == pytest.approx(density(values.G, 15))
