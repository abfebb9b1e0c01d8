"""A member's result as custom properties on its object, described and bounded.

They are there for drivers, geometry nodes and scripts to use. A member without a load
path has no numbers, because none would be true.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import bpy

from ...solver.trace.wording import check_word
from ...solver.verdict.model import MemberResult, Verdict
from ..names import Key


@dataclass(frozen=True)
class Shown:
    """One custom property: its value and how Blender shows it."""

    value: float | str
    description: str
    limits: Mapping[str, object] = field(default_factory=dict)


def identity(key: str, role: str) -> dict[str, Shown]:
    """Return the custom properties that say which member an object is."""
    return {
        Key.MEMBER.value: Shown(key, "Key of the member; it never changes"),
        Key.ROLE.value: Shown(role, "What the member is"),
    }


def properties_of(result: MemberResult, scale_length: float) -> dict[str, Shown]:
    """Return the custom properties of a member by name.

    Args:
        result: of the member.
        scale_length: m per Blender unit; sags are lengths in Blender units.
    """
    verdict = Shown(str(result.verdict), "What the checks say of it")
    out = identity(result.key, result.role) | {Key.VERDICT.value: verdict}
    if result.reason:
        out[Key.REASON] = Shown(result.reason, "Why it has no load path")
    if result.verdict is Verdict.NO_LOAD_PATH or result.utilisation is None:
        return {str(name): shown for name, shown in out.items()}
    out |= _uses(result) | _forces(result) | _sags(result, scale_length)
    return {str(name): shown for name, shown in out.items()}


def _uses(result: MemberResult) -> dict[str, Shown]:
    """Return demand over capacity, the worst and each check's."""
    limits = {"min": 0.0, "soft_max": 2.0, "precision": 3}
    out: dict[str, Shown] = {
        Key.UTILISATION: Shown(
            float(result.utilisation or 0.0),
            "Demand over capacity of the governing check; 1 is its limit",
            limits,
        ),
        Key.CHECK: Shown(result.governing_check, "The check that governs"),
        Key.COMBINATION: Shown(result.combination, "The load combination that governs"),
    }
    for name, use in (result.by_check or {}).items():
        words = check_word(name).capitalize()
        out[Key.USE + name] = Shown(
            float(use), f"{words}: demand over capacity", limits
        )
    return out


def _forces(result: MemberResult) -> dict[str, Shown]:
    """Return forces in N and N m."""
    limits = {"precision": 0}
    return {
        Key.AXIAL: Shown(
            float(result.axial), "Axial force in N, tension positive", limits
        ),
        Key.MOMENT: Shown(
            float(result.moment), "Bending moment in N m, sagging positive", limits
        ),
        Key.SHEAR: Shown(float(result.shear), "Shear force in N", limits),
        Key.STRUT_LOAD: Shown(
            float(result.strut_load),
            "Load in N that struts bring down on it",
            limits | {"min": 0.0},
        ),
    }


def _sags(result: MemberResult, scale_length: float) -> dict[str, Shown]:
    """Return the sags of a member that bends, in Blender units."""
    limits = {"subtype": "DISTANCE", "precision": 4}
    words = {
        Key.SAG_NOW: (result.sag_now, "Sag on day one under all loads"),
        Key.SAG_LONG_TERM: (
            result.sag_long_term,
            "Sag after years: the lasting part of the load grown by creep",
        ),
    }
    return {
        key: Shown(float(sag) / scale_length, description, limits)
        for key, (sag, description) in words.items()
        if sag is not None
    }


def write(obj: bpy.types.Object, wanted: Mapping[str, Shown]) -> None:
    """Write custom properties on a member's object; ours that are gone are removed."""
    for name in list(obj.keys()):
        ours = name in _OURS or name.startswith(Key.USE.value)
        if ours and name not in wanted:
            del obj[name]
    for name, shown in wanted.items():
        is_new = name not in obj.keys()  # noqa: SIM118 - no mapping, it has no __contains__ of its own
        if is_new or obj[name] != shown.value:
            obj[name] = shown.value
        if is_new:
            ui = obj.id_properties_ui(name)
            ui.update(description=shown.description, **shown.limits)


_OURS = {key.value for key in Key}
