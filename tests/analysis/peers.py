"""The same frame in two general-purpose libraries, for comparison.

`opensees_solve` and `pynite_solve` take our Frame, LoadSet and factors and give back
displacements, end forces, link forces and reactions in our axes and signs. They share
nothing with our engine but the input arrays and the local axes. Both are development
dependencies; neither is imported by the solver.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from loadfall.solver.analysis.element import local_axes


@dataclass(frozen=True, eq=False)
class PeerResult:
    """What a peer found, named as in FrameResult."""

    displacement: np.ndarray
    end_force_global: np.ndarray
    link_force: np.ndarray
    reaction: np.ndarray


def combined(loads, factors):
    """Element and node loads of every combination."""
    factors = np.asarray(factors, float)
    q = np.tensordot(factors, loads.element_load, 1)
    return q, np.tensordot(factors, loads.node_load, 1)


def held_freedoms(frame, dropped):
    """(n, 6) freedoms to hold: supports and those that nothing resists."""
    held = frame.fixed.copy()
    held.ravel()[np.asarray(dropped, int)] = True
    return held


def bar_loads_on_nodes(frame, L, q, node):
    """Half of the load on each axial-only element at either end."""
    node = node.copy()
    for e in np.flatnonzero(frame.axial_only):
        for end in frame.ends[e]:
            node[:, end, :3] += q[:, e] * L[e] / 2
    return node


def opensees_solve(frame, loads, factors, dropped=(), system="UmfPack"):
    """Solve with OpenSees; one-sided bars and links by materials without tension.

    Args:
        frame: with no axial releases.
        loads: load cases.
        factors: (ncomb, ncase).
        dropped: flat freedoms that nothing resists (``FrameResult.dropped``).
        system: OpenSees' equation solver; SparseSYM is its quickest here.
    """
    import openseespy.opensees as ops

    q, p = combined(loads, factors)
    L, x, y, z = local_axes(frame.xyz, frame.ends, frame.up)
    p = bar_loads_on_nodes(frame, L, q, p)
    held = held_freedoms(frame, dropped)
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    for k, place in enumerate(frame.xyz.tolist()):
        ops.node(k + 1, *place)
    for k in np.flatnonzero(held.any(axis=1)).tolist():
        ops.fix(k + 1, *held[k].astype(int).tolist())
    _opensees_elements(ops, frame, z)
    _opensees_links(ops, frame)
    local = np.stack([(q * axis).sum(axis=-1) for axis in (x, y, z)], axis=-1)
    _opensees_loads(ops, frame, local, p)
    one_sided = frame.one_sided.any() or frame.links.one_sided.any()
    ops.constraints("Plain")
    ops.numberer("RCM" if system == "UmfPack" else "Plain")
    ops.system(system)
    return _opensees_run(ops, frame, L, q, held, one_sided)


def _opensees_elements(ops, frame, z):
    """Beams and bars; element e has tag e + 1."""
    for e, (i, j) in enumerate((frame.ends + 1).tolist()):
        E, A = float(frame.E[e]), float(frame.A[e])
        if frame.axial_only[e]:
            _one_way(ops, e + 1, E, int(frame.one_sided[e]))
            ops.element("Truss", e + 1, i, j, A, e + 1)
            continue
        r = frame.release[e]
        if r[[0, 6]].any():
            raise ValueError("axial releases are not translated")
        J = 1e-14 if r[3] or r[9] else float(frame.J[e])
        ops.geomTransf("Linear", e + 1, *z[e].tolist())
        args = ["elasticBeamColumn", e + 1, i, j, A, E, float(frame.G[e]), J,
                float(frame.I_strong[e]), float(frame.I_weak[e]), e + 1]  # fmt: skip
        if r[[4, 5, 10, 11]].any():
            args += ["-releasez", int(r[5]) + 2 * int(r[11])]
            args += ["-releasey", int(r[4]) + 2 * int(r[10])]
        ops.element(*args)


def _one_way(ops, tag, E, one_sided):
    """A material that pushes, pulls or does both."""
    if one_sided > 0:
        ops.uniaxialMaterial("ENT", tag, E)
    elif one_sided < 0:
        ops.uniaxialMaterial("Elastic", tag, E, 0.0, 0.0)
    else:
        ops.uniaxialMaterial("Elastic", tag, E)


def _opensees_links(ops, frame):
    """Springs of no length, or bars where the nodes stand apart."""
    links, m, n = frame.links, frame.n_elements, frame.n_nodes
    for k in range(len(links)):
        tag, i, j = m + k + 1, int(links.i[k]), int(links.j[k])
        d, stiffness = links.direction[k], float(links.stiffness[k])
        if j < 0:
            j = n + k
            ops.node(j + 1, *frame.xyz[i].tolist())
            ops.fix(j + 1, *[1] * 6)
            apart = 0.0
        else:
            apart = float(np.linalg.norm(frame.xyz[j] - frame.xyz[i]))
        if apart > 1e-9:
            _one_way(ops, tag, stiffness * apart, int(links.one_sided[k]))
            ops.element("Truss", tag, i + 1, j + 1, 1.0, tag)
            continue
        _one_way(ops, tag, stiffness, int(links.one_sided[k]))
        side = np.eye(3)[np.argmin(np.abs(d))]
        ops.element("zeroLength", tag, i + 1, j + 1, "-mat", tag, "-dir", 1,
                    "-orient", *(-d).tolist(), *np.cross(d, side).tolist())  # fmt: skip


def _opensees_loads(ops, frame, local, p):
    """One load pattern for each combination, alive in its own step alone."""
    ncomb = len(p)
    times = [float(t) for t in range(ncomb + 1)]
    for c in range(ncomb):
        on = [1.0 if t == c + 1 else 0.0 for t in range(ncomb + 1)]
        ops.timeSeries("Path", c + 1, "-time", *times, "-values", *on)
        ops.pattern("Plain", c + 1, c + 1)
        for e in np.flatnonzero(local[c].any(axis=1) & ~frame.axial_only).tolist():
            wx, wy, wz = local[c, e].tolist()
            ops.eleLoad("-ele", e + 1, "-type", "-beamUniform", wy, wz, wx)
        for k in np.flatnonzero(p[c].any(axis=1)).tolist():
            ops.load(k + 1, *p[c, k].tolist())


def _opensees_run(ops, frame, L, q, held, one_sided):
    """Step through the combinations and read each."""
    m, n, links = frame.n_elements, frame.n_nodes, frame.links
    ops.integrator("LoadControl", 1.0)
    if one_sided:
        ops.test("NormDispIncr", 1e-11, 100, 0)
        ops.algorithm("Newton")
    else:
        ops.algorithm("Linear", "-factorOnce")
    ops.analysis("Static")
    ncomb = len(q)
    u, ends = np.zeros((ncomb, n, 6)), np.zeros((ncomb, m, 2, 6))
    push, reaction = np.zeros((ncomb, len(links))), np.zeros((ncomb, n, 6))
    for c in range(ncomb):
        if ops.analyze(1):
            raise RuntimeError(f"combination {c} did not converge")
        ops.reactions()
        for k in range(n):
            u[c, k] = ops.nodeDisp(k + 1)
            if held[k].any():
                reaction[c, k] = np.where(held[k], ops.nodeReaction(k + 1), 0.0)
        for e in range(m):
            if frame.axial_only[e]:
                N = ops.eleResponse(e + 1, "axialForce")[0]
                d = frame.xyz[frame.ends[e, 1]] - frame.xyz[frame.ends[e, 0]]
                half = q[c, e] * L[e] / 2
                ends[c, e, 0, :3] = -N * d / L[e] - half
                ends[c, e, 1, :3] = N * d / L[e] - half
            else:
                force = ops.eleResponse(e + 1, "globalForce")
                ends[c, e] = np.reshape(force, (2, 6))
        for k in range(len(links)):
            name = "axialForce"
            if not ops.eleResponse(m + k + 1, name):
                name = "force"
            force = ops.eleResponse(m + k + 1, name)
            if name == "axialForce":
                push[c, k] = -force[0]
            else:
                push[c, k] = -np.dot(force[:3], links.direction[k])
    return PeerResult(u, ends, push, reaction)


_TURN = np.array([[1, 0, 0], [0, 0, 1], [0, -1, 0]], float)  # ours to theirs, Y up


def pynite_solve(frame, loads, factors, dropped=()):
    """Solve with PyNite, which has no returning one-sided members: linear only.

    Args:
        frame: with no axial releases; one-sided elements and links act both ways.
        loads: load cases.
        factors: (ncomb, ncase).
        dropped: flat freedoms that nothing resists (``FrameResult.dropped``).
    """
    from Pynite import FEModel3D

    q, p = combined(loads, factors)
    model = FEModel3D()
    held = held_freedoms(frame, dropped)
    for k, place in enumerate((frame.xyz @ _TURN.T).tolist()):
        model.add_node(f"N{k}", *place)
        if held[k].any():
            # ours x, y, z are theirs x, -z, y
            model.def_support(f"N{k}", *held[k][[0, 2, 1, 3, 5, 4]].tolist())
    _pynite_members(model, frame)
    _pynite_links(model, frame)
    _pynite_loads(model, frame, q, p)
    model.analyze_linear(check_stability=False)
    return _pynite_read(model, frame, held, len(q))


def _pynite_members(model, frame):
    """Physical members of one element each; they must not look for inner nodes."""
    _, _, _, z = local_axes(frame.xyz, frame.ends, frame.up)
    for e, (i, j) in enumerate(frame.ends.tolist()):
        model.add_material(f"T{e}", float(frame.E[e]), float(frame.G[e]), 0.3, 0.0)
        section = frame.A[e], frame.I_weak[e], frame.I_strong[e], frame.J[e]
        model.add_section(f"T{e}", *(float(v) for v in section))
        name = f"M{e}"
        model.add_member(name, f"N{i}", f"N{j}", f"T{e}", f"T{e}")
        member = model.members[name]
        member.rotation = _roll(member.T()[:3, :3], _TURN @ z[e])
        member.descritize = _blind(model, member.descritize)
        r = frame.release[e]
        if frame.axial_only[e]:
            r = np.isin(np.arange(12), [3, 4, 5, 10, 11])
        model.def_releases(
            name, Rxi=bool(r[3]), Ryi=bool(r[5]), Rzi=bool(r[4]),
            Rxj=bool(r[9]), Ryj=bool(r[11]), Rzj=bool(r[10]),
        )  # fmt: skip


def _roll(axes, depth):
    """Degrees to turn a member about its axis so that its y is the depth direction."""
    return float(np.degrees(np.arctan2(axes[2] @ depth, axes[1] @ depth)))


def _blind(model, descritize):
    """The member's own subdivision, kept from finding other members' nodes."""

    def run():
        nodes, model.nodes = model.nodes, {}
        try:
            descritize()
        finally:
            model.nodes = nodes

    return run


def _pynite_links(model, frame):
    """Springs; where the ends stand in one place, with a stub of half the softness."""
    links = frame.links
    for k in range(len(links)):
        i, j = int(links.i[k]), int(links.j[k])
        d, stiffness = _TURN @ links.direction[k], float(links.stiffness[k])
        near = frame.xyz[i] @ _TURN.T
        if j >= 0 and np.linalg.norm(frame.xyz[j] - frame.xyz[i]) > 1e-9:
            model.add_spring(f"S{k}", f"N{i}", f"N{j}", stiffness)
            continue
        far = f"G{k}"
        model.add_node(far, *(near - d).tolist())
        if j < 0:
            model.def_support(far, *[True] * 6)
            model.add_spring(f"S{k}", f"N{i}", far, stiffness)
            continue
        model.add_material(f"L{k}", 2 * stiffness, stiffness, 0.3, 0.0)
        model.add_section(f"L{k}", 1.0, 1.0, 1.0, 1.0)
        model.add_member(f"L{k}", f"N{j}", far, f"L{k}", f"L{k}")
        stub = model.members[f"L{k}"]
        stub.descritize = _blind(model, stub.descritize)
        model.add_spring(f"S{k}", f"N{i}", far, 2 * stiffness)


def _pynite_loads(model, frame, q, p):
    """One load case for each combination."""
    for c in range(len(q)):
        model.add_load_combo(f"C{c}", {f"C{c}": 1.0})
        for e in np.flatnonzero(q[c].any(axis=1)).tolist():
            for name, w in zip(("FX", "FY", "FZ"), _TURN @ q[c, e], strict=True):
                if w:
                    w = float(w)
                    model.add_member_dist_load(f"M{e}", name, w, w, case=f"C{c}")
        for k in np.flatnonzero(p[c].any(axis=1)).tolist():
            load = np.concatenate([_TURN @ p[c, k, :3], _TURN @ p[c, k, 3:]])
            names = ("FX", "FY", "FZ", "MX", "MY", "MZ")
            for name, value in zip(names, load.tolist(), strict=True):
                if value:
                    model.add_node_load(f"N{k}", name, value, case=f"C{c}")


def _pynite_read(model, frame, held, ncomb):
    """Displacements and forces in our axes."""
    n, m, links = frame.n_nodes, frame.n_elements, frame.links
    u, ends = np.zeros((ncomb, n, 6)), np.zeros((ncomb, m, 2, 6))
    push, reaction = np.zeros((ncomb, len(links))), np.zeros((ncomb, n, 6))
    back = _TURN.T
    for c in range(ncomb):
        name = f"C{c}"
        for k in range(n):
            node = model.nodes[f"N{k}"]
            u[c, k, :3] = back @ [node.DX[name], node.DY[name], node.DZ[name]]
            u[c, k, 3:] = back @ [node.RX[name], node.RY[name], node.RZ[name]]
            force = back @ [node.RxnFX[name], node.RxnFY[name], node.RxnFZ[name]]
            turn = back @ [node.RxnMX[name], node.RxnMY[name], node.RxnMZ[name]]
            reaction[c, k] = np.where(held[k], np.concatenate([force, turn]), 0.0)
        for e in range(m):
            (part,) = model.members[f"M{e}"].sub_members.values()
            force = np.asarray(part.F(name)).reshape(4, 3) @ _TURN
            ends[c, e] = force.reshape(2, 6)
        for k in range(len(links)):
            push[c, k] = model.springs[f"S{k}"].axial(name)
    return PeerResult(u, ends, push, reaction)


def agrees_with_opensees(roof, *fields):
    """Assert that OpenSees finds the same displacements, forces and reactions.

    Args:
        roof: a solved roof.
        fields: of the frame's result; left out, those three.
    """
    model, ours = roof.model, roof.frame
    factors = roof.combinations.factors
    theirs = opensees_solve(model.frame, model.loads, factors, ours.dropped)
    for field in fields or ("displacement", "end_force_global", "reaction"):
        a, b = getattr(ours, field), getattr(theirs, field)
        if field == "displacement":  # a peer turns no free pin; only places compare
            a, b = a[..., :3], b[..., :3]
        if field == "reaction":
            a, b = (np.where(model.frame.fixed, x, 0.0) for x in (a, b))
        assert np.abs(a - b).max() <= 1e-6 * np.abs(a).max(), field
