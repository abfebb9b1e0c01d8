"""Times an edit in Blender: what follows the hand, and what waits until it rests.

    python tests/bench/blender.py [--feet 32,140] [--json FILE]

Needs the bpy module. Processor times on a quiet machine; nothing here is a test.
"""

import argparse
import functools
import json
import os
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import bpy
import numpy as np

import tests.conftest  # noqa: F401 makes `loadfall` importable

STEPS = ("read", "frame", "solve", "place", "evaluate", "overlay", "mark")


def timed(found, name, job):
    """Call a job and add its milliseconds to a step."""
    start = time.perf_counter()
    made = job()
    found.setdefault(name, []).append(1e3 * (time.perf_counter() - start))
    return made


def one_edit(roof, found, change):
    """Change the roof once and do all that follows, step by step."""
    from loadfall.addon.bridge import brief_io, drawing, marking, members, readings
    from loadfall.addon.bridge.session import SESSION
    from loadfall.addon.overlay import extract

    change(roof.loadfall)
    scene, update = bpy.context.scene, bpy.context.view_layer.update
    brief = timed(found, "read", lambda: brief_io.read(roof.loadfall, 1.0))
    shape = timed(found, "frame", lambda: SESSION.pipeline.shape(brief))
    last = SESSION._placed.get(roof.session_uid)
    if last is None or last.shape is not shape:
        job = functools.partial(members.place, roof, shape, scene, last)
        SESSION._note(roof, timed(found, "place", job))
    else:
        found.setdefault("place", []).append(0.0)
    timed(found, "evaluate", update)
    outcome = timed(found, "solve", lambda: SESSION.pipeline.run(brief))

    def batch():
        lines = drawing.drawn(outcome)
        reading = readings.reading(outcome, readings.Asked("UTILISATION"))
        colour = extract.light(reading.colour)
        return extract.surfaces(lines.boxes, lines.owner, colour, reading.pattern)

    assert outcome.shape
    timed(found, "overlay", batch)
    objects = members.members_of(roof)
    timed(found, "mark", lambda: marking.mark(objects, outcome, 1.0))
    update()


def pitch(stated):
    """Every rafter moves."""
    stated.roof.pitch += 0.05


def purlin(stated):
    """A purlin and its struts move."""
    stated.purlins[0].from_plate += 0.002


def load(stated):
    """Nothing moves."""
    stated.loads.roof_live += 0.1


def measure(feet):
    """Median milliseconds of every step for each kind of edit."""
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=True)
    bpy.context.scene.unit_settings.system = "IMPERIAL"
    bpy.ops.loadfall.add_roof(length=feet * 0.3048, spacing=16 * 0.0254)
    roof = bpy.context.object
    bpy.context.view_layer.update()
    out = {"members": sum("member" in o for o in roof.children)}
    for change in (pitch, purlin, load):
        found = {}
        for _ in range(6):
            one_edit(roof, found, change)
        out[change.__name__] = {s: float(np.median(found[s][1:])) for s in STEPS}
    return out


def main():
    """Parse the arguments, measure, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--feet", default="32,140", help="lengths of the house")
    parser.add_argument("--json", metavar="FILE", help="write all figures")
    args = parser.parse_args()
    from loadfall import addon

    addon.register()
    figures = [measure(float(feet)) for feet in args.feet.split(",")]
    addon.unregister()
    for figure in figures:
        print(f"\n{figure['members']} members, ms" + " " * 8, *STEPS, sep="  ")
        for kind in ("pitch", "purlin", "load"):
            times = figure[kind]
            cells = "  ".join(f"{times[s]:{len(s)}.0f}" for s in STEPS)
            moves = sum(times[s] for s in ("read", "frame", "place", "evaluate"))
            print(f"  {kind:16}  {cells}   moved after {moves:.0f}")
    if args.json:
        Path(args.json).write_text(json.dumps(figures, indent=1) + "\n")
    sys.stdout.flush()
    os._exit(0)


if __name__ == "__main__":
    main()
