"""The cautions that stand on every output, and what is never checked here."""

from __future__ import annotations

from ..trace.wording import CAUTION

CAUTIONS = (
    CAUTION,
    "Sizes, species, splits, rot and nails of an existing roof must be found on site: "
    "all numbers rest on what the brief states.",
    "Fresh cracks, sticking doors, cracking sounds, spreading walls or sag under snow: "
    "leave the place and call an engineer; no number replaces that.",
    "Cut, remove or lift nothing before shores stand and are followed down to ground; "
    "shores load the floors under them.",
    "Do not alter manufactured trusses on the word of this page.",
    "Snow, wind and earthquake come from the local authority, not from a default.",
    "Sheathing and ceiling board are not counted as carrying. A house that stands in "
    "spite of a failing check has not been proved to pass.",
    "'Passes these checks' means the checks listed here, under the loads listed here, "
    "and nothing else.",
)

NOT_CHECKED = (
    "lateral load and racking",
    "wind uplift, unless the brief states it",
    "a person on joists and rafters, unless the brief asks for it",
    "foundations and soil below the supports named",
    "the walls' own studs and the floors below them",
    "connections other than the nailed joints named",
    "notches and holes not stated in the brief",
    "decay, insects, splits, fire damage and moisture",
    "splices of plates, purlins and ridges",
    "snow drift from higher roofs, sliding snow, ice and ponding",
    "vibration, fire resistance",
)
