"""Times Loadfall's solver beside general-purpose libraries on the same roof.

    python tests/bench/run.py [--sizes S,M,L,XL] [--pynite S] [--json FILE]

Prints seconds; wide roofs (Mw, Lw, XLw) by ``--sizes``. Nothing here is a test: times
depend on the machine, so read the ratios.
"""

import argparse
import itertools
import json
import os
import platform
import subprocess
import sys
import time
from importlib.util import find_spec
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(CHECKOUT))

import tests.conftest  # noqa: E402, F401 makes `loadfall` importable

MEASURED = (
    "topology", "assemble", "factor", "solve", "recover", "check", "whole",
    "whole, new topology", "whole, only loads changed", "whole, checked",
    "loads changed, checked", "influence",
)  # fmt: skip
ONE_SIDED = ("one-sided", "one-sided, state known")
FRAME_EDITS = ("strut moved", "post added")
PIPELINE = ("frame and load", "analyse", "check", "analyse and check",
            "brief to verdicts", "loads changed")  # fmt: skip
ROOF_EDITS = ("foot moved", "post added", "pitch changed")
WIDTH = 12


def main():
    """Parse the arguments and measure."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sizes", default="S,M,L,XL", help="S M L XL Mw Lw XLw")
    parser.add_argument("--pynite", default="S", help="sizes for PyNite (M: a minute)")
    parser.add_argument("--opensees", default="S,M,L,XL,Mw,Lw,XLw")
    parser.add_argument("--json", metavar="FILE", help="write all figures")
    parser.add_argument("--worker", nargs=2, help=argparse.SUPPRESS)
    args = parser.parse_args()
    if args.worker:
        from tests.bench.measure import JOBS

        job, size = args.worker
        print("RESULT " + json.dumps(JOBS[job](size)))
        return 0
    sizes = [s for s in args.sizes.split(",") if s]
    figures = measure(sizes, args.pynite.split(","), args.opensees.split(","))
    report(sizes, figures)
    if args.json:
        Path(args.json).write_text(json.dumps(figures, indent=1) + "\n")
    return 0


def measure(sizes, pynite, opensees):
    """Every figure of every size, each job in its own process."""
    figures = {"machine": machine() | worker("limits", "-")}
    if not find_spec("openseespy"):
        print("openseespy has no package for this platform", file=sys.stderr)
        opensees = []
    for size in sizes:
        jobs = ["ours", "contact", "roof"]
        if size in opensees:
            jobs += ["opensees"] + ["opensees_contact"] * (size in ("S", "M"))
        if size in pynite:
            jobs.append("pynite")
        figures[size] = {}
        for job in jobs:
            started = time.perf_counter()
            print(f"  {size}: {job} ...", end="", file=sys.stderr, flush=True)
            figures[size][job] = worker(job, size)
            spent = time.perf_counter() - started
            print(f" {spent:.1f} s", file=sys.stderr, flush=True)
    return figures


def worker(job, size):
    """One job in a process of its own, BLAS held to one thread."""
    env = dict(os.environ)
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        env.setdefault(name, "1")
    command = [sys.executable, str(Path(__file__)), "--worker", job, size]
    done = subprocess.run(command, env=env, capture_output=True, text=True, check=False)
    for line in done.stdout.splitlines():
        if line.startswith("RESULT "):
            return json.loads(line[7:])
    sys.stderr.write(done.stderr)
    raise SystemExit(f"bench: {job} of size {size} ended without figures")


def machine():
    """What the figures were measured on."""
    import numpy as np

    config = np.show_config(mode="dicts")
    blas = config.get("Build Dependencies", {}).get("blas", {})
    return {
        "python": platform.python_version(),
        "numpy": np.__version__,
        "blas": f"{blas.get('name', 'none')} {blas.get('version', '')}".strip(),
        "blas threads": os.environ.get("OPENBLAS_NUM_THREADS", "1"),
        "system": platform.system(),
        "processors": os.cpu_count(),
    }


def report(sizes, figures):
    """Print the tables."""
    of = figures["machine"]
    print(
        f"numpy {of['numpy']}, BLAS {of['blas']} on {of['blas threads']} thread(s), "
        f"Python {of['python']}, {of['system']}, {of['processors']} processors\n"
        f"limits: {of['flops'] / 1e9:.0f} Gflop/s in a matrix product, "
        f"{of['bytes'] / 1e9:.1f} GB/s in a copy\n"
    )
    head("One roof, eight combinations; ms of processor time, least of the runs", sizes)
    for key in ("members", "elements", "freedoms", "fronts", "calls"):
        row(key, [f"{figures[s]['ours'][key]:,}" for s in sizes])
    for key in MEASURED:
        row(key, [ms(figures[s]["ours"][key]["least"]) for s in sizes])
    row("  median by the clock", [
        ms(figures[s]["ours"]["whole"]["clock"]) for s in sizes
    ])  # fmt: skip
    row("residual", [f"{figures[s]['ours']['residual']:.0e}" for s in sizes])
    row("peak memory, MB", [mb(figures[s]["ours"]["memory"]) for s in sizes])
    row("factor at the limit", [
        ms(figures[s]["ours"]["flops"] / of["flops"]) for s in sizes
    ])  # fmt: skip
    row("stations at the limit", [
        ms(figures[s]["ours"]["elements"] * 8 * 9 * 8 * 8 / of["bytes"]) for s in sizes
    ])  # fmt: skip
    growth(sizes, figures, "whole")
    growth(sizes, figures, "whole, checked")
    head("\nStruts that only push; one strut moved, one post added", sizes)
    for key in ONE_SIDED:
        row(key, [ms(figures[s]["contact"][key]["least"]) for s in sizes])
    edits(FRAME_EDITS, [figures[s]["contact"] for s in sizes])
    row("  difference", [f"{figures[s]['contact']['agreement']:.0e}" for s in sizes])
    peers(sizes, figures)
    real = [s for s in sizes if figures[s]["roof"]]
    if real:
        head("\nA real roof through the flow, contacts one-sided", real)
        for key in ("members", "freedoms", "combinations", "one-sided"):
            row(key, [f"{figures[s]['roof'][key]:,}" for s in real])
        for key in PIPELINE:
            row(key, [ms(figures[s]["roof"][key]["least"]) for s in real])
        edits(ROOF_EDITS, [figures[s]["roof"] for s in real])
        row("peak memory, MB", [mb(figures[s]["roof"]["memory"]) for s in real])


def edits(keys, found):
    """Print edits, the same from scratch, and how many times cheaper they are."""
    for key in keys:
        afresh = f"{key}, from scratch"
        row(key, [ms(of[key]["least"]) for of in found])
        row("  from scratch", [ms(of[afresh]["least"]) for of in found])
        row("  times cheaper", [
            f"{of[afresh]['least'] / of[key]['least']:.1f}" for of in found
        ])  # fmt: skip


def growth(sizes, figures, key):
    """Print by what power of the members a figure grows."""
    import math

    cells = [""]
    for a, b in itertools.pairwise(sizes):
        one, two = figures[a]["ours"], figures[b]["ours"]
        if two["members"] <= one["members"]:
            cells.append("")
            continue
        rate = math.log(two[key]["least"] / one[key]["least"])
        cells.append(f"{rate / math.log(two['members'] / one['members']):.2f}")
    row(f"growth of {key}", cells)


def peers(sizes, figures):
    """Print the peers beside the whole job, new topology included."""
    head("\nWhole job against general-purpose libraries, milliseconds", sizes)
    whole = "whole, new topology"
    row("ours", [ms(figures[s]["ours"][whole]["least"]) for s in sizes])
    for peer in ("opensees", "pynite"):
        there = [figures[s].get(peer) for s in sizes]
        row(peer, [ms(t["whole"]) if t else "-" for t in there])
        row("  times ours", [
            f"{t['whole'] / figures[s]['ours'][whole]['least']:.1f}" if t else "-"
            for s, t in zip(sizes, there, strict=True)
        ])  # fmt: skip
        row("  difference", [f"{t['difference']:.0e}" if t else "-" for t in there])
        row("  peak memory, MB", [mb(t["memory"]) if t else "-" for t in there])
    there = [figures[s].get("opensees_contact") for s in sizes]
    row("opensees, one-sided", [ms(t["whole"]) if t else "-" for t in there])


def head(title, sizes):
    """Print a title and the sizes."""
    print(title)
    row("", sizes)


def row(name, cells):
    """Print one row."""
    print(f"{name:28s}" + "".join(f"{cell:>{WIDTH}s}" for cell in cells))


def ms(seconds):
    """Milliseconds, three figures."""
    return f"{seconds * 1e3:,.3g}" if seconds < 1 else f"{seconds * 1e3:,.0f}"


def mb(size):
    """Megabytes."""
    return "-" if size is None else f"{size / 1e6:.0f}"


if __name__ == "__main__":
    raise SystemExit(main())
