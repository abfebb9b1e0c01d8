"""The sheet printed from a real browser is one page of its paper, where one is here."""

from __future__ import annotations

import io
import shutil
import subprocess

import pypdf
import pytest
from loadfall.solver.sheet import A4, LETTER, sheet_html

from .test_sheet import sheet

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
BROWSER = next(filter(None, map(shutil.which, NAMES)), None)
SIZES = {"letter": (612, 792), "a4": (595.28, 841.89)}  # ANSI/ASME Y14.1 A, ISO 216


@pytest.mark.skipif(BROWSER is None, reason="no browser that prints to PDF is here")
@pytest.mark.parametrize(
    ("name", "paper"), [("cottage", LETTER), ("cottage", A4), ("hip", LETTER)]
)
def test_the_browser_prints_one_page(name, paper, tmp_path):
    page, out = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    page.write_text(sheet_html(sheet(name), paper), "utf-8")
    subprocess.run(
        [BROWSER, "--headless", "--no-sandbox", "--disable-gpu",
         f"--user-data-dir={tmp_path / 'profile'}", "--no-pdf-header-footer",
         f"--print-to-pdf={out}", page.as_uri()],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    file = pypdf.PdfReader(io.BytesIO(out.read_bytes()))
    assert len(file.pages) == 1
    box = file.pages[0].mediabox
    wanted = SIZES[paper.name]
    assert (float(box.width), float(box.height)) == pytest.approx(wanted, abs=1.5)
    text = " ".join(file.pages[0].extract_text().split())
    assert "vibration, fire resistance." in text  # the last words of the page
