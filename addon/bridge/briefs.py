"""Briefs as files, and what else is written beside them."""

from pathlib import Path

from ...solver.brief import Brief, load_brief, save_text


def load(path: str) -> Brief:
    """Return the brief of a JSON file.

    Raises:
        BriefError: the file cannot be read as a brief.
    """
    return load_brief(Path(path))


def text_of(brief: Brief) -> str:
    """Return a brief as JSON text."""
    return save_text(brief)
