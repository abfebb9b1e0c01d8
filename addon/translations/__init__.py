"""The words of the panels in other languages; Blender chooses by its own setting.

One module a language, each a plain dictionary. Sentences about a roof are the solver's
and stay English.
"""

import bpy

from . import spanish

LANGUAGES = {"es": spanish.WORDS, "es_ES": spanish.WORDS}


def register() -> None:
    """Hand the dictionaries to Blender."""
    words = {
        language: {(context, said): word for said, word in table.items()
                   for context in ("*", "Operator")}
        for language, table in LANGUAGES.items()
    }  # fmt: skip
    bpy.app.translations.register(__package__, words)


def unregister() -> None:
    """Take them back."""
    bpy.app.translations.unregister(__package__)
