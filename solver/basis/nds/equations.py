"""How the lines of each check come together in a report on the NDS, written out."""

from __future__ import annotations

from ..protocol import Check

# Symbols as the record of a check prints them; the clause is beside the use.
EQUATIONS: dict[Check, str] = {
    Check.BENDING: "use = f_b / Fb', with f_b = M / S and Fb' the product of its terms",
    Check.SHEAR: "use = f_v / Fv', with f_v = 3 V / (2 b d)",
    Check.TENSION: "use = f_t / Ft', with f_t = P / A",
    Check.COMPRESSION: "use = f_c / Fc', with f_c = P / A",
    Check.BENDING_TENSION: "use = the larger of f_t / Ft' + f_b1 / Fb* + f_b2 / Fb2' "
    "and (f_b1 − f_t) / Fb**",
    Check.BENDING_COMPRESSION: "use = (f_c / Fc')² + f_b1 / (Fb1' (1 − f_c / F_cE1)) "
    "+ f_b2 / (Fb2' (1 − f_c / F_cE2 − (f_b1 / F_bE)²)), each bracket at least 0.1; "
    "where f_b2 is not 0 also f_c / F_cE2 + (f_b1 / F_bE)², the larger of both",
    Check.BIAXIAL_BENDING: "use = f_b1 / Fb1' + f_b2 / (Fb2' (1 − (f_b1 / F_bE)²)), or "
    "(f_b1 / F_bE)² where that is larger",
    Check.BEARING: "use = P / (lb b) over the bearing strength: the value across the "
    "grain, or between both at an angle, with the bearing area factor away from an end",
    Check.PLATE_BENDING: "use = f_p / (Fy / 1.67), with f_p = M p / S_p",
    Check.PLATE_SHEAR: "use = f_vp / (0.6 Fy / 1.67), with f_vp = V p / A_p",
    Check.DEFLECTION_LIVE: "use = sag of the load that comes and goes / (L / (L/sag)); "
    "about now less what lasts",
    Check.DEFLECTION_TOTAL: "use = counted sag / (L / (L/sag)), counted along the span "
    "as K times the lasting sag and all of the other, less what the lasting load "
    "makes at once",
    Check.SLENDERNESS: "use = le/d over its limit",
    Check.BEAM_SLENDERNESS: "use = R_B over its limit",
    Check.PERSON: "use = stress of dead load and person together over its value, in "
    "bending or shear, the worse; C_r is left off",
    Check.NOTCHED_SHEAR: "use = V over 2/3 Fv' b d_v, the depth that counts at the cut",
}
