"""Loadfall: where a stick-framed roof's load falls, and what can carry it.

    brief -> form -> framing -> loads -> analysis -> checks -> trace -> report

Data goes one way; each stage is a package that imports only what stands before it.
``solver.solve.solve(brief)`` runs them all and returns a ``Solution``.

Conventions, from here to the last number:

* SI without suffixes: m, N, Pa, N/m, N m, kg, rad. Other units live in ``units``, in
  tables and in the key names of ``results.json``.
* Axes as Blender's: right-handed, Z up, gravity along -Z. Of a gable, x runs along the
  ridge, y across it from the south plate line (y = 0) to the north one, z from the
  plate and ceiling line.
* Local x of a member runs from its first joint to its last, local z is its depth.
* Tension, sagging moments and sag downward are positive; loads and reactions carry the
  signs of the global axes.
* Members meet on joint lines: the drawn faces are set off them (``framing.solids``).
* Utilisation is demand over capacity; over 1 is over the limit.

Over-stress and a roof that cannot stand are results. What cannot be framed or read is
an error of ``errors`` that names the field.
"""
