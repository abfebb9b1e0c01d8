"""The section over a drawn outline: through its worst strut, with both answers."""

import re

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.report.cut import worst_cut
from loadfall.solver.report.outline_section import outline_section
from loadfall.solver.report.plan import roof_plan
from loadfall.solver.solve import solve

from ..framing.test_outline_purlins import ringed
from ..outlines import outline


@pytest.fixture(scope="module")
def house():
    return solve(read_brief(ringed()))


def test_it_goes_through_the_worst_strut_with_both_answers(house):
    about = worst_cut(house).about
    text = outline_section(house).text
    assert about.startswith("ST-ring-")
    assert f"Section through {about}" in text
    assert re.search(rf"{about}  [\d,]+ lb|{about}  slack", text)
    assert "by hand" in text
    on = house.members[about].stands_on.name
    assert f"{on}: " in text


def test_purlins_are_dimensioned_from_the_plate_of_their_plane(house):
    """4 ft high at 6:12 is 8 ft from the plate."""
    assert "8' 0\"" in re.sub("&#x27;|&#39;", "'", outline_section(house).text).replace(
        "&quot;", '"'
    )
    assert "not framed" not in roof_plan(house).text


def test_without_struts_it_goes_through_the_worst_rafter_or_joist():
    text = outline_section(solve(read_brief(outline("drawn")))).text
    assert re.search(r"Section through (R|CJ)-", text)
