"""Random briefs: houses that a framer might meet, and many that none should build.

Every brief that comes out reads without error; what stands and what falls is left to
the solver. Lengths are whole inches so that a brief in metric text is the same brief.
"""

from __future__ import annotations

import math

from hypothesis import strategies as st

SPECIES = ("Spruce-Pine-Fir", "Douglas Fir-Larch", "Hem-Fir", "Southern Pine")


def inches(low, high, step=1):
    """A length as text, a whole number of steps of inches."""
    return st.integers(-(-low // step), high // step).map(lambda n: f"{n * step} in")


def maybe(strategy, none=None):
    """The strategy, or nothing."""
    return st.one_of(st.just(none), strategy)


def value(text: str) -> int:
    """Inches of a text made by ``inches``."""
    return int(text.removesuffix(" in"))


@st.composite
def stock(draw, sizes, grades=("No.2", "Select Structural")):
    return {
        "size": draw(st.sampled_from(sizes)),
        "species": draw(st.sampled_from(SPECIES)),
        "grade": draw(st.sampled_from(grades)),
        "plies": draw(st.sampled_from((1, 1, 1, 2, 3))),
    }


@st.composite
def lines(draw, length, width, along):
    """Two ends of a line parallel to a side, anywhere in the plan."""
    span, across = (length, width) if along else (width, length)
    low = draw(st.integers(0, span - 12))
    high = draw(st.integers(low + 12, span))
    if draw(st.booleans()):
        low, high = 0, span
    at = draw(st.integers(0, across))
    if draw(st.booleans()):
        at = across // 2
    ends = [[f"{u} in", f"{at} in"] for u in (low, high)]
    return ends if along else [end[::-1] for end in ends]


@st.composite
def walls(draw, length, width):
    out = []
    for n in range(draw(st.integers(0, 3))):
        along = draw(st.sampled_from((True, True, False)))
        start, end = draw(lines(length, width, along))
        if draw(st.integers(0, 5)) == 0:  # at an angle
            end = [draw(inches(0, length)), draw(inches(0, width))]
        span = int(math.dist([value(v) for v in start], [value(v) for v in end]))
        if span < 12:
            continue
        gaps = []
        if span > 60 and draw(st.booleans()):
            low = draw(st.integers(0, span - 48))
            high = draw(st.integers(low + 24, span))
            gaps = [{"start": f"{low} in", "end": f"{high} in"}]
            if draw(st.booleans()):
                gaps[0]["header"] = draw(stock(("2x6", "2x8", "2x12"))) | {
                    "jacks": draw(st.integers(1, 3)),
                    "jack_size": draw(st.sampled_from(("2x4", "2x6"))),
                }
        bearing = draw(st.sampled_from((True, True, True, False)))
        out.append(
            {"name": f"w{n}", "start": start, "end": end, "bearing": bearing,
             "openings": gaps}
        )  # fmt: skip
    return out


@st.composite
def beams(draw, length, width, found):
    """Beams: in the gap of a wall, or anywhere; and posts under some."""
    beams, posts = [], []
    for n in range(draw(st.integers(0, 2))):
        along = draw(st.sampled_from((True, True, False)))
        start, end = draw(lines(length, width, along))
        gaps = [w for w in found if w["openings"] and _is_square(w)]
        if gaps and draw(st.booleans()):
            start, end = _over_gap(gaps[0])
        made = draw(stock(("2x10", "2x12", "4x12")))
        beams.append(made | {"name": f"b{n}", "start": start, "end": end,
                             "carries_joists": draw(st.booleans())})  # fmt: skip
        for part in draw(st.sets(st.sampled_from((0, 1, 2)), max_size=3)):
            at = [
                f"{value(a) + (value(b) - value(a)) * part // 2} in"
                for a, b in zip(start, end, strict=True)
            ]
            foot = draw(st.sampled_from(("footing", "footing", "girder", "nothing")))
            name = f"p{n}{part}"
            posts.append(
                {"name": name, "at": at, "size": "4x4", "foot": foot,
                 "species": draw(st.sampled_from(SPECIES)), "grade": "No.2"}
            )  # fmt: skip
    return beams, posts


def _is_square(wall):
    """Whether a wall runs along a side of the house."""
    return any(a == b for a, b in zip(wall["start"], wall["end"], strict=True))


def _over_gap(wall):
    """The two ends of the first gap of a wall."""
    gap = wall["openings"][0]
    axis = 0 if wall["start"][0] != wall["end"][0] else 1
    ends = []
    for side in ("start", "end"):
        point = list(wall["start"])
        point[axis] = f"{value(point[axis]) + value(gap[side])} in"
        ends.append(point)
    return ends


@st.composite
def purlins(draw, length, width, pitch):
    run = width / 2
    out = []
    for slope in ("south", "north"):
        for n in range(draw(st.sampled_from((0, 1, 1, 1, 2)))):
            low = max(6, round(72 / pitch) + 1)  # 6 in of height
            if low >= run - 3:
                continue
            plan = draw(st.integers(low, int(run - 3)))
            entry = draw(stock(("2x4", "2x6", "2x8", "2x10"))) | {
                "name": f"{slope[0].upper()}{n}", "slope": slope,
                "orientation": draw(st.sampled_from(("plumb", "square"))),
                "from_plate": f"{plan} in",
            }  # fmt: skip
            if draw(st.booleans()):
                first = draw(st.integers(0, length - 24))
                last = draw(st.integers(first + 24, length))
                entry |= {"start": f"{first} in", "end": f"{last} in"}
            out.append(entry)
    return out


@st.composite
def feet(draw, width, joists, walls, beams, posts):
    kinds = ["point"]
    kinds += ["ceiling_joist"] * 3 if joists else []
    kinds += ["wall"] * 2 if walls else []
    kinds += ["beam"] if beams else []
    kinds += ["post"] if posts else []
    on = draw(st.sampled_from([*kinds, "nearest_wall"]))
    if on == "nearest_wall":
        other = ["nothing"] + ["ceiling_joist"] * bool(joists) + ["beam"] * bool(beams)
        return {"on": on, "otherwise": draw(st.sampled_from(other))}
    named = {"wall": walls, "beam": beams, "post": posts}
    if on in named:
        return {"on": on, "name": draw(st.sampled_from(named[on]))["name"]}
    foot = {"on": on}
    if draw(st.booleans()):
        foot["from_plate"] = draw(inches(0, width))
    return foot


@st.composite
def struts(draw, brief, length, width):
    out = []
    for purlin in brief["purlins"]:
        for _ in range(draw(st.sampled_from((0, 1, 1, 1, 2)))):
            foot = draw(
                feet(width, brief.get("ceiling_joists"), brief["walls"],
                     brief["beams"], brief["posts"])
            )  # fmt: skip
            entry = draw(stock(("2x4", "2x6", "4x4"), ("No.2", "Stud"))) | {
                "purlin": purlin["name"], "foot": foot,
                "spacing": draw(inches(24, 96)),
                "held_at_mid": draw(st.booleans()),
                "stiffener": draw(st.booleans()),
            }  # fmt: skip
            if entry["size"] == "4x4":
                entry["grade"] = "No.2"
            if entry["stiffener"]:
                entry["plies"] = 1
            out.append(entry)
    return out


@st.composite
def loads(draw):
    out = {
        "roof_dead": f"{draw(st.integers(3, 30))} psf",
        "roof_dead_on": draw(st.sampled_from(("slope", "plan"))),
        "roof_live": f"{draw(st.sampled_from((0, 12, 16, 20)))} psf",
        "roof_live_reduction": draw(
            st.sampled_from(("none", "slope", "slope_and_area"))
        ),
        "ceiling_dead": f"{draw(st.integers(0, 10))} psf",
        "attic_live": f"{draw(st.sampled_from((0, 10, 20, 30)))} psf",
        "attic_live_lasting": draw(st.sampled_from((0.0, 0.5, 1.0))),
        "wind_uplift": f"{draw(st.sampled_from((0, 0, 0, 10, 35)))} psf",
        "self_weight": draw(st.booleans()),
    }
    snow = draw(st.sampled_from((None, None, "ground", "roof")))
    if snow:
        out["snow"] = {
            snow: f"{draw(st.integers(5, 80))} psf",
            "slippery": draw(st.booleans()),
            "unbalanced": draw(st.booleans()),
        }
    return out


def ties(low):
    return st.fixed_dictionaries(
        {
            "size": st.sampled_from(("2x4", "2x6")),
            "height_ratio": st.sampled_from((low, low + 0.13, 0.6, 0.95)),
            "spacing": inches(12, 72),
            "acts": st.sampled_from(("both", "pull_only")),
        }
    )


@st.composite
def overrides(draw, brief, length, width):
    """Changes of members that are there, or are not: sizes, feet, pins, places."""
    count = length // value(brief["rafters"]["spacing"]) + 1
    keys = [f"R-S-{k:02d}" for k in range(count)]
    keys += [f"CJ-{k:02d}-1" for k in range(count)] + ["P-S0", "ST-S0-01", "RIDGE"]
    keys += ["ST-S0-02", "ST-N0-01", "P-N0", "HB-W-01", "HD-w0-1", "JS-w0-1-2", "B-b0"]
    chosen = draw(st.lists(st.sampled_from(keys), max_size=3, unique=True))
    out = []
    for key in chosen:
        change = draw(
            st.sampled_from(
                ({"removed": True}, {"plies": 2}, {"size": "2x10"}, {"grade": "No.1"})
            )
        )
        if key.startswith(("ST", "HB")) and draw(st.booleans()):
            change = {
                "foot": draw(
                    feet(width, brief.get("ceiling_joists"), brief["walls"],
                         brief["beams"], brief["posts"])
                )
            }  # fmt: skip
        if key.startswith("P-") and draw(st.booleans()):
            change = {"from_plate": draw(inches(1, width))}
        if draw(st.booleans()):
            near = draw(st.integers(0, length)), draw(st.integers(0, width))
            change = change | {"near": [f"{v} in" for v in near]}
        out.append({"member": key} | change)
    return out


@st.composite
def added_struts(draw, brief, length, width):
    """Struts added one by one, some of them where no purlin line is."""
    out = []
    for n in range(draw(st.sampled_from((0, 0, 0, 1, 2)))):
        foot = draw(
            feet(width, brief.get("ceiling_joists"), brief["walls"], brief["beams"],
                 brief["posts"])
        )  # fmt: skip
        out.append(
            {"name": f"more {n}", "purlin": draw(st.sampled_from(("S0", "N0", "x"))),
             "at": draw(inches(0, length)), "foot": foot}
        )  # fmt: skip
    return out


@st.composite
def briefs(draw):
    """A whole brief as JSON data."""
    length, width = draw(st.integers(96, 400)), 2 * draw(st.integers(48, 216))
    pitch = draw(st.integers(1, 18))
    spacing = draw(st.sampled_from(("12 in", "16 in", "19 in", "24 in", "32 in")))
    brief = {
        "footprint": {"length": f"{length} in", "width": f"{width} in"},
        "roof": {
            "pitch": f"{pitch}:12",
            "overhang": draw(inches(0, 36)),
            "rake_overhang": draw(inches(0, 18)),
        },
        "rafters": draw(stock(("2x4", "2x6", "2x8", "2x10", "2x12")))
        | {"spacing": spacing},
        "walls": draw(walls(length, width)),
        "purlins": draw(purlins(length, width, pitch)),
        "loads": draw(loads()),
    }
    ridge = draw(st.sampled_from(("board", "board", "beam")))
    brief["ridge"] = draw(stock(("2x8", "2x12"))) | {"kind": ridge}
    if ridge == "beam":
        places = st.lists(st.integers(0, length), max_size=2)
        brief["ridge"]["posts"] = [f"{at} in" for at in draw(places)]
    if draw(st.sampled_from((True, True, True, False))):
        brief["ceiling_joists"] = draw(stock(("2x4", "2x6", "2x8"))) | {
            "spacing": draw(st.sampled_from((spacing, spacing, "16 in", "30 in"))),
            "direction": draw(st.sampled_from(("across", "across", "along"))),
            "over_walls": draw(st.sampled_from(("lapped", "continuous"))),
            "plies_under_struts": draw(st.sampled_from((1, 1, 2))),
        }
    brief["beams"], brief["posts"] = draw(beams(length, width, brief["walls"]))
    brief["struts"] = draw(struts(brief, length, width))
    for name, low in (("collar_ties", 0.2), ("rafter_ties", 0.0)):
        made = draw(maybe(ties(low)))
        if made:
            brief[name] = made
    brief["added_struts"] = draw(added_struts(brief, length, width))
    brief["overrides"] = draw(overrides(brief, length, width))
    brief["checks"] = {
        "repetitive_under_struts": draw(st.booleans()),
        "ceiling_finish": draw(st.sampled_from(("gypsum", "plaster", "none"))),
    }
    return brief
