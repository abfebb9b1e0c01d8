"""What the bench times: one process for each size, so that peak memory means something.

Every figure is processor time, the least and the median of several runs: with the BLAS
on one thread it is the time by the clock on an idle machine, and a busy one disturbs it
less. The clock's own median is kept beside it.
"""

import sys
import time
from dataclasses import replace

import numpy as np
from loadfall.solver.analysis import (
    Bar,
    Edit,
    Force,
    Links,
    apply_edit,
    influence,
    solve,
    station_force,
)
from loadfall.solver.analysis.assembly import System, gather
from loadfall.solver.analysis.builder import make_layout
from loadfall.solver.analysis.factor import factorise
from loadfall.solver.analysis.frame import GROUND, PUSH_ONLY
from loadfall.solver.analysis.mechanism import idle_rotations

from ..analysis.peers import opensees_solve, pynite_solve
from .checking import Checks
from .model import bench_roof

BUDGET = 1.2  # seconds for each figure, once the fewest runs are done


def clock(job, fewest=5, most=60):
    """Seconds of a job: least and median processor time, and median by the clock."""
    job()
    runs, walls, start = [], [], time.perf_counter()
    while len(runs) < fewest or (
        len(runs) < most and time.perf_counter() - start < BUDGET
    ):
        wall, own = time.perf_counter(), time.process_time()
        job()
        runs.append(time.process_time() - own)
        walls.append(time.perf_counter() - wall)
    return {
        "least": min(runs),
        "median": float(np.median(runs)),
        "clock": float(np.median(walls)),
        "runs": len(runs),
    }


def read_all(result):
    """Axial force, shears, moments and shape at nine stations."""
    s = result.stations(9)
    return s.N, s.V_strong, s.V_weak, s.M_strong, s.M_weak, s.displacement


def peak_memory():
    """Peak resident memory of this process in bytes, None where it is not told."""
    try:
        import resource
    except ImportError:
        return None
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak if sys.platform == "darwin" else peak * 1024


def ours(size):
    """Our stages on the roof of one size, two-sided struts."""
    frame, loads, factors, members = bench_roof(size)
    system = System(frame)
    natural = system.natural_freedoms()
    free = natural & ~idle_rotations(system, natural)
    result = solve(frame, loads, factors)
    layout, none = result.layout, np.zeros(0)
    values = system.values(none)
    factor = factorise(layout, values)
    f = gather(layout, result.applied)

    checks = Checks(result)

    def whole():
        read_all(solve(frame, loads, factors, layout=layout))

    def whole_checked():
        checks.run(solve(frame, loads, factors, layout=layout))

    def whole_afresh():
        read_all(solve(frame, loads, factors))

    out = {
        "members": members,
        "elements": frame.n_elements,
        "freedoms": len(layout.dof),
        "fronts": sum(group.count for group in layout.groups),
        "calls": len(layout.groups),
        "residual": float(result.residual.max()),
        "topology": clock(lambda: make_layout(frame, natural, free), fewest=2),
        "assemble": clock(lambda: System(frame).values(none)),
        "factor": clock(lambda: factorise(layout, values)),
        "solve": clock(lambda: factor.solve(f)),
        "recover": clock(lambda: read_all(result)),
        "check": clock(lambda: checks.run(result)),
        "whole": clock(whole),
        "whole, checked": clock(whole_checked),
        "whole, new topology": clock(whole_afresh, fewest=2),
        "whole, only loads changed": clock(
            lambda: read_all(solve(frame, loads, factors, start=result))
        ),
        "loads changed, checked": clock(
            lambda: checks.run(solve(frame, loads, factors, start=result))
        ),
        "flops": _cholesky_flops(layout),
    }
    middle = int(np.flatnonzero(frame.axial_only)[0])
    functional = station_force(result, 0, Force.M_STRONG, middle - 1, 0.0)
    out["influence"] = clock(lambda: influence(result, 0, [functional]))
    out["memory"] = peak_memory()
    return out


def _cholesky_flops(layout):
    """Operations of a sparse Cholesky factorisation in the order of this layout."""
    p = np.array([g.p for g in layout.groups], float)
    q = np.array([g.q for g in layout.groups], float)
    count = np.array([g.count for g in layout.groups])
    return float((count * (p**3 / 3 + p * p * q + p * q * q)).sum())


def contact(size):
    """The same roof with struts that only push, and one strut moved."""
    frame, loads, factors, _ = bench_roof(size, one_sided=True)
    result = solve(frame, loads, factors)
    layout = result.layout
    struts = np.flatnonzero(frame.axial_only)
    strut = int(struts[len(struts) // 4])
    edit, post = _moved(frame, loads, strut), _post_under(frame, strut)
    stiffer = replace(frame, E=frame.E * 1.01)

    def afresh():
        return solve(_really_moved(frame, edit, strut), loads, factors)

    def propped_afresh():
        return solve(_really_propped(frame, post), loads, factors)

    return {
        "open struts": (~result.element_active).sum(axis=1).tolist(),
        "one-sided": clock(lambda: solve(frame, loads, factors, layout=layout)),
        "one-sided, state known": clock(
            lambda: solve(stiffer, loads, factors, start=result)
        ),
        "strut moved": clock(lambda: apply_edit(result, edit)),
        "strut moved, from scratch": clock(afresh, fewest=2),
        "post added": clock(lambda: apply_edit(result, post)),
        "post added, from scratch": clock(propped_afresh, fewest=2),
        "agreement": max(
            _apart(apply_edit(result, edit), afresh()),
            _apart(apply_edit(result, post), propped_afresh()),
        ),
    }


def _moved(frame, loads, strut):
    """The edit that moves one strut's foot to the next node along."""
    head, foot = frame.ends[strut]
    per = int(np.flatnonzero(frame.xyz[:, 0] > 0)[0])
    bar = Bar(
        i=int(head), j=int(foot + per), A=frame.A[strut], E=frame.E[strut],
        one_sided=int(frame.one_sided[strut]), load=loads.element_load[:, strut],
        I_strong=frame.I_strong[strut], I_weak=frame.I_weak[strut],
        up=(0.0, 1.0, 0.0),
    )  # fmt: skip
    return Edit(remove_elements=(strut,), bars=(bar,))


def _really_moved(frame, edit, strut):
    """The frame with that strut really moved."""
    ends, up = frame.ends.copy(), frame.up.copy()
    ends[strut] = edit.bars[0].i, edit.bars[0].j
    up[strut] = edit.bars[0].up
    return replace(frame, ends=ends, up=up)


def _post_under(frame, strut):
    """The edit that puts a post under the foot of a strut."""
    foot = frame.ends[strut, 1]
    post = Links(
        i=np.array([foot]),
        j=np.array([GROUND]),
        direction=np.array([[0.0, 0.0, 1.0]]),
        stiffness=np.array([1e7]),
        one_sided=np.array([PUSH_ONLY]),
    )
    return Edit(links=post)


def _really_propped(frame, edit):
    """The frame with that post really there."""
    names = ("i", "j", "direction", "stiffness", "one_sided")
    both = frame.links, edit.links
    joined = (np.concatenate([getattr(one, name) for one in both]) for name in names)
    return replace(frame, links=Links(*joined))


def _apart(one, other):
    """Relative difference of the displacements of two results."""
    gap = np.abs(one.displacement - other.displacement).max()
    return float(gap / np.abs(other.displacement).max())


def opensees(size):
    """OpenSees on the same roof: build, analyse, read displacements and end forces."""
    return _peer(size, opensees_solve, system="SparseSYM")


def opensees_contact(size):
    """OpenSees with struts that take no tension, Newton steps."""
    return _peer(size, opensees_solve, one_sided=True, system="SparseSYM")


def pynite(size):
    """PyNite on the same roof."""
    return _peer(size, pynite_solve)


def _peer(size, run, one_sided=False, **options):
    """Seconds of one run of a peer, and its difference from ours."""
    frame, loads, factors, _ = bench_roof(size, one_sided)
    t = time.process_time()
    theirs = run(frame, loads, factors, **options)
    seconds = time.process_time() - t
    memory = peak_memory()
    mine = solve(frame, loads, factors).displacement
    apart = np.abs(theirs.displacement - mine).max() / np.abs(mine).max()
    return {"whole": seconds, "difference": float(apart), "memory": memory}


def limits(size):
    """The machine's own limit: matrix products and memory traffic."""
    del size
    a = np.random.default_rng(0).normal(size=(1000, 1000))
    product = clock(lambda: a @ a, fewest=3)["least"]
    block = np.zeros(40_000_000)
    other = np.empty_like(block)
    copy = clock(lambda: np.copyto(other, block), fewest=3)["least"]
    return {"flops": 2e9 / product, "bytes": 16 * len(block) / copy}


def roof(size):
    """A real roof through the pipeline: loads, analysis, checks."""
    from .pipeline import measure_roof

    return measure_roof(size)


JOBS = {
    job.__name__: job
    for job in (ours, contact, opensees, opensees_contact, pynite, limits, roof)
}
