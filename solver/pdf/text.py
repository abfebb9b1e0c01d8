"""Fonts and characters of a PDF: the fourteen fonts that every reader has.

No font file is read and none travels with the file; what they lack is written in a
way that they have.
"""

from __future__ import annotations

import unicodedata

PLAIN, BOLD, SLANT, BOLD_SLANT = (
    "Times-Roman",
    "Times-Bold",
    "Times-Italic",
    "Times-BoldItalic",
)
SIGNS = "\u25a0\u25b2\u25c6\u274d"  # of ZapfDingbats, set in that font alone
_WRITTEN = {
    "≤": "<=", "≥": ">=", "★": "*", "→": "to", "′": "'", "″": '"', "−": "-",
    "⁴": "^4", "\u00a0": " ", "\u202f": " ", "≈": "about", "√": "root ",
}  # fmt: skip


def font(bold: bool, slant: bool) -> str:
    """Return the name of a font."""
    if bold:
        return BOLD_SLANT if slant else BOLD
    return SLANT if slant else PLAIN


def written(text: str) -> str:
    """Return a text in the characters of the fonts (Windows code page 1252)."""
    return "".join(map(_one, text))


def _one(letter: str) -> str:
    """Return one character, its plain letter where the fonts lack it."""
    letter = _WRITTEN.get(letter, letter)
    if letter in SIGNS:
        return letter
    try:
        letter.encode("cp1252")
    except UnicodeEncodeError:
        plain = unicodedata.normalize("NFKD", letter).encode("ascii", "ignore")
        return plain.decode() or "?"
    return letter
