"""Collects the external checks of a run and writes the verification page."""

from __future__ import annotations

from pathlib import Path

import pytest

from .record import PAGE, Verification

HERE = Path(__file__).resolve().parent
KEY = pytest.StashKey[Verification]()


def pytest_configure(config):
    config.stash[KEY] = Verification()


@pytest.fixture
def verification(request):
    """What a test hands its printed numbers to."""
    return request.config.stash[KEY]


@pytest.hookimpl(tryfirst=True)
def pytest_sessionfinish(session, exitstatus):
    """Write the page when every file here ran whole and nothing failed."""
    if (
        exitstatus != 0
        or session.config.option.keyword
        or session.config.option.markexpr
    ):
        return
    arguments = [str(a).split("::") for a in session.config.args]
    if any(len(a) > 1 for a in arguments):
        return
    ran = {item.path for item in session.items}
    if ran >= set(HERE.glob("test_*.py")):
        PAGE.parent.mkdir(exist_ok=True)
        PAGE.write_text(session.config.stash[KEY].page(), encoding="utf-8")
