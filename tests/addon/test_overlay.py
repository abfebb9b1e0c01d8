"""The overlay's arrays, colours, places and words, all without a graphics card."""

import numpy as np
import pytest
from loadfall.addon.bridge import drawing, readings, view
from loadfall.addon.bridge.readings import Asked
from loadfall.addon.bridge.session import SESSION
from loadfall.addon.overlay import extract, labels, palette
from loadfall.addon.overlay.labels import Box
from loadfall.addon.overlay.palette import State
from loadfall.solver.units import System

# Severe red-green blindness in linear RGB. Source: Machado, Oliveira, Fernandes,
# "A Physiologically-based Model for Simulation of Color Vision Deficiency" (2009),
# table of severity 1.0.
BLINDNESS = {
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216],
         [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413],
         [-0.011820, 0.042940, 0.968881]]
    ),
}  # fmt: skip


def lab(srgb):
    """CIE L*a*b* under D65 of sRGB (..., 3)."""
    to_xyz = np.array(
        [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    )
    xyz = palette.to_linear(srgb) @ to_xyz.T / [0.95047, 1.0, 1.08883]
    f = np.where(xyz > 216 / 24389, np.cbrt(xyz), (24389 / 27 * xyz + 16) / 116)
    return np.stack(
        [
            116 * f[..., 1] - 16,
            500 * (f[..., 0] - f[..., 1]),
            200 * (f[..., 1] - f[..., 2]),
        ],
        axis=-1,
    )


def seen(srgb, how):
    """What a colour-blind reader sees of sRGB (..., 3)."""
    return palette.to_srgb(palette.to_linear(srgb) @ BLINDNESS[how].T)


def rated(use):
    use = np.atleast_1d(np.asarray(use, dtype=float))
    return palette.colours(use, np.full(len(use), State.RATED))


def test_more_use_is_darker_up_to_the_limit():
    steps = palette.lightness(rated(np.linspace(0, 1, 41)))
    assert np.all(np.diff(steps) < -0.5)
    assert steps[0] - steps[-1] > 45


@pytest.mark.parametrize("how", [*BLINDNESS, "full"])
def test_the_limit_is_seen_by_everyone(how):
    """Just within and just over differ by far more than a just noticeable 2.3."""
    within, over = rated([1.0, 1.001])
    if how != "full":
        within, over = seen(within, how), seen(over, how)
    assert np.linalg.norm(lab(within) - lab(over)) > 40


@pytest.mark.parametrize("how", BLINDNESS)
def test_steps_of_use_are_told_apart_by_colour_blind_readers(how):
    steps = lab(seen(rated([0.0, 0.25, 0.5, 0.75, 1.0]), how))
    assert np.all(np.linalg.norm(np.diff(steps, axis=0), axis=1) > 9)


def test_what_is_not_counted_is_lighter_than_any_use():
    neutral = palette.lightness(palette.srgb(palette.NEUTRAL))
    assert neutral > palette.lightness(rated(0.0))[0] + 5


def test_a_pattern_says_so_without_colour():
    use = np.array([0.2, 1.0, 1.0001, 1.6, 2.5, 99.0, 3.0, 3.0])
    state = np.array([State.RATED] * 6 + [State.NO_LOAD_PATH, State.NOT_COUNTED])
    found = palette.patterns(use, state)
    assert found[:2] == pytest.approx([0, 0])
    assert np.all(np.diff(found[1:5]) > 0)
    assert found[5] == found[4] < 1
    assert found[6] == palette.HATCH
    assert found[7] == 0
    ink = palette.lightness(palette.srgb(palette.INK))
    for base in (*rated([1.01, 1.5, 2.5]), palette.srgb(palette.HATCHED)):
        assert palette.lightness(base) - ink > 30


def test_linear_light_and_back():
    codes = np.linspace(0, 1, 256)
    assert palette.to_srgb(palette.to_linear(codes)) == pytest.approx(codes, abs=1e-12)
    assert palette.lightness(np.ones(3)) == pytest.approx(100, abs=1e-3)
    assert palette.lightness(np.full(3, 0.46633)) == pytest.approx(50, abs=0.1)


@pytest.fixture
def outcome(roof):
    return SESSION.outcome(roof)


def test_boxes_are_the_drawn_pieces(outcome):
    drawn = drawing.drawn(outcome)
    for n, key in enumerate(drawn.keys):
        mine = drawn.boxes[drawn.owner == n].reshape(-1, 3)
        assert mine == pytest.approx(outcome.solids[key].vertices)
    over = [k for k, m in outcome.solution.members.items() if (m.utilisation or 0) > 1]
    assert [k for k, w in zip(drawn.keys, drawn.words, strict=True) if w] == over


def test_surfaces_of_one_box():
    low, high = np.zeros(3), np.array([4.0, 0.1, 0.2])
    corners = [(0, 0, 0), (0, 1, 0), (0, 1, 1), (0, 0, 1)]
    corners += [(1, *c[1:]) for c in corners]
    box = low + np.array(corners) * (high - low)
    made = extract.surfaces(
        box[None], np.array([0]), np.array([[0.1, 0.2, 0.3, 1.0]]), np.array([0.4])
    )
    assert made.position.shape == (24, 3)
    assert made.triangles.shape == (12, 3)
    assert made.position.dtype == np.float32
    middle = (low + high) / 2
    outward = np.sum((made.position - middle) * made.normal, axis=1)
    assert np.all(outward > 0)
    points = made.position[made.triangles].astype(float)
    first, second = points[:, 1] - points[:, 0], points[:, 2] - points[:, 0]
    turned = np.cross(first, second)
    assert np.linalg.norm(turned, axis=1).sum() / 2 == pytest.approx(
        2 * (4 * 0.1 + 4 * 0.2 + 0.1 * 0.2)
    )
    assert np.all(np.sum(turned * made.normal[made.triangles[:, 0]], axis=1) > 0)
    assert np.ptp(made.along[:, 0]) == pytest.approx(4.3)
    assert made.colour[0] == pytest.approx([0.1, 0.2, 0.3, 1.0])
    assert np.all(made.pattern == np.float32(0.4))


def test_hidden_members_make_no_triangles(outcome):
    drawn = drawing.drawn(outcome)
    visible = np.ones(len(drawn.keys), dtype=bool)
    visible[:10] = False
    boxes, owner = extract.kept(drawn.boxes, drawn.owner, visible)
    assert len(boxes) == len(drawn.boxes) - np.sum(drawn.owner < 10)
    assert owner.min() == 10


def test_a_load_path_goes_from_the_strut_to_the_ground(outcome):
    path = drawing.path(outcome, "ST-S-04")
    down = [b for b in path.branches if not b.is_incoming]
    ground = sum(b.force for b in down if b.is_ground)
    assert ground == pytest.approx(path.total, rel=0.05)
    assert path.members == {"ST-S-04", "CJ-07-1"}
    assert {b.member for b in down} == path.members
    arriving = sum(b.force for b in path.branches if b.is_incoming)
    assert arriving == pytest.approx(path.total, rel=0.03)
    assert any("to the south wall" in b.text for b in down)
    assert any("lb" in b.text for b in down)
    assert "roof live load" in path.title


def test_what_is_not_analysed_has_no_path(outcome):
    assert drawing.path(outcome, "RIDGE") is None
    assert drawing.path(outcome, "no such member") is None


def test_path_lines_leave_out_what_is_too_short_and_point_at_the_ground():
    starts = np.array([[0, 0, 0], [1, 0, 0], [1, 0, 0]], dtype=float)
    ends = np.array([[1, 0, 0], [1, 0, 0.05], [2, 0, 0]], dtype=float)
    made = extract.path_lines(
        starts, ends, np.array([4.0, 4.0, 1.0]), np.array([False, False, True]), 4.0
    )
    up = extract.LIFT
    wanted = np.array([[0, 0, up], [1, 0, up], [2, 0, 0]])
    assert made.segments[:, 0] == pytest.approx(wanted)
    assert made.width == pytest.approx([1.0, 0.5, 0.5])
    assert made.direction[-1] == pytest.approx([0, 0, -1])


def test_labels_never_lie_on_each_other():
    rng = np.random.default_rng(3)
    bounds = Box(10, 10, 900, 600)
    taken = [Box(10, 10, 200, 100)]
    points = rng.uniform((0, 0), (920, 620), (60, 2))
    points[5] = np.nan
    sizes = [(rng.uniform(30, 120), 18.0) for _ in points]
    placed = labels.place(points, sizes, bounds, taken)
    found = [box for box in placed if box is not None]
    assert len(found) > 20
    assert placed[5] is None
    for n, box in enumerate(found):
        assert box.within(bounds)
        assert not any(box.overlaps(other) for other in [*taken, *found[:n]])


def test_the_first_label_gets_the_nearest_place():
    bounds = Box(0, 0, 500, 500)
    point = np.array([250.0, 250.0])
    first, second = labels.place(np.array([point, point]), [(60.0, 16.0)] * 2, bounds)
    far = [np.hypot(b.x + 30 - 250, b.y + 8 - 250) for b in (first, second)]
    assert far[0] < far[1]


def test_the_summary_says_it_in_words(outcome):
    summary = view.summary(outcome)
    assert summary.verdict == "Over its limit"
    assert summary.worst == outcome.solution.worst.key
    assert any(
        line.words.startswith("16 ceiling joists: over") for line in summary.groups
    )
    assert any("R802.4.5" in line.detail for line in summary.rules)


def test_the_story_of_a_member(outcome):
    story = view.story(outcome, "CJ-05-1")
    assert story.use == outcome.solution.members["CJ-05-1"].utilisation
    assert story.title == "CJ-05-1, ceiling joist"
    assert any("times its limit" in words for words in story.sentences)
    assert not any("engineer" in words for words in story.sentences)
    uses = [use for _, use in story.checks]
    assert uses == sorted(uses, reverse=True)
    assert view.story(outcome, "no such member") is None


def test_the_zone_of_legal_braces_is_said(outcome):
    """A 6:12 roof 26 ft wide reaches 45 degrees to its spine at 13 ft / 1.5."""
    lines = view.zone_lines(outcome, "S")
    (spine,) = [line for line in lines if "wall Spine" in line]
    assert "8' 8\" to" in spine
    assert len(view.zone_lines(outcome, "N")) == len(lines)


@pytest.mark.parametrize("mode", ["SAG_NOW", "SAG_TEN"])
def test_sags_are_the_solvers(outcome, mode):
    """Today's sags are the members' own; ten years adds creep to what stays."""
    members = outcome.solution.members
    now, later = readings.sags(outcome, "SAG_NOW"), readings.sags(outcome, "SAG_TEN")
    assert now == {k: m.sag_now for k, m in members.items() if m.sag_now is not None}
    assert all(later[key] > sag for key, sag in now.items() if sag > 1e-4)
    longest = {k: m.sag_long_term for k, m in members.items() if k in now}
    assert all(later[k] < longest[k] for k, sag in now.items() if sag > 1e-3)
    made = readings.reading(outcome, Asked(mode))
    top = readings.sag_top([outcome], System.IMPERIAL)
    assert top >= max(later.values())
    order = [n for n, k in enumerate(drawing.drawn(outcome).keys) if k in now]
    found = readings.sags(outcome, mode)
    keys = [drawing.drawn(outcome).keys[n] for n in order]
    sag = np.array([found[key] for key in keys])
    steps = palette.lightness(made.colour[order])
    assert np.all(np.diff(steps[np.argsort(sag)]) <= 1e-9), "more sag is darker"
    over = [
        (members[key].by_check or {}).get("deflection_total", 0.0) > 1.0
        or (members[key].by_check or {}).get("deflection_live", 0.0) > 1.0
        for key in keys
    ]
    assert (made.pattern[order] > 0).tolist() == over


def test_sags_read_as_a_carpenter_reads_them(outcome):
    assert readings.show_sag(0.0254 * 1.28125, System.IMPERIAL) == '1 1/4"'
    assert readings.show_sag(0.0254 * 0.31, System.IMPERIAL) == '5/16"'
    assert readings.show_sag(0.0123, System.METRIC) == "12 mm"
    words = [
        tick for _, tick in readings.reading(outcome, Asked("SAG_TEN")).legend.ticks
    ]
    assert words[0] == "0"
    assert words[-1].endswith('"')


def test_who_loads_a_member_is_near_it(outcome):
    """The joist's strut holds the purlin between the struts beside it."""
    made = readings.reading(outcome, Asked("INFLUENCE", "CJ-05-1"))
    row = drawing.drawn(outcome).row["CJ-05-1"]
    assert made.colour[row] == pytest.approx(palette.srgb(palette.PICKED))
    shares = {words.split("  ")[0]: words.split("  ")[1] for words, _ in made.marks}
    assert "R-S-05" in shares
    assert sum(float(s.rstrip("%")) for s in shares.values()) <= 101
    x = made.strips.quads[:, :, 0].mean(axis=1)
    joist = drawing.drawn(outcome).lines[row][:, 0].mean()
    assert abs(np.average(x) - joist) < 2.0
    others = readings.reading(outcome, Asked("INFLUENCE", "CJ-05-1", quantity="SAG"))
    assert "sag" in others.legend.title


def test_what_a_wall_collects(outcome):
    """An even load on a slope reaches the three walls whole."""
    total = {}
    for owner in ("W-SOUTH", "W-NORTH", "W-Spine"):
        made = readings.reading(outcome, Asked("INFLUENCE", owner))
        assert made.strips is not None
        for words, _ in made.marks:
            part, _, surface = words.partition("% of the load on ")
            total[surface] = total.get(surface, 0.0) + float(part)
    assert total["the south slope"] == pytest.approx(100, abs=2)
    assert total["the ceiling"] == pytest.approx(100, abs=2)


def test_without_a_pick_nothing_is_shaded_but_the_way_is_told(outcome):
    made = readings.reading(outcome, Asked("INFLUENCE"))
    assert made.strips is None
    assert "Pick a member" in made.legend.notes[0]
    ridge = readings.reading(outcome, Asked("INFLUENCE", "RIDGE"))
    assert ridge.strips is None


def test_findings_are_numbered_and_patterned(outcome):
    made = readings.reading(outcome, Asked("FINDINGS"))
    told = readings.told(outcome)
    assert made.marks[0][0] == f"1  {told[0].head}"
    lines = drawing.drawn(outcome)
    for key, pattern in zip(lines.keys, made.pattern, strict=True):
        verdict = str(outcome.solution.members[key].verdict)
        assert pattern == palette.FOUND[verdict][1]
    unlike = [pattern for _, pattern in palette.FOUND.values()][:4]
    assert len(set(unlike)) == 4
    assert min(unlike) > 0


@pytest.mark.parametrize("how", BLINDNESS)
def test_other_scales_are_told_apart_by_colour_blind_readers(how):
    for scale in (palette.sag_colours, palette.influence_colours):
        steps = lab(seen(scale(np.linspace(0, 1, 5)), how))
        assert np.all(np.linalg.norm(np.diff(steps, axis=0), axis=1) > 9)
        grey = palette.lightness(scale(np.linspace(0, 1, 41)))
        assert np.all(np.diff(grey) < 0)


def test_an_edit_that_waits_keeps_its_colours(outcome):
    made = readings.reading(outcome, Asked("FINDINGS"))
    moved = made.moved([3, -1])
    assert moved.colour[0] == pytest.approx(made.colour[3])
    assert moved.colour[1] == pytest.approx(palette.srgb(palette.NEUTRAL))
    assert moved.words == ("", "")
    assert not moved.marks


def test_sheets_lie_where_the_stretches_do(outcome):
    strips = readings.reading(outcome, Asked("INFLUENCE", "W-Spine")).strips
    made = extract.sheets(strips.quads, extract.light(strips.colour), strips.pattern)
    assert made.position.reshape(-1, 4, 3) == pytest.approx(strips.quads, abs=1e-5)
    assert np.all(np.abs(np.linalg.norm(made.normal, axis=1) - 1) < 1e-5)
    assert made.triangles.max() == len(made.position) - 1
