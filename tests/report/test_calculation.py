"""Every check that is written out, done again from the lines that are written.

The equations are NDS 2018 3.3 to 3.10 and 3.5.2, typed here anew.
"""

from __future__ import annotations

import math
import re

import pytest
from loadfall.solver.basis.ec5.equations import EQUATIONS as EC5_EQUATIONS
from loadfall.solver.basis.nds.equations import EQUATIONS as NDS_EQUATIONS
from loadfall.solver.basis.protocol import Check
from loadfall.solver.report.calculation import checks_of, worst_of_roles
from loadfall.solver.report.html import report_html
from loadfall.solver.report.record import groups_of
from loadfall.solver.report.show import Show, figures
from loadfall.solver.units import INCH, POUND, PSI, System

from .briefs import ALL, solved
from .reading import read


def worked():
    """Every check that some report writes out, and every other of those members."""
    for name in ALL:
        solution = solved(name)
        for m in worst_of_roles(solution).values():
            for check, value in m.by_check.items():
                if value > 0:
                    yield pytest.param(name, m.key, Check(check), id=f"{m.key}-{check}")


def values_of(name, key, check):
    """Symbol to value, SI; the products of design values multiplied out."""
    out, products = {}, {}
    for group in groups_of(solved(name), key, check):
        if "is the product of" in group.head:
            symbol, terms = group.head.split(" is the product of ")
            own = {line.symbol: line.value for line in group.lines}
            products[symbol] = math.prod(own[t] for t in terms.split(", "))
            out |= {k: v for k, v in own.items() if k not in out}
        else:
            out |= {line.symbol: line.value for line in group.lines}
    return out, products


@pytest.mark.parametrize(("name", "key", "check"), list(worked()))
def test_the_lines_lead_to_the_use(name, key, check):
    v, products = values_of(name, key, check)
    use = solved(name).members[key].by_check[check.value]
    assert v["utilisation"] == pytest.approx(use, rel=1e-12)
    assert again(check, v, products) == pytest.approx(use, rel=1e-9)


def again(check, v, products, rel=1e-9):
    """The use, worked out from the lines alone, which are good to a part of ``rel``."""
    if "w" in v:  # beside a steel plate: the wood's part of the whole
        force = "M" if check is Check.BENDING else "V"
        assert v[force] == pytest.approx(v[f"{force}_all"] * v["w"], rel=rel)
    if check is Check.BENDING:
        assert v["S"] == pytest.approx(v["b"] * v["d"] ** 2 / 6, rel=rel)
        capacity = v["Fb"] * v["C_D"] * v["C_F"] * v["C_r"] * v["C_L C_V"]
        return v["M"] / v["S"] / capacity
    if check is Check.SHEAR:
        return 3 * v["V"] / (2 * v["b"] * v["d"]) / (v["Fv"] * v["C_D"])
    if check is Check.TENSION:
        return v["P"] / (v["b"] * v["d"]) / (v["Ft"] * v["C_D"] * v["C_F"])
    if check is Check.COMPRESSION:
        capacity = v["Fc"] * v["C_D"] * v["C_F"] * v["C_P"]
        return v["P"] / (v["b"] * v["d"]) / capacity
    if check in (Check.DEFLECTION_TOTAL, Check.DEFLECTION_LIVE):
        assert v["capacity"] == pytest.approx(v["L"] / v["L/sag"], rel=rel)
        if check is Check.DEFLECTION_TOTAL and abs(v["now"]) > 5e-4:
            # peaks of three curves along one span: near, not equal
            counted = v["now"] - v["lasting"] + (v["K"] - 1) * v["lasting"]
            assert v["demand"] == pytest.approx(abs(counted), rel=0.08)
        return v["demand"] / v["capacity"]
    if check is Check.NOTCHED_SHEAR:
        left, beyond = v["d_n"], v["e"]
        if not beyond:  # NDS 2018 3.4.3.2(a); else (e), a sloping cut on top
            counted = left * (left / v["d"]) ** 2
        elif beyond > left:
            counted = left
        else:
            counted = v["d"] - (v["d"] - left) / left * beyond
        assert v["d_v"] == pytest.approx(counted, rel=rel)
        return v["V"] / (2 / 3 * v["Fv'"] * v["b"] * counted)
    if check is Check.PLATE_BENDING:  # AISC 360-16 F11, first yield
        assert v["demand"] == pytest.approx(v["M"] * v["p"] / v["S_p"], rel=rel)
        return v["demand"] / (v["Fy"] / 1.67)
    if check is Check.PLATE_SHEAR:  # AISC 360-16 G4
        assert v["demand"] == pytest.approx(v["V"] * v["p"] / v["A_p"], rel=rel)
        return v["demand"] / (0.6 * v["Fy"] / 1.67)
    if check is Check.BEARING:
        return v["P"] / (v["lb"] * v["b"]) / bearing_strength(v, rel)
    if check in (Check.SLENDERNESS, Check.BEAM_SLENDERNESS):
        return v["demand"] / v["capacity"]
    return meeting(check, v, products, rel)


def bearing_strength(v, rel):
    """NDS 2018 3.10.2, 3.10.3 (Hankinson) and 3.10.4."""
    longer = v["end"] > 3 * INCH and v["lb"] < 6 * INCH
    across = v["across"] * ((v["lb"] + 0.375 * INCH) / v["lb"] if longer else 1.0)
    along, part = v["along"], math.sin(v["angle"]) ** 2
    strength = along * across / (along * part + across * (1 - part))
    assert strength == pytest.approx(v["capacity"], rel=rel)
    return strength


def meeting(check, v, products, rel):
    """The use of a combined check: NDS 2018 3.9.1, 3.9.2."""
    strong, weak = v["f_b1"], v["f_b2"]
    assert strong == pytest.approx(v["M"] / v["S"], rel=rel)
    if weak:
        assert weak == pytest.approx(v["M2"] / v["S2"], rel=rel)
    if check is Check.BENDING_TENSION:
        assert v["f_t"] == pytest.approx(v["P"] / v["A"], rel=rel)
        assert v["Ft'"] == pytest.approx(products["Ft'"], rel=rel)
        first = v["f_t"] / v["Ft'"] + strong / v["Fb*"] + weak / v["Fb2'"]
        return max(first, (strong - v["f_t"]) / v["Fb**"])
    assert v["Fb1'"] == pytest.approx(products["Fb'"], rel=rel)
    pressed = 0.0
    if check is Check.BENDING_COMPRESSION:
        pressed = v["f_c"]
        assert pressed == pytest.approx(v["P"] / v["A"], rel=rel)
        assert v["Fc'"] == pytest.approx(products["Fc'"], rel=rel)
    column = (pressed / v["Fc'"]) ** 2 if pressed else 0.0
    first, second = (
        (pressed / v["F_cE1"], pressed / v["F_cE2"]) if pressed else (0.0, 0.0)
    )
    roll = (strong / v["F_bE"]) ** 2
    total = column + strong / v["Fb1'"] / max(1 - first, 0.1)
    if not weak:
        return total
    total += weak / v["Fb2'"] / max(1 - second - roll, 0.1)
    return max(total, second + roll)


def test_every_check_has_its_equation():
    assert set(NDS_EQUATIONS) == set(EC5_EQUATIONS) == set(Check)


def test_eurocode_reports_print_its_own_formulas():
    page = " ".join(EC5_EQUATIONS.values())
    assert not [word for word in ("F_cE", "F_bE", "R_B", "C_r", "C_P") if word in page]
    for check in (Check.BENDING, Check.BENDING_COMPRESSION, Check.NOTCHED_SHEAR):
        assert NDS_EQUATIONS[check] != EC5_EQUATIONS[check]
        assert "Eq. 6." in EC5_EQUATIONS[check]


@pytest.mark.parametrize("name", list(ALL))
def test_the_printed_figures_are_enough_to_recompute(name):
    """Bending and compression of each printed record, from the text on the page."""
    text = read(report_html(solved(name))).sections["calculation"]
    done = 0
    for m in worst_of_roles(solved(name)).values():
        for check in checks_of(m):
            if check is not Check.COMPRESSION:
                continue
            head = text.index(f"{m.key}, strut") if "ST-" in m.key else -1
            head = text.index(f"{m.key}, ") if head < 0 else head
            record = text[head : head + 900]
            value = {
                symbol: float(re.search(rf"\n{symbol}\n([\d,.]+)", record)[1]
                              .replace(",", ""))
                for symbol in ("P", "b", "d", "Fc", "CD", "CF", "CP", "use")
            }  # fmt: skip
            area = value["b"] * value["d"]
            allowed = value["Fc"] * value["CD"] * value["CF"] * value["CP"]
            metric = solved(name).brief.units == "metric"
            assert not metric
            assert value["P"] / area / allowed == pytest.approx(value["use"], rel=1e-3)
            done += 1
    none = ("cottage", "ridge beam", "untied", "leaning", "trusses")
    assert done or name in none


def test_figures_and_units():
    assert figures(0.0) == "0"
    assert figures(1234.56) == "1,234.6"
    assert figures(-0.000123456) == "-0.00012346"
    assert figures(123456789.0) == "123,456,789"
    assert figures(math.inf) == "no limit"
    imperial, metric = Show(System.IMPERIAL), Show(System.METRIC)
    assert imperial.precise(875 * PSI, "Pa") == "875 psi"
    assert metric.precise(875 * PSI, "Pa") == "6.0329 MPa"
    assert imperial.precise(5.5 * INCH, "m") == "5.5 in"
    assert imperial.precise(100 * POUND, "N") == "100 lb"
    assert metric.precise(0.0254**3, "m3") == "16,387 mm³"
    assert imperial.precise(1e15, "Pa") == "no limit"
    assert imperial.force(-0.1) == "0 lb"
