"""The bent lines that pictures draw, against beam formulas and the checks' own sags."""

import numpy as np
import pytest
from loadfall.solver.ageing import age_roof, deflected_shapes
from loadfall.solver.errors import ScopeError
from loadfall.tests.solve.houses import BUNGALOW, COTTAGE, changed, solved

INCH, FOOT = 0.0254, 0.3048
EMPTY_ATTIC = {"attic_live": "0 psf"}


@pytest.fixture(scope="module")
def plain():
    """A cottage without purlins: its joists carry the ceiling alone."""
    return solved(changed(COTTAGE, purlins=[], struts=[], loads=EMPTY_ATTIC))


@pytest.fixture(scope="module")
def bungalow():
    return solved(BUNGALOW)


def chord(shape, row, station):
    """Displacement at a station from the line of the member's ends, (3,) m."""
    along = shape.station / shape.station[-1]
    ends = shape.moved[row, [0, -1]]
    moved, _ = shape.at(np.array([station]))
    part = np.interp(station, shape.station, along)
    return moved[row, 0] - (1 - part) * ends[0] - part * ends[1]


def test_a_simple_joist_bends_as_the_formula_says(plain):
    """By hand: 2x6 at 24 in, 13 ft, 5 psf of ceiling and its own weight.

    AWC Design Aid 6, figure 1: at x, w x (l3 - 2 l x2 + x3) / 24 EI; 5 w l4 / 384 EI
    in the middle. I = 1.5 x 5.5^3 / 12 = 20.80 in4.
    """
    shape = deflected_shapes(plain, (0.0,), "D").members["CJ-05-1"]
    model = plain.model
    rows = model.rows_of("CJ-05-1")
    assert rows.stop - rows.start == 1
    E = float(model.frame.E[rows.start])
    dead = plain.combinations.factors[plain.combinations.row("D")]
    weight = -dead @ model.loads.element_load[:, rows.start, 2]
    w = 5 * 47.88025898 * 24 * INCH
    own = float(weight) - w
    assert 0 < own < 0.35 * w
    EI = E * 1.5 * 5.5**3 / 12 * INCH**4
    length = shape.station[-1]
    assert length == pytest.approx(13 * FOOT, rel=0.02)
    middle = 5 * (w + own) * length**4 / (384 * EI)
    assert -chord(shape, 0, length / 2)[2] == pytest.approx(middle, rel=1e-6)
    x = length / 4
    quarter = (w + own) * x * (length**3 - 2 * length * x**2 + x**3) / (24 * EI)
    assert -chord(shape, 0, x)[2] == pytest.approx(quarter, rel=1e-6)


def test_ends_are_the_displacements_of_the_frame(bungalow):
    shapes = deflected_shapes(bungalow, (0.0,))
    row = bungalow.combinations.row(shapes.combination)
    model, frame = bungalow.model, bungalow.frame
    for key, shape in shapes.members.items():
        rows = model.rows_of(key)
        if model.frame.axial_only[rows].any():
            continue  # a slack end leaves its node
        for place, end in ((0, 0), (-1, 1)):
            element = (rows.start, rows.stop - 1)[end]
            node = model.frame.ends[element, end]
            assert shape.moved[0, place] == pytest.approx(
                frame.displacement[row, node, :3], abs=1e-9
            )


def test_over_the_years_it_sags_as_the_checks_say(bungalow):
    """The drawn line holds every span's sag of ``age_roof``, fifty years on."""
    aged = age_roof(bungalow)
    seen = 0
    for n, key in enumerate(aged.spans.member):
        shapes = deflected_shapes(bungalow, (0.0, 50.0), aged.spans.combination[n])
        shape = shapes.members[key]
        at = np.array([aged.spans.start[n], aged.spans.where[n], aged.spans.end[n]])
        moved, _ = shape.at(at)
        part = (at[1] - at[0]) / (at[2] - at[0])
        up = np.array(bungalow.framing.members[key].up)
        bow = moved[1, 1] - moved[1, 0] * (1 - part) - moved[1, 2] * part
        axis = np.subtract(*bungalow.framing.ends(key)[::-1])
        axis = axis / np.linalg.norm(axis)
        up = up - axis * float(up @ axis)
        up /= np.linalg.norm(up)
        vertical = -float(bow @ up)
        own = aged.spans.sag[-1, n]
        assert vertical == pytest.approx(own, abs=1e-6 + 2e-3 * abs(own))
        seen += 1
        if seen == 12:
            break
    assert seen == 12


def test_slopes_are_the_rates_of_the_line(bungalow):
    shape = deflected_shapes(bungalow, (10.0,)).members["CJ-10-1"]
    middle = shape.station[3] * 0.6 + shape.station[4] * 0.4
    step = 1e-4
    near, far = (
        shape.at(np.array([s]))[0][0, 0] for s in (middle - step, middle + step)
    )
    rate = shape.at(np.array([middle]))[1][0, 0]
    assert (far - near) / (2 * step) == pytest.approx(rate, abs=1e-6)
    beyond = shape.at(np.array([shape.station[-1] + 0.5]))[0][0, 0]
    assert beyond == pytest.approx(shape.moved[0, -1] + 0.5 * shape.slope[0, -1])


def test_a_time_before_the_load_is_refused(bungalow):
    with pytest.raises(ScopeError, match="years"):
        deflected_shapes(bungalow, (-1.0,))
