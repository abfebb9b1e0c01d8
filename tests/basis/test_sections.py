import pytest
from loadfall.solver.basis.sections import is_timber, nominal_width, section
from loadfall.solver.errors import TableError
from loadfall.solver.units import INCH


@pytest.mark.parametrize(
    ("name", "breadth", "depth"),
    [
        ("2x6", 1.5, 5.5), ("1x8", 0.75, 7.25), ("2X10", 1.5, 9.25), ("3x4", 2.5, 3.5),
        ("4x16", 3.5, 15.25), ("6x6", 5.5, 5.5), ("6x14", 5.5, 13.5),
        ("8x12", 7.5, 11.5), ("1.75x11.875", 1.75, 11.875), ("2x6 in", 2.0, 6.0),
        (" 1.5 x 5.5 in ", 1.5, 5.5), ("2 × 4", 1.5, 3.5), ("4x5", 3.5, 4.5),
    ],
)  # fmt: skip
def test_sizes_are_exact(name, breadth, depth):
    found = section(name)
    assert found.breadth == pytest.approx(breadth * INCH, rel=1e-15)
    assert found.depth == pytest.approx(depth * INCH, rel=1e-15)


def test_metric_size():
    assert section("47x150 mm").depth == 0.15


@pytest.mark.parametrize(
    "name", ["2x7", "6x2", "5x4", "", "2x", "x6", "2x6mm2", "0.1x5", "9x9", "70x80",
             "-2x6", "2x6x8", "nan x 6", "2x1e9", "1x99999999999 mm"],
)  # fmt: skip
def test_other_sizes_are_refused_by_name(name):
    with pytest.raises(TableError) as refused:
        section(name)
    assert refused.value.field == "size"
    assert refused.value.value == name


@pytest.mark.parametrize("plies", [0, -1])
def test_plies_below_one_are_refused(plies):
    with pytest.raises(TableError, match="plies"):
        section("2x6", plies)


def test_plies_slide_on_each_other():
    """Two plies: twice the area and both second moments; by hand 2 * 5.5 * 1.5^3/12."""
    one, two = section("2x6"), section("2x6", 2)
    assert two.I_weak / INCH**4 == pytest.approx(2 * 5.5 * 1.5**3 / 12)
    assert two.section_modulus_weak / INCH**3 == pytest.approx(2 * 5.5 * 1.5**2 / 6)
    for name in ("area", "section_modulus", "I_strong", "I_weak", "torsion_constant"):
        assert getattr(two, name) == pytest.approx(2 * getattr(one, name)), name
    assert two.label == "2-2x6"


def test_torsion_of_a_square():
    """Saint-Venant: 0.1406 a^4."""
    a = 3.5 * INCH
    assert section("4x4").torsion_constant == pytest.approx(0.1406 * a**4, rel=5e-3)


def test_torsion_of_a_thin_strip():
    """b^3 d / 3 (1 - 0.63 b/d)."""
    b, d = 1.5 * INCH, 15.25 * INCH
    thin = b**3 * d / 3 * (1 - 0.63 * b / d)
    assert section("2x16").torsion_constant == pytest.approx(thin, rel=1e-3)


@pytest.mark.parametrize(
    ("inches", "nominal"),
    [(3.5, 4), (3.6, 5), (5.5, 6), (5.9055, 8), (11.25, 12), (11.9, 14), (20, 16)],
)
def test_sizes_between_take_the_wider_row(inches, nominal):
    assert nominal_width(inches * INCH) == nominal


def test_timbers_begin_at_five_by_five():
    assert is_timber(4.5 * INCH, 4.5 * INCH)
    assert not is_timber(3.5 * INCH, 15.25 * INCH)
