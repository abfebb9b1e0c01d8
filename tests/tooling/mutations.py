"""Formulas broken on purpose: each break must turn a named test red.

A test that nothing can fail proves nothing. Every mutation is one wrong formula, put
into a copy of the tree and never into the checkout. Run the whole set with

    python tests/tooling/mutations.py

or a part of it by words of their names. Standard library only, and pytest.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("solver", "tests", "pyproject.toml")
EXTERNAL = "tests/validation/test_external_checks.py::test_agrees_with_what_is_printed"
FAILED = 1  # pytest's own word for: ran, and some tests failed


class Mutation(NamedTuple):
    """One deliberate break.

    Attributes:
        name: what is wrong with the formula, in words.
        file: in the checkout.
        old: the right text, once in the file.
        new: the wrong one.
        test: pytest's name of the test that must turn red.
    """

    name: str
    file: str
    old: str
    new: str
    test: str


def external(group: str) -> str:
    """Return the name of an external check's test."""
    return f"{EXTERNAL}[{group}]"


MUTATIONS = (
    Mutation(
        "flitch beam: wood and steel share by area, not by stiffness",
        "solver/basis/flitch.py",
        "wood + steel.E * made.plate.I_strong)\n",
        "wood + steel.E * made.plate.area)\n",
        external("flitch-flitched_beam"),
    ),
    Mutation(
        "bolts: the angle to the grain is left out",
        "solver/basis/nds/bolts.py",
        "1 + 0.25 * angle / 90",
        "1 + 0.0 * angle / 90",
        external("flitch-bolts_in_double_shear"),
    ),
    Mutation(
        "IFC: shear along a member with the other sign",
        "solver/ifc/forces.py",
        "-stations.V_strong[row],\n",
        "stations.V_strong[row],\n",
        "tests/ifc/test_ifc.py::test_forces_along_each_stretch_balance_its_load[cottage]",
    ),
    Mutation(
        "beam stability: 0.95 becomes 0.85",
        "solver/basis/nds/bending.py",
        "return (ratio / 0.95) / (mean + np.sqrt(mean**2 - ratio / 0.95))",
        "return (ratio / 0.85) / (mean + np.sqrt(mean**2 - ratio / 0.85))",
        external("awc_examples-beam_held_at_its_ends_alone"),
    ),
    Mutation(
        "lateral buckling: 1.20 becomes 1.00",
        "solver/basis/nds/bending.py",
        "return 1.20 * floats(E_min)",
        "return 1.00 * floats(E_min)",
        external("awc_examples-tie_with_bending"),
    ),
    Mutation(
        "column buckling: Euler's 0.822 becomes 0.76",
        "solver/basis/nds/compression.py",
        "return 0.822 * floats(E_min)",
        "return 0.76 * floats(E_min)",
        external("design_guides-post_of_four_by_four"),
    ),
    Mutation(
        "column stability: c of sawn lumber 0.85",
        "solver/basis/nds/compression.py",
        "COLUMN_C_SAWN = 0.8\n",
        "COLUMN_C_SAWN = 0.85\n",
        external("textbooks-post"),
    ),
    Mutation(
        "shear stress: 1.5 becomes 1.0",
        "solver/checks/members.py",
        "_RECTANGLE_SHEAR = 1.5",
        "_RECTANGLE_SHEAR = 1.0",
        "tests/validation/test_design_guides.py"
        "::test_laminated_veneer_lumber_at_its_printed_limit",
    ),
    Mutation(
        "notched shear: the square of what is left becomes its first power",
        "solver/basis/nds/shear.py",
        "* b * d_n * (d_n / d) ** 2",
        "* b * d_n * (d_n / d)",
        "tests/validation/test_nds_clauses.py::test_notched_shear_by_hand",
    ),
    Mutation(
        "Hankinson: sine and cosine change places",
        "solver/basis/nds/bearing.py",
        "sin2 = np.sin(angle) ** 2",
        "sin2 = np.cos(angle) ** 2",
        "tests/basis/test_clauses.py",
    ),
    Mutation(
        "dowel bearing: exponent 1.84 becomes 1.48",
        "solver/basis/nds/nails.py",
        "specific_gravity**1.84",
        "specific_gravity**1.48",
        external("nds_clauses-lateral_values_of_nails"),
    ),
    Mutation(
        "nail withdrawal: G^2.5 becomes G^2",
        "solver/basis/nds/nails.py",
        "specific_gravity**2.5",
        "specific_gravity**2",
        external("nds_clauses-withdrawal_of_a_common_nail"),
    ),
    Mutation(
        "repetitive members: 1.15 becomes 1.0",
        "solver/basis/nds/adjustment.py",
        "_REPETITIVE_SAWN = 1.15",
        "_REPETITIVE_SAWN = 1.0",
        external("irc_ceiling_joists-every_cell_rounds_to_the_printed_span"),
    ),
    Mutation(
        "span tables: sag counts dead load as well",
        "solver/basis/irc/spans.py",
        "sag_limit * live * spacing",
        "sag_limit * (dead + live) * spacing",
        external("irc_rafters-every_cell_lies_within_an_inch"),
    ),
    Mutation(
        "thrust of rafters: 4 becomes 8",
        "solver/basis/irc/ties.py",
        "return load * spacing * roof_span / (4 * slope)",
        "return load * spacing * roof_span / (8 * slope)",
        external("irc_ties-heel_joint_table"),
    ),
    Mutation(
        "raised ties: the heel factor upside down",
        "solver/basis/irc/ties.py",
        "return 1 / (1 - height_ratio)",
        "return 1 - height_ratio",
        external("irc_ties-heel_factor_of_raised_ties"),
    ),
    Mutation(
        "flat roof snow: 0.7 is left off",
        "solver/basis/asce7/snow.py",
        "return 0.7 * exposure",
        "return 1.0 * exposure",
        external("loads-flat_roof_snow"),
    ),
    Mutation(
        "drift: the cube root of the fetch becomes a square root",
        "solver/basis/asce7/snow.py",
        "feet ** (1 / 3)",
        "feet ** (1 / 2)",
        external("loads-drift_at_the_ridge"),
    ),
    Mutation(
        "roof live load by area: 0.001 becomes 0.01",
        "solver/basis/asce7/roof_live.py",
        "np.clip(1.2 - 0.001 * square_feet, 0.6, 1.0)",
        "np.clip(1.2 - 0.01 * square_feet, 0.6, 1.0)",
        external("loads-roof_live_of_a_ridge_beam"),
    ),
    Mutation(
        "hip snow: the fetch of a plane is its own run",
        "solver/framing/roof_snow.py",
        "return float(np.ptp(up)), far - float(up.max())",
        "return float(np.ptp(up)), float(np.ptp(up))",
        "tests/loads/test_snow_on_planes.py::test_the_whole_drift_of_an_end",
    ),
    Mutation(
        "leaning struts: the lean is measured across the purlin",
        "solver/audit/leaning.py",
        "abs(float(way @ _purlin_way(framing, strut)))",
        "abs(float(np.cross(way, _purlin_way(framing, strut))[2]))",
        "tests/audit/test_leaning.py",
    ),
    Mutation(
        "joints: what presses on a face counts as pull",
        "solver/connections/tops.py",
        "return slide, np.maximum(square, 0.0)",
        "return slide, np.abs(square)",
        "tests/connections/test_tops.py::test_a_push_by_hand",
    ),
    Mutation(
        "joints: the pull on nails is not added to what slides",
        "solver/basis/nds/toe_nails.py",
        "return floats(lateral) / lateral_each + floats(withdrawal) / withdrawal_each",
        "return floats(lateral) / lateral_each",
        "tests/connections/test_nails.py",
    ),
    Mutation(
        "combinations: 0.75 of the roof load becomes the whole",
        "solver/basis/asce7/combinations.py",
        "_combination(4, D=1.0, L=0.75, **{name: 0.75})",
        "_combination(4, D=1.0, L=0.75, **{name: 1.0})",
        "tests/validation/test_asce7.py",
    ),
    Mutation(
        "bending stiffness: a hinge at the far end is forgotten",
        "solver/analysis/element.py",
        "np.where(either, 3.0, 4.0)",
        "np.where(either, 4.0, 4.0)",
        "tests/analysis/test_influence.py",
    ),
    Mutation(
        "fixed-end moments: 1/12 becomes 1/10",
        "solver/analysis/element.py",
        "np.where(hinge_j, 1 / 8, 1 / 12)",
        "np.where(hinge_j, 1 / 8, 1 / 10)",
        external("continuous_beams-equal_spans"),
    ),
    Mutation(
        "deflected shape: 24 becomes 12",
        "solver/analysis/stations.py",
        "return xi * b * (1 + xi * b) / 24",
        "return xi * b * (1 + xi * b) / 12",
        external("continuous_beams-bending_constants"),
    ),
    Mutation(
        "influence: the uniform load's own bow changes sign",
        "solver/analysis/influence.py",
        "bow = L**4 / EI",
        "bow = -(L**4) / EI",
        "tests/analysis/test_influence.py",
    ),
    Mutation(
        "creep: the factor of dry lumber 1.25",
        "solver/basis/nds/creep.py",
        "return 1.5 if condition is Condition.SEASONED_DRY",
        "return 1.25 if condition is Condition.SEASONED_DRY",
        external("nds_clauses-long_term_deflection"),
    ),
    Mutation(
        "creep between materials: stiffness is not divided but multiplied",
        "solver/ageing/effective.py",
        "return replace(frame, E=frame.E / soft,",
        "return replace(frame, E=frame.E * soft,",
        "tests/ageing/test_two_beams.py",
    ),
    Mutation(
        "creep of bearings is left out",
        "solver/ageing/effective.py",
        "stiffness=frame.links.stiffness / (1 + link_creep)",
        "stiffness=frame.links.stiffness + 0 * link_creep",
        "tests/ageing/test_two_beams.py",
    ),
    Mutation(
        "sag from the chord: the ends change places",
        "solver/influence/quantity.py",
        "((span.start, 1 - part), (span.end, part))",
        "((span.start, part), (span.end, 1 - part))",
        "tests/influence/test_brute_force.py",
    ),
    Mutation(
        "Eurocode 5 columns: 0.3 of the straightness term is left off",
        "solver/basis/ec5/stability.py",
        "STRAIGHTNESS * (relative - 0.3)",
        "STRAIGHTNESS * relative",
        external("eurocode5-column"),
    ),
    Mutation(
        "supports: a brace lands at half of 45 degrees",
        "solver/framing/landing.py",
        "rise / math.tan(BRACE_ANGLE)",
        "rise / math.tan(BRACE_ANGLE / 2)",
        "tests/framing/test_nearest_wall.py::"
        "test_over_a_gap_it_leans_along_the_wall_to_where_that_stands",
    ),
    Mutation(
        "supports: a lateral brace adds no length",
        "solver/framing/landing.py",
        "most = BRACE_LENGTH * (_HELD if held else 1)",
        "most = BRACE_LENGTH * (1 if held else 1)",
        "tests/framing/test_nearest_wall.py::test_a_long_one_gets_a_lateral_brace",
    ),
    Mutation(
        "supports: a header spans its gap alone",
        "solver/framing/headers.py",
        "ends = [line.point(low - half), line.point(high + half)]",
        "ends = [line.point(low), line.point(high)]",
        "tests/solve/test_headers.py::test_bending_shear_and_bearing_by_hand",
    ),
    Mutation(
        "supports: one nail holds a heel over an outline sideways",
        "solver/idealise/heels.py",
        "direction = np.concatenate([along, aside])",
        "direction = np.concatenate([aside, along])",
        "tests/framing/test_outline_ties.py::"
        "test_a_heel_that_gives_spreads_the_walls_by_thrust_over_stiffness",
    ),
    Mutation(
        "supports: a purlin line lies level with its eave",
        "solver/framing/outline/purlins.py",
        "return (purlin.height - float(plane.polygon3[0, 2])) / plane.pitch",
        "return purlin.height - float(plane.polygon3[0, 2])",
        "tests/framing/test_outline_purlins.py::"
        "test_a_wall_within_reach_takes_the_feet",
    ),
    Mutation(
        "supports: struts begin at the end of their line",
        "solver/brief/braces.py",
        "return (low + high - (count - 1) * spacing) / 2, count",
        "return low, count",
        "tests/framing/test_outline_purlins.py::"
        "test_a_rectangle_drawn_corner_by_corner_has_the_forces_of_a_hip_roof",
    ),
)
# One of each kind, for every run of the tests; the others on demand.
QUICK = tuple(
    m
    for m in MUTATIONS
    if m.name.startswith(("column buckling", "thrust", "fixed-end"))
)


def copy_tree(folder: Path) -> None:
    """Copy what the tests need into a folder."""
    dull = shutil.ignore_patterns("__pycache__", ".*")
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(str(source), str(folder / name), ignore=dull)
        else:
            shutil.copy2(str(source), str(folder / name))


def run(folder: Path, *tests: str) -> int:
    """Run tests in a copy of the tree; return pytest's status."""
    command = [
        sys.executable,
        "-B",
        "-m",
        "pytest",
        "-q",
        "-x",
        "-p",
        "no:cacheprovider",
    ]
    variables = {**os.environ, "OPENBLAS_NUM_THREADS": "1"}
    variables.pop("PYTEST_ADDOPTS", None)
    return subprocess.run(
        [*command, *tests], cwd=str(folder), env=variables, stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False,
    ).returncode  # fmt: skip


def is_caught(folder: Path, mutation: Mutation) -> bool:
    """Break one formula in a copy, run its test, mend it; return whether it failed.

    Raises:
        ValueError: the text to break is not there exactly once.
    """
    path = folder / mutation.file
    whole = path.read_text("utf-8")
    if whole.count(mutation.old) != 1:
        raise ValueError(f"{mutation.file} has not once: {mutation.old}")
    path.write_text(whole.replace(mutation.old, mutation.new), "utf-8")
    try:
        return run(folder, mutation.test) == FAILED
    finally:
        path.write_text(whole, "utf-8")


def survivors(mutations: tuple[Mutation, ...]) -> list[str]:
    """Return the mutations that no test noticed, after seeing their tests pass.

    Raises:
        ValueError: a test fails, or is not there, before anything is broken.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        copy_tree(folder)
        if run(folder, *sorted({m.test for m in mutations})) != 0:
            raise ValueError("not green to begin with")
        return [m.name for m in mutations if not is_caught(folder, m)]


def main(words: list[str]) -> int:
    """Check all mutations, or those whose names hold some words."""
    chosen = tuple(m for m in MUTATIONS if all(w in m.name for w in words))
    lived = survivors(chosen)
    for name in lived:
        print(f"no test noticed: {name}")
    print(f"{len(chosen) - len(lived)} of {len(chosen)} breaks were noticed.")
    return 1 if lived or not chosen else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
