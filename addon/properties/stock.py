"""Properties that every kind of member shares: its lumber.

Sizes and grades travel as the names of the tables, never as numbers to match.
"""

from . import kinds as k

SIZE_WORDS = (
    "Nominal size such as 2x6 (dressed 1.5 x 5.5 in), or a dressed size with decimals "
    "such as 1.75x11.875 for engineered lumber, or 47x150 mm"
)
SPECIES_WORDS = (
    "Species group as stamped on the lumber: SPF is Spruce-Pine-Fir. LVL is the "
    "engineered family"
)
GRADE_WORDS = "Grade within the species group, as stamped: SS, No.1, No.2, Stud"
PLIES_WORDS = "Pieces side by side, nailed together to act as one"


class Lumber:
    """Size, species, grade and plies of one kind of member."""

    size: k.text(
        "Size",
        SIZE_WORDS,
        "2x6",
        search=k.suggest_sizes,
        search_options={"SUGGESTION"},
    )
    species: k.text(
        "Species",
        SPECIES_WORDS,
        "Spruce-Pine-Fir",
        search=k.suggest_species,
        search_options={"SUGGESTION"},
    )
    grade: k.text(
        "Grade",
        GRADE_WORDS,
        "No.2",
        search=k.suggest_grades,
        search_options={"SUGGESTION"},
    )
    plies: k.whole("Plies", PLIES_WORDS, 1, 1, 6)
    exact: k.exact()
