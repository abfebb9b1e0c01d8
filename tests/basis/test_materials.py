import csv

import pytest
from loadfall.solver.basis import materials
from loadfall.solver.basis.materials import (
    Kind,
    grades,
    reference_values,
    species_names,
)
from loadfall.solver.basis.sections import section
from loadfall.solver.errors import TableError
from loadfall.solver.units import PCF, PSI

FILES = ("lumber.csv", "engineered.csv", "nails.csv")


def Fb(species, grade, size):
    return reference_values(species, grade, section(size)).Fb / PSI


@pytest.mark.parametrize("name", FILES)
def test_every_row_has_its_source(name):
    with (materials._DATA / name).open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert rows
    for row in rows:
        assert row["source"].strip(), row
        assert row["provenance"].strip(), row


@pytest.mark.parametrize(
    ("species", "grade", "size", "printed"),
    [
        ("SPF", "No.2", "2x6", 875), ("SPF", "No.1/No.2", "2x10", 875),
        ("spruce-pine-fir", "#2", "2x6", 875), ("DF-L", "SS", "2x8", 1500),
        ("DF-L", "No.1 & Btr", "2x8", 1200), ("HF", "Stud", "2x4", 675),
        ("SP", "No.2", "2x4", 1100), ("SP", "No.2", "2x6", 1000),
        ("SP", "No.2", "2x8", 925), ("SP", "No.2", "2x10", 800),
        ("SP", "No.2", "2x12", 750), ("SP", "No.2", "2x14", 750),
        ("DF-L", "No.1", "6x6", 1200), ("DF-L", "No.1", "6x10", 1350),
        ("DF-L", "No.1", "6x8", 1200), ("SP", "No.1", "8x8", 1350),
        ("SPF", "Construction", "2x4", 1000), ("LVL", "2.0E", "1.75x9.5", 2600),
    ],
)  # fmt: skip
def test_rows(species, grade, size, printed):
    assert Fb(species, grade, size) == pytest.approx(printed)


def test_wide_stud_grade_takes_no3_and_says_so():
    wide = reference_values("SPF", "Stud", section("2x8"))
    assert wide.grade == "No.3"
    assert "No.3" in wide.note


def test_boards_say_that_the_table_does_not_cover_them():
    assert "1 in boards" in reference_values("SPF", "No.2", section("1x8")).note


def test_kinds():
    def kind(species, grade, size):
        return reference_values(species, grade, section(size)).kind

    assert kind("SPF", "No.2", "2x6") is Kind.SAWN
    assert kind("SP", "No.2", "2x6") is Kind.SOUTHERN_PINE
    assert kind("SP", "No.2", "6x6") is Kind.TIMBER
    assert kind("LVL", "1.9E", "1.75x9.5") is Kind.SCL


@pytest.mark.parametrize(
    ("species", "grade", "size", "field"),
    [
        ("Oak", "No.2", "2x6", "species"), ("SPF", "No.4", "2x6", "grade"),
        ("SPF", "Stud", "6x6", "grade"), ("SPF", "Standard", "2x6", "grade"),
        ("LVL", "No.2", "1.75x9.5", "grade"), ("SPF", "2.0E", "2x6", "grade"),
        ("", "No.2", "2x6", "species"),
    ],
)  # fmt: skip
def test_what_no_table_holds_is_refused_by_name(species, grade, size, field):
    with pytest.raises(TableError) as refused:
        reference_values(species, grade, section(size))
    assert refused.value.field == field
    assert refused.value.allowed


def test_lists():
    assert species_names()[-1] == "LVL"
    assert grades("SPF")[0] == "Select Structural"
    for species in species_names():
        assert grades(species)


def test_laminated_veneer_is_heavier_than_its_gravity_says():
    values = reference_values("LVL", "2.0E", section("1.75x9.5"))
    assert values.density == pytest.approx(42 * PCF)
