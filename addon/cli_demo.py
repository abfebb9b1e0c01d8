"""Frame, solve and picture a bungalow whose spine wall was opened for a living room.

Run by ``build.py demo`` in Blender's module. The house is invented; every number on
the pictures comes from the solver.
"""

import copy
from collections.abc import Callable
from pathlib import Path
from typing import Any

import bpy

from ..solver.brief import Brief, read_brief
from ..solver.remedy import Ladder, RemedyKind, Rung, remedies
from ..solver.sheet import write_sheet
from ..solver.units import show_force, show_small_length
from ..solver.verdict.model import MemberResult
from . import register, unregister
from .bridge import drawing, export, roofs, view
from .bridge.pipeline import Outcome
from .bridge.session import SESSION
from .picture import shots, stage
from .picture.shots import Format, Shot
from .picture.words import Label

FORMAT = Format(size=(1280, 800), samples=6)

BUNGALOW: dict[str, Any] = {
    "schema_version": 1,
    "name": "Bungalow with an opened living room",
    "footprint": {"length": "44 ft", "width": "30 ft"},
    "roof": {"pitch": "5:12", "overhang": "16 in"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ridge": {"kind": "board", "size": "2x8"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    "walls": [
        {
            "name": "spine",
            "start": ["0 ft", "15 ft"],
            "end": ["44 ft", "15 ft"],
            "openings": [{"start": "14 ft", "end": "30 ft"}],
        }
    ],
    "beams": [
        {
            "name": "living",
            "start": ["14 ft", "15 ft"],
            "end": ["30 ft", "15 ft"],
            "size": "2x12",
            "plies": 3,
        }
    ],
    "purlins": [],
    "struts": [],
    "loads": {"roof_dead": "10 psf", "roof_live": "20 psf", "ceiling_dead": "5 psf"},
}


def bungalow(*, mended: bool) -> Brief:
    """Return the brief of the house.

    Args:
        mended: with a stronger beam on a post that takes the struts of the living
            room; else they stand on its ceiling joists.
    """
    data = copy.deepcopy(BUNGALOW)
    foot = {"on": "ceiling_joist"}
    if mended:
        data["name"] = "Bungalow with a beam and a post"
        lumber = {"size": "1.75x11.875", "species": "LVL", "grade": "2.0E", "plies": 2}
        data["beams"][0] |= lumber
        data["posts"] = [{"name": "living", "at": ["22 ft", "15 ft"], "size": "4x4"}]
        foot = {"on": "beam", "name": "living"}
    on_wall = {"on": "wall", "name": "spine"}
    for side, slope in (("S", "south"), ("N", "north")):
        for part, start, end, first, on in (
            ("west", "0 ft", "14 ft", "2 ft", on_wall),
            ("living", "14 ft", "30 ft", "18 ft", foot),
            ("east", "30 ft", "44 ft", "30 ft", on_wall),
        ):
            purlin = {"name": f"{side}-{part}", "slope": slope, "size": "2x6"}
            place = {"from_plate": "10 ft 8 in", "start": start, "end": end}
            data["purlins"].append(purlin | place)
            struts = {"purlin": purlin["name"], "start": first, "spacing": "4 ft"}
            leans = on["on"] != "ceiling_joist"
            data["struts"].append(struts | {"foot": on, "held_at_mid": leans})
    return read_brief(data)


def main(out: Path, progress: Callable[[str], None]) -> None:
    """Write brief, results, report, pictures, sheet and scene into a folder.

    Args:
        out: the folder, which exists.
        progress: is told what is done.
    """
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=True)
    bpy.context.preferences.filepaths.save_version = 0  # leaves no backups
    register()
    try:
        for mended, name in ((False, "before"), (True, "after")):
            scene = _new_scene(name.title(), is_first=not mended)
            roof = roofs.create(bungalow(mended=mended), scene)
            outcome = SESSION.outcome(roof)
            _report(outcome, out / name if mended else out, progress)
            for kind, make in (("close-up", close_up), ("overview", overview)):
                path = out / f"{kind}-{name}.png"
                shots.take(roof, scene, make(outcome, mended=mended), path, FORMAT)
                progress(path.name)
        for path in hand_over(out):
            progress(path.name)
        bpy.context.window.scene = bpy.data.scenes["Before"]
        bpy.ops.wm.save_as_mainfile(
            filepath=str(out / "scene.blend"), compress=True, check_existing=False
        )
        progress("scene.blend")
    finally:
        unregister()


def hand_over(out: Path) -> list[Path]:
    """Write the sheet with the rendered pictures, and the calculation behind it."""
    beam = Ladder(
        kind=RemedyKind.BEAM,
        also_kinds=(RemedyKind.POSTS,),
        key="beam-and-post",
        title="A beam on a post takes the struts",
        build=(
            "Set {size} in place of the header over the living room, and stand the "
            "roof's struts on it."
        ),
        rungs=(
            Rung(
                size="a beam of 2-1.75x11.875 LVL on a 4x4 post",
                brief=bungalow(mended=True),
            ),
        ),
        leaves=(
            "It stops the sag and does not lift it.",
            "A post stands in the living room; its footing was not checked.",
        ),
        engineer=("A beam and a post take what a bearing wall took.",),
    )
    found = remedies(bungalow(mended=False), propose=lambda _solved: [beam])
    pictures = tuple(str(out / f"overview-{when}.png") for when in ("before", "after"))
    return write_sheet(found, out, images=pictures)


def _new_scene(name: str, *, is_first: bool) -> bpy.types.Scene:
    """Return a scene of its own for one variant, active and in feet and pounds."""
    scene = bpy.context.scene if is_first else bpy.data.scenes.new(name)
    scene.name = name
    scene.unit_settings.system = "IMPERIAL"
    bpy.context.window.scene = scene
    return scene


def _report(outcome: Outcome, folder: Path, progress: Callable[[str], None]) -> None:
    """Write brief, results and report of a variant, and say what was found."""
    summary = view.summary(outcome)
    export.write(outcome.solution, folder)
    progress(f"{outcome.brief.name}: {summary.verdict}")
    for line in summary.groups:
        progress(f"  {line.words}; {line.key} {line.detail}")


def overview(outcome: Outcome, *, mended: bool) -> Shot:
    """Return the picture of the whole house with the near slope taken off."""
    units = outcome.brief.units
    joists = [m for m in outcome.solution.members.values() if m.role == "ceiling_joist"]
    over = [m for m in joists if (m.utilisation or 0.0) > 1.0]
    worst = max(joists, key=lambda m: m.utilisation or 0.0)
    if mended:
        post = next(m for m in outcome.solution.members.values() if m.role == "post")
        load = show_force(abs(post.axial), units)
        title = "A beam on a post takes the struts"
        lines = (
            f"No ceiling joist uses more than {worst.utilisation:.0%} of its limit.",
            f"The post brings {load} down: first comes a footing for it.",
        )
        labels = (_label(outcome, post.key, f"{load} on a post", 0.35, (190, -60)),)
    else:
        title = f"{_COUNT.get(len(over), len(over))} ceiling joists over their limit"
        sag = show_small_length(worst.sag_long_term or 0.0, units)
        lines = (
            "The spine wall was opened for a living room. Its struts now stand on",
            f"joists sized for a ceiling alone. In fifty years the worst sags {sag}.",
        )
        near = [m for m in over if m.key.endswith("-1")]
        asides = ((-210.0, 0.0), (-238.0, -27.0), (-270.0, -52.0))
        labels = tuple(
            _label(outcome, m.key, f"{_times(m)} its limit", 0.12, aside, alarm=True)
            for m, aside in zip(near, asides, strict=False)
        )
    return Shot(
        view=stage.View((20.5, -9.6, 10.4), (6.9, 4.3, -0.9), 36.0),
        title=title,
        lines=lines,
        labels=labels,
        is_left_out=_hides_attic,
        caution=view.CAUTION,
    )


def close_up(outcome: Outcome, *, mended: bool) -> Shot:
    """Return the picture of one strut's load on its way to the ground."""
    units = outcome.brief.units
    path = drawing.path(outcome, "ST-S-living-02")
    joist = outcome.solution.members["CJ-11-1"]
    load = show_force(path.total, units)
    chain = [b for b in path.branches if not b.is_incoming]
    on = {b.member for b in chain}
    if mended:
        title = f"Now the strut leans {load} on the beam"
        lines = (
            f"Joist {joist.key} is back at {joist.utilisation:.0%} of its limit: the",
            "ceiling carries itself, and the post takes the roof to a footing.",
        )
    else:
        title = f"One strut sets {load} on the middle of a joist"
        sag = show_small_length(joist.sag_long_term or 0.0, units)
        lines = (
            f"Joist {joist.key} is used to {_times(joist)} its limit. In fifty years",
            f"it sags {sag}, and the ceiling under it shows that.",
        )
    labels = _chain_labels(outcome, chain, mended=mended)
    return Shot(
        view=stage.View((11.4, -4.9, 3.5), (6.75, 2.7, -0.25), 36.0),
        title=title,
        lines=lines,
        labels=labels,
        is_left_out=lambda obj: _hides_attic(obj) or _is_far(obj),
        is_dimmed=lambda obj: shots.key(obj) not in on | {joist.key, "B-living"},
        path=path,
        has_legend=False,
        caution=view.CAUTION,
    )


def _chain_labels(
    outcome: Outcome, chain: list[drawing.Branch], *, mended: bool
) -> tuple[Label, ...]:
    """Return what is handed on along a strut's chain, and what that does."""
    asides = {
        "CJ-11-1": (215.0, -20.0),
        "the south wall": (-175.0, -20.0),
        "B-living": (60.0, 66.0),
        "PO-living": (190.0, 40.0),
        "footing": (230.0, 20.0),
    }
    out = []
    for branch in chain:
        if branch.text:
            ends = [v for k, v in asides.items() if k in branch.text]
            text = branch.text.replace("B-living", "the header")
            text = text.replace("PO-living", "the new post")
            out.append(Label(text, branch.end, size=19.0, aside=next(iter(ends), None)))
    if not mended:
        worst = outcome.solution.members["CJ-11-1"]
        words = f"Joist: {_times(worst)} its limit"
        out.insert(0, _label(outcome, worst.key, words, 0.22, (-215, 70), alarm=True))
    return tuple(out)


_COUNT = {2: "Two", 3: "Three", 4: "Four", 5: "Five", 6: "Six", 7: "Seven", 8: "Eight"}


def _times(result: MemberResult) -> str:
    """Return a use over the limit as a client reads it."""
    return f"{result.utilisation:.1f} times"


def _hides_attic(obj: bpy.types.Object) -> bool:
    """Return whether a member or a wall hides the inside from the south-east."""
    key = shots.key(obj)
    return key.startswith("R-S-") or key in ("W-SOUTH", "W-EAST")


def _is_far(obj: bpy.types.Object) -> bool:
    """Return whether a member has no part in the living room's south half."""
    key = shots.key(obj)
    near = ("CJ-", "PL-", "B-", "PO-", "W-", "P-S-living", "ST-S-living")
    return not key.startswith(near)


def _label(
    outcome: Outcome,
    key: str,
    text: str,
    along: float,
    aside: tuple[float, float],
    *,
    alarm: bool = False,
) -> Label:
    """Return a label about a place along a member, parts of its length."""
    lines = drawing.drawn(outcome)
    start, end = lines.lines[lines.row[key]]
    return Label(text, start + along * (end - start), alarm, aside=aside)
