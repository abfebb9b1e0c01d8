"""Random hip roofs: those of gables, with hips, their braces and steeper ends."""

from __future__ import annotations

from hypothesis import strategies as st

from .strategies import briefs, feet, stock, struts, value


@st.composite
def hip_braces(draw, brief, width):
    """Braces under one hip, or all, or posts under the ridge ends."""
    out = []
    for _ in range(draw(st.sampled_from((0, 0, 1, 1, 2)))):
        foot = draw(
            feet(width, brief.get("ceiling_joists"), brief["walls"], brief["beams"],
                 brief["posts"])
        )  # fmt: skip
        foot.pop("from_plate", None)
        hip = draw(
            st.sampled_from(("all", "all", "south_west", "north_east", "south_east"))
        )
        made = draw(stock(("2x4", "4x4", "4x6"), ("No.2",)))
        out.append(
            made | {"hip": hip, "at": draw(st.sampled_from((0.3, 0.5, 0.7, 1.0))),
                    "foot": foot, "held_at_mid": draw(st.booleans())}
        )  # fmt: skip
    return out


@st.composite
def end_purlins(draw, brief, pitch, end, width):
    """Purlin lines under the hip ends, some as high as those of the long sides."""
    inset, out = width / 2 * pitch / end, []
    low = max(6, round(72 / end) + 1)  # 6 in of height
    high = min(inset - 3, inset * (1 - 24 / width))  # 2 ft long between the hips
    beside = [value(p["from_plate"]) * pitch / end for p in brief["purlins"]]
    for side in draw(st.sampled_from(((), ("west",), ("west", "east")))):
        if high - low < 1:
            continue
        fit = [p for p in beside if low <= p <= high]
        plan = draw(st.integers(low, int(high)))
        if fit and draw(st.booleans()):
            plan = draw(st.sampled_from(fit))
        out.append(
            draw(stock(("2x6", "2x8"))) | {
                "name": f"{side[0].upper()}0", "slope": side,
                "from_plate": f"{plan} in",
            }
        )  # fmt: skip
    return out


@st.composite
def hip_briefs(draw):
    """A hip roof with room for its ridge, as JSON data."""
    brief = draw(briefs())
    pitch = value(brief["roof"]["pitch"].replace(":12", " in"))
    end = draw(st.sampled_from((pitch, pitch, min(18, pitch + 3), max(1, pitch - 1))))
    width = value(brief["footprint"]["width"])
    least = width * pitch / end + 12
    longer = round(least) + draw(st.integers(1, 240))
    length = max(value(brief["footprint"]["length"]), longer)
    brief["footprint"]["length"] = f"{length} in"
    brief["roof"] |= {"form": "hip", "end_pitch": f"{end}:12"}
    brief["roof"].pop("rake_overhang", None)
    brief["ridge"] = {"kind": "board", "size": "2x8"}
    brief["hips"] = draw(stock(("2x8", "2x10", "2x12"))) | {
        "stub_joists": draw(st.booleans())
    }
    brief["hip_braces"] = draw(hip_braces(brief, width))
    brief["purlins"] += draw(end_purlins(brief, pitch, end, width))
    brief["struts"] = draw(struts(brief, length, width))
    return brief


def roofs():
    """Gable and hip roofs."""
    return st.one_of(briefs(), hip_briefs())
