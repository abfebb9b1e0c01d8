"""What the pages promise of Blender is there."""

import re
from pathlib import Path

from loadfall.addon.names import Attribute, Key

DOCS = Path(__file__).resolve().parents[2] / "docs"


def test_the_reference_has_every_custom_property(roof):
    text = (DOCS / "custom-properties.md").read_text("utf-8")
    told = set(re.findall(r"^\| `(\w+?)(?:\.\.\.)?` \|", text, re.MULTILINE))
    assert told == {key.value for key in Key}
    for attribute in Attribute:
        assert f"`{attribute.value}`" in text
    seen = {key for o in roof.children if "member" in o for key in o.keys()}  # noqa: SIM118
    mine = {key for key in seen if not key.startswith("use_")} - {"loadfall"}
    assert mine <= told


def test_every_picture_and_page_is_there():
    pages = list(DOCS.glob("*.md"))
    assert len(pages) > 5
    for page in pages:
        for link in re.findall(r"\]\(([^)#:]+)\)", page.read_text("utf-8")):
            assert (page.parent / link).exists(), (page.name, link)
