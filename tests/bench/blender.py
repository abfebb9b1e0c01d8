"""Times an edit in Blender: what follows the hand, and what waits until it rests.

    python tests/bench/blender.py [--feet 32,140] [--json FILE]

Needs the bpy module. Milliseconds of processor time, all threads together, because
others may use the machine; the window's own drawing is the graphics card's and is not
in it. Nothing here is a test.
"""

import argparse
import json
import os
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import bpy
import numpy as np

import tests.conftest  # noqa: F401 makes `loadfall` importable

FOLLOWS = ("regenerate", "evaluate", "overlay")
SETTLES = ("solve", "write back", "evaluate all")
STEPS = 24  # changes in a drag
AIM = 50  # ms


def timed(found, name, job):
    """Call a job and add its milliseconds to a step."""
    start = time.process_time()
    made = job()
    found.setdefault(name, []).append(1e3 * (time.process_time() - start))
    return made


def overlay(roof):
    """Make all that the overlay hands to the graphics card."""
    from loadfall.addon.bridge import drawing, readings, view
    from loadfall.addon.bridge.session import SESSION
    from loadfall.addon.overlay import extract

    outcome, moved = SESSION.outcome(roof), view.moved_of(roof)
    old = lines = drawing.drawn(outcome)
    reading = readings.reading(outcome, readings.Asked("UTILISATION"))
    if moved is not None:
        lines = drawing.drawn_moved(outcome, moved)
        reading = reading.moved([old.row.get(key, -1) for key in lines.keys])
    colour = extract.light(reading.colour)
    extract.surfaces(lines.boxes, lines.owner, colour, reading.pattern)


def drag(roof, change):
    """Change the roof as a hand does, step by step, then let it rest.

    Solved in between is only what the add-on itself finds quick enough.
    """
    from loadfall.addon import handlers
    from loadfall.addon.bridge import roofs
    from loadfall.addon.bridge.session import SESSION

    found, update = {}, bpy.context.view_layer.update
    for _ in range(STEPS):
        change(roof.loadfall)
        timed(found, "regenerate", handlers.follow)
        timed(found, "evaluate", update)
        timed(found, "overlay", lambda: overlay(roof))
    brief = roofs.brief_of(roof, bpy.context.scene)
    timed(found, "solve", lambda: SESSION.pipeline.run(brief))
    timed(found, "write back", handlers.flush)
    timed(found, "evaluate all", update)
    return found


def pitch(stated):
    """Every rafter moves."""
    stated.roof.pitch += 0.05


def purlin(stated):
    """A purlin and its struts move."""
    stated.purlins[0].from_plate += 0.01


def overhang(stated):
    """Every tail grows."""
    stated.roof.overhang += 0.01


def load(stated):
    """Nothing moves."""
    stated.loads.roof_live += 0.1


def measure(feet):
    """Milliseconds of every step for each kind of edit."""
    bpy.ops.wm.read_homefile(use_factory_startup=True, use_empty=True)
    bpy.context.scene.unit_settings.system = "IMPERIAL"
    bpy.ops.loadfall.add_roof(length=feet * 0.3048, spacing=16 * 0.0254)
    roof = bpy.context.object
    bpy.context.view_layer.update()
    out = {"members": sum("member" in o for o in roof.children)}
    for change in (pitch, purlin, overhang, load):
        found = drag(roof, change)
        every = np.sum([found[step] for step in FOLLOWS], axis=0)
        out[change.__name__] = {
            **{step: float(np.median(times)) for step, times in found.items()},
            "follows": float(np.median(every)),
            "slowest": float(every.max()),
            "within": float(np.mean(every <= AIM)),
        }
    return out


def report(figures):
    """Print the tables."""
    columns = (*FOLLOWS, "follows", "slowest", "within", *SETTLES)
    for figure in figures:
        print(
            f"\nA drag of {figure['members']} members; ms of processor time a change "
            f"(median of {STEPS}), share within {AIM} ms, then what waits for a rest"
        )
        print(" " * 10, *columns, sep="  ")
        for kind in ("pitch", "purlin", "overhang", "load"):
            times = figure[kind]
            cells = [
                format(times[c], f"{len(c)}.0{'%' if c == 'within' else 'f'}")
                for c in columns
            ]
            print(f"{kind:>10}", *cells, sep="  ")


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
    report(figures)
    if args.json:
        Path(args.json).write_text(json.dumps(figures, indent=1) + "\n")
    sys.stdout.flush()
    os._exit(0)


if __name__ == "__main__":
    main()
