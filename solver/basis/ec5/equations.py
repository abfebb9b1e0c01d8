"""How the lines of each check come together in a report on Eurocode 5, written out."""

from __future__ import annotations

from ..protocol import Check

_TWO_AXES = (
    "the larger of f_b1 / Fb1' + k_m f_b2 / Fb2' and k_m f_b1 / Fb1' + f_b2 / Fb2', "
    "k_m = 0.7 (6.1.6)"
)
# Stresses and design values have the symbols that the record of a check prints.
EQUATIONS: dict[Check, str] = {
    Check.BENDING: "use = f_b / Fb', Eq. 6.33, with f_b = M / W and Fb' = k_crit k_mod "
    "k_h k_sys f_m,k / gamma_M",
    Check.SHEAR: "use = f_v / Fv', Eq. 6.13, with f_v = 3 V / (2 b h)",
    Check.TENSION: "use = f_t / Ft', Eq. 6.1, with f_t = N / A",
    Check.COMPRESSION: "use = f_c / Fc', Eq. 6.2, with f_c = N / A and the smaller k_c "
    "in Fc'",
    Check.BENDING_TENSION: f"use = f_t / Ft' + {_TWO_AXES}, Eq. 6.17 and 6.18",
    Check.BENDING_COMPRESSION: f"use = f_c / Fc' + {_TWO_AXES}, Eq. 6.23 and 6.24 with "
    "the smaller k_c in both and k_crit in Fb1'",
    Check.BIAXIAL_BENDING: f"use = {_TWO_AXES}, Eq. 6.11 and 6.12",
    Check.BEARING: "use = P / (lb b) over the bearing strength, Eq. 6.3 and 6.16, with "
    "k_c,90 = 1",
    Check.PLATE_BENDING: "not covered",
    Check.PLATE_SHEAR: "not covered",
    Check.DEFLECTION_LIVE: "use = sag of the load that comes and goes / (L / (L/sag)); "
    "about now less what lasts",
    Check.DEFLECTION_TOTAL: "use = final sag / (L / (L/sag)), Eq. 2.2 to 2.4: along "
    "the span K times the lasting sag, K = 1 + k_def, and all of the other",
    Check.SLENDERNESS: "use = slenderness over its limit",
    Check.BEAM_SLENDERNESS: "use = slenderness of the beam over its limit",
    Check.PERSON: "use = stress of dead load and person together over its value, in "
    "bending or shear, the worse; k_sys is left off",
    Check.NOTCHED_SHEAR: "use = V over k_v Fv' b h_ef / 1.5, Eq. 6.60, h_ef the depth "
    "that counts at the cut",
}
