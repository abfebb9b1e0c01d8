"""Steel plates between plies: sizes, shares, checks, bolts and refusals, by hand.

Hand values in inches and pounds; sources stand beside each. SPF No.2 2x10 is F_b 875
psi, E 1,400,000 psi, G 0.42 (NDS Supplement 4A); A36 is Fy 36 ksi, E 29,000 ksi.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from loadfall.solver.basis.flitch import mass_per_length, wood_share
from loadfall.solver.basis.protocol import Check
from loadfall.solver.basis.sections import section
from loadfall.solver.brief import read_brief
from loadfall.solver.checks.detail import explain
from loadfall.solver.connections.plate_bolts import bolt_value
from loadfall.solver.errors import BriefError, TableError
from loadfall.solver.framing.solids import member_solid
from loadfall.solver.schedule import cut_pieces
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, INCH, PCF, POUND, POUND_FOOT, PSI
from loadfall.solver.verification.support import check_one, forces

from ..remedy.test_beams import ROOM
from ..solve.houses import changed

SIZE = "2x10+3/8x9"
BEAM = {
    "name": "flitch", "start": ["0 ft", "6 ft"], "end": ["12 ft", "6 ft"],
    "size": SIZE, "plies": 2, "place": "flush",
}  # fmt: skip
I_WOOD, I_STEEL = 3.0 * 9.25**3 / 12, 0.375 * 9.0**3 / 12
EI_WOOD, EI_STEEL = 1.4e6 * I_WOOD, 29e6 * I_STEEL
CREEP = 1.5  # NDS 2018 3.5.2


@pytest.fixture(scope="module")
def roof():
    foot = {"foot": {"on": "beam", "name": "flitch"}}
    struts = [s | foot if s["purlin"] == "S" else s for s in ROOM["struts"]]
    return solve(read_brief(changed(ROOM, beams=[BEAM], struts=struts)))


def test_the_name_says_plies_and_plate():
    made = section(SIZE, 2)
    assert made.label == "2-2x10+3/8x9"
    assert made.plate.breadth == pytest.approx(0.375 * INCH)
    assert made.plate.depth == pytest.approx(9 * INCH)
    assert made.overall_breadth == pytest.approx(3.375 * INCH)
    assert made.section_modulus == section("2x10", 2).section_modulus
    assert section("47x225 mm+10x200 mm", 2).plate.depth == pytest.approx(0.2)


@pytest.mark.parametrize(
    "name",
    ["2x10+3/8x10", "2x10+9x3/8", "2x10+", "2x10+3/0x9", "2x10+2x9", "2x10+1/16x9"],
)
def test_a_plate_that_does_not_fit_is_refused(name):
    with pytest.raises(TableError, match="steel plate"):
        section(name, 2)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"beams": [BEAM | {"plies": 3}]}, r"beams\[0\].plies"),
        ({"rafters": {"size": SIZE, "plies": 2}}, "rafters.size"),
        ({"overrides": [{"member": "R-S-01", "size": SIZE}]}, r"overrides\[0\].size"),
    ],
)
def test_plates_go_between_plies_of_beams_alone(changes, field):
    with pytest.raises(BriefError, match=field):
        read_brief(changed(ROOM, **changes))


def test_wood_and_steel_share_as_their_stiffnesses():
    share = wood_share(1.4e6 * PSI, section(SIZE, 2))
    assert share == pytest.approx(EI_WOOD / (EI_WOOD + EI_STEEL), rel=1e-9)
    assert wood_share(1.4e6 * PSI, section("2x10", 2)) == 1.0
    whole = mass_per_length(30 * PCF, section(SIZE, 2))
    feet = (30 * 3 * 9.25 + 490 * 0.375 * 9) / 144  # lb a foot
    assert whole * FOOT / 0.45359237 == pytest.approx(feet, rel=1e-9)


def test_both_materials_are_checked_for_their_part_by_hand():
    """10,000 lb-ft, 3,000 lb, held on top: every stress and limit written out."""
    acting = forces(M=10_000 * POUND_FOOT, V=3_000 * POUND, length=12 * FOOT)
    found = check_one(SIZE, "SPF", "No.2", [1.0], acting, plies=2, unbraced_top=0.0)
    wood = EI_WOOD / (EI_WOOD + EI_STEEL)
    plate = 1 - EI_WOOD / CREEP / (EI_WOOD / CREEP + EI_STEEL)
    moment = 10_000 * 12
    by_hand = {
        Check.BENDING: moment * wood / (3 * 9.25**2 / 6) / (875 * 1.1),
        Check.SHEAR: 1.5 * 3000 * wood / (3 * 9.25) / 135,
        Check.PLATE_BENDING: moment * plate / (0.375 * 81 / 6) / (36_000 / 1.67),
        Check.PLATE_SHEAR: 3000 * plate / (0.375 * 9) / (0.6 * 36_000 / 1.67),
    }
    for check, use in by_hand.items():
        assert found.checks[check].utilisation[0] == pytest.approx(use, rel=1e-6), check


def test_the_record_leads_from_the_whole_moment_to_the_wood():
    acting = forces(M=10_000 * POUND_FOOT, V=3_000 * POUND, length=12 * FOOT)
    found = check_one(SIZE, "SPF", "No.2", [1.0], acting, plies=2, unbraced_top=0.0)
    lines = {x.symbol: x.value for x in explain(found, 0, Check.BENDING)}
    assert lines["M_all"] == pytest.approx(10_000 * POUND_FOOT)
    assert lines["M_all"] * lines["w"] == pytest.approx(lines["M"])
    assert lines["M"] / lines["S"] == pytest.approx(lines["f_b"])
    lines = {x.symbol: x.value for x in explain(found, 0, Check.PLATE_BENDING)}
    assert lines["M"] * lines["p"] / lines["S_p"] == pytest.approx(lines["demand"])
    assert lines["Fy"] / 1.67 == pytest.approx(lines["capacity"])


def test_one_bolt_by_hand():
    """NDS 2018 12.3.1: F_e = 6100 0.42^1.45 / sqrt(0.5) = 2450 psi; mode I_s governs.

    Z = 2 D l_s F_es / R_d = 2 (0.5) 1.5 (2450) / 5 = 735 lb; modes I_m 3263 lb, III_s
    756 lb and IV 1057 lb lie above it.
    """
    found = bolt_value(1.5 * INCH, 0.375 * INCH, 0.42) / POUND
    assert found == pytest.approx(735, rel=1e-6)


def test_a_roof_with_one_is_framed_solved_and_listed(roof):
    """Its stiffness in the frame, its weight, its sticks and its body, by hand."""
    rows = roof.model.rows_of("B-flitch")
    frame = roof.model.frame
    found = (frame.E * frame.I_strong)[rows]
    assert found / (PSI * INCH**4) == pytest.approx(EI_WOOD + EI_STEEL, rel=1e-9)
    pieces = [p for p in cut_pieces(roof.brief, roof.framing) if p.member == "B-flitch"]
    assert [p.section.name for p in pieces] == ["2x10", "2x10", "3/8x9 plate"]
    assert [p.board_feet for p in pieces] == pytest.approx([20.0, 20.0, 0.0])
    assert pieces[2].species == "Steel"
    solid = member_solid(roof.brief, roof.framing, "B-flitch")
    assert np.ptp(solid.vertices[:, 1]) == pytest.approx(3.375 * INCH, abs=2e-3)
    assert len(solid.faces) == 18


def test_bolts_carry_all_that_the_plate_takes(roof):
    """What the ends pass is what came on along the beam: the plate's equilibrium."""
    (bolts,) = roof.plate_bolts
    part = 1 - EI_WOOD / CREEP / (EI_WOOD / CREEP + EI_STEEL)
    assert bolts.part == pytest.approx(part, rel=1e-9)
    shear = np.abs(roof.frame.stations(2).V_strong[:, roof.model.rows_of("B-flitch")])
    most = (shear.max(axis=(1, 2)) / roof.combinations.C_D).max()
    assert bolts.end_force == pytest.approx(part * most, rel=1e-9)
    assert bolts.ends == max(2, math.ceil(bolts.end_force / bolts.each))
    assert bolts.spacing == pytest.approx(16 * INCH)
    assert bolts.places >= 1


def test_without_its_plate_the_beam_is_used_more(roof):
    plain = tuple(replace(b, size="2x10") for b in roof.brief.beams)
    bare = solve(replace(roof.brief, beams=plain)).members["B-flitch"]
    assert bare.by_check["bending"] > roof.members["B-flitch"].by_check["bending"]
    assert bare.sag_long_term > 2 * roof.members["B-flitch"].sag_long_term
